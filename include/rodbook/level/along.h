/* Where a station stands along the line that a profile is measured on. */
#ifndef RODBOOK_LEVEL_ALONG_H
#define RODBOOK_LEVEL_ALONG_H

#include "rodbook/level/fault.h"
#include "rodbook/level/sight.h"

/* Reads a distance from the start of the line, "87.5", or one split by a plus: two digits behind it
 * count hundreds before it (12+50 is 1250), three count thousands (0+050 is 50). Bare numbers are
 * meters, or feet in a book of feet or inches. 0 to 100 km. (Common practice, no source.) */
bool level_parse_along(const char *text, enum level_unit unit, level_nm *along, struct fault *why);
/* The same place in a book of another unit: as it was typed where bare numbers mean the same there,
 * else as a length with its unit. Returns buf. */
char *level_carry_along(char *buf, size_t size, const char *text, enum level_unit unit,
                        enum level_unit here);
/* The place as far behind `last` as that is behind `before`, written as `last` is: 0+60 behind 0+20
 * and 0+40, 92.5 behind 87.5 and 90. False where one of the two is no place, or names its unit,
 * both are the same, or the line does not go so far; next is "" then. */
bool level_next_along(const char *before, const char *last, enum level_unit unit, char *next,
                      size_t size);

#endif
