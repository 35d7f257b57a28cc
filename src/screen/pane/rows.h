/* Texts of a list, as many as there are rows. */
#ifndef SCREEN_PANE_ROWS_H
#define SCREEN_PANE_ROWS_H

#include "screen/view/views.h"

#define ROW_BYTES 700

struct rows {
	struct list_line *line;
	char (*name)[ROW_BYTES], (*text)[ROW_BYTES];
};

/* Makes room; false where memory is short. Close it in any case. */
bool rows_open(struct rows *rows, size_t count);
void rows_close(struct rows *rows);

#endif
