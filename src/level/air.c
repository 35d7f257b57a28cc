/* Temperatures, pressures and winds as they are typed. */
#include "rodbook/level/air.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define UNITS_MOST 4

static const struct {
	const char *what, *example;
	struct {
		const char *name;
		double factor, offset; /* value = number x factor + offset */
	} unit[UNITS_MOST];
} quantities[LEVEL_QUANTITIES] = {
    [LEVEL_TEMPERATURE] = {"a temperature",
                           "15.2 C or 59.4 F",
                           {{"C", 1, 0}, {"F", 5.0 / 9, -160.0 / 9}}},
    [LEVEL_PRESSURE] = {"a pressure",
                        "1013 hPa or 29.92 inHg",
                        {{"hPa", 1, 0}, {"inHg", 33.86389, 0}}},
    [LEVEL_SPEED] =
        {"a wind",
         "3 m/s, 7 mph, 6 kn or 11 km/h",
         {{"m/s", 1, 0}, {"mph", 0.44704, 0}, {"kn", 1852.0 / 3600, 0}, {"km/h", 1 / 3.6, 0}}},
};

const char *level_quantity_unit(enum level_quantity quantity, int unit)
{
	return unit < UNITS_MOST ? quantities[quantity].unit[unit].name : NULL;
}

bool level_quantity_unit_find(enum level_quantity quantity, const char *name, int *unit)
{
	for (int i = 0; i < UNITS_MOST && quantities[quantity].unit[i].name; i++)
		if (strcasecmp(quantities[quantity].unit[i].name, name) == 0) {
			*unit = i;
			return true;
		}
	return false;
}

/* The number at the start of a text, and where its unit begins. */
static bool take_number(const char *text, double *number, const char **unit)
{
	const char *start = text + strspn(text, " ");
	size_t sign = strspn(start, "+-"), digits = strspn(start + sign, "0123456789.");
	char *end;
	if (sign > 1 || digits == 0)
		return false;
	*number = strtod(start, &end);
	*unit = end + strspn(end, " ");
	return end == start + sign + digits;
}

static bool refuse(const char *text, enum level_quantity quantity, struct fault *why)
{
	return fault_say(why, FAULT_INPUT, "\"%.40s\" is not %s: write %s", text,
	                 quantities[quantity].what, quantities[quantity].example);
}

bool level_parse_quantity(const char *text, enum level_quantity quantity, int bare, double *value,
                          struct fault *why)
{
	const char *name;
	char unit[8];
	size_t size;
	if (!take_number(text, value, &name))
		return refuse(text, quantity, why);
	size = strlen(name);
	while (size && name[size - 1] == ' ')
		size--;
	if (size >= sizeof unit)
		return refuse(text, quantity, why);
	memcpy(unit, name, size);
	unit[size] = '\0';
	if (size && !level_quantity_unit_find(quantity, unit, &bare))
		return refuse(text, quantity, why);
	*value = *value * quantities[quantity].unit[bare].factor +
	         quantities[quantity].unit[bare].offset;
	return true;
}

char *level_carry_quantity(char *out, size_t size, const char *text, enum level_quantity quantity,
                           int bare)
{
	const char *unit;
	double ignored;
	bool carries = bare != 0 && take_number(text, &ignored, &unit) && *unit == '\0';
	snprintf(out, size, "%s%s%s", text, carries ? " " : "",
	         carries ? quantities[quantity].unit[bare].name : "");
	return out;
}

static bool take_part(const char *from, size_t length, char *out, size_t size)
{
	while (length && *from == ' ') {
		from++;
		length--;
	}
	while (length && from[length - 1] == ' ')
		length--;
	if (length == 0 || length >= size)
		return false;
	memcpy(out, from, length);
	out[length] = '\0';
	return true;
}

bool level_split_at(const char *text, char *value, char *height, size_t size)
{
	static const char word[] = " at ";
	const char *at = strchr(text, '@');
	size_t length = 1;
	if (!at) {
		at = strstr(text, word);
		length = strlen(word);
	}
	return at && take_part(text, (size_t)(at - text), value, size) &&
	       take_part(at + length, strlen(at + length), height, size);
}

