/* What each sight brings into the sums of its run: the parts that level_reduce() adds up, one by
 * one, for a paper on which they are added again by hand. */
#ifndef RODBOOK_LEVEL_PARTS_H
#define RODBOOK_LEVEL_PARTS_H

#include "rodbook/level/page.h"

/* Lengths in m. */
struct level_part {
	int setup; /* 1, 2, ... over completed setups; all standings of one setup have one number;
	              0: the sight is in no sum */
	int sign;  /* s: +1 for a BS, -1 for an FS; 0 in no sum */
	double weight;                /* w: 1, or 1/n where the setup stands n times; 0 in no sum */
	double reading, distance;     /* b, d; distance 0 where it is not known */
	double curvature, refraction; /* c and r at d; drop.h */
	double tilt; /* of its instrument, m/m, where the test of that counts, else 0; of a crossing
	                with curvature left in (level_light_tilt()) */
	double rod_error;         /* e: what the rod reads too high by */
	struct level_mean_u mean; /* u of the reading, its freedom and bound */
};

/* Fills part[i] for each sight of a run reduced with these terms. */
void level_parts(const struct level_run *run, const struct level_page *page,
                 const struct level_terms *terms, struct level_part *part);

#endif
