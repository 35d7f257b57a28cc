/* A net: its approximate elevations, its normal equations, and what the residuals say. */
#include "rodbook/level/net.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "level/net/net_solve.h"
#include "rodbook/level/quantile.h"

/* Below this share of an error showing in the residual, it is rounding. */
#define UNCHECKED 1e-9
/* Standardized residuals this close to the largest are not told apart from it. */
#define TIED 1e-6
/* Loose marks named in a refusal. */
#define NAMED_MOST 8

struct state {
	const struct level_net *net;
	struct level_net_result *out;
	bool *reached;      /* marks with an approximate elevation */
	uint32_t *unknown;  /* a mark's number among the loose ones; NET_FIXED where it is held */
	size_t *first, *of; /* lines at a mark: of[first[m]..first[m + 1]) */
	size_t *queue;
	struct net_system system;
};

static void *room_for(size_t count, size_t size)
{
	return calloc(count + 2, size);
}

static bool make_room(struct state *s)
{
	const struct level_net *net = s->net;
	s->out->mark = room_for(net->marks, sizeof *s->out->mark);
	s->out->line = room_for(net->lines, sizeof *s->out->line);
	s->reached = room_for(net->marks, sizeof *s->reached);
	s->unknown = room_for(net->marks, sizeof *s->unknown);
	s->first = room_for(net->marks, sizeof *s->first);
	s->of = room_for(2 * net->lines, sizeof *s->of);
	s->queue = room_for(net->marks, sizeof *s->queue);
	s->system.edge = room_for(net->lines, sizeof *s->system.edge);
	s->system.x = room_for(net->marks, sizeof *s->system.x);
	s->system.diagonal = room_for(net->marks, sizeof *s->system.diagonal);
	return s->out->mark && s->out->line && s->reached && s->unknown && s->first && s->of &&
	       s->queue && s->system.edge && s->system.x && s->system.diagonal;
}

static void free_state(struct state *s)
{
	free(s->reached);
	free(s->unknown);
	free(s->first);
	free(s->of);
	free(s->queue);
	free(s->system.edge);
	free(s->system.x);
	free(s->system.diagonal);
}

void level_net_free(struct level_net_result *result)
{
	free(result->mark);
	free(result->line);
	*result = (struct level_net_result){0};
}

static void list_lines(struct state *s)
{
	const struct level_net *net = s->net;
	for (size_t i = 0; i < net->lines; i++) {
		s->first[net->line[i].from]++;
		s->first[net->line[i].to]++;
	}
	for (size_t m = 0, sum = 0; m <= net->marks; m++) {
		sum += s->first[m];
		s->first[m] = sum;
	}
	for (size_t i = 0; i < net->lines; i++) {
		s->of[--s->first[net->line[i].from]] = i;
		s->of[--s->first[net->line[i].to]] = i;
	}
}

/* Elevations along the lines, from the fixed marks outward; exact, so that only misfits are solved
 * for. False where one is out of all reach. */
static bool approximate(struct state *s)
{
	const struct level_net *net = s->net;
	size_t head = 0, tail = 0;
	for (size_t m = 0; m < net->marks; m++)
		if (net->mark[m].fixed) {
			s->reached[m] = true;
			s->out->mark[m].elevation = net->mark[m].elevation;
			s->queue[tail++] = m;
		}
	while (head < tail) {
		size_t m = s->queue[head++];
		for (size_t p = s->first[m]; p < s->first[m + 1]; p++) {
			const struct level_net_line *line = &net->line[s->of[p]];
			size_t other = line->from == m ? line->to : line->from;
			level_nm elevation = s->out->mark[m].elevation;
			if (s->reached[other])
				continue;
			elevation += line->from == m ? line->rise : -line->rise;
			if (elevation > LEVEL_LENGTH_LIMIT || elevation < -LEVEL_LENGTH_LIMIT)
				return false;
			s->reached[other] = true;
			s->out->mark[other].elevation = elevation;
			s->queue[tail++] = other;
		}
	}
	return true;
}

