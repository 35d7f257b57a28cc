/* The plan screen: a form, and what follows from it at every key; and the list of plans. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/drop/drawings.h"
#include "screen/editor.h"
#include "screen/view/views.h"

#define FORM_ROWS 9
#define NUMBER_ROWS 8
#define DRAWING_COLUMNS_MOST 200
#define DRAWING_ROWS_MOST 60

/* The fields in the order in which Enter goes, with the figures that they fill. */
static const struct field_place places[] = {
    {0, 1, 11, 14, 40, "Distance"},   {0, 28, 35, 12, 40, "Near"},
    {0, 50, 60, 18, 50, "Tolerance"}, {1, 1, 11, 14, 40, "Height"},
    {1, 28, 35, 12, 40, "Target"},    {1, 50, 60, 18, 110, "Declared"},
    {2, 1, 11, 14, 20, "k"},          {2, 28, 35, 12, 20, "dk"},
    {2, 50, 60, 18, 40, "Surface"},   {3, 1, 12, 35, 60, "Two therm."},
    {3, 50, 60, 18, 40, "Radius"},    {4, 1, 11, 14, 20, "Latitude"},
    {4, 28, 36, 11, 20, "Azimuth"},   {4, 50, 60, 18, 20, "Decides"},
    {5, 1, 13, 8, 8, "Near method"},  {5, 28, 39, 8, 8, "Far method"},
    {5, 50, 60, 18, 20, "Flow"},      {6, 1, 11, 14, 20, "Water T"},
    {6, 28, 36, 11, 40, "Air T@H"},   {6, 50, 60, 18, 40, "Wind@H"},
    {7, 1, 11, 14, 8, "Wind from"},   {7, 28, 37, 10, 20, "Pressure"},
    {7, 50, 60, 18, 40, "Far pole"},  {8, 1, 11, 14, 40, "Level"},
    {8, 28, 39, 8, 8, "Lengths by"},  {8, 50, 60, 18, 8, "Readings"},
};
#define FIELDS ((int)(sizeof places / sizeof *places))
static const char *const figures[FIELDS] = {"distance",    "near",
                                            "instrument",  "hi",
                                            "target",      "declared",
                                            "k",           "dk",
                                            "water",       "air",
                                            "radius",      "latitude",
                                            "azimuth",     "decides",
                                            "near_method", "far_method",
                                            "flow",        "water_temperature",
                                            "at",          "wind",
                                            "wind_from",   "pressure",
                                            "pole",        "level",
                                            "distance_by", "water_readings"};
static const char *const hints[FIELDS] = {
    "How far the long sight goes.",
    "How far the near sight goes, if it counts; empty: 0.",
    "Tilt of the level: 1/16 in in 300 ft, 0.1 mm/m; empty: the settings'.",
    "Height of the line of sight above the water at the instrument.",
    "Height of the mark sighted above the water.",
    "Transfers and marks: 2 mm, or by name: plumb=1 mm; marks=2 mm.",
    "Refraction coefficient; empty: the settings', or by the air.",
    "How far k may be off; empty: by the air, or by how low the line runs.",
    "What the water's surface may do beyond what readings show: a limit.",
    "Two thermometers: 15.2@1,14.8@6 or 1013 hPa,15.2 C@1 m,14.8 C@6 m.",
    "Radius of the Earth; empty: the settings', or by latitude and azimuth.",
    "Degrees, for the ellipsoid's radius in the direction of the sight.",
    "Degrees, of the direction of the sight.",
    "u95 (95 %) or all (all limits at once); chosen before looking.",
    "rod, tape or target.",
    "rod, tape or target.",
    "still, flowing, or the slope of the water: 0.1 mm/m.",
    "Temperature of the water's surface, with a thermometer dipped: 18.2 C.",
    "The same thermometer then in the air above it, with its height: 15.1 C@2 m.",
    "Wind there, with its height: 3 m/s@2 m.",
    "water or land: where the wind at the mast comes from. From land no mast counts.",
    "Pressure of the air, if two thermometers do not give it: 1013 hPa.",
    "Height of the far pole's top above the water; empty: the rod's length.",
    "A level of the book with its peg test; empty: the unnamed one.",
    "How distances are got: tape, wires, map or step.",
    "Readings of the water at each end; empty: 10."};

