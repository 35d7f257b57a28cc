#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/report.h"
#include "text/cells.h"

static const char usage[] =
    "pegtest --setup DA,A,DB,B --setup DA,A,DB,B [--setup ...]... [--tolerance SET] [--unit U]\n"
    "  [--sky sun|cloud|water | --k K --dk DK] [--method rod|tape|target] [--csv]\n"
    "  [--book BOOK [--instrument NAME [--time TIME]]]";

struct given {
	const char *unit, *tolerance, *book, *instrument, *sky, *k, *dk, *method, *time;
	struct many setups;
	bool csv;
};

/* Earlier tests of the instruments of a book. */
static bool list(struct book *book, const char *instrument, bool csv, struct fault *why)
{
	struct book_pegtest *tests;
	size_t count;
	if (!book_pegtests(book, instrument, &tests, &count, why))
		return false;
	if (csv)
		report_pegtests_csv(stdout, tests, count);
	else if (count == 0)
		printf("no peg test is in this book yet\n");
	for (size_t i = 0; i < count && !csv; i++) {
		cells_put(stdout, tests[i].instrument, 16);
		printf(" %s  tilt %s +- %s  %s\n", tests[i].time, tests[i].tilt, tests[i].tilt_u,
		       tests[i].standings);
	}
	free(tests);
	return true;
}

/* The standings as one text. */
static bool join(const struct many *setups, char *text, size_t size, struct fault *why)
{
	size_t used = 0;
	text[0] = '\0';
	for (int i = 0; i < setups->count; i++) {
		int more =
		    snprintf(text + used, size - used, "%s%s", i ? "; " : "", setups->value[i]);
		if (more < 0 || (size_t)more >= size - used)
			return fault_say(why, FAULT_INPUT, "the standings are too long");
		used += (size_t)more;
	}
	return true;
}

/* The set asked for, else the book's, else third order. */
static bool find_set(struct book *book, const char *name, const struct book_settings *settings,
                     struct level_tolerance *out, struct fault *why)
{
	const struct level_tolerance *known;
	if (book && !name) {
		*out = settings->tolerance;
		return true;
	}
	if (book)
		return book_tolerance_find(book, name, out, why);
	known = level_tolerance_find(name ? name : "third-order", why);
	if (known)
		*out = *known;
	return known != NULL;
}

static bool test(struct book *book, const struct given *given, bool *passes, struct fault *why)
{
	struct book_settings settings = {.style = level_style_default(LEVEL_M)};
	struct book_figures defaults;
	struct level_standing standings[LEVEL_STANDINGS_MOST];
	struct level_peg_result result;
	struct level_tolerance set;
	struct book_pegtest kept = {0};
	struct level_peg_way way;
	const char *dk;
	size_t count;

	if (!book_pegtest_sky(given->sky ? given->sky : "", &dk, why))
		return false;
	snprintf(kept.k, sizeof kept.k, "%s", given->k ? given->k : "");
	snprintf(kept.dk, sizeof kept.dk, "%s", given->dk ? given->dk : dk);
	if (given->method && !level_method_find(given->method, &kept.method))
		return fault_say(why, FAULT_INPUT, "a method is rod, tape or target, not \"%.40s\"",
		                 given->method);
	if (!book_pegtest_way(&kept, &way, why))
		return false;
	book_default_figures(&defaults);
	if (book ? !book_settings(book, &settings, why)
	         : !book_terms_of(&defaults, NULL, &settings.terms, why))
		return false;
	if (given->unit && !level_unit_find(given->unit, &settings.style.unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in, not %.40s",
		                 given->unit);
	if (given->unit)
		settings.style = level_style_default(settings.style.unit);
	if (!find_set(book, given->tolerance, &settings, &set, why) ||
	    !join(&given->setups, kept.standings, sizeof kept.standings, why) ||
	    !book_read_standings(kept.standings, &settings.style, standings, &count, why) ||
	    !level_peg_test(standings, count, &settings.terms, &way, &result, why) ||
	    !level_peg_is_likely(&result, why))
		return false;
	snprintf(kept.instrument, sizeof kept.instrument, "%s",
	         given->instrument ? given->instrument : "");
	snprintf(kept.time, sizeof kept.time, "%s", given->time ? given->time : "");
	if (given->instrument && !book_pegtest_add(book, &kept, &result, why))
		return false;
	report_pegtest(stdout, &result, &set, &settings.style, given->csv);
	if (given->instrument && !given->csv)
		printf("kept as the tilt of %s\n", given->instrument);
	*passes = report_pegtest_passes(&result, &set);
	return true;
}

int command_pegtest(int argc, char **argv)
{
	struct given given = {0};
	const struct option_word options[] = {{"--setup", NULL, NULL, &given.setups},
	                                      {"--unit", &given.unit, NULL, NULL},
	                                      {"--tolerance", &given.tolerance, NULL, NULL},
	                                      {"--book", &given.book, NULL, NULL},
	                                      {"--instrument", &given.instrument, NULL, NULL},
	                                      {"--sky", &given.sky, NULL, NULL},
	                                      {"--k", &given.k, NULL, NULL},
	                                      {"--dk", &given.dk, NULL, NULL},
	                                      {"--method", &given.method, NULL, NULL},
	                                      {"--time", &given.time, NULL, NULL},
	                                      {"--csv", NULL, &given.csv, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct book *book = NULL;
	int status = EXIT_DONE;
	bool ok, passes = true;

	if (!command_words(argc, argv, options, 0, 0, &words, usage))
		return EXIT_USAGE;
	if ((given.instrument && !given.book) || (given.instrument && given.unit) ||
	    (given.setups.count == 0 && !given.book)) {
		command_wrong(usage, "%s",
		              given.instrument && given.unit
		                  ? "what is kept in a book is in its unit"
		                  : "give two standings, or a book whose tests are wanted");
		return EXIT_USAGE;
	}
	if (given.book) {
		book = command_open(given.book, &status);
		if (!book)
			return status;
	}
	ok = given.setups.count ? test(book, &given, &passes, &why)
	                        : list(book, given.instrument, given.csv, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return status == EXIT_DONE && !passes ? EXIT_NO : status;
}
