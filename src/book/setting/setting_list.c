/* The settings: what each means, and its default. */
#include "book/setting/setting_list.h"
#include "book/store.h"

#include <string.h>

/* Sources of the defaults: tilt 0.10 mm/m is the limit for third order in FGCC 1984 (recalled); k
 * is Gauss's value; dk, drift, distances, thermometer, place and the floor of the water are common
 * practice without a source, and so are the power and the reading figures, two arc seconds being
 * about what an eye resolves through a 30x telescope. */
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
    [SET_BLIND] = {"blind",
                   "the drop of a crossing is hidden until its figures are sealed: yes or no",
                   "no"},
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
    [SET_POWER] = {"power", "how many times the telescope magnifies", "24"},
    [SET_COPY_TO] = {"copy_to",
                     "folder or file of the second copy, which s in F2 makes; empty: asked for",
                     ""},
    [SET_BELL] = {"bell", "the bell rings when something typed is refused: yes or no", "yes"},
    [SET_LOOK] = {"look", "of the editor: color, plain, or sun: black on white, bold", "color"},
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

size_t book_setting_count(void)
{
	return SETTINGS;
}
