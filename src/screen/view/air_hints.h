/* How temperatures, pressures and winds are typed in this book: examples, and what a bare number
 * is.
 */
#ifndef SCREEN_VIEW_AIR_HINTS_H
#define SCREEN_VIEW_AIR_HINTS_H

#include "rodbook/book/book.h"

enum air_example {
	AIR_EXAMPLE_LOW,
	AIR_EXAMPLE_HIGH,
	AIR_EXAMPLE_WATER,
	AIR_EXAMPLE_ABOVE,
	AIR_EXAMPLE_WIND,
	AIR_EXAMPLE_PRESSURE,
};
#define AIR_EXAMPLE_BYTES 24
#define AIR_HINT_BYTES 400

/* Such as "15.2@1" or "59.4@3 ft", by the units of the settings. Returns text. */
char *air_example(char text[AIR_EXAMPLE_BYTES], enum air_example which,
                  const struct book_settings *settings);
/* What a bare number is there: "bare: C and m". Returns text. */
#define AIR_BARE_BYTES 40
char *air_bare(char text[AIR_BARE_BYTES], enum air_example which,
               const struct book_settings *settings);
/* "LEAD: 15.2@1; bare: C and m." and what follows, which may have lines of its own. Returns text.
 */
char *air_hint(char text[AIR_HINT_BYTES], const char *lead, enum air_example which,
               const char *follows, const struct book_settings *settings);

#endif
