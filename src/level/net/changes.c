/* Changes of marks between two epochs. */
#include "level/net/changes.h"

#include <math.h>
#include <stdlib.h>

#include "rodbook/level/quantile.h"

double changes_pool(const struct level_net_result *first, const struct level_net_result *second,
                    int *freedom)
{
	*freedom = first->freedom + second->freedom;
	return *freedom > 0
	           ? (first->freedom * first->variance + second->freedom * second->variance) /
	                 *freedom
	           : 0;
}

/* The limits go by the stated standard deviation, or by the one that the nets themselves have. */
static double find_factor(const struct level_changes *out, double sigma)
{
	if (sigma > 0)
		return level_t95((double)INFINITY);
	return out->has_variance ? level_t95(out->freedom) : 0;
}

static void take_change(struct level_change *c, const struct level_net_result *first,
                        const struct level_net_result *second, double s, double factor)
{
	const struct level_net_mark_result *before = &first->mark[c->mark.first],
	                                   *after = &second->mark[c->mark.second];
	c->before = before->elevation;
	c->after = after->elevation;
	c->change = c->after - c->before;
	c->has_sd = c->has_limit = factor > 0;
	c->significant = LEVEL_UNKNOWN;
	if (!c->has_sd)
		return;
	c->sd = s * sqrt(before->cofactor + after->cofactor);
	c->limit = factor * c->sd;
	c->significant = fabs(level_to_meters(c->change)) > c->limit ? LEVEL_YES : LEVEL_NO;
}

bool level_changes(const struct level_epoch *first, const struct level_epoch *second,
                   const struct level_twice *mark, size_t count, struct level_changes *out,
                   struct fault *why)
{
	double sigma = first->net->sigma, s;
	*out = (struct level_changes){0};
	out->change = calloc(count + 1, sizeof *out->change);
	out->held = calloc(count + 1, sizeof *out->held);
	if (!out->change || !out->held) {
		level_changes_free(out);
		return fault_memory(why);
	}
	for (size_t i = 0; i < count; i++)
		if (first->net->mark[mark[i].first].fixed)
			out->held[out->held_count++].mark = mark[i];
		else
			out->change[out->count++].mark = mark[i];
	out->variance = changes_pool(first->result, second->result, &out->freedom);
	out->has_variance = out->freedom > 0;
	out->factor = find_factor(out, sigma);
	s = sigma > 0 ? sigma : sqrt(out->variance);
	for (size_t i = 0; i < out->count; i++)
		take_change(&out->change[i], first->result, second->result, s, out->factor);
	if (!changes_try_held(first, second, out, why)) {
		level_changes_free(out);
		return false;
	}
	return true;
}

void level_changes_free(struct level_changes *changes)
{
	free(changes->change);
	free(changes->held);
	*changes = (struct level_changes){0};
}
