#include <stdlib.h>
#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "plan --distance D | --from A --to B --step S  [--near D] [--distance-by WAY]\n"
    "  [--k K] [--dk DK | --dk-low DK --dk-high DK] [--air P,T@H,T@H] [--pressure P]\n"
    "  [--low T@H --high T@H] [--water T --at T@H --wind V@H] [--wind-from water|land]\n"
    "  [--over water|land] [--radius R | --latitude PHI --azimuth AZ] [--tolerance T]\n"
    "  [--declared [NAME=]L]... [--water-surface L] [--water-readings N] [--flow F]\n"
    "  [--depth L] [--near-method M] [--far-method M] [--hi H] [--target H] [--pole TOP]\n"
    "  [--decides u95|all] [--unit U] [--csv]\n"
    "  [--book BOOK [--instrument NAME] [--plan NAME] [--keep NAME]]";

/* What the command line gives. */
struct given {
	const char *from, *to, *step, *unit, *book, *plan, *keep;
	bool csv;
	struct many declared;
	struct book_figures figures;
	enum level_unit bare, distance; /* of bare lengths, and of bare distances */
	struct level_air_units units;
};

/* Options whose values become figures: their name, and what they are. */
enum figure_form { AS_IS, LENGTH, DISTANCE, PRESSURE, TEMPERATURE, TEMPERATURE_AT, WIND_AT };
static const struct {
	const char *option, *figure;
	enum figure_form form;
} figure_options[] = {
    {"--distance", "distance", DISTANCE},
    {"--near", "near", DISTANCE},
    {"--k", "k", AS_IS},
    {"--dk", "dk", AS_IS},
    {"--dk-low", "dk_low", AS_IS},
    {"--dk-high", "dk_high", AS_IS},
    {"--air", "air", AS_IS},
    {"--pressure", "pressure", PRESSURE},
    {"--low", "low", TEMPERATURE_AT},
    {"--high", "high", TEMPERATURE_AT},
    {"--water", "water_temperature", TEMPERATURE},
    {"--at", "at", TEMPERATURE_AT},
    {"--wind", "wind", WIND_AT},
    {"--wind-from", "wind_from", AS_IS},
    {"--over", "over", AS_IS},
    {"--radius", "radius", LENGTH},
    {"--latitude", "latitude", AS_IS},
    {"--azimuth", "azimuth", AS_IS},
    {"--tolerance", "instrument", AS_IS},
    {"--instrument", "level", AS_IS},
    {"--water-surface", "water", LENGTH},
    {"--water-readings", "water_readings", AS_IS},
    {"--depth", "depth", LENGTH},
    {"--pole", "pole", LENGTH},
    {"--distance-by", "distance_by", AS_IS},
    {"--flow", "flow", AS_IS},
    {"--near-method", "near_method", AS_IS},
    {"--far-method", "far_method", AS_IS},
    {"--hi", "hi", LENGTH},
    {"--target", "target", LENGTH},
    {"--decides", "decides", AS_IS},
};
#define FIGURE_OPTIONS (sizeof figure_options / sizeof *figure_options)

/* A temperature, pressure or wind with its unit, and its height with that of a length. */
static void carry_quantity(const struct given *given, enum figure_form form, const char *value,
                           char out[BOOK_VALUE_BYTES])
{
	enum level_quantity quantity = form == PRESSURE  ? LEVEL_PRESSURE
	                               : form == WIND_AT ? LEVEL_SPEED
	                                                 : LEVEL_TEMPERATURE;
	level_carry_quantity_at(out, BOOK_VALUE_BYTES, value, quantity, given->units.of[quantity],
	                        given->bare);
}

/* "P,T@H,T@H" or "T@H,T@H": heights without a unit are in m, whatever the book's unit. */
static bool carry_air(const struct given *given, const char *value, char out[BOOK_VALUE_BYTES],
                      struct fault *why)
{
	struct level_air_reading air = level_air_nothing();
	if (!level_air_parse(value, &given->units, LEVEL_M, &air, why))
		return false;
	level_air_carry(out, BOOK_VALUE_BYTES, value, &given->units, LEVEL_M);
	return true;
}

