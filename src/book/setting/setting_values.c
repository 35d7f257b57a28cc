/* The settings: what each means, its default, and what it may be. */
#include "book/setting/setting_parse.h"
#include "book/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BY_HEIGHT "by height"
#define BY_UNIT "by unit"
#define AS_DK "as dk"
#define ALL "all"
#define BOUND "bound"
#define NOT_DECLARED "not declared"

enum setting {
	SET_TITLE,
	SET_UNIT,
	SET_DISTANCE_UNIT,
	SET_DECIMALS,
	SET_FRACTION,
	SET_TOLERANCE,
	SET_SETUP_TOLERANCE,
	SET_INSTRUMENT,
	SET_K,
	SET_DK,
	SET_DK_LOW,
	SET_DK_HIGH,
	SET_AIR_COMMON,
	SET_RADIUS,
	SET_DRIFT,
	SET_DECLARED,
	SET_WATER,
	SET_WATER_FLOOR,
	SET_FLOW,
	SET_DEPTH,
	SET_DECIDES,
	SET_STRIKE_RULE,
	SET_LONG_SIGHT,
	SET_ROD_LENGTH,
	SET_ROD_READING,
	SET_TAPE_READING,
	SET_TARGET_READING,
	SET_DISTANCE_TAPE,
	SET_DISTANCE_WIRES,
	SET_DISTANCE_MAP,
	SET_THERMOMETER_U,
	SET_PLACE,
	SET_TEMPERATURE_UNIT,
	SET_PRESSURE_UNIT,
	SET_WIND_UNIT,
	SET_STADIA_MULTIPLIER,
	SET_STADIA_CONSTANT,
	SET_COPY_TO,
	SETTINGS
};

/* Sources of the defaults: tilt 0.10 mm/m is the limit for third order in FGCC 1984 (recalled); k
 * is Gauss's value; dk, drift, distances, thermometer, place and the floor of the water are common
 * practice without a source, and so are the reading figures, two arc seconds being about what an
 * eye resolves through a 30x telescope. */