static const char bar[] = " Enter Tab field  ^K/^B keep the plan  Ctrl-U empty  Esc back";

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

/* The form's texts as figures; lengths carry their unit. */
static bool read_form(const struct fields *fields, const struct book_settings *settings,
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

/* A text over so many rows; what is left over is cut. */
static void put_rows(int row, int rows, const char *text)
{
	for (int i = 0; i < rows && *text; i++) {
		size_t size = term_fitting(text, COLS - 2);
		char part[900];
		snprintf(part, sizeof part, "%.*s", (int)size, text);
		term_text(stdscr, row + i, 1, COLS - 2, part);
		text += size;
		text += strspn(text, " ");
	}
}

static void paint_numbers(const struct report_plan *plan, const struct level_planned *r, int row)
{
	const struct level_style *style = &plan->style;
	bool by_all = plan->plan.terms.decides == LEVEL_BY_ALL;
	struct level_terms with_k = plan->plan.terms;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], c[LEVEL_LENGTH_BYTES], text[900],
	    k[BOOK_VALUE_BYTES], lines[2][DROP_ROW_BYTES];
	with_k.k = r->k.k;
	with_k.dk_low = r->k.low;
	with_k.dk_high = r->k.high;
	report_k(&with_k, r->k_source, k, sizeof k);
	snprintf(text, sizeof text, "flat shows %s   round shows %s   to tell apart %s",
	         report_meters(a, r->flat, style, false),
	         report_meters(b, r->predicted, style, false),
	         report_meters(c, r->separation, style, false));
	attrset(A_BOLD);
	term_text(stdscr, row, 1, COLS - 2, text);
	attrset(A_NORMAL);
	term_text(stdscr, row + 1, 1, COLS - 2, k);
	if (plan->plan.has_hi)
		snprintf(text, sizeof text,
		         "cross-hair without tilt: flat %s, round %s; clearance %s%s",
		         report_meters(a, r->crosshair_flat, style, false),
		         report_meters(b, r->crosshair_round, style, false),
		         report_meters(c, r->clearance, style, false),
		         r->clearance < LEVEL_CLEARANCE_LEAST   ? " TOO LOW"
		         : r->clearance < LEVEL_CLEARANCE_WATER ? " (low)"
		                                                : "");
	else
		snprintf(text, sizeof text,
		         "give the height of the line: clearance, cross-hair and k hang on it");
	term_text(stdscr, row + 2, 1, COLS - 2, text);
	drop_allowance(&r->allowance, by_all, style, lines);
	term_text(stdscr, row + 3, 1, COLS - 2, lines[0]);
	term_text(stdscr, row + 4, 1, COLS - 2, lines[1]);
	snprintf(text, sizeof text, "margin %s (%s %s)",
	         report_meters(a, by_all ? r->margin_bound : r->margin_u95, style, true),
	         by_all ? "at 95 %" : "if all add up",
	         report_meters(b, by_all ? r->margin_u95 : r->margin_bound, style, true));
	if (r->has_chance)
		snprintf(text + strlen(text), sizeof text - strlen(text),
		         "   tells on %.0f of 100 days", 100 * fmin(r->chance, 0.99));
	term_text(stdscr, row + 5, 1, COLS - 2, text);
	report_plan_verdict(plan, r, text, sizeof text);
	attrset(A_BOLD);
	put_rows(row + 6, 2, text);
	attrset(A_NORMAL);
}

