/* One elevation of a station by one run, how uncertain it is, and whether two of them agree.
 *
 * u^2(H) = u^2(start) + sum u^2(readings, offsets) + tilt and drift of each level times its sum s
 * d, and air, along the sights from the start mark to the station; s = +1 for a BS and -1 for an FS
 * or IS. The law of propagation of uncertainty, JCGM 100:2008 (GUM), 5.1.2. */
#ifndef RODBOOK_LEVEL_DETERMINATION_H
#define RODBOOK_LEVEL_DETERMINATION_H

#include "rodbook/level/page.h"

/* The sights that an elevation hangs on, from the start mark. */
struct level_path {
	struct level_drop_sums sums; /* over them all; a setup of several standings as their mean */
	int setups_unknown;          /* setups with a distance that is not known */
	/* What the last setup adds that carries nothing on: 0 of an FS, which carries the line. */
	double loose_readings, loose_d4; /* part of sums.reading_variance and sums.d4 */
	int loose_unknown;
	size_t first_row, bs_row; /* of the setup: the BS of its first standing, and of its own */
};

struct level_determination {
	size_t row;
	enum level_kind how; /* LEVEL_FS, LEVEL_IS or LEVEL_OFF */
	int standings;       /* that an FS is the mean of, 1 or more */
	level_nm elevation;  /* corrected, where that is known */
	bool corrected;      /* curvature, refraction, tested tilts and known rods are taken off */
	struct level_path path;
};

/* At most how many setups have a distance that is not known. */
int level_setups_unknown(const struct level_sums *sums);

/* The elevation that sight `row` of a reduced run gives its station. False where it gives none: a
 * BS, a sight that does not count, an FS that a further standing stands in for, and a line without
 * an elevation or with a gap before it. */
bool level_determine(const struct level_run *run, const struct level_page *page,
                     const struct level_terms *terms, size_t row, struct level_determination *out);

/* Variance of an elevation less that of the start mark, m^2. A tilt has the u of its test, or the
 * tolerance over root 3; drift is added. The air has u(k) = (dk_low + dk_high)/4, one for all
 * sights or each sight's own, whichever is the larger. A setup with a distance that is not known
 * adds (5 mm)^2: half of what is allowed by setups (common practice, no source). */
double level_path_variance(const struct level_path *path, const struct level_terms *terms);
/* Variance of the later of two elevations of one run less the earlier one, m^2: without the sights
 * that both hang on. */
double level_path_variance_between(const struct level_path *earlier, const struct level_path *later,
                                   const struct level_terms *terms);

/* Variance of an elevation once a misclosure is spread, m^2. p: the share of it that is given up to
 * there, from 0 to 1; `to`: the sights from the start mark to it, `whole`: those to the end mark;
 * start_u and end_u, m, are of the known marks, of which a loop has one. With e the errors along
 * each it is the variance of e(to) - p e(whole): (1 - p)^2 of what both share, p^2 of the rest of
 * the whole, and all of what hangs off. */
struct level_spread_at {
	double p;
	struct level_path to, whole;
	double start_u, end_u;
	bool one_mark;
};
double level_spread_variance(const struct level_spread_at *at, const struct level_terms *terms);

/* Whether a difference is more than its standard uncertainty u (m) explains: beyond 2 u, which is
 * 95 %. */
bool level_differs(level_nm difference, double u);

/* The determination of the same station before `of` in the same run; false where there is none. */
bool level_determined_before(const struct level_run *run, const struct level_page *page,
                             const struct level_terms *terms, const struct level_determination *of,
                             struct level_determination *out);

#endif
