/* A long sight before it is made. */
#include "rodbook/level/drop/plan.h"

#include <math.h>

/* Beyond this no level is read. */
#define FARTHEST 1e6
/* Quantile of the normal distribution that 95 of 100 lie below. */
#define ONE_SIDED 1.645

/* The terms at a distance: k of measured air hangs on it. */
static struct level_k_found find_k(const struct level_plan *plan, double distance,
                                   struct level_terms *terms)
{
	struct level_sightline line = {plan->has_hi ? plan->hi : (double)NAN, distance,
	                               plan->terms.radius};
	struct level_k_found found = {0};
	*terms = plan->terms;
	if (!plan->by_air)
		return found;
	found = level_k_find(&plan->air, &line, plan->over);
	terms->no_k = !found.has;
	terms->k = found.chosen.k;
	terms->dk_low = found.chosen.low;
	terms->dk_high = found.chosen.high;
	return found;
}

static struct level_weighing weigh(const struct level_plan *plan, const struct level_terms *terms,
                                   double distance)
{
	static const struct level_identity nobody;
	struct level_drop_sums sums = {0};
	struct level_length lengths[2];
	struct level_reach near = {.distance = plan->near, .method = plan->near_method};
	struct level_reach far = {.distance = distance, .method = plan->far_method};
	struct level_ends ends = {.water = plan->waters > 0};
	size_t count = 0;
	double tape = terms->reading_fixed[LEVEL_TAPE];
	if (plan->has_ends)
		ends = plan->ends;
	else if (plan->waters > 0)
		ends.mean[0] = ends.mean[1] = level_mean_of(plan->waters, tape, tape);
	level_drop_add(&sums, terms, &near, &far);
	level_length_add(lengths, &count, terms, &nobody, 1, plan->near, plan->distance_by, 0);
	level_length_add(lengths, &count, terms, &nobody, -1, distance, plan->distance_by, 0);
	return level_weigh(&sums, terms, &ends, lengths, count, NULL);
}

struct level_weighing level_plan_weigh(const struct level_plan *plan, double distance)
{
	struct level_terms terms;
	find_k(plan, distance, &terms);
	return weigh(plan, &terms, distance);
}

/* Which of the margins: by a total, and with so many u to spare. */
struct aim {
	bool by_all;
	double spare;
};

static double margin_at(const struct level_plan *plan, double distance, const struct aim *aim)
{
	struct level_weighing w = level_plan_weigh(plan, distance);
	return w.separation - (aim->by_all ? w.allowance.total_bound : w.allowance.total_u95) -
	       aim->spare * w.allowance.u_total;
}

/* The margin falls below 0 at first and, if the separation outgrows the allowance at all, rises for
 * good: doubling finds an end beyond the root, halving the root. */