static void paint_drawing(const struct report_plan *plan, const struct level_planned *r, int row)
{
	static char grid[DRAWING_ROWS_MOST * (DRAWING_COLUMNS_MOST + 1)];
	int columns = COLS - 2 < DRAWING_COLUMNS_MOST ? COLS - 2 : DRAWING_COLUMNS_MOST;
	int rows = LINES - 2 - row < DRAWING_ROWS_MOST ? LINES - 2 - row : DRAWING_ROWS_MOST;
	double to = plan->plan.distance;
	/* Where the sight that could tell is not much farther, it is in the picture. */
	if (isfinite(r->shortest) && r->shortest > to && r->shortest < 4 * to)
		to = r->shortest;
	if (rows < 6)
		return;
	drawing_plan(plan, plan->plan.near > 0 ? plan->plan.near * 1.01 : to / 1000, to * 1.1,
	             columns, rows, grid);
	for (int i = 0; i < rows; i++)
		term_text(stdscr, row + i, 1, columns, grid + i * (columns + 1));
}

/* The whole screen; *ok says whether the plan can be kept. */
static void paint(struct fields *fields, const char *title, const struct book_figures *defaults,
                  const struct book_settings *settings, const char *message, bool *ok)
{
	struct report_plan plan = {.style = settings->style};
	struct book_figures typed;
	struct fault why = {0};
	if (!term_begin_page(title))
		return;
	*ok =
	    read_form(fields, settings, &typed, &why) &&
	    book_plan_of(defaults, settings->rod_length, &typed, &plan.plan, &plan.figures, &why) &&
	    book_plan_check(&typed, &why) && level_plan_check(&plan.plan, &why);
	for (int x = 0; x < COLS; x++)
		mvwaddch(stdscr, 1 + FORM_ROWS, x, '-');
	if (*ok) {
		struct level_planned planned = level_plan_of(&plan.plan);
		paint_numbers(&plan, &planned, 2 + FORM_ROWS);
		paint_drawing(&plan, &planned, 2 + FORM_ROWS + NUMBER_ROWS);
	} else {
		term_message(2 + FORM_ROWS, 3, A_NORMAL, why.text);
	}
	view_first_line(LINES - 2, 1, A_BOLD, *message ? message : hints[fields_focus(fields)]);
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(fields, 1);
	doupdate();
}