/* "E, F and 3 more" */
static void name_loose(const struct state *s, char *text, size_t size)
{
	size_t named = 0, loose = 0, used = 0;
	text[0] = '\0';
	for (size_t m = 0; m < s->net->marks; m++)
		loose += !s->reached[m];
	for (size_t m = 0; m < s->net->marks && named < NAMED_MOST; m++)
		if (!s->reached[m] && used + strlen(s->net->mark[m].name) + 30 < size) {
			used += (size_t)snprintf(text + used, size - used, "%s%s",
			                         !named               ? ""
			                         : named + 1 == loose ? " and "
			                                              : ", ",
			                         s->net->mark[m].name);
			named++;
		}
	if (named < loose)
		snprintf(text + used, size - used, " and %zu more", loose - named);
}

static bool check_datum(const struct state *s, struct fault *why)
{
	char names[500];
	bool fixed = false, all = true;
	for (size_t m = 0; m < s->net->marks; m++) {
		fixed = fixed || s->net->mark[m].fixed;
		all = all && s->reached[m];
	}
	if (all)
		return true;
	name_loose(s, names, sizeof names);
	if (!fixed)
		return fault_say(why, FAULT_INPUT,
		                 "no mark of this net has a known elevation, so nothing holds it; "
		                 "its marks: %s",
		                 names);
	return fault_say(why, FAULT_INPUT, "not tied to a held mark: %s", names);
}

static double misfit(const struct state *s, const struct level_net_line *line)
{
	return level_to_meters(
	    line->rise - (s->out->mark[line->to].elevation - s->out->mark[line->from].elevation));
}

static void set_up(struct state *s)
{
	const struct level_net *net = s->net;
	struct net_system *system = &s->system;
	for (size_t m = 0; m < net->marks; m++)
		s->unknown[m] = net->mark[m].fixed ? NET_FIXED : system->n++;
	system->edges = net->lines;
	for (size_t i = 0; i < net->lines; i++) {
		const struct level_net_line *line = &net->line[i];
		struct net_edge *edge = &system->edge[i];
		double weight = 1 / line->measure;
		*edge = (struct net_edge){s->unknown[line->from], s->unknown[line->to], weight, 0};
		if (edge->a == edge->b)
			continue;
		if (edge->b != NET_FIXED)
			system->x[edge->b] += weight * misfit(s, line);
		if (edge->a != NET_FIXED)
			system->x[edge->a] -= weight * misfit(s, line);
	}
}

/* The correction of a mark's approximate elevation, and its cofactor. */
static double correction(const struct state *s, size_t mark)
{
	return s->unknown[mark] == NET_FIXED ? 0 : s->system.x[s->unknown[mark]];
}

static double cofactor(const struct state *s, size_t mark)
{
	return s->unknown[mark] == NET_FIXED ? 0 : s->system.diagonal[s->unknown[mark]];
}

static void take_residuals(struct state *s)
{
	const struct level_net *net = s->net;
	for (size_t i = 0; i < net->lines; i++) {
		const struct level_net_line *line = &net->line[i];
		struct level_net_line_result *r = &s->out->line[i];
		double q =
		    cofactor(s, line->from) + cofactor(s, line->to) - 2 * s->system.edge[i].cross;
		r->residual = correction(s, line->to) - correction(s, line->from) - misfit(s, line);
		if (line->from == line->to)
			q = 0;
		r->cofactor = line->measure - q;
		r->redundancy = r->cofactor / line->measure;
		r->checked = r->redundancy > UNCHECKED;
		if (!r->checked)
			r->cofactor = r->redundancy = 0;
		s->out->variance += r->residual * r->residual / line->measure;
	}
}

static void take_marks(struct state *s)
{
	const struct level_net *net = s->net;
	for (size_t m = 0; m < net->marks; m++) {
		s->out->mark[m].elevation += level_from_meters(correction(s, m));
		s->out->mark[m].cofactor = cofactor(s, m);
	}
	for (size_t i = 0; i < net->lines; i++)
		s->out->line[i].adjusted = s->out->mark[net->line[i].to].elevation -
		                           s->out->mark[net->line[i].from].elevation;
}

