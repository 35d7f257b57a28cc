/* Whether what is typed of the air is likely a slip. */
#ifndef RODBOOK_WORK_WIND_H
#define RODBOOK_WORK_WIND_H

#include "rodbook/book/book.h"

/* From this speed on, in m/s, a wind is doubted: a strong breeze, 6 on the Beaufort scale, begins
 * there (World Meteorological Organization, recalled); no rod stands still in it. */
#define WORK_WIND_MOST 10.8

/* Of a wind as it is typed, without its height; a bare number has the unit of the settings. False
 * where it cannot be read. */
bool work_doubt_wind(const char *typed, const struct book_settings *settings);

/* Of a height above the water as it is typed: a bare number that means inches, and is less than a
 * foot of them, was likely meant in feet (common practice, no source). */
bool work_doubt_height(const char *typed, enum level_unit unit);

#endif
