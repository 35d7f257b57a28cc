/* How the rows of a page are laid out on paper: which columns, how wide, in one line or two. */
#ifndef REPORT_PAGE_LAYOUT_H
#define REPORT_PAGE_LAYOUT_H

#include "report/page/sheets.h"
#include "rodbook/report/report.h"

/* Columns with figures, in their order; what is behind FIRST_RIGHT goes up beside the station where
 * they do not all fit into one line. */
enum column { BS, HI, IS, FS, STEP, ELEVATION, CORRECTED, BACK, FORE, COLUMNS };
#define FIRST_RIGHT ELEVATION
#define LEAST_STATION 7 /* "carried" */

/* One line of a page: a sight, or the FS and the BS of a turning point. */
struct page_line {
	size_t at, also; /* also: the BS behind an FS, else SIZE_MAX */
};
struct page_line layout_line(const struct work_run *run, size_t at);
/* The last row of a line. */
size_t layout_last(const struct page_line *line);

struct layout {
	int head[COLUMNS], tail[COLUMNS]; /* characters before, and from, the decimal point on */
	bool shown[COLUMNS];
	int station, remark;     /* remark 0: below the row */
	bool two;                /* two lines a row */
	int decimals;            /* of sums */
	int indent, offset;      /* where there are offsets, one more; the longest of their texts */
	char back[24], fore[24]; /* over the distances of BS, and of IS and FS */
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
void layout_texts(const struct work_run *run, const struct page_line *line, struct texts *out);
/* What the columns of BS and FS add up to behind a row, a BS whose FS is still to come among them.
 */
void layout_carried(const struct work_run *run, const struct layout *l, size_t row,
                    struct texts *out);
/* The sums of the complete setups, rise less fall, and distances. */
void layout_sums(const struct work_run *run, const struct layout *l, struct texts *out);
int layout_clamp(int value, int least, int most);
void layout_measure(const struct work_run *run, struct layout *l);

#endif
