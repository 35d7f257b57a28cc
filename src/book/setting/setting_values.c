/* The settings: what each may be. */
#include "book/setting/setting_list.h"
#include "book/setting/setting_parse.h"
#include "book/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Distances are never in inches: a bare 1860 would be taken for 47 m. */
static bool apply_distance_unit(struct book_settings *s, const char *value, struct fault *why)
{
	enum level_unit unit = level_distance_unit(s->style.unit);
	bool ok = strcmp(value, BY_UNIT) == 0 ||
	          (level_unit_find(value, &unit) && unit == level_distance_unit(unit));
	if (!ok)
		return fault_say(why, FAULT_INPUT,
		                 "distance_unit must be m, ft or \"by unit\" (follows the unit of "
		                 "readings), not \"%.60s\"",
		                 value);
	s->style.distance = unit;
	return true;
}

static bool apply_style(struct book_settings *s, enum setting i, const char *value,
                        struct fault *why)
{
	int64_t whole;
	if (i == SET_UNIT) {
		if (!level_unit_find(value, &s->style.unit))
			return fault_say(why, FAULT_INPUT,
			                 "unit must be m, ft, ftin or in, not \"%.60s\"", value);
		s->style.distance = level_distance_unit(s->style.unit);
		return true;
	}
	if (i == SET_DISTANCE_UNIT)
		return apply_distance_unit(s, value, why);
	if (!setting_parse_whole(value, i == SET_FRACTION, i == SET_FRACTION ? 64 : 6,
	                         setting_name(i), &whole, why))
		return false;
	if (i == SET_DECIMALS)
		s->style.decimals = (int)whole;
	else if ((whole & (whole - 1)) != 0)
		return fault_say(why, FAULT_INPUT, "fraction is 1, 2, 4, 8, 16, 32 or 64");
	else
		s->style.fraction = (int)whole;
	return true;
}

/* How far k may be off: dk both sides, the others one. */
static bool apply_dk(struct book_settings *s, enum setting i, const char *value, struct fault *why)
{
	bool *set[] = {&s->dk_low_set, &s->dk_high_set};
	double *dk[] = {&s->terms.dk_low, &s->terms.dk_high};
	double number = 0;
	bool is_set = strcmp(value, i == SET_DK ? BY_HEIGHT : AS_DK) != 0;
	if (is_set && !setting_parse_number(value, 0, 20, setting_name(i), &number, why))
		return false;
	for (int side = 0; side < 2; side++) {
		bool both = i == SET_DK, one = i == (side ? SET_DK_HIGH : SET_DK_LOW);
		if ((both || one) && (is_set || both)) {
			*set[side] = is_set;
			*dk[side] = number;
		}
	}
	return true;
}

static bool apply_unit(struct book_settings *s, enum level_quantity quantity, const char *name,
                       const char *value, struct fault *why)
{
	char names[60] = "";
	if (level_quantity_unit_find(quantity, value, &s->units.of[quantity]))
		return true;
	for (int i = 0; level_quantity_unit(quantity, i); i++)
		snprintf(names + strlen(names), sizeof names - strlen(names), "%s%s", i ? ", " : "",
		         level_quantity_unit(quantity, i));
	return fault_say(why, FAULT_INPUT, "%s is one of %s, not \"%.60s\"", name, names, value);
}

/* Of distances, thermometers and their units. */
static bool apply_measuring(struct book_settings *s, enum setting i, const char *value,
                            struct fault *why)
{
	const char *name = setting_name(i);
	double percent;
	switch (i) {
	case SET_DISTANCE_TAPE:
	case SET_DISTANCE_WIRES:
	case SET_DISTANCE_MAP:
		if (!setting_parse_number(value, 0, 50, name, &percent, why))
			return false;
		if (i == SET_DISTANCE_MAP)
			s->terms.distance_u[LEVEL_MAPPED] = s->terms.distance_u[LEVEL_STEPPED] =
			    percent / 100;
		else
			s->terms.distance_u[i == SET_DISTANCE_TAPE ? LEVEL_TAPED : LEVEL_WIRED] =
			    percent / 100;
		return true;
	case SET_THERMOMETER_U:
		return setting_parse_number(value, 0.01, 10, name, &s->thermometer_u, why);
	case SET_PLACE:
		return setting_parse_number(value, 0, 1, name, &s->place, why);
	case SET_TEMPERATURE_UNIT:
		return apply_unit(s, LEVEL_TEMPERATURE, name, value, why);
	case SET_PRESSURE_UNIT:
		return apply_unit(s, LEVEL_PRESSURE, name, value, why);
	case SET_WIND_UNIT:
		return apply_unit(s, LEVEL_SPEED, name, value, why);
	default:
		return false;
	}
}

