/* The held marks of two epochs on trial: whether they hold among themselves, and which one does
 * not.
 *
 * What one mark has changed by over another one is the same whichever mark a free net is held on,
 * and so is its cofactor. So each part that both epochs join is seen from its first held mark, and
 * a second time from its second one, for where the first is left out. */
#include "level/net/changes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/quantile.h"

struct epoch {
	const struct level_epoch *given;
	size_t *part; /* of each mark: the part of the net that its lines join, by one of its marks
	               */
	size_t *holder;              /* of each part: the mark that holds it when it is free */
	struct level_net_mark *mark; /* of the free net */
};

/* A mark seen from one held mark: its change in m, and the sum of its cofactors in both epochs. */
struct seen {
	double change, cofactor;
};

struct trial {
	struct epoch epoch[2];
	struct level_changes *out;
	size_t *group; /* of each held mark: the first one that both epochs join it to */
	struct seen *from_first, *from_second;
};

static size_t held_mark(const struct trial *t, int e, size_t held)
{
	const struct level_twice *mark = &t->out->held[held].mark;
	return e == 0 ? mark->first : mark->second;
}

static size_t root_of(size_t *part, size_t mark)
{
	while (part[mark] != mark)
		mark = part[mark] = part[part[mark]];
	return mark;
}

static bool prepare(struct epoch *epoch, const struct level_epoch *given)
{
	const struct level_net *net = given->net;
	epoch->given = given;
	epoch->part = calloc(net->marks + 1, sizeof *epoch->part);
	epoch->holder = calloc(net->marks + 1, sizeof *epoch->holder);
	epoch->mark = calloc(net->marks + 1, sizeof *epoch->mark);
	if (!epoch->part || !epoch->holder || !epoch->mark)
		return false;
	for (size_t m = 0; m < net->marks; m++)
		epoch->part[m] = m;
	for (size_t i = 0; i < net->lines; i++)
		epoch->part[root_of(epoch->part, net->line[i].from)] =
		    root_of(epoch->part, net->line[i].to);
	for (size_t m = 0; m < net->marks; m++) {
		epoch->part[m] = root_of(epoch->part, m);
		epoch->mark[m] = net->mark[m];
	}
	for (size_t m = net->marks; m-- > 0;)
		if (net->mark[m].fixed)
			epoch->holder[epoch->part[m]] = m;
	return true;
}

static void clear(struct trial *t)
{
	for (int e = 0; e < 2; e++) {
		free(t->epoch[e].part);
		free(t->epoch[e].holder);
		free(t->epoch[e].mark);
	}
	free(t->group);
	free(t->from_first);
	free(t->from_second);
}

static size_t part_of(const struct trial *t, int e, size_t held)
{
	return t->epoch[e].part[held_mark(t, e, held)];
}

static bool joined(const struct trial *t, size_t a, size_t b)
{
	return part_of(t, 0, a) == part_of(t, 0, b) && part_of(t, 1, a) == part_of(t, 1, b);
}

static void find_groups(struct trial *t)
{
	struct level_changes *out = t->out;
	for (size_t i = 0; i < out->held_count; i++) {
		size_t first = 0;
		while (!joined(t, first, i))
			first++;
		t->group[i] = out->held[i].from = first;
		out->tested += first != i;
	}
	for (size_t i = 0; i < out->held_count; i++)
		out->held[i].untied = true;
	for (size_t i = 0; i < out->held_count; i++)
		if (t->group[i] != i)
			out->held[i].untied = out->held[t->group[i]].untied = false;
}

/* Adjusts an epoch free, each part held on its holder alone but that of held mark `on`, held on
 * that. */
static bool adjust_free(struct trial *t, int e, size_t on, struct level_net_result *result,
                        struct fault *why)
{
	struct epoch *epoch = &t->epoch[e];
	struct level_net net = *epoch->given->net;
	for (size_t m = 0; m < net.marks; m++)
		epoch->mark[m].fixed = epoch->given->net->mark[m].fixed &&
		                       epoch->holder[epoch->part[m]] == m &&
		                       epoch->part[m] != part_of(t, e, on);
	epoch->mark[held_mark(t, e, on)].fixed = true;
	net.mark = epoch->mark;
	return level_net_adjust(&net, NULL, NULL, result, why);
}

/* What the marks of a group have changed by, seen from one of them. */
static bool look_from(struct trial *t, size_t on, struct seen *seen, struct fault *why)
{
	struct level_net_result result[2] = {{0}};
	bool ok = adjust_free(t, 0, on, &result[0], why) && adjust_free(t, 1, on, &result[1], why);
	for (size_t i = 0; ok && i < t->out->held_count; i++) {
		const struct level_net_mark_result *then, *now;
		if (t->group[i] != t->group[on])
			continue;
		then = &result[0].mark[held_mark(t, 0, i)];
		now = &result[1].mark[held_mark(t, 1, i)];
		seen[i] = (struct seen){level_to_meters(now->elevation - then->elevation),
		                        then->cofactor + now->cofactor};
	}
	/* The same whichever mark holds each part. */
	if (ok)
		t->out->free_variance = changes_pool(&result[0], &result[1], &t->out->free_freedom);
	level_net_free(&result[0]);
	level_net_free(&result[1]);
	return ok;
}