static bool put(struct given *given, size_t i, const char *value, struct fault *why)
{
	char carried[BOOK_VALUE_BYTES];
	if (strlen(value) > BOOK_TYPED_CHARS)
		return fault_say(why, FAULT_INPUT, "the value of %s is too long",
		                 figure_options[i].option);
	if (!*value)
		return fault_say(why, FAULT_INPUT, "the value of %s is empty",
		                 figure_options[i].option);
	snprintf(carried, sizeof carried, "%s", value);
	/* A figure carries its unit. */
	if (figure_options[i].form == LENGTH)
		level_carry_text(carried, sizeof carried, value, given->bare,
		                 given->bare == LEVEL_M ? LEVEL_FT : LEVEL_M);
	else if (figure_options[i].form == DISTANCE)
		level_carry_text(carried, sizeof carried, value, given->distance,
		                 given->distance == LEVEL_M ? LEVEL_FT : LEVEL_M);
	else if (strcmp(figure_options[i].figure, "air") == 0 &&
	         !carry_air(given, value, carried, why))
		return false;
	else if (figure_options[i].form >= PRESSURE)
		carry_quantity(given, figure_options[i].form, value, carried);
	return book_figure_put(&given->figures, figure_options[i].figure, carried, why);
}

/* --declared L and NAME=L as one list; water=L goes to the water's own line. */
static bool put_declared(struct given *given, struct fault *why)
{
	char list[BOOK_VALUE_BYTES] = "";
	for (int i = 0; i < given->declared.count; i++) {
		const char *value = given->declared.value[i], *equals = strchr(value, '=');
		const char *length = equals ? equals + 1 : value;
		char carried[BOOK_TYPED_BYTES + 8];
		size_t used = strlen(list);
		if (strlen(length) > BOOK_TYPED_CHARS || strlen(value) > 100)
			return fault_say(why, FAULT_INPUT, "the value of --declared is too long");
		level_carry_text(carried, sizeof carried, length, given->bare,
		                 given->bare == LEVEL_M ? LEVEL_FT : LEVEL_M);
		if (strncmp(value, "water=", 6) == 0) {
			if (!book_figure_put(&given->figures, "water", carried, why))
				return false;
			continue;
		}
		snprintf(list + used, sizeof list - used, "%s%.*s%s", used ? "; " : "",
		         equals ? (int)(equals + 1 - value) : 0, value, carried);
	}
	return book_figure_put(&given->figures, "declared", list, why);
}

static bool read_options(int argc, char **argv, struct given *given, bool *usage_shown,
                         struct fault *why)
{
	const char *value[FIGURE_OPTIONS] = {NULL};
	struct option_word options[FIGURE_OPTIONS + 10] = {
	    {"--from", &given->from, NULL, NULL},         {"--to", &given->to, NULL, NULL},
	    {"--step", &given->step, NULL, NULL},         {"--unit", &given->unit, NULL, NULL},
	    {"--book", &given->book, NULL, NULL},         {"--plan", &given->plan, NULL, NULL},
	    {"--keep", &given->keep, NULL, NULL},         {"--csv", NULL, &given->csv, NULL},
	    {"--declared", NULL, NULL, &given->declared},
	};
	struct words words;
	for (size_t i = 0; i < FIGURE_OPTIONS; i++)
		options[9 + i] =
		    (struct option_word){figure_options[i].option, &value[i], NULL, NULL};
	*usage_shown = !command_words(argc, argv, options, 0, 0, &words, usage);
	if (*usage_shown)
		return false;
	if (given->unit && !level_unit_find(given->unit, &given->bare))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in, not %.40s",
		                 given->unit);
	if (given->unit)
		given->distance = level_distance_unit(given->bare);
	if ((given->plan || given->keep) && !given->book)
		return fault_say(why, FAULT_INPUT, "plans are kept in a book: add --book BOOK");
	for (size_t i = 0; i < FIGURE_OPTIONS; i++)
		if (value[i] && !put(given, i, value[i], why))
			return false;
	return given->declared.count == 0 || put_declared(given, why);
}

