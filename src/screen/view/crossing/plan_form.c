/* The fields of a plan's form, and the figures that they fill. */
#include "screen/view/crossing/plan_form.h"

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
    "How far the long sight goes.",
    "Height of the line of sight above the water at the instrument.",
    "A level of the book with its peg test; empty: the unnamed one.",
    "rod, tape or target: how the mark near the instrument is read.",
    "rod, tape or target: how the mark across the water is read.",
    "How distances are got: tape, wires, map or step.",
    "Two thermometers: 15.2@1,14.8@6 or 1013 hPa,15.2 C@1 m,14.8 C@6 m.",
    "water or land: where the wind at the mast comes from. From land no mast counts.",
    "Temperature of the water's surface, with a thermometer dipped: 18.2 C.",
    "The same thermometer then in the air above it, with its height: 15.1 C@2 m.",
    "Wind there, with its height: 3 m/s@2 m.",
    "Height of the far pole's top above the water; empty: the rod's length.",
    "Height above the water of a mark sighted: how much of it is hidden; or empty.",
    "How far the near sight goes, if it counts; empty: 0.",
    "Refraction coefficient; empty: the settings', or by the air.",
    "How far k may be off; empty: by the air, or by how low the line runs.",
    "Pressure of the air, if two thermometers do not give it: 1013 hPa.",
    "Tilt of the level: 1/16 in in 300 ft, 0.1 mm/m; empty: the settings'.",
    "What else may be off: 2 mm for transfers and marks, or plumb=1 mm; marks=2 mm.",
    "What the water's surface may do beyond what readings show: a limit.",
    "Readings of the water at each end; empty: 10.",
    "u95 (95 %) or all (all limits at once); chosen before looking.",
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
			level_air_carry(carried, sizeof carried, text, NULL, LEVEL_M);
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

const char *plan_form_hint(const struct fields *fields)
{
	return hints[fields_focus(fields)];
}

const char *plan_form_name(const struct fields *fields)
{
	return places[fields_focus(fields)].name;
}