/* Checks a setting's value and puts it into *s. Without a book the tolerance set is left alone. */
static bool apply(struct book *book, struct book_settings *s, enum setting i, const char *value,
                  struct fault *why)
{
	const char *name = setting_name(i);
	enum level_unit unit = s->style.unit;
	char plain[BOOK_VALUE_BYTES];
	switch (i) {
	case SET_TITLE:
		snprintf(s->title, sizeof s->title, "%s", value);
		return level_check_text(value, LEVEL_REMARK_CHARS, "title", why);
	case SET_UNIT:
	case SET_DISTANCE_UNIT:
	case SET_DECIMALS:
	case SET_FRACTION:
		return apply_style(s, i, value, why);
	case SET_TOLERANCE:
		return book ? book_tolerance_find(book, value, &s->tolerance, why) : true;
	case SET_SETUP_TOLERANCE:
		if (!setting_parse_meters(value, unit, name, &s->setup_figure, why))
			return false;
		return s->setup_figure > 0 ||
		       fault_say(why, FAULT_INPUT, "%s is a length above 0", name);
	case SET_INSTRUMENT:
		return level_parse_slope(value, &s->terms.instrument[0].tolerance, why);
	case SET_K:
		return setting_parse_number(value, -20, 20, name, &s->terms.k, why);
	case SET_DK:
	case SET_DK_LOW:
	case SET_DK_HIGH:
		return apply_dk(s, i, value, why);
	case SET_AIR_COMMON:
		s->terms.air_declared = strcmp(value, NOT_DECLARED) != 0;
		return !s->terms.air_declared ||
		       setting_parse_number(value, 0, 1, name, &s->terms.air_common, why);
	case SET_DRIFT:
		s->terms.drift = 0;
		return strcmp(value, "0") == 0 || level_parse_slope(value, &s->terms.drift, why);
	case SET_RADIUS:
		if (!setting_parse_meters(value, unit, name, &s->terms.radius, why))
			return false;
		return s->terms.radius >= 1e6 ||
		       fault_say(
		           why, FAULT_INPUT,
		           "radius is at least 1000 km, as in 6371 km (a bare number is in the "
		           "book's unit)");
	case SET_DECLARED:
		return level_parse_declared(value, unit, s->terms.declared, why);
	case SET_WATER:
		return setting_parse_meters(value, unit, name, &s->terms.water, why);
	case SET_WATER_FLOOR:
		return setting_parse_meters(value, unit, name, &s->terms.water_floor, why);
	case SET_FLOW:
		return setting_parse_flow(value, &s->terms.flow, why);
	case SET_DEPTH:
		return setting_parse_meters(value, unit, name, &s->terms.depth, why);
	case SET_DECIDES:
		/* bound: the same in books of earlier versions */
		s->terms.decides = strcmp(value, "u95") == 0 ? LEVEL_BY_U95 : LEVEL_BY_ALL;
		return s->terms.decides == LEVEL_BY_U95 || strcmp(value, ALL) == 0 ||
		       strcmp(value, BOUND) == 0 ||
		       fault_say(why, FAULT_INPUT, "decides is u95 or all, not \"%.60s\"", value);
	case SET_STRIKE_RULE:
		snprintf(s->strike_rule, sizeof s->strike_rule, "%s", value);
		return level_check_text(value, LEVEL_REMARK_CHARS, "strike rule", why);
	case SET_BLIND:
		s->blind = strcmp(value, "yes") == 0;
		return s->blind || strcmp(value, "no") == 0 ||
		       fault_say(why, FAULT_INPUT, "blind is yes or no, not \"%.60s\"", value);
	case SET_BELL:
		s->bell = strcmp(value, "yes") == 0;
		return s->bell || strcmp(value, "no") == 0 ||
		       fault_say(why, FAULT_INPUT, "bell is yes or no, not \"%.60s\"", value);
	case SET_LOOK:
		s->look = strcmp(value, "color") == 0 ? BOOK_LOOK_COLOR
		          : strcmp(value, "sun") == 0 ? BOOK_LOOK_SUN
		                                      : BOOK_LOOK_PLAIN;
		return s->look != BOOK_LOOK_PLAIN || strcmp(value, "plain") == 0 ||
		       fault_say(why, FAULT_INPUT, "look is color, plain or sun, not \"%.60s\"",
		                 value);
	case SET_LONG_SIGHT:
		level_plain_distance(plain, sizeof plain, value);
		return setting_parse_positive(plain, s->style.distance, false, name, &s->long_sight,
		                              why);
	case SET_ROD_LENGTH:
		if (!setting_parse_positive(value, unit, false, name, &s->rod_length, why))
			return false;
		return s->rod_length <= 100 * LEVEL_NM_PER_M ||
		       fault_say(why, FAULT_INPUT, "rod_length is at most 100 m");
	case SET_ROD_READING:
	case SET_TAPE_READING:
	case SET_TARGET_READING:
		return setting_parse_reading(value, unit, name,
		                             &s->terms.reading_fixed[i - SET_ROD_READING],
		                             &s->terms.reading_slope[i - SET_ROD_READING], why);
	default:
		return apply_measuring(s, i, value, why);
	case SET_STADIA_MULTIPLIER:
		return setting_parse_whole(value, 1, 1000, name, &s->stadia_multiplier, why);
	case SET_POWER:
		return setting_parse_number(value, 1, 1000, name, &s->power, why);
	case SET_COPY_TO:
		snprintf(s->copy_to, sizeof s->copy_to, "%s", value);
		return true;
	case SET_STADIA_CONSTANT:
		return setting_parse_positive(value, unit, true, name, &s->stadia_constant, why);
	}
}

