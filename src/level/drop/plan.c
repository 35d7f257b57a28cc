/* A long sight before it is made. */
#include "rodbook/plan.h"

#include <math.h>

/* Beyond this no level is read. */
#define FARTHEST 1e6

struct level_allowance level_plan_allowance(const struct level_plan *plan, double *predicted)
{
	struct level_drop_sums sums = {0};
	struct level_reach near = {.distance = plan->near, .method = plan->near_method};
	struct level_reach far = {.distance = plan->distance, .method = plan->far_method};
	struct level_ends ends = {.water = true};
	level_drop_add(&sums, &plan->terms, &near, &far);
	*predicted = sums.drop;
	return level_allow(&sums, &plan->terms, &ends);
}

/* Of the drop itself: where light bends more than the surface, none grows out of the allowance. */
static double margin_at(const struct level_plan *plan, double distance, bool by_bound)
{
	struct level_plan at = *plan;
	double predicted;
	struct level_allowance allowance;
	at.distance = distance;
	allowance = level_plan_allowance(&at, &predicted);
	return predicted - (by_bound ? allowance.total_bound : allowance.total_u95);
}

/* The margin falls below 0 at first and, if the drop outgrows the allowance at all, rises for good:
 * doubling finds an end beyond the root, halving the root. */
static double shortest(const struct level_plan *plan, bool by_bound)
{
	double low = plan->near, high = fmin(fmax(1, 2 * plan->near), FARTHEST);
	while (margin_at(plan, high, by_bound) <= 0) {
		if (high >= FARTHEST)
			return (double)INFINITY;
		low = high;
		high = fmin(2 * high, FARTHEST);
	}
	for (int i = 0; i < 200; i++) {
		double middle = low + (high - low) / 2;
		if (middle <= low || middle >= high)
			break;
		if (margin_at(plan, middle, by_bound) > 0)
			high = middle;
		else
			low = middle;
	}
	return high;
}

/* How much faster the surface falls away than light bends: 1/R - k/R0, 1/m. */
static double bend(const struct level_terms *terms, double k)
{
	return 1 / terms->radius - k / LEVEL_MEAN_RADIUS;
}

/* The lowest of a height that is `start` at 0 and goes on by slope x + curve x^2 / 2, up to `end`.
 */
static double lowest(double start, double slope, double curve, double end, double *at)
{
	*at = slope < 0 ? end : 0;
	if (slope < 0 && curve > 0)
		*at = fmin(end, -slope / curve);
	else if (curve < 0 && slope * end + curve * end * end / 2 < 0)
		*at = end;
	return start + slope * *at + curve * *at * *at / 2;
}

static double tilt_bound(const struct level_instrument *instrument)
{
	if (level_test_counts(instrument))
		return fmax(0, 2 * instrument->u - instrument->tilt);
	return instrument->tolerance;
}

static void look(const struct level_plan *plan, struct level_planned *out)
{
	const struct level_terms *terms = &plan->terms;
	double d = plan->distance, effective = bend(terms, terms->k), radius, beyond;

	out->clearance = lowest(plan->hi, -tilt_bound(&terms->instrument[0]),
	                        bend(terms, terms->k + terms->dk), d, &out->clearance_at);
	if (plan->has_target)
		out->target_clearance =
		    lowest(plan->hi, (plan->target - plan->hi) / d - effective * d / 2, effective,
		           d, &out->target_clearance_at);
	out->horizon = (double)INFINITY;
	if (effective <= 0)
		return;
	radius = 1 / effective;
	out->horizon = sqrt(2 * radius * plan->hi + plan->hi * plan->hi);
	beyond = d - out->horizon;
	if (beyond > 0)
		out->hidden = beyond * beyond / (sqrt(radius * radius + beyond * beyond) + radius);
}

bool level_plan_check(const struct level_plan *plan, struct fault *why)
{
	double predicted;
	if (!(plan->distance > 0))
		return fault_say(
		    why, FAULT_INPUT,
		    "a distance of zero or less has no drop: give the length of the sight");
	if (plan->distance > FARTHEST)
		return fault_say(why, FAULT_INPUT, "a sight is at most 1000 km long");
	if (!(plan->near >= 0 && plan->near < plan->distance))
		return fault_say(why, FAULT_INPUT,
		                 "the near sight is shorter than the long one: equal sights show "
		                 "no drop");
	if (plan->has_hi && !(plan->hi > 0))
		return fault_say(why, FAULT_INPUT,
		                 "the line of sight begins above the water: give a height above 0");
	if (plan->has_target && !(plan->target >= 0))
		return fault_say(why, FAULT_INPUT, "the target stands on or above the water");
	if (!(level_plan_allowance(plan, &predicted).total_bound > 0))
		return fault_say(why, FAULT_INPUT,
		                 "an allowance of zero cannot be: no instrument, eye or air is "
		                 "without error");
	return true;
}

struct level_planned level_plan_of(const struct level_plan *plan)
{
	const struct level_terms *terms = &plan->terms;
	struct level_planned out = {.curvature = level_curvature(plan->distance, terms->radius),
	                            .refraction = level_refraction(plan->distance, terms->k)};
	out.visible_drop = out.curvature - out.refraction;
	out.allowance = level_plan_allowance(plan, &out.predicted);
	out.margin_bound = fabs(out.predicted) - out.allowance.total_bound;
	out.margin_u95 = fabs(out.predicted) - out.allowance.total_u95;
	out.shortest_bound = shortest(plan, true);
	out.shortest_u95 = shortest(plan, false);
	out.shortest = terms->decides == LEVEL_BY_BOUND ? out.shortest_bound : out.shortest_u95;
	if (plan->has_hi)
		look(plan, &out);
	return out;
}
