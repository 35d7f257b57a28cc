/* The settings: the group and the title they are listed under, what each means, and its default. */
#include "book/setting/setting_list.h"
#include "book/store.h"

#include <string.h>

static const char *const groups[] = {
    [GROUP_BOOK] = "The book",
    [GROUP_WRITTEN] = "How readings are written",
    [GROUP_LEVEL] = "Level and rod",
    [GROUP_DISTANCES] = "Distances",
    [GROUP_CLOSING] = "Closing",
    [GROUP_WHEN] = "Long sight: what counts",
    [GROUP_AIR] = "Long sight: air and Earth",
    [GROUP_WATER] = "Long sight: water",
    [GROUP_SCREEN] = "Screen",
};

/* Sources of the defaults: tilt 0.10 mm/m is the limit for third order in FGCC 1984 (recalled); k
 * is Gauss's value; dk, drift, distances, thermometer, place and the floor of the water are common
 * practice without a source, and so are the power and the reading figures, two arc seconds being
 * about what an eye resolves through a 30x telescope.
 *
 * title and what are read as one: "Unit of readings: of bare numbers and of the page". */
static const struct {
	enum setting_group group;
	const char *name, *title, *what, *initial;
} known[SETTINGS] = {
    [SET_TITLE] = {GROUP_BOOK, "title", "Title of the book", "shown in the editor and on paper",
                   ""},
    [SET_UNIT] = {GROUP_WRITTEN, "unit", "Unit of readings",
                  "of bare numbers and of the page: m, ft, ftin or in", "m"},
    [SET_DISTANCE_UNIT] = {GROUP_WRITTEN, "distance_unit", "Unit of distances",
                           "of bare distances: m, ft or by unit", BY_UNIT},
    [SET_DECIMALS] = {GROUP_WRITTEN, "decimals", "Decimals shown", "in m and ft, 0 to 6", "3"},
    [SET_FRACTION] = {GROUP_WRITTEN, "fraction", "Smallest part of an inch",
                      "shown as 1/n: 1, 2, 4 ... 64", "64"},
    [SET_TOLERANCE] = {GROUP_CLOSING, "tolerance", "Tolerance set",
                       "what a misclosure is held against", "third-order"},
    [SET_SETUP_TOLERANCE] = {GROUP_CLOSING, "setup_tolerance", "Figure of the set setups",
                             "misclosure allowed a root of setups; without distances the other "
                             "sets allow 10 mm",
                             "2 mm"},
    [SET_INSTRUMENT] = {GROUP_LEVEL, "instrument", "Tilt of an untested level",
                        "how far its line of sight may tilt, a maker's word: 0.1 mm/m", "0.1 mm/m"},
    [SET_K] = {GROUP_AIR, "k", "Refraction coefficient", "positive when light bends down", "0.13"},
    [SET_DK] = {GROUP_AIR, "dk", "How far k may be off",
                "limit at 95 %: \"by height\" of the line, or a number", BY_HEIGHT},
    [SET_DK_LOW] = {GROUP_AIR, "dk_low", "How far k may lie below", "as dk, or a number", AS_DK},
    [SET_DK_HIGH] = {GROUP_AIR, "dk_high", "How far k may lie above", "as dk, or a number", AS_DK},
    [SET_AIR_COMMON] = {GROUP_AIR, "air_common", "Share of the air in common",
                        "of all sights of a run: not declared, or 0 to 1", NOT_DECLARED},
    [SET_RADIUS] = {GROUP_AIR, "radius", "Radius of the Earth", "for curvature", "6371 km"},
    [SET_DRIFT] = {GROUP_LEVEL, "drift", "Drift of a tested level",
                   "standard uncertainty of how it changes after its test", "0.010 mm/m"},
    [SET_DECLARED] = {GROUP_WHEN, "declared", "Limits declared",
                      "lengths or slopes, by name: a=1 mm; compensator=0.01 mm/m", "0 m"},
    [SET_WATER] = {GROUP_WATER, "water", "Limit of the water surface", "declared for a crossing",
                   "0 m"},
    [SET_WATER_FLOOR] = {GROUP_WATER, "water_floor", "Least limit of a water end",
                         "of each end where water was read, however still", "2 mm"},
    [SET_FLOW] = {GROUP_WATER, "flow", "Flow of the water",
                  "of a crossing: still, flowing, or its slope: 0.1 mm/m", "still"},
    [SET_DEPTH] = {GROUP_WATER, "depth", "Depth of the water",
                   "mean, for what the wind sets up; 0 m: not given", "0 m"},
    [SET_DECIDES] = {GROUP_WHEN, "decides", "Total that decides",
                     "u95 (95 %) or all (all limits at once)", "u95"},
    [SET_BLIND] = {GROUP_WHEN, "blind", "Drop hidden until sealed",
                   "the drop of a crossing, until its figures are sealed: yes or no", "no"},
    [SET_STRIKE_RULE] = {GROUP_WHEN, "strike_rule", "Rule for striking",
                         "what makes a reading of a crossing be struck",
                         "a slip seen by reading again at once"},
    [SET_LONG_SIGHT] = {GROUP_WHEN, "long_sight", "Length of a long sight",
                        "a crossing is sealed by its first sight this long", "100 m"},
    [SET_ROD_LENGTH] = {GROUP_LEVEL, "rod_length", "Length of the rod",
                        "longest reading that it can give", "5 m"},
    [SET_ROD_READING] = {GROUP_LEVEL, "rod_reading", "Uncertainty of a reading",
                         "standard, of the rod: fixed + by distance", "0.5 mm + 0.010 mm/m"},
    [SET_TAPE_READING] = {GROUP_LEVEL, "tape_reading", "Uncertainty, mark by tape",
                          "standard, of a mark measured by tape: fixed + by distance", "1 mm"},
    [SET_TARGET_READING] = {GROUP_LEVEL, "target_reading", "Uncertainty of a target",
                            "standard, of a target set on the line of sight: fixed + by distance",
                            "0.3 mm + 0.005 mm/m"},
    [SET_DISTANCE_TAPE] = {GROUP_DISTANCES, "distance_tape", "Uncertainty by tape",
                           "standard, of a taped distance, per cent", "0.1"},
    [SET_DISTANCE_WIRES] = {GROUP_DISTANCES, "distance_wires", "Uncertainty by wires",
                            "standard, of a distance by stadia wires, per cent", "1"},
    [SET_DISTANCE_MAP] = {GROUP_DISTANCES, "distance_map", "Uncertainty off a map",
                          "standard, of a distance off a map, stepped, or not said how, per cent",
                          "1"},
    [SET_THERMOMETER_U] = {GROUP_AIR, "thermometer_u", "Uncertainty, thermometer",
                           "standard, K; 0.1 where both were compared", "0.2"},
    [SET_PLACE] = {GROUP_AIR, "place", "Air missed by one mast",
                   "its gradient may miss that of the whole line by this share", "0.2"},
    [SET_TEMPERATURE_UNIT] = {GROUP_WRITTEN, "temperature_unit", "Unit of temperatures",
                              "of bare temperatures: C or F", "C"},
    [SET_PRESSURE_UNIT] = {GROUP_WRITTEN, "pressure_unit", "Unit of pressures",
                           "of bare pressures: hPa or inHg", "hPa"},
    [SET_WIND_UNIT] = {GROUP_WRITTEN, "wind_unit", "Unit of wind speeds",
                       "of bare wind speeds: m/s, mph, kn or km/h", "m/s"},
    [SET_STADIA_MULTIPLIER] = {GROUP_DISTANCES, "stadia_multiplier", "Stadia multiplier",
                               "distance per wire interval", "100"},
    [SET_STADIA_CONSTANT] = {GROUP_DISTANCES, "stadia_constant", "Stadia constant",
                             "distance added to that", "0 m"},
    [SET_POWER] = {GROUP_LEVEL, "power", "Power of the telescope", "how many times it magnifies",
                   "24"},
    [SET_COPY_TO] = {GROUP_BOOK, "copy_to", "Place of the second copy",
                     "folder or file, which s in F2 makes; empty: asked for", ""},
    [SET_BELL] = {GROUP_SCREEN, "bell", "Bell", "rings when something typed is refused: yes or no",
                  "yes"},
    [SET_LOOK] = {GROUP_SCREEN, "look", "Colors of the editor",
                  "color, plain, or sun: black on white, bold", "color"},
};

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

const char *setting_what(size_t i)
{
	return known[i].what;
}

const char *setting_title(size_t i)
{
	return known[i].title;
}

const char *setting_group(size_t i)
{
	return groups[known[i].group];
}

size_t book_setting_listed(size_t place)
{
	for (enum setting_group group = GROUP_BOOK; group < SETTING_GROUPS; group++)
		for (size_t i = 0; i < SETTINGS; i++)
			if (known[i].group == group && place-- == 0)
				return i;
	return SETTINGS;
}

size_t book_setting_count(void)
{
	return SETTINGS;
}

const char *book_figure_unit(const char *name)
{
	if (strcmp(name, "distance_tape") == 0 || strcmp(name, "distance_wires") == 0 ||
	    strcmp(name, "distance_map") == 0)
		return " %";
	return strcmp(name, "thermometer_u") == 0 ? " K" : "";
}