/* Keeps what stands in the form under a name. */
static bool keep(struct book *book, const struct fields *fields,
                 const struct book_settings *settings, char name[LEVEL_NAME_BYTES], char *message,
                 size_t size)
{
	struct question question = {"Name", "A short name, such as the two shores.", "",
	                            LEVEL_NAME_CHARS, "name"};
	struct book_figures typed;
	struct fault why = {0};
	snprintf(question.text, sizeof question.text, "%s", name);
	message[0] = '\0';
	while (ask("Keep the plan", &question, 1, NULL, message)) {
		if (read_form(fields, settings, &typed, &why) &&
		    book_plan_set(book, question.text, &typed, &why)) {
			snprintf(name, LEVEL_NAME_BYTES, "%.160s", question.text);
			return true;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
	return false;
}

static void help(const struct fields *fields, const char *title)
{
	int i = fields_focus(fields);
	view_hints(title, &(struct hints){places[i].name, "", hints[i], bar, view_fields_keys});
}

/* Fills in a plan, beginning with these figures; true when it was kept, as `name`. */
static bool edit_plan(struct book *book, const struct book_figures *begin,
                      char name[LEVEL_NAME_BYTES], struct fault *why)
{
	char text[FIELDS][BOOK_VALUE_BYTES], message[640] = "", title[LEVEL_NAME_BYTES + 100];
	char units[LEVEL_LENGTH_BYTES];
	const char *texts[FIELDS];
	struct book_settings settings;
	struct book_figures defaults;
	struct fields *fields;
	bool kept = false, typed = false, asked = false, ok = false;

	if (!book_settings(book, &settings, why) || !book_settings_figures(book, &defaults, why))
		return false;
	for (int i = 0; i < FIELDS; i++) {
		book_figure(begin, figures[i], text[i]);
		texts[i] = text[i];
	}
	fields = fields_open(FORM_ROWS, places, FIELDS, texts);
	if (!fields)
		return fault_memory(why);
	snprintf(title, sizeof title, "The plan %s, in %s", *name ? name : "of a long sight",
	         level_style_words(units, &settings.style));
	while (!kept) {
		struct key key;
		enum field_answer answer;
		paint(fields, title, &defaults, &settings, message, &ok);
		answer = fields_read(fields, &key);
		if (answer == FIELDS_HELP)
			help(fields, title);
		if (answer == FIELDS_RESIZED || answer == FIELDS_HELP)
			continue;
		if (answer == FIELDS_GONE || (answer == FIELDS_BACK && (asked || !typed)))
			break;
		asked = answer == FIELDS_BACK;
		message[0] = '\0';
		if (asked)
			strcpy(message, "Esc again drops what is typed; Ctrl-K keeps the plan");
		else if (answer == FIELDS_ACCEPT && ok)
			kept = keep(book, fields, &settings, name, message, sizeof message);
		else if (answer == FIELDS_ACCEPT)
			strcpy(message, "the plan cannot be kept yet: see above");
		else if (answer == FIELDS_DONE)
			fields_go(fields, 0);
		else if (answer == FIELDS_REFUSED)
			strcpy(message, "that cannot stand here");
		else if (answer == FIELDS_TYPED)
			typed = true;
	}
	fields_close(fields);
	return kept;
}

/* What each plan comes to, in a line. */
static void plan_line(struct book *book, const struct book_plan *kept, char *text, size_t size)
{
	struct report_plan plan;
	struct book_settings settings;
	struct book_figures defaults;
	struct level_planned planned;
	struct fault why = {0};
	char distance[LEVEL_LENGTH_BYTES], verdict[400];
	if (!book_settings(book, &settings, &why) ||
	    !book_settings_figures(book, &defaults, &why) ||
	    !book_plan_of(&defaults, settings.rod_length, &kept->figures, &plan.plan, &plan.figures,
	                  &why) ||
	    !level_plan_check(&plan.plan, &why)) {
		snprintf(text, size, "%s", why.text);
		return;
	}
	plan.style = settings.style;
	planned = level_plan_of(&plan.plan);
	report_plan_verdict(&plan, &planned, verdict, sizeof verdict);
	snprintf(text, size, " %s: %s",
	         level_format_distance(distance, level_from_meters(plan.plan.distance), &plan.style,
	                               false),
	         verdict);
}

bool view_plans(struct book *book, const char *level, char picked[LEVEL_NAME_BYTES])
{
	char message[640] = "";
	size_t at = 0;
	bool done = false;
	int key = 0;
	while (!done && key != TERM_KEY_ESCAPE) {
		struct book_plan *list;
		struct fault why = {0};
		struct list_line *lines;
		char(*text)[700];
		size_t count;
		if (!book_plans(book, &list, &count, &why))
			return false;
		lines = calloc(count + 1, sizeof *lines);
		text = calloc(count + 1, sizeof *text);
		for (size_t i = 0; lines && text && i < count; i++) {
			plan_line(book, &list[i], text[i], sizeof text[i]);
			lines[i] = (struct list_line){list[i].name, text[i], text[i]};
		}
		if (count == 0 && !*message)
			strcpy(message, "no plan is kept yet: n begins one");
		key =
		    !lines || !text
		        ? TERM_KEY_ESCAPE
		        : list_choose("Plans of long sights", lines, count, &at, "ne",
		                      " Up Down choose  Enter take  n new  e look and change  Esc "
		                      "turn back",
		                      message);
		message[0] = '\0';
		picked[0] = '\0';
		if (key == 'n' || (key == 'e' && count)) {
			struct book_figures begin = {0};
			if (key == 'e') {
				begin = list[at].figures;
				strcpy(picked, list[at].name);
			} else if (*level) {
				book_figure_put(&begin, "level", level, &why);
			}
			if (edit_plan(book, &begin, picked, &why))
				snprintf(message, sizeof message, "kept as %s", picked);
			else if (why.kind != FAULT_NONE)
				snprintf(message, sizeof message, "%s", why.text);
		} else if (key == KEY_ENTER && count) {
			strcpy(picked, list[at].name);
			done = true;
		}
		free(lines);
		free(text);
		free(list);
	}
	return done;
}