static double shortest(const struct level_plan *plan, const struct aim *aim)
{
	double low = plan->near, high = fmin(fmax(1, 2 * plan->near), FARTHEST);
	while (!(margin_at(plan, high, aim) > 0)) {
		if (high >= FARTHEST)
			return (double)INFINITY;
		low = high;
		high = fmin(2 * high, FARTHEST);
	}
	while (high - low > 1e-6) {
		double middle = low + (high - low) / 2;
		if (margin_at(plan, middle, aim) > 0)
			high = middle;
		else
			low = middle;
	}
	return high;
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

static void look(const struct level_plan *plan, const struct level_terms *terms,
                 struct level_planned *out)
{
	double d = plan->distance, light = terms->k / LEVEL_MEAN_RADIUS, tilt, at, flat;
	double effective = 1 / terms->radius - light, radius, beyond;

	tilt = level_light_tilt(terms, 0);
	flat = lowest(plan->hi, tilt, -light, d, &at);
	out->clearance = lowest(plan->hi, tilt, effective, d, &out->clearance_at);
	if (flat < out->clearance) {
		out->clearance = flat;
		out->clearance_at = at;
	}
	out->crosshair_flat = plan->hi - out->refraction;
	out->crosshair_round = plan->hi + out->visible_drop;
	if (plan->has_target)
		out->target_clearance =
		    lowest(plan->hi, (plan->target - plan->hi) / d - effective * d / 2, effective,
		           d, &out->target_clearance_at);
	if (out->clearance < LEVEL_CLEARANCE_HIDDEN)
		out->bar = LEVEL_PLAN_HIDDEN;
	else if (plan->pole > 0 && fmax(out->crosshair_flat, out->crosshair_round) > plan->pole)
		out->bar = LEVEL_PLAN_ABOVE;
	out->horizon = (double)INFINITY;
	if (effective <= 0)
		return;
	radius = 1 / effective;
	out->horizon = sqrt(2 * radius * plan->hi + plan->hi * plan->hi);
	beyond = d - out->horizon;
	if (beyond > 0)
		out->hidden = beyond * beyond / (sqrt(radius * radius + beyond * beyond) + radius);
}

/* What bars a longer sight from the same height to the same pole. */
static enum level_plan_bar bar_at(const struct level_plan *plan, double distance)
{
	struct level_plan longer = *plan;
	struct level_planned there = {0};
	struct level_terms terms;
	longer.distance = distance;
	find_k(&longer, distance, &terms);
	there.refraction = level_refraction(distance, terms.k);
	there.visible_drop = level_curvature(distance, terms.radius) - there.refraction;
	look(&longer, &terms, &there);
	return there.bar;
}

bool level_plan_check(const struct level_plan *plan, struct fault *why)
{
	if (!(plan->distance > 0))
		return fault_say(why, FAULT_INPUT,
		                 "give the length of the sight: a distance above 0");
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
	if (!(plan->pole >= 0))
		return fault_say(why, FAULT_INPUT, "the top of the far pole is above the water");
	if (!(level_plan_weigh(plan, plan->distance).allowance.total_bound > 0))
		return fault_say(why, FAULT_INPUT,
		                 "an allowance of zero cannot be: no instrument, eye or air is "
		                 "without error");
	return true;
}

static void fill_chance(struct level_planned *out)
{
	double u = out->allowance.u_total;
	out->has_chance = out->k_source != LEVEL_K_DEFAULT && u > 0;
	if (!out->has_chance)
		return;
	out->chance =
	    out->bar ? 0 : 0.5 * erfc(-(out->separation - out->allowance.decides) / u / sqrt(2));
}

struct level_planned level_plan_of(const struct level_plan *plan)
{
	struct level_terms terms;
	struct level_planned out = {.air = find_k(plan, plan->distance, &terms)};
	struct level_weighing w = weigh(plan, &terms, plan->distance);
	struct aim all = {true, 0}, most = {false, 0}, sure = {false, ONE_SIDED};
	sure.by_all = terms.decides == LEVEL_BY_ALL;
	out.k_source = plan->by_air ? out.air.source : plan->k_source;
	out.k = (struct level_k){terms.k, terms.dk_low, terms.dk_high};
	out.curvature = level_curvature(plan->distance, terms.radius);
	out.refraction = level_refraction(plan->distance, terms.k);
	out.visible_drop = out.curvature - out.refraction;
	out.predicted = w.predicted;
	out.flat = w.flat;
	out.separation = w.separation;
	out.allowance = w.allowance;
	out.margin_bound = out.separation - out.allowance.total_bound;
	out.margin_u95 = out.separation - out.allowance.total_u95;
	out.shortest_bound = terms.no_k ? (double)INFINITY : shortest(plan, &all);
	out.shortest_u95 = terms.no_k ? (double)INFINITY : shortest(plan, &most);
	out.shortest = sure.by_all ? out.shortest_bound : out.shortest_u95;
	out.sure = terms.no_k ? (double)INFINITY : shortest(plan, &sure);
	if (plan->has_hi)
		look(plan, &terms, &out);
	if (plan->has_hi && !isinf(out.shortest) && out.shortest > plan->distance)
		out.shortest_bar = bar_at(plan, out.shortest);
	/* As of a crossing booked so: see closing.c. */
	if (terms.no_k)
		out.bar = LEVEL_PLAN_NO_K;
	else if (plan->waters > 0 && terms.flow < 0)
		out.bar = LEVEL_PLAN_FLOWS;
	fill_chance(&out);
	return out;
}

const char *level_plan_bar_code(enum level_plan_bar bar)
{
	static const char *const codes[] = {"", "hidden", "above-pole", "no-default-k", "flowing"};
	return codes[bar];
}

double level_target_size(double distance, double power)
{
	const double minute = acos(-1.0) / 180 / 60;
	return distance * tan(minute) / power;
}
