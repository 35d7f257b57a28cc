/* The drawing of a card for the far pole. */
#ifndef REPORT_DROP_CARD_H
#define REPORT_DROP_CARD_H

#include "rodbook/report/report.h"

/* The pole about where the cross-hair is to meet it, with where a level line, a flat and a round
 * surface put it, the allowance to both sides of these, the smallest target, and a ruler of 100 mm:
 * an SVG at true scale, 170 mm wide, which fits a sheet of A4 or letter paper. */
void card_svg(FILE *out, const struct report_plan *plan, const struct level_planned *planned,
              double power);

#endif
