/* The lines of the live pane, which stand below the form or in a column beside the page. */
#ifndef SCREEN_PANE_LIVE_H
#define SCREEN_PANE_LIVE_H

#include "screen/editor.h"

#define LINE_BYTES 420

struct live {
	char sight[4][LINE_BYTES];   /* HI, elevation, step, what was known before */
	char sums[4][LINE_BYTES];    /* sums, page check, setups and length, imbalance */
	char closing[4][LINE_BYTES]; /* misclosure, allowable, verdict, corrected */
	enum look verdict;           /* of closing[2] */
	char drop[2][LINE_BYTES];
};

/* Why nothing can be said of a run without a complete setup: one that is closed was set aside. */
const char *live_no_setup(const struct editor *ed);

/* A column beside the page: every line below the other, closer together where rows are few. */
void tall_pane(const struct editor *ed, int row, int column, const struct live *live);

#endif
