/* The fields of a plan's form, and the figures that they fill. */
#include "screen/view/crossing/plan_form.h"

#include <stdio.h>
#include <string.h>

#include "rodbook/level/air.h"

/* One field: where it stands, its figure, and what it is. In the order in which Enter goes: what
 * nearly every plan says first, then the air, then what has a default that serves. */
static const struct field_place places[] = {
    {0, 1, 11, 14, 40, "Distance"},   {0, 28, 39, 8, 40, "Height"},
    {0, 50, 60, 18, 40, "Level"},     {1, 1, 13, 8, 8, "Near method"},
    {1, 28, 39, 8, 8, "Far method"},  {1, 50, 61, 17, 8, "Lengths by"},
    {2, 1, 12, 35, 60, "Two therm."}, {2, 50, 60, 18, 8, "Wind from"},
    {3, 1, 11, 14, 20, "Water T"},    {3, 28, 36, 11, 40, "Air T@H"},
    {3, 50, 60, 18, 40, "Wind@H"},    {4, 1, 11, 14, 40, "Far pole"},
    {4, 28, 36, 11, 40, "Target"},    {4, 50, 60, 18, 40, "Near"},
    {5, 1, 11, 14, 20, "k"},          {5, 28, 36, 11, 20, "dk"},
    {5, 50, 60, 18, 20, "Pressure"},  {6, 1, 11, 14, 50, "Tolerance"},
    {6, 28, 37, 10, 110, "Declared"}, {6, 50, 60, 18, 40, "Surface"},
    {7, 1, 11, 14, 8, "Readings"},    {7, 28, 36, 11, 20, "Decides"},
    {7, 50, 60, 18, 20, "Flow"},      {8, 1, 11, 14, 20, "Latitude"},
    {8, 28, 36, 11, 20, "Azimuth"},   {8, 50, 60, 18, 40, "Radius"},
};
#define FIELDS ((int)(sizeof places / sizeof *places))
static const char *const figures[FIELDS] = {
    "distance",    "hi",         "level",
    "near_method", "far_method", "distance_by",
    "air",         "wind_from",  "water_temperature",
    "at",          "wind",       "pole",
    "target",      "near",       "k",
    "dk",          "pressure",   "instrument",
    "declared",    "water",      "water_readings",
    "decides",     "flow",       "latitude",
    "azimuth",     "radius",
};
static const char *const hints[FIELDS] = {
    "How far the long sight goes.\n"
    "  Curvature grows with its square: twice as far shows four times as much.",
    "Height of the line of sight above the water at the instrument.\n"
    "  The lower, the more the air near the water bends the light: see clearance.",
    "A level of the book with its peg test; empty: the unnamed one.\n"
    "  Its tested tilt takes the place of the tolerance where that is the finer one.",
    "rod, tape or target: how the mark near the instrument is read.\n"
    "  It says how far off one reading may be. Empty: rod.",
    "rod, tape or target: how the mark across the water is read.\n"
    "  target: one that is moved up and down until the cross-hair halves it; from a\n"
    "  few hundred meters on a rod can no longer be read. Empty: rod.",
    "How distances are got: tape, wires, map or step.\n"
    "  It says how far off a distance may be. wires: by the stadia wires.",
    NULL,
    "water or land: where the wind at the mast comes from. From land no mast counts.\n"
    "  From land it brings the land's air: k is the default then, wide as it is.",
    NULL,
    NULL,
    NULL,
    "Height of the far pole's top above the water; empty: the rod's length.\n"
    "  The plan says whether the line of sight still meets the pole.",
    "Height above the water of a mark sighted: how much of it is hidden; or empty.\n"
    "  A bridge, a light, a roof: where the surface is round, its foot is hidden.",
    "How far the near sight goes, if it counts; empty: 0.\n"
    "  A tilt of the level drops out where both sights are alike.",
    "Refraction coefficient; empty: the settings', or by the air.\n"
    "  0.13 by day above the first meters; below them it can be far from that.",
    "How far k may be off; empty: by the air, or by how low the line runs.\n"
    "  A k that is not measured needs a wide one.",
    NULL,
    "Tilt of the level: 1/16 in in 300 ft, 0.1 mm/m; empty: the settings'.",
    "What else may be off: 2 mm for transfers and marks, or plumb=1 mm; marks=2 mm.\n"
    "  A limit each; mm/m grows with the length of the sight.",
    "What the water's surface may do beyond what readings show: a limit.",
    "Readings of the water at each end; empty: 10.",
    "u95 (95 %) or all (all limits at once); chosen before looking.\n"
    "  all is the harder test: every limit at its worst, all the same way.",
    "still, flowing, or the slope of the water: 0.1 mm/m.",
    "Degrees, for the ellipsoid's radius in the direction of the sight.",
    "Degrees, of the direction of the sight.",
    "Radius of the Earth; empty: the settings', or by latitude and azimuth.",
};

