/* Three wires typed one behind the other, without a key between. */
#ifndef RODBOOK_WORK_WIRES_H
#define RODBOOK_WORK_WIRES_H

#include "rodbook/book/book.h"

/* The decimals of the wires last read in the run, before row `at`; -1 where none were, where its
 * three wires differ in their decimals, or where the unit is one of fractions. */
int work_wire_decimals(const struct book_run *run, size_t at);

/* The distance that the wires of a sight make by the stadia settings, nm; 0 where it has no wires.
 */
level_nm work_wires_make(const struct book_settings *settings, const struct level_sight *sight);

/* Parts "1.4321.", where a second point shows that another wire has begun: the first has
 * `decimals`, and what is left, "1.", begins the next. At most one digit of a meter and two of a
 * foot may stand before the second point, as on a rod. wire and rest have BOOK_TYPED_BYTES. False,
 * and both untouched, where the text is no such thing or decimals is below 1. */
bool work_part_wires(const char *typed, int decimals, enum level_unit unit, char *wire, char *rest);

#endif