static bool is_length(enum setting i)
{
	return i == SET_SETUP_TOLERANCE || i == SET_RADIUS || i == SET_DECLARED || i == SET_WATER ||
	       i == SET_WATER_FLOOR || i == SET_DEPTH || i == SET_LONG_SIGHT ||
	       i == SET_ROD_LENGTH || i == SET_STADIA_CONSTANT;
}

bool setting_is_figure(size_t i)
{
	switch ((enum setting)i) {
	case SET_INSTRUMENT:
	case SET_K:
	case SET_DK:
	case SET_DK_LOW:
	case SET_DK_HIGH:
	case SET_AIR_COMMON:
	case SET_DRIFT:
	case SET_RADIUS:
	case SET_DECLARED:
	case SET_WATER:
	case SET_WATER_FLOOR:
	case SET_FLOW:
	case SET_DEPTH:
	case SET_DECIDES:
	case SET_STRIKE_RULE:
	case SET_DISTANCE_TAPE:
	case SET_DISTANCE_WIRES:
	case SET_DISTANCE_MAP:
	case SET_THERMOMETER_U:
	case SET_PLACE:
	case SET_ROD_READING:
	case SET_TAPE_READING:
	case SET_TARGET_READING:
		return true;
	default:
		return false;
	}
}

bool setting_apply(struct book_settings *settings, size_t i, const char *value, struct fault *why)
{
	return apply(NULL, settings, (enum setting)i, value, why);
}

bool setting_apply_in(struct book *book, struct book_settings *settings, size_t i,
                      const char *value, struct fault *why)
{
	return apply(book, settings, (enum setting)i, value, why);
}

const char *setting_today(size_t i, const char *value)
{
	return i == SET_DECIDES && strcmp(value, BOUND) == 0 ? ALL : value;
}

void setting_carry(size_t i, const char *value, const struct level_style *style,
                   char out[BOOK_VALUE_BYTES])
{
	enum level_unit unit = i == SET_LONG_SIGHT ? style->distance : style->unit;
	/* A bare length must not change its meaning when the book's unit does. */
	if (is_length((enum setting)i))
		level_carry_text(out, BOOK_VALUE_BYTES, value, unit,
		                 unit == LEVEL_M ? LEVEL_FT : LEVEL_M);
	else
		snprintf(out, BOOK_VALUE_BYTES, "%s", setting_today(i, value));
}