static const struct {
	const char *name, *what, *initial;
} known[SETTINGS] = {
    [SET_TITLE] = {"title", "title of the book", ""},
    [SET_UNIT] = {"unit", "unit of bare numbers and of the page: m, ft, ftin or in", "m"},
    [SET_DISTANCE_UNIT] = {"distance_unit", "unit of bare distances: m, ft or by unit", BY_UNIT},
    [SET_DECIMALS] = {"decimals", "decimals shown in m and ft, 0 to 6", "3"},
    [SET_FRACTION] = {"fraction", "smallest part of an inch shown, 1/n: 1, 2, 4 ... 64", "64"},
    [SET_TOLERANCE] = {"tolerance", "tolerance set that a misclosure is held against",
                       "third-order"},
    [SET_SETUP_TOLERANCE] = {"setup_tolerance", "misclosure per root of setups, for the set setups",
                             "2 mm"},
    [SET_INSTRUMENT] = {"instrument", "tilt that the untested level may have, a maker's word",
                        "0.1 mm/m"},
    [SET_K] = {"k", "refraction coefficient, positive when light bends down", "0.13"},
    [SET_DK] = {"dk", "how far k may be off at 95 %: by height of the line, or a number",
                BY_HEIGHT},
    [SET_DK_LOW] = {"dk_low", "how far the true k may lie below: as dk, or a number", AS_DK},
    [SET_DK_HIGH] = {"dk_high", "how far the true k may lie above: as dk, or a number", AS_DK},
    [SET_AIR_COMMON] = {"air_common",
                        "share of the air that all sights of a run have in common: not declared, "
                        "or 0 to 1",
                        NOT_DECLARED},
    [SET_RADIUS] = {"radius", "radius of the Earth for curvature", "6371 km"},
    [SET_DRIFT] = {"drift", "standard uncertainty of what a level moves by after its test",
                   "0.010 mm/m"},
    [SET_DECLARED] = {"declared",
                      "limits declared, lengths or slopes, by name: a=1 mm; compensator=0.01 mm/m",
                      "0 m"},
    [SET_WATER] = {"water", "limit declared for the water surface of a crossing", "0 m"},
    [SET_WATER_FLOOR] = {"water_floor", "limit of each end where water was read, however still",
                         "2 mm"},
    [SET_FLOW] = {"flow", "water of a crossing: still, flowing, or its slope: 0.1 mm/m", "still"},
    [SET_DEPTH] = {"depth", "mean depth of the water, for what the wind sets up; 0 m: not given",
                   "0 m"},
    [SET_DECIDES] = {"decides", "total that decides: u95 (95 %) or all (all limits at once)",
                     "u95"},
    [SET_STRIKE_RULE] = {"strike_rule", "what makes a reading of a crossing be struck",
                         "a slip seen by reading again at once"},
    [SET_LONG_SIGHT] = {"long_sight", "a crossing is sealed by its first sight this long", "100 m"},
    [SET_ROD_LENGTH] = {"rod_length", "longest reading that the rod can give", "5 m"},
    [SET_ROD_READING] = {"rod_reading",
                         "standard uncertainty of a rod reading, fixed + by distance",
                         "0.5 mm + 0.010 mm/m"},
    [SET_TAPE_READING] = {"tape_reading", "the same for a mark measured by tape", "1 mm"},
    [SET_TARGET_READING] = {"target_reading", "the same for a target", "0.3 mm + 0.005 mm/m"},
    [SET_DISTANCE_TAPE] = {"distance_tape", "standard uncertainty of a taped distance, per cent",
                           "0.1"},
    [SET_DISTANCE_WIRES] = {"distance_wires", "the same by wires", "1"},
    [SET_DISTANCE_MAP] = {"distance_map", "the same off a map, stepped, or not said how", "1"},
    [SET_THERMOMETER_U] = {"thermometer_u",
                           "standard uncertainty of a thermometer, K; 0.1 where both were compared",
                           "0.2"},
    [SET_PLACE] = {"place", "share of the gradient by which one mast may miss the whole line",
                   "0.2"},
    [SET_TEMPERATURE_UNIT] = {"temperature_unit", "unit of bare temperatures: C or F", "C"},
    [SET_PRESSURE_UNIT] = {"pressure_unit", "unit of bare pressures: hPa or inHg", "hPa"},
    [SET_WIND_UNIT] = {"wind_unit", "unit of bare wind speeds: m/s, mph, kn or km/h", "m/s"},
    [SET_STADIA_MULTIPLIER] = {"stadia_multiplier", "distance per wire interval", "100"},
    [SET_STADIA_CONSTANT] = {"stadia_constant", "distance added to that", "0 m"},
    [SET_COPY_TO] = {"copy_to",
                     "folder or file of the second copy, which s in F2 makes; empty: asked for",
                     ""},
};

/* Distances are never in inches: a bare 1860 would be taken for 47 m. */
static bool apply_distance_unit(struct book_settings *s, const char *value, struct fault *why)
{
	enum level_unit unit = level_distance_unit(s->style.unit);
	bool ok = strcmp(value, BY_UNIT) == 0 ||
	          (level_unit_find(value, &unit) && unit == level_distance_unit(unit));
	if (!ok)
		return fault_say(why, FAULT_INPUT,
		                 "distance_unit is m, ft or by unit, not \"%.60s\"", value);
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
			                 "unit is m, ft, ftin or in, not \"%.60s\"", value);
		s->style.distance = level_distance_unit(s->style.unit);
		return true;
	}
	if (i == SET_DISTANCE_UNIT)
		return apply_distance_unit(s, value, why);
	if (!setting_parse_whole(value, i == SET_FRACTION, i == SET_FRACTION ? 64 : 6,
	                         known[i].name, &whole, why))
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
	if (is_set && !setting_parse_number(value, 0, 20, known[i].name, &number, why))
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
	const char *name = known[i].name;
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
	const char *name = known[i].name;
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

const char *setting_name(size_t i)
{
	return known[i].name;
}

const char *setting_default(size_t i)
{
	return known[i].initial;
}

size_t setting_find(const char *name)
{
	size_t i = 0;
	while (i < SETTINGS && strcmp(known[i].name, name) != 0)
		i++;
	return i;
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

const char *setting_what(size_t i)
{
	return known[i].what;
}

const char *setting_today(size_t i, const char *value)
{
	return i == SET_DECIDES && strcmp(value, BOUND) == 0 ? ALL : value;
}

size_t book_setting_count(void)
{
	return SETTINGS;
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
