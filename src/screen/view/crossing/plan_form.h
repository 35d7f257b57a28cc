/* The form of a plan. */
#ifndef SCREEN_VIEW_CROSSING_PLAN_FORM_H
#define SCREEN_VIEW_CROSSING_PLAN_FORM_H

#include "rodbook/book/crossing.h"
#include "screen/fields.h"
#include "screen/view/air_hints.h"

#define PLAN_FORM_ROWS 9

/* Opens the form with these figures; NULL where memory is short. */
struct fields *plan_form_open(const struct book_figures *begin);
/* The form's texts as figures; lengths carry their unit. */
bool plan_form_read(const struct fields *fields, const struct book_settings *settings,
                    struct book_figures *out, struct fault *why);
/* What the field in focus is, by the units of the book, for F1 in the lines behind the first; and
 * its name. text: room for it. */
const char *plan_form_hint(const struct fields *fields, const struct book_settings *settings,
                           char text[AIR_HINT_BYTES]);
const char *plan_form_name(const struct fields *fields);

#endif
