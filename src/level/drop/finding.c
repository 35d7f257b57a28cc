/* The one test of a drop. */
#include "rodbook/level/drop/finding.h"

#include <math.h>

#include "rodbook/level/quantile.h"

/* Effective degrees of freedom beyond which t is 2 (JCGM 100:2008, 6.3.3). */
#define MANY 60
/* Normal factors of 95 and 99 % (JCGM 100:2008, table G.1). */
#define FACTOR_95 1.960
#define FACTOR_99 2.576

static double squared(double value)
{
	return value * value;
}

/* X(kappa) */
static double left_over(const struct level_case *c, double kappa)
{
	return c->shown - kappa * c->span / 2;
}

int level_case_side(const struct level_case *c, double kappa)
{
	return left_over(c, kappa) * c->span < 0 ? 1 : 0;
}

static double variance_at(const struct level_case *c, double kappa)
{
	double sum = c->variance + squared(c->air_u[level_case_side(c, kappa)]);
	for (size_t i = 0; i < c->lengths; i++)
		sum += squared((c->length[i].a + kappa * c->length[i].b) * c->length[i].u);
	return sum;
}

double level_case_u(const struct level_case *c, double kappa)
{
	return sqrt(variance_at(c, kappa));
}

double level_case_all(const struct level_case *c, double kappa)
{
	double sum = c->bound + c->air_bound[level_case_side(c, kappa)];
	for (size_t i = 0; i < c->lengths; i++)
		sum += 2 * fabs(c->length[i].a + kappa * c->length[i].b) * c->length[i].u;
	return sum;
}

double level_case_coverage(const struct level_case *c, double *freedom)
{
	*freedom = level_effective_freedom(variance_at(c, 0), &c->sampled);
	return *freedom > MANY ? 2 : level_coverage(*freedom);
}

static double u95(const struct level_case *c, double kappa, double coverage)
{
	double variance = variance_at(c, kappa), limit;
	if (c->several)
		limit = 2 * sqrt(fmax(0, variance - c->sampled.variance) + c->sampled.expanded);
	else
		limit = fmax(coverage * sqrt(variance), c->sampled.largest);
	return fmin(limit, level_case_all(c, kappa));
}

double level_case_u95(const struct level_case *c, double kappa)
{
	double freedom;
	return u95(c, kappa, level_case_coverage(c, &freedom));
}

static double limit_at(const struct level_case *c, double kappa, double coverage)
{
	return c->decides == LEVEL_BY_ALL ? level_case_all(c, kappa) : u95(c, kappa, coverage);
}

/* Whether the left-over outgrows its limit as kappa goes on: what errors of the distances add for
 * each unit of kappa, against S'/2. */
static bool is_bounded(const struct level_case *c, double coverage)
{
	double all = 0, squares = 0;
	for (size_t i = 0; i < c->lengths; i++) {
		double grows = fabs(c->length[i].b) * c->length[i].u;
		all += 2 * grows;
		squares += squared(grows);
	}
	if (c->several)
		coverage = 2;
	return (c->decides == LEVEL_BY_ALL ? all : fmin(all, coverage * sqrt(squares))) <
	       fabs(c->span) / 2;
}

/* What the air alone makes of that limit; few readings of others widen it beyond what air can do.
 */
static double air_at(const struct level_case *c, double kappa, double limit)
{
	int side = level_case_side(c, kappa);
	double u = level_case_u(c, kappa);
	if (c->decides == LEVEL_BY_ALL)
		return c->air_bound[side];
	return u > 0 ? fmin(limit * c->air_u[side] / u, c->air_bound[side]) : 0;
}

static bool is_within(const struct level_case *c, double kappa, double coverage)
{
	return fabs(left_over(c, kappa)) <= limit_at(c, kappa, coverage);
}

/* The end of the interval that lies from its middle in the direction of `step`. */
static double end_of(const struct level_case *c, double middle, double step, double coverage)
{
	double inside = middle, outside;
	while (is_within(c, middle + step, coverage)) {
		inside = middle + step;
		step *= 2;
	}
	outside = middle + step;
	for (int i = 0; i < 200; i++) {
		double half = inside + (outside - inside) / 2;
		if (half == inside || half == outside)
			break;
		if (is_within(c, half, coverage))
			inside = half;
		else
			outside = half;
	}
	return inside;
}