static void test_variance(const struct level_net *net, struct level_net_result *out)
{
	double sum = out->variance; /* v'P v */
	out->has_variance = out->freedom > 0;
	out->variance = out->has_variance ? sum / out->freedom : 0;
	out->has_test = out->has_variance && net->sigma > 0;
	if (!out->has_test)
		return;
	out->chi_square = sum / (net->sigma * net->sigma);
	out->low = level_chi_square(0.025, out->freedom);
	out->high = level_chi_square(0.975, out->freedom);
	out->passes = out->chi_square >= out->low && out->chi_square <= out->high;
}

/* Standardized residuals, and the largest. */
static size_t standardize(const struct level_net *net, struct level_net_result *out)
{
	double s = net->sigma > 0 ? net->sigma : sqrt(out->variance);
	size_t checked = 0;
	out->largest = net->lines;
	for (size_t i = 0; i < net->lines; i++) {
		struct level_net_line_result *r = &out->line[i];
		checked += r->checked;
		r->has_standardized = r->checked && s > 0;
		if (!r->has_standardized)
			continue;
		r->standardized = r->residual / (s * sqrt(r->cofactor));
		if (out->largest == net->lines ||
		    fabs(r->standardized) > fabs(out->line[out->largest].standardized))
			out->largest = i;
	}
	return checked;
}

/* F of 1 and f degrees of freedom is the square of Student's t, and of the normal where f is
 * infinite. */
static void find_suspects(const struct level_net *net, struct level_net_result *out, size_t checked)
{
	double chance = 1 - 0.05 / (double)checked, f = out->freedom, largest;
	if (out->largest == net->lines || (!(net->sigma > 0) && out->freedom < 2))
		return;
	out->has_limit = true;
	if (net->sigma > 0) {
		out->limit = sqrt(level_f_quantile(chance, 1, (double)INFINITY));
	} else {
		double t2 = level_f_quantile(chance, 1, f - 1);
		out->limit = sqrt(f * t2 / (f - 1 + t2));
	}
	largest = fabs(out->line[out->largest].standardized);
	for (size_t i = 0; i < net->lines; i++) {
		struct level_net_line_result *r = &out->line[i];
		r->suspect = r->has_standardized && largest > out->limit &&
		             fabs(r->standardized) >= (1 - TIED) * largest;
		out->suspects += r->suspect;
	}
}

static bool adjust(struct state *s, struct net_meter *meter, struct fault *why)
{
	if (!make_room(s))
		return fault_memory(why);
	list_lines(s);
	if (!approximate(s))
		return fault_say(why, FAULT_INPUT, "the heights of this net are beyond %d km",
		                 (int)(LEVEL_LENGTH_LIMIT / LEVEL_NM_PER_M / 1000));
	if (!check_datum(s, why))
		return false;
	set_up(s);
	if (!net_solve(&s->system, meter))
		return s->system.indefinite
		           ? fault_say(why, FAULT_INPUT,
		                       "the lengths in this net are too unequal to be weighed "
		                       "against each other: look for a wrong distance, or weigh by "
		                       "setups")
		           : fault_memory(why);
	take_residuals(s);
	take_marks(s);
	s->out->freedom = (int)s->net->lines - (int)s->system.n;
	test_variance(s->net, s->out);
	find_suspects(s->net, s->out, standardize(s->net, s->out));
	return true;
}

bool level_net_adjust(const struct level_net *net, level_progress *progress, void *context,
                      struct level_net_result *out, struct fault *why)
{
	struct state state = {.net = net, .out = out};
	struct net_meter meter = {.tell = progress, .context = context};
	bool ok;
	*out = (struct level_net_result){0};
	if (net->lines == 0)
		return fault_say(why, FAULT_INPUT, "there is no line to adjust");
	if (net->marks >= NET_FIXED || net->lines > INT32_MAX)
		return fault_say(why, FAULT_INPUT, "this net is too large");
	if (progress)
		progress(context, 0);
	ok = adjust(&state, &meter, why);
	free_state(&state);
	if (!ok)
		level_net_free(out);
	else if (progress)
		progress(context, 1);
	return ok;
}