char *level_carry_quantity_at(char *out, size_t size, const char *text,
                              enum level_quantity quantity, int bare, enum level_unit unit)
{
	char value[60], height[60], number[80], length[80];
	if (!level_split_at(text, value, height, sizeof value))
		return level_carry_quantity(out, size, text, quantity, bare);
	level_carry_quantity(number, sizeof number, value, quantity, bare);
	level_carry_text(length, sizeof length, height, unit, unit == LEVEL_M ? LEVEL_FT : LEVEL_M);
	snprintf(out, size, "%s@%s", number, length);
	return out;
}

static bool take_thermometer(const char *text, int unit, enum level_unit bare, double *celsius,
                             double *height)
{
	char value[40], length[40];
	level_nm nm;
	if (!level_split_at(text, value, length, sizeof value) ||
	    !level_parse_quantity(value, LEVEL_TEMPERATURE, unit, celsius, NULL) ||
	    !level_parse_length(length, bare, &nm, NULL))
		return false;
	*height = level_to_meters(nm);
	return true;
}

/* The parts of "P,T@Z,T@Z", trimmed; of "T@Z,T@Z" part 0 stays empty. */
static bool take_parts(const char *text, char part[3][60])
{
	int commas = 0;
	for (const char *at = text; *at; at++)
		commas += *at == ',';
	part[0][0] = '\0';
	if (commas != 1 && commas != 2)
		return false;
	for (int i = 2 - commas; i < 3; i++) {
		size_t size = strcspn(text, ",");
		if (!take_part(text, size, part[i], sizeof part[i]))
			return false;
		text += size + 1;
	}
	return true;
}

bool level_air_parse(const char *text, const struct level_air_units *units, enum level_unit bare,
                     struct level_air_reading *air, struct fault *why)
{
	char part[3][60];
	bool ok = take_parts(text, part);
	air->pressure = LEVEL_STANDARD_PRESSURE;
	if (!ok ||
	    (*part[0] && !level_parse_quantity(part[0], LEVEL_PRESSURE, units->of[LEVEL_PRESSURE],
	                                       &air->pressure, NULL)) ||
	    !take_thermometer(part[1], units->of[LEVEL_TEMPERATURE], bare, &air->low,
	                      &air->low_height) ||
	    !take_thermometer(part[2], units->of[LEVEL_TEMPERATURE], bare, &air->high,
	                      &air->high_height))
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\" is no air: write the pressure, then two temperatures "
		                 "with their heights, the lower first, as in "
		                 "1013 hPa,15.2 C@1 m,14.8 C@6 m, or without the pressure",
		                 text);
	return level_air_reading_check(air, why);
}

char *level_air_carry(char *out, size_t size, const char *text, const struct level_air_units *units,
                      enum level_unit bare)
{
	static const struct level_air_units usual;
	struct level_air_reading air = level_air_nothing();
	char part[3][60];
	bool plain;
	units = units ? units : &usual;
	plain = !units->of[LEVEL_PRESSURE] && !units->of[LEVEL_TEMPERATURE];
	if (!level_air_parse(text, units, bare, &air, NULL) ||
	    (plain && take_parts(text, part) && *part[0]))
		snprintf(out, size, "%s", text);
	else
		snprintf(out, size, "%.6g hPa,%.8g C@%.9g m,%.8g C@%.9g m", air.pressure, air.low,
		         air.low_height, air.high, air.high_height);
	return out;
}

bool level_wind_from_find(const char *text, enum level_wind_from *out, struct fault *why)
{
	if (strcmp(text, "water") == 0)
		*out = LEVEL_WIND_FROM_WATER;
	else if (strcmp(text, "land") == 0)
		*out = LEVEL_WIND_FROM_LAND;
	else
		return fault_say(why, FAULT_INPUT,
		                 "the wind comes from water or from land, not from \"%.20s\"",
		                 text);
	return true;
}
