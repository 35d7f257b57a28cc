/* The order in which marks are eliminated: always one with the fewest neighbors left (Tinney and
 * Walker 1967, Proc. IEEE 55, 1801, recalled). A line of turning points costs nothing so. */
#include "level/net/net_solve.h"

#include <stdlib.h>
#include <string.h>

struct neighbors {
	uint32_t count, *node; /* ascending */
};

/* Nodes by the number of their neighbors, as doubly linked lists. */
struct degrees {
	uint32_t *head, *next, *before, lowest;
};

#define NONE UINT32_MAX

struct graph {
	uint32_t n;
	struct neighbors *of;
	uint32_t *merged; /* room for n */
	struct degrees degrees;
};

static void enlist(struct graph *g, uint32_t node)
{
	struct degrees *d = &g->degrees;
	uint32_t degree = g->of[node].count, first = d->head[degree];
	d->next[node] = first;
	d->before[node] = NONE;
	if (first != NONE)
		d->before[first] = node;
	d->head[degree] = node;
	if (degree < d->lowest)
		d->lowest = degree;
}

static void unlist(struct graph *g, uint32_t node)
{
	struct degrees *d = &g->degrees;
	uint32_t next = d->next[node], before = d->before[node];
	if (before != NONE)
		d->next[before] = next;
	else
		d->head[g->of[node].count] = next;
	if (next != NONE)
		d->before[next] = before;
}

static bool joins(const struct net_edge *edge)
{
	return edge->a != NET_FIXED && edge->b != NET_FIXED && edge->a != edge->b;
}

static int by_number(const void *a, const void *b)
{
	uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
	return (x > y) - (x < y);
}

static bool take_edges(struct graph *g, const struct net_system *s)
{
	for (size_t i = 0; i < s->edges; i++)
		if (joins(&s->edge[i])) {
			g->of[s->edge[i].a].count++;
			g->of[s->edge[i].b].count++;
		}
	for (uint32_t v = 0; v < g->n; v++) {
		g->of[v].node = malloc((g->of[v].count + 1) * sizeof *g->of[v].node);
		if (!g->of[v].node)
			return false;
		g->of[v].count = 0;
	}
	for (size_t i = 0; i < s->edges; i++)
		if (joins(&s->edge[i])) {
			struct neighbors *a = &g->of[s->edge[i].a], *b = &g->of[s->edge[i].b];
			a->node[a->count++] = s->edge[i].b;
			b->node[b->count++] = s->edge[i].a;
		}
	for (uint32_t v = 0; v < g->n; v++) {
		struct neighbors *of = &g->of[v];
		uint32_t kept = 0;
		qsort(of->node, of->count, sizeof *of->node, by_number);
		for (uint32_t i = 0; i < of->count; i++)
			if (kept == 0 || of->node[kept - 1] != of->node[i])
				of->node[kept++] = of->node[i];
		of->count = kept;
	}
	return true;
}

static bool make_graph(struct graph *g, const struct net_system *s)
{
	size_t room = g->n ? g->n : 1;
	g->of = calloc(room, sizeof *g->of);
	g->merged = malloc(room * sizeof *g->merged);
	g->degrees = (struct degrees){.head = malloc(room * sizeof(uint32_t)),
	                              .next = malloc(room * sizeof(uint32_t)),
	                              .before = malloc(room * sizeof(uint32_t))};
	if (!g->of || !g->merged || !g->degrees.head || !g->degrees.next || !g->degrees.before ||
	    !take_edges(g, s))
		return false;
	memset(g->degrees.head, 0xff, room * sizeof *g->degrees.head);
	for (uint32_t v = 0; v < g->n; v++)
		enlist(g, v);
	return true;
}

static void free_graph(struct graph *g)
{
	for (uint32_t v = 0; g->of && v < g->n; v++)
		free(g->of[v].node);
	free(g->of);
	free(g->merged);
	free(g->degrees.head);
	free(g->degrees.next);
	free(g->degrees.before);
}

