/* What is read of the air, as people write it: temperatures, pressures, winds, with their units. */
#ifndef RODBOOK_LEVEL_AIR_H
#define RODBOOK_LEVEL_AIR_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/length.h"
#include "rodbook/level/drop/refraction.h"

/* Kinds of quantities that have units of their own. */
enum level_quantity { LEVEL_TEMPERATURE, LEVEL_PRESSURE, LEVEL_SPEED };
#define LEVEL_QUANTITIES 3

/* Index of a unit: C, F; hPa, inHg; m/s, mph, kn, km/h. 0 is the first, in which values are kept.
 */
struct level_air_units {
	int of[LEVEL_QUANTITIES];
};
/* The names of a quantity's units; NULL beyond the last. */
const char *level_quantity_unit(enum level_quantity quantity, int unit);
bool level_quantity_unit_find(enum level_quantity quantity, const char *name, int *unit);

/* Reads "59 F", "29.92 inHg", "12 mph", or a bare number in that unit, to C, hPa or m/s. Exact
 * factors: 1 inHg = 33.86389 hPa (conventional, at 0 C), 1 mph = 0.44704 m/s, 1 kn = 1852/3600 m/s.
 * Refuses the rest, and says what would be read. */
bool level_parse_quantity(const char *text, enum level_quantity quantity, int bare, double *value,
                          struct fault *why);
/* The same text with its unit, where it is bare and in another unit than the first. Returns out. */
char *level_carry_quantity(char *out, size_t size, const char *text, enum level_quantity quantity,
                           int bare);

/* The same with a height behind an @, which gets the unit of lengths where it is bare. */
char *level_carry_quantity_at(char *out, size_t size, const char *text,
                              enum level_quantity quantity, int bare, enum level_unit unit);

/* "59 F@3 ft", or "59 F at 3 ft": splits there, trims both. False where there is none, or a part is
 * empty or has no room. */
bool level_split_at(const char *text, char *value, char *height, size_t size);

/* Reads "P,T@Z,T@Z": pressure and two thermometers, the lower first; bare numbers in these units,
 * bare heights in `bare`. Without "P," the pressure is LEVEL_STANDARD_PRESSURE. What else there is
 * to read is left as nothing. */
bool level_air_parse(const char *text, const struct level_air_units *units, enum level_unit bare,
                     struct level_air_reading *air, struct fault *why);

/* The same as a text that means the same under any units: "1013.25 hPa,15.2 C@1 m,14.8 C@6 m" where
 * these units are others than hPa and C or the pressure is left out, else, and where it is no air,
 * the text itself. units NULL: hPa and C. */
char *level_air_carry(char *out, size_t size, const char *text, const struct level_air_units *units,
                      enum level_unit bare);

/* Where the wind comes from: "water" or "land". */
bool level_wind_from_find(const char *text, enum level_wind_from *out, struct fault *why);

#endif
