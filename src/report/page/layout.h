/* How the rows of a page are laid out on paper: which columns, how wide, in one line or two. */
#ifndef REPORT_PAGE_LAYOUT_H
#define REPORT_PAGE_LAYOUT_H

#include "report/page/sheets.h"
#include "rodbook/report/report.h"

/* Columns with figures, in their order; what is behind FIRST_RIGHT goes up beside the station where
 * they do not all fit into one line. */
enum column { BS, HI, IS, FS, ELEVATION, CORRECTED, DISTANCE, COLUMNS };
#define FIRST_RIGHT ELEVATION
#define LEAST_STATION 7 /* "carried" */

struct layout {
	int head[COLUMNS], tail[COLUMNS]; /* characters before, and from, the decimal point on */
	bool shown[COLUMNS];
	int station, remark; /* remark 0: below the row */
	bool two;            /* two lines a row */
	int decimals;        /* of sums */
	int indent, offset;  /* where there are offsets, one more; the longest of their texts */
	char distance[20];   /* over the distances */
};

struct texts {
	char setup[12];
	char offset[REPORT_CELL_BYTES + 8]; /* over the columns up to FIRST_RIGHT */
	char cell[COLUMNS][REPORT_CELL_BYTES];
};

/* What stands over a column, and its width in characters. */
const char *layout_name(const struct layout *l, int column);
int layout_width(const struct layout *l, int column);
/* The characters over the columns up to FIRST_RIGHT. */
int layout_room(const struct layout *l);
void layout_texts(const struct work_run *run, size_t i, struct texts *out);
void layout_sums(const struct work_run *run, const struct layout *l, const struct level_sums *sums,
                 struct texts *out);
int layout_clamp(int value, int least, int most);
void layout_measure(const struct work_run *run, struct layout *l);

#endif