/* Gives node u the neighbors of v, which is eliminated, beside its own. */
static bool adopt(struct graph *g, uint32_t u, uint32_t v)
{
	struct neighbors *mine = &g->of[u];
	const struct neighbors *gone = &g->of[v];
	uint32_t i = 0, j = 0, count = 0, *node = mine->node;
	while (i < mine->count || j < gone->count) {
		uint32_t a = i < mine->count ? mine->node[i] : NONE,
		         b = j < gone->count ? gone->node[j] : NONE, least = a < b ? a : b;
		i += a == least;
		j += b == least;
		if (least != u && least != v)
			g->merged[count++] = least;
	}
	if (count > 0 && count > mine->count)
		node = realloc(mine->node, count * sizeof *node);
	if (!node)
		return false;
	memcpy(node, g->merged, count * sizeof *node);
	unlist(g, u);
	*mine = (struct neighbors){count, node};
	enlist(g, u);
	return true;
}

static uint32_t take_lowest(struct graph *g)
{
	struct degrees *d = &g->degrees;
	uint32_t v;
	while (d->head[d->lowest] == NONE)
		d->lowest++;
	v = d->head[d->lowest];
	unlist(g, v);
	return v;
}

static void place(struct net_pattern *out, uint32_t column, uint32_t node)
{
	out->order[column] = node;
	out->place[node] = column;
}

/* Where v and all that are left are neighbors of each other, any order will do: the column of each
 * is those behind it. */
static void place_rest(struct graph *g, struct net_pattern *out, uint32_t column, uint32_t v)
{
	const struct neighbors *rest = &g->of[v];
	place(out, column, v);
	for (uint32_t i = 0; i < rest->count; i++) {
		struct neighbors *of = &g->of[rest->node[i]];
		of->count = rest->count - i - 1;
		memcpy(of->node, rest->node + i + 1, of->count * sizeof *of->node);
		place(out, column + i + 1, rest->node[i]);
	}
}

/* Eliminates all nodes; their neighbors at that moment stay in g->of: the columns. */
static bool eliminate(struct graph *g, struct net_pattern *out, struct net_meter *meter)
{
	for (uint32_t j = 0; j < g->n; j++) {
		uint32_t v = take_lowest(g);
		if (g->of[v].count == g->n - j - 1) {
			place_rest(g, out, j, v);
			return true;
		}
		place(out, j, v);
		for (uint32_t i = 0; i < g->of[v].count; i++)
			if (!adopt(g, g->of[v].node[i], v))
				return false;
		net_meter_add(meter, 1);
	}
	return true;
}

static bool fill(const struct graph *g, struct net_pattern *out)
{
	size_t total = 0;
	for (uint32_t j = 0; j < g->n; j++) {
		out->start[j] = total;
		total += g->of[out->order[j]].count;
	}
	out->start[g->n] = total;
	out->rows = malloc((total + 1) * sizeof *out->rows);
	if (!out->rows)
		return false;
	for (uint32_t j = 0; j < g->n; j++) {
		const struct neighbors *of = &g->of[out->order[j]];
		uint32_t *row = out->rows + out->start[j];
		for (uint32_t i = 0; i < of->count; i++)
			row[i] = out->place[of->node[i]];
		qsort(row, of->count, sizeof *row, by_number);
	}
	return true;
}

bool net_order(const struct net_system *system, struct net_pattern *out, struct net_meter *meter)
{
	struct graph g = {.n = system->n};
	size_t room = (size_t)system->n + 1;
	bool ok;
	*out = (struct net_pattern){.order = malloc(room * sizeof *out->order),
	                            .place = malloc(room * sizeof *out->place),
	                            .start = malloc(room * sizeof *out->start)};
	ok = out->order && out->place && out->start && make_graph(&g, system) &&
	     eliminate(&g, out, meter) && fill(&g, out);
	free_graph(&g);
	return ok;
}

void net_pattern_free(struct net_pattern *pattern)
{
	free(pattern->order);
	free(pattern->place);
	free(pattern->start);
	free(pattern->rows);
}
