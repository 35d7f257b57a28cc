/* What an observed drop says: one of five answers, the Earth's radius it would need, and the k.
 *
 * The answers are neutral: they compare the drop with zero and with the prediction by the same
 * allowance, and never claim more than it carries. */
#ifndef RODBOOK_FINDING_H
#define RODBOOK_FINDING_H

#include "rodbook/drop.h"

enum level_drop_answer {
	LEVEL_SHOWN_COMPATIBLE,   /* beyond the allowance, and within it of the prediction */
	LEVEL_SHOWN_INCOMPATIBLE, /* beyond the allowance, and not within it of the prediction */
	LEVEL_NOT_SEPARATED,      /* within the allowance of zero and of the prediction */
	LEVEL_NONE_SHOWN,         /* within the allowance of zero, not of the prediction */
	LEVEL_OPPOSITE,           /* beyond the allowance, the other way */
};

/* Compares a drop with zero and with the prediction, both turned by sgn(S). Allowance > 0; a drop
 * just as large as the allowance is within it. */
enum level_drop_answer level_answer_of(double observed, double predicted, double allowance);
/* "shown-compatible", ... and the sentence. */
const char *level_answer_code(enum level_drop_answer answer);
const char *level_answer_sentence(enum level_drop_answer answer);

/* An interval of 1/R as radii, m. Where the middle or the upper end of 1/R is not above 0 the
 * radius of it is 0: there is none; where the lower end is not, high is INFINITY: there is no upper
 * limit. */
struct level_radius {
	double low, middle, high;
};

struct level_finding {
	double turn; /* sgn(S): +1 where the long sights are FS, -1 where BS, 0 for equal sights */
	enum level_drop_answer answer;
	double curvature;   /* 1/R that the drop asks for at the k of the terms, 1/m */
	double curvature_u; /* half its interval, by the total that decides */
	struct level_radius radius;
	double k_needed; /* the k that makes the prediction meet the drop */
};

/* What `observed` says over sights with these sums. With sgn(S) = 0 there is nothing to see, and
 * only turn is filled in. 1/R = 2 D / S + k / R0, and k_needed from P(k) = D; curvature by its
 * closed form, so at the radius of the terms it is exact. */
struct level_finding level_find(const struct level_drop_sums *sums, const struct level_terms *terms,
                                const struct level_allowance *allowance, double observed);
/* An interval of 1/R, middle +- half, as radii. */
struct level_radius level_radius_of(double curvature, double half);

#endif