/* Whether a curvature that is ruled out at 95 % would not be at 99 %. */
static bool is_within_99(const struct level_case *c, double kappa)
{
	return c->decides == LEVEL_BY_U95 &&
	       fabs(left_over(c, kappa)) <
	           fmin(FACTOR_99 / FACTOR_95 * level_case_u95(c, kappa), level_case_all(c, kappa));
}

static enum level_drop_answer answer_of(const struct level_finding *f, double prediction)
{
	bool takes_in = f->low <= prediction && prediction <= f->high;
	if (f->high < 0)
		return LEVEL_OPPOSITE;
	if (f->low > 0)
		return takes_in ? LEVEL_SHOWN_COMPATIBLE : LEVEL_SHOWN_INCOMPATIBLE;
	return takes_in ? LEVEL_NOT_SEPARATED : LEVEL_NONE_SHOWN;
}

struct level_radius level_radius_of(double low, double middle, double high)
{
	return (struct level_radius){.low = high > 0 ? 1 / high : 0,
	                             .middle = middle > 0 ? 1 / middle : 0,
	                             .high = low > 0 ? 1 / low : (double)INFINITY};
}

struct level_finding level_judge(const struct level_case *c)
{
	struct level_finding out = {.turn = c->span > 0 ? 1 : c->span < 0 ? -1 : 0};
	double freedom, coverage, step;
	if (out.turn == 0) {
		out.none = LEVEL_NO_SPAN;
		return out;
	}
	coverage = level_case_coverage(c, &freedom);
	if (!is_bounded(c, coverage)) {
		out.none = LEVEL_NO_DISTANCE;
		return out;
	}
	out.middle = 2 * c->shown / c->span;
	step = 2 * limit_at(c, out.middle, coverage) / fabs(c->span);
	step = fmax(step, 1e-12);
	out.low = end_of(c, out.middle, -step, coverage);
	out.high = end_of(c, out.middle, step, coverage);
	out.radius = level_radius_of(out.low, out.middle, out.high);
	out.answer = answer_of(&out, c->prediction);
	out.narrow = (out.low > 0 || out.high < 0) && is_within_99(c, 0);
	out.narrow_prediction =
	    !level_prediction_fits(out.answer) && is_within_99(c, c->prediction);
	out.allowed = limit_at(c, c->prediction, coverage);
	out.air = air_at(c, c->prediction, out.allowed);
	return out;
}

bool level_prediction_fits(enum level_drop_answer answer)
{
	return answer == LEVEL_SHOWN_COMPATIBLE || answer == LEVEL_NOT_SEPARATED;
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
	    "more drop is seen than a flat surface would show in this air, beyond the allowance; "
	    "it is compatible with the predicted drop of a round surface",
	    "more drop is seen than a flat surface would show in this air, beyond the allowance; "
	    "the predicted drop of a round surface lies outside the allowance",
	    "a flat surface and the predicted drop of a round one both lie within the allowance",
	    "no more drop is seen than a flat surface would show in this air; the predicted "
	    "drop of a round surface lies outside the allowance",
	    "the far mark stands higher than even a flat surface would show it, beyond the "
	    "allowance"};
	return sentences[answer];
}

const char *level_answer_brief(enum level_drop_answer answer)
{
	static const char *const sentences[] = {
	    "more drop than flat shows, beyond the allowance; the prediction fits",
	    "more drop than flat shows, beyond the allowance; the prediction does not fit",
	    "not separated: flat and the prediction both lie within the allowance",
	    "no more drop than flat shows; the prediction does not fit",
	    "higher than even flat would show it, beyond the allowance"};
	return sentences[answer];
}

const char *level_answer_short(enum level_drop_answer answer)
{
	static const char *const words[] = {
	    "drop shown, as predicted", "drop shown, but not as predicted", "does not decide",
	    "no drop shown, one was predicted", "stands higher than flat shows"};
	return words[answer];
}

const char *level_answer_reserve(const struct level_finding *finding)
{
	if (finding->narrow && finding->narrow_prediction)
		return "; narrowly: at 99 % neither flat nor the prediction would be ruled out";
	if (finding->narrow_prediction)
		return "; narrowly: at 99 % the prediction would not be ruled out";
	return finding->narrow ? "; narrowly: at 99 % flat would not be ruled out" : "";
}

const char *level_no_answer_code(enum level_no_answer none)
{
	static const char *const codes[] = {
	    "",          "water-not-read", "flowing",  "no-default-k",
	    "distances", "balanced",       "disagree", "hidden"};
	return codes[none];
}