/* Options over a kept plan. */
static bool take_kept(struct book *book, struct given *given, struct fault *why)
{
	struct book_plan kept;
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	if (!given->plan)
		return true;
	if (!book_plan_find(book, given->plan, &kept, why))
		return false;
	for (size_t i = 0; book_figure_at(&given->figures, i, name, value); i++)
		if (!book_figure_put(&kept.figures, name, value, why))
			return false;
	given->figures = kept.figures;
	return true;
}

static bool read_length(const struct given *given, const char *text, const char *name,
                        double *meters, struct fault *why)
{
	level_nm value;
	if (!text)
		return fault_say(why, FAULT_INPUT, "a table needs --from, --to and --step");
	if (!level_parse_distance(text, given->distance, &value, why))
		return false;
	*meters = level_to_meters(value);
	return *meters > 0 || fault_say(why, FAULT_INPUT, "%s is a length above 0", name);
}

static bool print_table(const struct given *given, struct report_plan *plan, struct fault *why)
{
	double from = 0, to = 0, step = 1;
	if (!read_length(given, given->from, "--from", &from, why) ||
	    !read_length(given, given->to, "--to", &to, why) ||
	    !read_length(given, given->step, "--step", &step, why))
		return false;
	if (to < from || (to - from) / step > REPORT_TABLE_MOST - 1)
		return fault_say(why, FAULT_INPUT,
		                 "--to lies beyond --from, with at most %d rows between them",
		                 REPORT_TABLE_MOST);
	plan->plan.distance = from;
	if (!level_plan_check(&plan->plan, why))
		return false;
	plan->plan.distance = to;
	if (!level_plan_check(&plan->plan, why))
		return false;
	report_plan_table(stdout, plan, from, to, step, given->csv);
	return true;
}

static bool plan(struct book *book, struct given *given, struct fault *why)
{
	struct book_figures settings;
	struct book_settings book_style;
	struct report_plan out = {.style = level_style_default(given->bare)};
	bool table = given->from || given->to || given->step;
	char ignored[BOOK_VALUE_BYTES];
	level_nm rod = 5 * LEVEL_NM_PER_M;

	if (!book) {
		book_default_figures(&settings);
	} else {
		if (!book_settings(book, &book_style, why) ||
		    !book_settings_figures(book, &settings, why) || !take_kept(book, given, why))
			return false;
		if (!given->unit)
			out.style = book_style.style;
		rod = book_style.rod_length;
	}
	if (!table && !book_figure(&given->figures, "distance", ignored))
		return fault_say(why, FAULT_INPUT,
		                 "give --distance D, or --from A --to B --step S for a table");
	if (!book_plan_of(&settings, rod, &given->figures, &out.plan, &out.figures, why))
		return false;
	if (table && given->keep)
		return fault_say(why, FAULT_INPUT,
		                 "a table is not kept: keep a plan for one --distance");
	if (table)
		return print_table(given, &out, why);
	if (!level_plan_check(&out.plan, why) || !book_plan_check(&given->figures, why) ||
	    (given->keep && !book_plan_set(book, given->keep, &given->figures, why)))
		return false;
	report_plan(stdout, &out, given->csv);
	if (given->keep && !given->csv)
		printf("kept as %s\n", given->keep);
	return true;
}

int command_plan(int argc, char **argv)
{
	struct given given = {.bare = LEVEL_M, .distance = LEVEL_M};
	struct fault why = {0};
	struct book *book = NULL;
	struct book_settings settings;
	int status = EXIT_DONE;
	bool ok, usage_shown;
	/* Bare numbers are in the book's unit, so the book is looked for first. */
	for (int i = 0; i + 1 < argc; i++)
		if (strcmp(argv[i], "--book") == 0)
			given.book = argv[i + 1];
		else if (strncmp(argv[i], "--book=", 7) == 0)
			given.book = argv[i] + 7;
	if (given.book) {
		book = command_open(given.book, &status);
		if (!book)
			return status;
		if (book_settings(book, &settings, NULL)) {
			given.bare = settings.style.unit;
			given.distance = settings.style.distance;
			given.units = settings.units;
		}
	}
	ok = read_options(argc, argv, &given, &usage_shown, &why) && plan(book, &given, &why);
	book_close(book);
	if (usage_shown)
		return EXIT_USAGE;
	return ok ? command_flush() : command_fail(&why);
}
