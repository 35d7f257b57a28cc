/* The marks that a line meets on its way. */
#ifndef LEVEL_RUN_MET_H
#define LEVEL_RUN_MET_H

#include "rodbook/level/page.h"

/* The line goes on to the station of row i: its start, or the end of a setup; notes in it whether
 * the station is known, or has a name of its own, and whether it is met again on a way back. A
 * further standing (`again`) of the same setup takes the place of the one before. */
void line_meets(const struct level_run *run, const struct level_page *page, size_t i, bool again,
                struct level_line *line);

#endif
