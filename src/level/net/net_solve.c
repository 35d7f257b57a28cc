/* N = L D L', column by column, then x, then the inverse where L has elements (Takahashi, Fagan and
 * Chen 1973, recalled: Z = D^-1 L^-1 + (1 - L') Z). */
#include "level/net/net_solve.h"

#include <stdlib.h>

#define NONE UINT32_MAX

struct factor {
	uint32_t n;
	struct net_pattern pattern;
	double *lower, *pivot;           /* L below its unit diagonal, D */
	double *inverse, *inverse_pivot; /* Z at the places of L, and its diagonal */
	double *work, *column;           /* n each */
	uint32_t *head, *next;           /* columns whose next element stands in a row, as lists */
	size_t *at;                      /* that element of a column; else marks, by column */
	size_t *edges_of, *edge_of; /* the edges at a node: edge_of[edges_of[v]..edges_of[v + 1]) */
};

void net_meter_stage(struct net_meter *meter, double from, double to, double whole)
{
	meter->from = from;
	meter->to = to;
	meter->whole = whole > 0 ? whole : 1;
	meter->done = 0;
}

void net_meter_add(struct net_meter *meter, double amount)
{
	double now;
	meter->done += amount;
	now = meter->from + (meter->to - meter->from) * meter->done / meter->whole;
	if (!meter->tell || now < meter->told + 0.01)
		return;
	meter->told = now < 1 ? now : 1;
	meter->tell(meter->context, meter->told);
}

static void free_factor(struct factor *f)
{
	net_pattern_free(&f->pattern);
	free(f->lower);
	free(f->pivot);
	free(f->inverse);
	free(f->inverse_pivot);
	free(f->work);
	free(f->column);
	free(f->head);
	free(f->next);
	free(f->at);
	free(f->edges_of);
	free(f->edge_of);
}

/* The edges at each node, counted and then laid out. */
static bool list_edges(struct factor *f, const struct net_system *s)
{
	f->edges_of = calloc((size_t)f->n + 2, sizeof *f->edges_of);
	f->edge_of = malloc((2 * s->edges + 1) * sizeof *f->edge_of);
	if (!f->edges_of || !f->edge_of)
		return false;
	for (int pass = 0; pass < 2; pass++) {
		for (size_t i = 0; i < s->edges; i++) {
			const uint32_t ends[] = {s->edge[i].a, s->edge[i].b};
			for (int e = 0; e < 2 && ends[0] != ends[1]; e++)
				if (ends[e] == NET_FIXED)
					continue;
				else if (pass == 0)
					f->edges_of[ends[e] + 2]++;
				else
					f->edge_of[f->edges_of[ends[e] + 1]++] = i;
		}
		for (uint32_t v = 0; pass == 0 && v < f->n; v++)
			f->edges_of[v + 2] += f->edges_of[v + 1];
	}
	return true;
}

static bool make_room(struct factor *f, const struct net_system *s)
{
	size_t n = (size_t)f->n + 1, elements = f->pattern.start[f->n] + 1;
	f->lower = malloc(elements * sizeof *f->lower);
	f->inverse = malloc(elements * sizeof *f->inverse);
	f->pivot = malloc(n * sizeof *f->pivot);
	f->inverse_pivot = malloc(n * sizeof *f->inverse_pivot);
	f->work = malloc(n * sizeof *f->work);
	f->column = malloc(n * sizeof *f->column);
	f->head = malloc(n * sizeof *f->head);
	f->next = malloc(n * sizeof *f->next);
	f->at = malloc(n * sizeof *f->at);
	return f->lower && f->inverse && f->pivot && f->inverse_pivot && f->work && f->column &&
	       f->head && f->next && f->at && list_edges(f, s);
}

/* Column j of N, from its diagonal down, into f->work. */
static void scatter(struct factor *f, const struct net_system *s, uint32_t j)
{
	uint32_t v = f->pattern.order[j];
	f->work[j] = 0;
	for (size_t p = f->pattern.start[j]; p < f->pattern.start[j + 1]; p++)
		f->work[f->pattern.rows[p]] = 0;
	for (size_t e = f->edges_of[v]; e < f->edges_of[v + 1]; e++) {
		const struct net_edge *edge = &s->edge[f->edge_of[e]];
		uint32_t other = edge->a == v ? edge->b : edge->a;
		f->work[j] += edge->weight;
		if (other != NET_FIXED && f->pattern.place[other] > j)
			f->work[f->pattern.place[other]] -= edge->weight;
	}
}

/* A column waits in the list of the row of its next element. */
static void wait_at(struct factor *f, uint32_t column, size_t element)
{
	uint32_t row;
	if (element == f->pattern.start[column + 1])
		return;
	row = f->pattern.rows[element];
	f->at[column] = element;
	f->next[column] = f->head[row];
	f->head[row] = column;
}

static double square(double x)
{
	return x * x;
}

