#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"
#include "rodbook/work/sight.h"

static const char usage[] =
    "reciprocal --bank-a NEAR,FAR --bank-b FAR,NEAR --distance D [--near D] [--tilt T]\n"
    "  [--near-method M] [--far-method M] [--radius R] [--unit U] [--csv]\n"
    "  [--book BOOK --run RUN --from A --to B]";

struct given {
	const char *a, *b, *distance, *near, *tilt, *near_method, *far_method, *radius, *unit;
	const char *book, *run, *from, *to;
	bool csv;
};

static bool read_meters(const char *text, enum level_unit unit, double *meters, struct fault *why)
{
	level_nm value;
	if (text && !level_parse_length(text, unit, &value, why))
		return false;
	if (text)
		*meters = level_to_meters(value);
	return true;
}

static bool read_distance(const char *text, enum level_unit unit, double *meters, struct fault *why)
{
	char plain[100];
	if (text && strlen(text) < sizeof plain)
		text = level_plain_distance(plain, sizeof plain, text);
	return read_meters(text, unit, meters, why);
}

static bool read_method(const char *text, enum level_method *method, struct fault *why)
{
	return !text || level_method_find(text, method) ||
	       fault_say(why, FAULT_INPUT, "a method is rod, tape or target, not \"%.40s\"", text);
}

/* Distances and methods, which both banks share. unit: of bare distances. */
static bool read_sights(const struct given *given, enum level_unit unit, struct level_bank *bank,
                        struct fault *why)
{
	return read_distance(given->distance, unit, &bank->far_sight.distance, why) &&
	       read_distance(given->near, unit, &bank->near_sight.distance, why) &&
	       read_method(given->near_method, &bank->near_sight.method, why) &&
	       read_method(given->far_method, &bank->far_sight.method, why);
}

static bool read_terms(const struct given *given, enum level_unit unit, struct level_terms *terms,
                       struct fault *why)
{
	struct book_figures defaults;
	book_default_figures(&defaults);
	if (!book_terms_of(&defaults, NULL, terms, why) ||
	    !read_meters(given->radius, unit, &terms->radius, why))
		return false;
	if (terms->radius < 1e6)
		return fault_say(why, FAULT_INPUT, "--radius is at least 1000 km, as in 6371 km");
	terms->instrument[0].tested = given->tilt != NULL;
	return !given->tilt || level_parse_tilt(given->tilt, &terms->instrument[0].tilt, why);
}

/* "NEAR,FAR" as two texts. */
static bool part(const char *text, char first[64], char second[64], struct fault *why)
{
	size_t size = strcspn(text, ",");
	if (!text[size] || size >= 64 || strlen(text + size + 1) >= 64)
		return fault_say(why, FAULT_INPUT, "a bank is two readings: NEAR,FAR");
	snprintf(first, 64, "%.*s", (int)size, text);
	snprintf(second, 64, "%s", text + size + 1);
	level_trim(first);
	level_trim(second);
	return true;
}

static bool book_one(struct book *book, const struct given *given, bool forth, const char *reading,
                     bool is_near, bool again, struct work_booked *booked, struct fault *why)
{
	struct work_typed typed = {.text[WORK_SIGHT] = forth ? "BS" : "FS",
	                           .text[WORK_STATION] = forth ? given->from : given->to,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_DISTANCE] = is_near ? given->near : given->distance,
	                           .text[WORK_METHOD] =
	                               is_near ? given->near_method : given->far_method,
	                           .text[WORK_AGAIN] = again ? "again" : NULL};
	return work_book_sight(book, given->run, &typed, booked, why);
}

/* A setup beside the first mark, and its second standing beside the other: all four sights, or
 * none. */
static bool keep(struct book *book, const struct given *given, struct fault *why)
{
	char a[2][64], b[2][64];
	struct work_booked booked[4];
	bool ok = part(given->a, a[0], a[1], why) && part(given->b, b[0], b[1], why) &&
	          book_begin(book, why);
	if (!ok)
		return false;
	ok = book_one(book, given, true, a[0], true, false, &booked[0], why) &&
	     book_one(book, given, false, a[1], false, false, &booked[1], why) &&
	     book_one(book, given, true, b[0], false, true, &booked[2], why) &&
	     book_one(book, given, false, b[1], true, false, &booked[3], why);
	if (!book_finish(book, ok, why) || !ok)
		return false;
	for (size_t i = 0; i < 4; i++)
		command_say_booked(book, &booked[i]);
	return true;
}

static bool reciprocal(const struct given *given, struct book *book, struct fault *why)
{
	struct level_bank a = {0}, b;
	struct level_terms terms;
	struct level_reciprocal result;
	struct level_style style;
	enum level_unit unit = LEVEL_M;

	struct book_settings settings;
	if (book && !book_settings(book, &settings, why))
		return false;
	unit = book ? settings.style.unit : unit;
	if (given->unit && !level_unit_find(given->unit, &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in, not %.40s",
		                 given->unit);
	style = level_style_default(unit);
	/* As the sights are booked. */
	if (book)
		style.distance = settings.style.distance;
	if (!read_terms(given, unit, &terms, why) || !read_sights(given, style.distance, &a, why))
		return false;
	b = a;
	if (!level_parse_bank(given->a, unit, true, &a, why) ||
	    !level_parse_bank(given->b, unit, false, &b, why) ||
	    !level_reciprocal(&a, &b, &terms, &result, why))
		return false;
	if (book && !keep(book, given, why))
		return false;
	report_reciprocal(stdout, &a, &b, &result, &style, given->csv);
	return true;
}

int command_reciprocal(int argc, char **argv)
{
	struct given given = {0};
	const struct option_word options[] = {{"--bank-a", &given.a, NULL, NULL},
	                                      {"--bank-b", &given.b, NULL, NULL},
	                                      {"--distance", &given.distance, NULL, NULL},
	                                      {"--near", &given.near, NULL, NULL},
	                                      {"--tilt", &given.tilt, NULL, NULL},
	                                      {"--near-method", &given.near_method, NULL, NULL},
	                                      {"--far-method", &given.far_method, NULL, NULL},
	                                      {"--radius", &given.radius, NULL, NULL},
	                                      {"--unit", &given.unit, NULL, NULL},
	                                      {"--book", &given.book, NULL, NULL},
	                                      {"--run", &given.run, NULL, NULL},
	                                      {"--from", &given.from, NULL, NULL},
	                                      {"--to", &given.to, NULL, NULL},
	                                      {"--csv", NULL, &given.csv, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct book *book = NULL;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 0, 0, &words, usage))
		return EXIT_USAGE;
	if (!given.a || !given.b || !given.distance) {
		command_wrong(usage, "give both banks and the distance across");
		return EXIT_USAGE;
	}
	if (given.book ? !given.run || !given.from || !given.to || !given.near || given.unit
	               : given.run || given.from || given.to) {
		command_wrong(usage, "to keep the sights give --book, --run, --from, --to and "
		                     "--near; what is kept is in the book's unit");
		return EXIT_USAGE;
	}
	if (given.book) {
		book = command_open(given.book, &status);
		if (!book)
			return status;
	}
	ok = reciprocal(&given, book, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
