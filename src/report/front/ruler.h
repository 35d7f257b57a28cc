/* The scale of a first page, for text and for drawings. */
#ifndef REPORT_FRONT_RULER_H
#define REPORT_FRONT_RULER_H

#include "report/front/front.h"

/* What the scale reaches over, m: all of it, zero, and a twentieth more. */
struct ruler {
	double from, to;
};
struct ruler ruler_of(const struct front_scale *scale);

/* Its numbers, at round steps of the style's unit: at, m, and as they are written. */
#define RULER_NUMBERS 16
struct ruler_numbers {
	int count;
	double at[RULER_NUMBERS];
	char text[RULER_NUMBERS][LEVEL_LENGTH_BYTES];
};
struct ruler_numbers ruler_numbers_of(const struct ruler *ruler, const struct level_style *style);

#endif
