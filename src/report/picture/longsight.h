/* The setup whose long sight is drawn. */
#ifndef REPORT_PICTURE_LONGSIGHT_H
#define REPORT_PICTURE_LONGSIGHT_H

#include "report/picture/picture.h"

struct sight_line {
	const struct level_sight *near, *far; /* shorter and longer sight of the setup */
	double near_x, far_x;                 /* m; the instrument stands at 0 */
	double radius, k;
	bool has_water;
	double water; /* of the water's level surface at the instrument, < 0 */
};

/* The completed setup of a crossing with the longest sight; refuses a run that has none, or whose
 * drop is hidden. */
bool longsight_setup(const struct work_run *run, struct sight_line *out, struct fault *why);
/* Draws a crossing that has an answer on a scale made for its drop: flat, round and what was seen
 * beside each other, the water below a break, and all of it once more at true scale. Title and
 * notes are those of the picture. */
bool longsight_svg(FILE *out, const struct work_run *run, const struct picture *picture,
                   struct fault *why);

#endif
