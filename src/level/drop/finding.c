/* What an observed drop says. */
#include "rodbook/finding.h"

#include <math.h>

enum level_drop_answer level_answer_of(double observed, double predicted, double allowance)
{
	bool near_prediction = fabs(observed - predicted) <= allowance;
	if (observed < -allowance)
		return LEVEL_OPPOSITE;
	if (observed > allowance)
		return near_prediction ? LEVEL_SHOWN_COMPATIBLE : LEVEL_SHOWN_INCOMPATIBLE;
	return near_prediction ? LEVEL_NOT_SEPARATED : LEVEL_NONE_SHOWN;
}

const char *level_answer_code(enum level_drop_answer answer)
{
	static const char *const codes[] = {"shown-compatible", "shown-incompatible",
	                                    "not-separated", "none-shown", "opposite"};
	return codes[answer];
}

const char *level_answer_sentence(enum level_drop_answer answer)
{
	static const char *const sentences[] = {
	    "a drop is shown beyond the allowance; it is compatible with the prediction",
	    "a drop is shown beyond the allowance; the prediction lies outside it",
	    "the allowance does not separate zero from the prediction",
	    "no drop is shown beyond the allowance; the prediction lies outside it",
	    "the far mark stands higher than level, beyond the allowance"};
	return sentences[answer];
}

struct level_radius level_radius_of(double curvature, double half)
{
	double low = curvature - half, high = curvature + half;
	return (struct level_radius){.low = high > 0 ? 1 / high : 0,
	                             .middle = curvature > 0 ? 1 / curvature : 0,
	                             .high = low > 0 ? 1 / low : (double)INFINITY};
}

struct level_finding level_find(const struct level_drop_sums *sums, const struct level_terms *terms,
                                const struct level_allowance *allowance, double observed)
{
	double s = -sums->s_d2;
	struct level_finding out = {.turn = s > 0 ? 1 : s < 0 ? -1 : 0};
	double curved;
	if (out.turn == 0)
		return out;
	out.answer =
	    level_answer_of(observed * out.turn, sums->drop * out.turn, allowance->decides);
	/* The curvature's own part of the prediction; to fourth order in d/R it is in proportion to
	 * 1/R, so the closed form is kept where it was reckoned. */
	curved = sums->drop + terms->k * s / (2 * LEVEL_MEAN_RADIUS);
	out.curvature = 1 / terms->radius + (observed - sums->drop) / curved / terms->radius;
	out.curvature_u = allowance->decides / fabs(curved) / terms->radius;
	out.radius = level_radius_of(out.curvature, out.curvature_u);
	out.k_needed = (curved - observed) * 2 * LEVEL_MEAN_RADIUS / s;
	return out;
}
