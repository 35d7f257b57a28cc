/* What is still open, in words. */
#ifndef REPORT_PAGE_LEAVE_WORDS_H
#define REPORT_PAGE_LEAVE_WORDS_H

#include "rodbook/report/report.h"
#include "rodbook/work/leave.h"

#define LEAVE_WORDS_BYTES 500

/* What is open in an item of the list. */
void leave_what(const struct work_leave *list, const struct work_leave_item *item,
                char text[LEAVE_WORDS_BYTES]);
/* What to do about it. */
const char *leave_cure(const struct work_leave_item *item, char text[LEAVE_WORDS_BYTES]);

#endif