static size_t second_of(const struct trial *t, size_t first)
{
	size_t i = first + 1;
	while (i < t->out->held_count && t->group[i] != first)
		i++;
	return i;
}

static bool look(struct trial *t, struct fault *why)
{
	for (size_t i = 0; i < t->out->held_count; i++)
		if (t->group[i] == i && !t->out->held[i].untied &&
		    (!look_from(t, i, t->from_first, why) ||
		     !look_from(t, second_of(t, i), t->from_second, why)))
			return false;
	return true;
}

/* Bonferroni's limit for so many marks; F of 1 and f degrees of freedom is the square of Student's
 * t. */
static double factor_of(const struct trial *t, size_t tested)
{
	bool stated = t->epoch[0].given->net->sigma > 0;
	double f = stated ? (double)INFINITY : t->out->free_freedom;
	return tested ? sqrt(level_f_quantile(1 - 0.05 / (double)tested, 1, f)) : 0;
}

static double unit_sd(const struct trial *t)
{
	double sigma = t->epoch[0].given->net->sigma;
	return sigma > 0 ? sigma : sqrt(t->out->free_variance);
}

static bool is_beyond(const struct seen *seen, double limit)
{
	return fabs(seen->change) > limit * sqrt(seen->cofactor);
}

/* Whether all agree but the one that is left out. */
static bool agree_without(const struct trial *t, size_t left_out, double limit)
{
	bool first = t->group[left_out] == left_out;
	size_t second = second_of(t, left_out);
	for (size_t i = 0; i < t->out->held_count; i++) {
		const struct seen *seen = &t->from_first[i];
		if (i == left_out || t->group[i] == i)
			continue;
		if (first && t->group[i] == left_out) {
			seen = &t->from_second[i];
			if (i == second)
				continue;
		}
		if (is_beyond(seen, limit))
			return false;
	}
	return true;
}

static void judge(struct trial *t)
{
	struct level_changes *out = t->out;
	double s = unit_sd(t), less = s * factor_of(t, out->tested - 1);
	out->free_factor = factor_of(t, out->tested);
	out->agrees = LEVEL_YES;
	for (size_t i = 0; i < out->held_count; i++) {
		struct level_held *held = &out->held[i];
		if (t->group[i] == i)
			continue;
		held->change = level_from_meters(t->from_first[i].change);
		held->sd = s * sqrt(t->from_first[i].cofactor);
		held->limit = out->free_factor * held->sd;
		held->moved =
		    is_beyond(&t->from_first[i], s * out->free_factor) ? LEVEL_YES : LEVEL_NO;
		if (held->moved == LEVEL_YES)
			out->agrees = LEVEL_NO;
	}
	for (size_t i = 0; out->agrees == LEVEL_NO && i < out->held_count; i++) {
		out->held[i].explains = agree_without(t, i, less);
		out->explaining += out->held[i].explains;
	}
}

/* Whether the known elevations fit the free nets. */
static enum level_answer fit(const struct trial *t)
{
	const struct level_changes *out = t->out;
	double s = unit_sd(t), added = out->freedom - out->free_freedom,
	       misfit = out->freedom * out->variance - out->free_freedom * out->free_variance,
	       f = t->epoch[0].given->net->sigma > 0 ? (double)INFINITY : out->free_freedom;
	return misfit > added * s * s * level_f_quantile(0.95, added, f) ? LEVEL_NO : LEVEL_YES;
}

static bool try(struct trial *t, const struct level_epoch *first, const struct level_epoch *second,
                struct fault *why)
{
	size_t count = t->out->held_count;
	t->group = calloc(count + 1, sizeof *t->group);
	t->from_first = calloc(count + 1, sizeof *t->from_first);
	t->from_second = calloc(count + 1, sizeof *t->from_second);
	if (!t->group || !t->from_first || !t->from_second || !prepare(&t->epoch[0], first) ||
	    !prepare(&t->epoch[1], second))
		return fault_memory(why);
	find_groups(t);
	if (!look(t, why))
		return false;
	if (t->out->tested > 0 && (first->net->sigma > 0 || t->out->free_freedom > 0)) {
		judge(t);
		t->out->fits = fit(t);
	}
	return true;
}

bool changes_try_held(const struct level_epoch *first, const struct level_epoch *second,
                      struct level_changes *out, struct fault *why)
{
	struct trial trial = {.out = out};
	bool ok;
	out->agrees = out->fits = LEVEL_UNKNOWN;
	for (size_t i = 0; i < out->held_count; i++)
		out->held[i].moved = LEVEL_UNKNOWN;
	ok = try(&trial, first, second, why);
	clear(&trial);
	return ok;
}
