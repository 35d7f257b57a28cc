/* The one test: what an observed drop says of the curvature of the surface.
 *
 * For a curvature kappa (0 flat, 1/R the prediction) X(kappa) = C - kappa S'/2 is left over of the
 * curvature shown, C = D - F. The interval of 1/R is every kappa whose left-over the allowance
 * covers, |X(kappa)| <= U(kappa) (or B(kappa), where that was chosen before looking), and the
 * answer is where that interval lies. Pane, papers and pictures ask here, so that none can differ.
 */
#ifndef RODBOOK_LEVEL_DROP_FINDING_H
#define RODBOOK_LEVEL_DROP_FINDING_H

#include "rodbook/level/drop/allowance.h"

enum level_drop_answer {
	LEVEL_SHOWN_COMPATIBLE,   /* the interval lies above 0 and takes in the prediction */
	LEVEL_SHOWN_INCOMPATIBLE, /* above 0, without the prediction */
	LEVEL_NOT_SEPARATED,      /* takes in 0 and the prediction */
	LEVEL_NONE_SHOWN,         /* takes in 0, not the prediction */
	LEVEL_OPPOSITE,           /* below 0 */
};

/* Why there is no answer. */
enum level_no_answer {
	LEVEL_ANSWERED,
	LEVEL_NO_WATER,    /* the end heights hang on water that was not read */
	LEVEL_NO_SLOPE,    /* one way over flowing water whose slope is not declared */
	LEVEL_NO_K,        /* no source gives a k, and there is no default */
	LEVEL_NO_DISTANCE, /* distances are not known, or so badly that 1/R has no bounds */
	LEVEL_NO_SPAN,     /* balanced sights: S' = 0, nothing to see */
	LEVEL_NO_ACCORD,   /* several crossings that disagree */
	LEVEL_NO_LOOK,     /* hidden until its figures are sealed: level_hide_drop() */
};

/* An interval of 1/R as radii, m. Where the middle or the upper end of 1/R is not above 0 the
 * radius of it is 0: there is none; where the lower end is not, high is INFINITY: there is no upper
 * limit. */
struct level_radius {
	double low, middle, high;
};

/* What a test is made of. Sides: [0] where X S' > 0, more drop is left over, which a k below the
 * assumed one explains; [1] the other. Where nothing is left over either would do; it is [0]. */
struct level_case {
	double shown;                 /* C, m */
	double span;                  /* S', m^2; not 0 */
	double prediction;            /* 1/R */
	double variance, bound;       /* of all errors but air and distances, m^2, m */
	struct level_sampled sampled; /* of that variance what spreads gave */
	double air_u[2], air_bound[2];
	size_t lengths;
	const struct level_length *length;
	enum level_decides decides;
	bool several; /* crossings: each sample by its own t, in quadrature, not one t for all */
};

/* The side at kappa: 0 or 1. */
int level_case_side(const struct level_case *c, double kappa);
/* u(kappa), m. */
double level_case_u(const struct level_case *c, double kappa);
/* B(kappa) and U(kappa), m: all limits at once; t u(kappa), t by Welch-Satterthwaite at kappa = 0
 * (2 above 60 degrees of freedom), never less than what any one sample needs by itself, and never
 * above B. Several crossings: the root of sum (2u)^2, with t u for each sample. */
double level_case_all(const struct level_case *c, double kappa);
double level_case_u95(const struct level_case *c, double kappa);
/* t and the effective degrees of freedom at kappa = 0. */
double level_case_coverage(const struct level_case *c, double *freedom);

struct level_finding {
	enum level_no_answer none; /* unless LEVEL_ANSWERED nothing below but turn counts */
	enum level_drop_answer answer;
	bool narrow; /* flat is ruled out at 95 % and would not be at 99 %: the curvature shown is
	                below B(0), and below 2.576/1.960 of U(0), the normal factors of JCGM
	                100:2008 table G.1; of few readings t grows by more */
	bool narrow_prediction; /* the same of the prediction: it is ruled out at 95 % and would not
	                           be at 99 %, by |X(1/R)|, B(1/R) and U(1/R) */
	double turn; /* sgn(S'): +1 where the long sights are FS, -1 where BS, 0 for equal sights */
	double low, middle, high; /* the interval of 1/R, and 2C/S'; 1/m */
	struct level_radius radius;
	double allowed; /* what decides, U(1/R) or B(1/R), at the prediction, m: where it falls
	                   short of |X(1/R)|, the prediction does not fit */
	double air;     /* how far the air alone could carry the drop there, m, as level_air_alone()
	                   says it at 0 */
	double k_needed; /* the k that makes the prediction meet the drop */
};

/* The test. k_needed is left at 0. */
struct level_finding level_judge(const struct level_case *c);
/* An interval of 1/R as radii. */
struct level_radius level_radius_of(double low, double middle, double high);

/* Whether the interval takes in the prediction. */
bool level_prediction_fits(enum level_drop_answer answer);
/* "shown-compatible", ... and the sentence. */
const char *level_answer_code(enum level_drop_answer answer);
const char *level_answer_sentence(enum level_drop_answer answer);
/* The same within 76 columns. */
const char *level_answer_brief(enum level_drop_answer answer);
/* The same in a few words, at most 40 columns: "drop shown, as predicted". */
const char *level_answer_short(enum level_drop_answer answer);
/* What an answer is said with where it is narrow, of flat or of the prediction, behind its
 * sentence; else "". */
const char *level_answer_reserve(const struct level_finding *finding);
/* "water-not-read", "flowing", "no-default-k", "distances", "balanced", "disagree"; "" where there
 * is an answer. */
const char *level_no_answer_code(enum level_no_answer none);

/* All that a crossing says, once: sums and ends of a run, or of a plan. */
struct level_weighing {
	double flat, predicted;           /* F, P, m */
	double shown;                     /* C = D - F, m; 0 where nothing was observed */
	double separation;                /* |S'|/2R: how far flat and predicted lie apart, m */
	struct level_allowance allowance; /* at kappa = 0, on the side where C lies */
	struct level_finding finding;     /* where something was observed */
};
/* D: the observed drop, or NULL while planning, when more drop is what is looked for. */
struct level_weighing level_weigh(const struct level_drop_sums *sums,
                                  const struct level_terms *terms, const struct level_ends *ends,
                                  const struct level_length *lengths, size_t count,
                                  const double *observed);

#endif