static bool is_length(int i, const char *text)
{
	static const char *const lengths[] = {"hi", "target", "water", "radius", "pole"};
	for (size_t n = 0; n < sizeof lengths / sizeof *lengths; n++)
		if (strcmp(figures[i], lengths[n]) == 0)
			return true;
	return strcmp(figures[i], "declared") == 0 && !strpbrk(text, ";=");
}

static bool is_distance(int i)
{
	return strcmp(figures[i], "distance") == 0 || strcmp(figures[i], "near") == 0;
}

/* Bare temperatures, pressures, winds and their heights get the units of the settings. */
static void carry_air(const char *figure, const char *text, const struct book_settings *settings,
                      char out[BOOK_VALUE_BYTES])
{
	static const struct {
		const char *figure;
		enum level_quantity quantity;
	} known[] = {{"water_temperature", LEVEL_TEMPERATURE},
	             {"at", LEVEL_TEMPERATURE},
	             {"wind", LEVEL_SPEED},
	             {"pressure", LEVEL_PRESSURE}};
	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (strcmp(figure, known[i].figure) == 0)
			level_carry_quantity_at(out, BOOK_VALUE_BYTES, text, known[i].quantity,
			                        settings->units.of[known[i].quantity],
			                        settings->style.unit);
}

bool plan_form_read(const struct fields *fields, const struct book_settings *settings,
                    struct book_figures *out, struct fault *why)
{
	*out = (struct book_figures){0};
	for (int i = 0; i < FIELDS; i++) {
		char text[BOOK_VALUE_BYTES], carried[BOOK_VALUE_BYTES];
		fields_text(fields, i, text, 200);
		strcpy(carried, text);
		if (is_length(i, text) && *text)
			level_carry_text(carried, sizeof carried, text, settings->style.unit,
			                 settings->style.unit == LEVEL_M ? LEVEL_FT : LEVEL_M);
		else if (is_distance(i))
			level_carry_text(carried, sizeof carried, text, settings->style.distance,
			                 settings->style.distance == LEVEL_M ? LEVEL_FT : LEVEL_M);
		else if (strcmp(figures[i], "air") == 0)
			level_air_carry(carried, sizeof carried, text, &settings->units,
			                settings->style.unit);
		else if (*text)
			carry_air(figures[i], text, settings, carried);
		if (!book_figure_put(out, figures[i], carried, why))
			return false;
	}
	return true;
}

struct fields *plan_form_open(const struct book_figures *begin)
{
	char text[FIELDS][BOOK_VALUE_BYTES];
	const char *texts[FIELDS];
	for (int i = 0; i < FIELDS; i++) {
		book_figure(begin, figures[i], text[i]);
		texts[i] = text[i];
	}
	return fields_open(PLAN_FORM_ROWS, places, FIELDS, texts);
}

/* Of a quantity of the air, with an example by the units of the book. */
static char *hint_of_air(const char *figure, const struct book_settings *settings,
                         char text[AIR_HINT_BYTES])
{
	static const struct {
		const char *figure, *lead, *follows;
		enum air_example example;
	} known[] = {
	    {"water_temperature", "The water's surface, with a thermometer dipped",
	     "\n"
	     "  With the next two fields it gives k where no mast stands: how much warmer the\n"
	     "  water is than the air, and how the wind mixes both.",
	     AIR_EXAMPLE_WATER},
	    {"at", "The same thermometer then in the air above it",
	     "\n  One thermometer for both, so that its own error drops out.", AIR_EXAMPLE_ABOVE},
	    {"wind", "Wind there, with its height", "\n  3 m/s@2 m, 7 mph@6 ft, 6 kn@2 m.",
	     AIR_EXAMPLE_WIND},
	    {"pressure", "Pressure of the air, if two thermometers do not give it",
	     "\n  At the place itself, not reduced to the sea; empty: 1013.25 hPa.",
	     AIR_EXAMPLE_PRESSURE},
	};
	char low[AIR_EXAMPLE_BYTES], high[AIR_EXAMPLE_BYTES], bare[AIR_BARE_BYTES];
	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (strcmp(figure, known[i].figure) == 0)
			return air_hint(text, known[i].lead, known[i].example, known[i].follows,
			                settings);
	snprintf(text, AIR_HINT_BYTES,
	         "Two thermometers: %s,%s; %s.\n"
	         "  Best one below the line of sight and one above it, shaded and aired. What\n"
	         "  they will show is a guess for the plan: the sight is judged by what is read.\n"
	         "  The pressure may stand in front: 1013 hPa,15.2 C@1 m,14.8 C@6 m.",
	         air_example(low, AIR_EXAMPLE_LOW, settings),
	         air_example(high, AIR_EXAMPLE_HIGH, settings),
	         air_bare(bare, AIR_EXAMPLE_LOW, settings));
	return text;
}

const char *plan_form_hint(const struct fields *fields, const struct book_settings *settings,
                           char text[AIR_HINT_BYTES])
{
	int focus = fields_focus(fields);
	return hints[focus] ? hints[focus] : hint_of_air(figures[focus], settings, text);
}

const char *plan_form_name(const struct fields *fields)
{
	return places[fields_focus(fields)].name;
}