static bool factorize(struct factor *f, const struct net_system *s, struct net_meter *meter)
{
	const size_t *start = f->pattern.start;
	const uint32_t *rows = f->pattern.rows;
	for (uint32_t j = 0; j < f->n; j++)
		f->head[j] = NONE;
	for (uint32_t j = 0; j < f->n; j++) {
		double whole;
		scatter(f, s, j);
		whole = f->work[j];
		for (uint32_t k = f->head[j], then; k != NONE; k = then) {
			size_t p = f->at[k];
			double factor = f->lower[p] * f->pivot[k];
			then = f->next[k];
			for (size_t q = p; q < start[k + 1]; q++)
				f->work[rows[q]] -= f->lower[q] * factor;
			wait_at(f, k, p + 1);
		}
		if (!(f->work[j] > 1e-14 * whole))
			return false;
		f->pivot[j] = f->work[j];
		for (size_t p = start[j]; p < start[j + 1]; p++)
			f->lower[p] = f->work[rows[p]] / f->pivot[j];
		wait_at(f, j, start[j]);
		net_meter_add(meter, square((double)(start[j + 1] - start[j])) + 1);
	}
	return true;
}

static void solve(struct factor *f, double *x)
{
	const size_t *start = f->pattern.start;
	const uint32_t *rows = f->pattern.rows, *order = f->pattern.order;
	for (uint32_t j = 0; j < f->n; j++)
		f->work[j] = x[order[j]];
	for (uint32_t j = 0; j < f->n; j++)
		for (size_t p = start[j]; p < start[j + 1]; p++)
			f->work[rows[p]] -= f->lower[p] * f->work[j];
	for (uint32_t j = f->n; j-- > 0;) {
		f->work[j] /= f->pivot[j];
		for (size_t p = start[j]; p < start[j + 1]; p++)
			f->work[j] -= f->lower[p] * f->work[rows[p]];
		x[order[j]] = f->work[j];
	}
}

/* From the last column back: Z_ij = - sum over k > j of L_kj Z_ik, Z_jj = 1/D_jj - sum L_kj Z_kj.
 * All Z_ik that this asks for are at places of L. */
static void invert(struct factor *f, struct net_meter *meter)
{
	const size_t *start = f->pattern.start;
	const uint32_t *rows = f->pattern.rows;
	for (uint32_t j = 0; j < f->n; j++)
		f->column[j] = 0; /* L_ij where it is not 0 in this column */
	for (uint32_t j = f->n; j-- > 0;) {
		double sum = 0;
		for (size_t p = start[j]; p < start[j + 1]; p++) {
			f->work[rows[p]] = 0;
			f->column[rows[p]] = f->lower[p];
		}
		for (size_t p = start[j]; p < start[j + 1]; p++) {
			uint32_t k = rows[p];
			double lower = f->lower[p], own = lower * f->inverse_pivot[k];
			for (size_t q = start[k]; q < start[k + 1]; q++) {
				/* Rows outside this column gather what nobody reads. */
				f->work[rows[q]] += lower * f->inverse[q];
				own += f->column[rows[q]] * f->inverse[q];
			}
			f->work[k] += own;
		}
		for (size_t p = start[j]; p < start[j + 1]; p++) {
			f->inverse[p] = -f->work[rows[p]];
			sum += f->lower[p] * f->inverse[p];
			f->column[rows[p]] = 0;
		}
		f->inverse_pivot[j] = 1 / f->pivot[j] - sum;
		net_meter_add(meter, square((double)(start[j + 1] - start[j])) + 1);
	}
}

/* An element of the inverse, by its columns. */
static double inverse_at(const struct factor *f, uint32_t a, uint32_t b)
{
	uint32_t j = a < b ? a : b, row = a < b ? b : a;
	size_t low = f->pattern.start[j], high = f->pattern.start[j + 1];
	while (low + 1 < high) {
		size_t middle = low + (high - low) / 2;
		if (f->pattern.rows[middle] <= row)
			low = middle;
		else
			high = middle;
	}
	return f->inverse[low];
}

static void hand_out(const struct factor *f, struct net_system *s)
{
	for (uint32_t j = 0; j < f->n; j++)
		s->diagonal[f->pattern.order[j]] = f->inverse_pivot[j];
	for (size_t i = 0; i < s->edges; i++) {
		struct net_edge *e = &s->edge[i];
		e->cross = 0;
		if (e->a != NET_FIXED && e->b != NET_FIXED && e->a != e->b)
			e->cross = inverse_at(f, f->pattern.place[e->a], f->pattern.place[e->b]);
	}
}

/* Estimates the work of a stage, roughly: the sum of the squared lengths of the columns. */
static double effort(const struct factor *f)
{
	double sum = f->n;
	for (uint32_t j = 0; j < f->n; j++)
		sum += square((double)(f->pattern.start[j + 1] - f->pattern.start[j]));
	return sum;
}

bool net_solve(struct net_system *system, struct net_meter *meter)
{
	struct factor f = {.n = system->n};
	bool ok;
	net_meter_stage(meter, 0, 0.3, f.n);
	ok = net_order(system, &f.pattern, meter) && make_room(&f, system);
	if (ok) {
		net_meter_stage(meter, 0.3, 0.55, effort(&f));
		ok = factorize(&f, system, meter);
		system->indefinite = !ok;
	}
	if (ok) {
		solve(&f, system->x);
		net_meter_stage(meter, 0.55, 1, effort(&f));
		invert(&f, meter);
		hand_out(&f, system);
	}
	free_factor(&f);
	return ok;
}
