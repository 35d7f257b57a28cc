/* How temperatures, pressures and winds are typed in this book. */
#include "screen/view/air_hints.h"

#include <stdio.h>

static const struct {
	enum level_quantity quantity;
	const char *number[4]; /* by the unit of the quantity */
	const char *height[4]; /* by the unit of lengths; NULL: it has none */
} examples[] = {
    [AIR_EXAMPLE_LOW] = {LEVEL_TEMPERATURE, {"15.2", "59.4"}, {"1", "3", "3", "3 ft"}},
    [AIR_EXAMPLE_HIGH] = {LEVEL_TEMPERATURE, {"14.8", "58.6"}, {"6", "20", "20", "20 ft"}},
    [AIR_EXAMPLE_WATER] = {LEVEL_TEMPERATURE, {"18.2", "64.8"}, {NULL}},
    [AIR_EXAMPLE_ABOVE] = {LEVEL_TEMPERATURE, {"15.1", "59.2"}, {"2", "6", "6", "6 ft"}},
    [AIR_EXAMPLE_WIND] = {LEVEL_SPEED, {"3", "7", "6", "11"}, {"2", "6", "6", "6 ft"}},
    [AIR_EXAMPLE_PRESSURE] = {LEVEL_PRESSURE, {"1006", "29.7"}, {NULL}},
};

char *air_example(char text[AIR_EXAMPLE_BYTES], enum air_example which,
                  const struct book_settings *settings)
{
	const char *height = examples[which].height[settings->style.unit];
	snprintf(text, AIR_EXAMPLE_BYTES, "%s%s%s",
	         examples[which].number[settings->units.of[examples[which].quantity]],
	         height ? "@" : "", height ? height : "");
	return text;
}

char *air_bare(char text[AIR_BARE_BYTES], enum air_example which,
               const struct book_settings *settings)
{
	enum level_quantity quantity = examples[which].quantity;
	bool high = examples[which].height[0] != NULL;
	/* a bare number is one of feet there */
	enum level_unit unit = settings->style.unit == LEVEL_FTIN ? LEVEL_FT : settings->style.unit;
	snprintf(text, AIR_BARE_BYTES, "bare: %s%s%s",
	         level_quantity_unit(quantity, settings->units.of[quantity]), high ? " and " : "",
	         high ? level_unit_words(unit) : "");
	return text;
}

char *air_hint(char text[AIR_HINT_BYTES], const char *lead, enum air_example which,
               const char *follows, const struct book_settings *settings)
{
	char example[AIR_EXAMPLE_BYTES], bare[AIR_BARE_BYTES];
	snprintf(text, AIR_HINT_BYTES, "%s: %s; %s.%s", lead, air_example(example, which, settings),
	         air_bare(bare, which, settings), follows);
	return text;
}
