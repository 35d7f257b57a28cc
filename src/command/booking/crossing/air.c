#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "air BOOK RUN [--pressure P] [--low T@H --high T@H] [--water T --at T@H --wind V@H]\n"
    "  [--wind-from water|land] [--sky TEXT] [--time TIME] [--csv]";

static bool copy(char *out, size_t size, const char *text, const char *what, struct fault *why)
{
	if (strlen(text) >= size)
		return fault_say(why, FAULT_INPUT, "the %s is too long", what);
	strcpy(out, text);
	return true;
}

/* "15.2@1 m" into its two texts. */
static bool split(const char *text, const char *what, char value[24], char height[BOOK_TYPED_BYTES],
                  struct fault *why)
{
	char a[24], b[24];
	if (!*text)
		return true;
	if (!level_split_at(text, a, b, sizeof a))
		return fault_say(why, FAULT_INPUT,
		                 "%s is written with its height behind an @, as in %s, not "
		                 "\"%.40s\"",
		                 what, strcmp(what, "a wind") == 0 ? "3@2 m" : "15.2@1 m", text);
	strcpy(value, a);
	strcpy(height, b);
	return true;
}

struct given {
	const char *pressure, *low, *high, *water, *at, *wind, *from, *sky, *time;
};

static bool read_air(const struct given *g, struct book_air *air, struct fault *why)
{
	return copy(air->pressure, sizeof air->pressure, g->pressure, "pressure", why) &&
	       copy(air->water, sizeof air->water, g->water, "water temperature", why) &&
	       copy(air->wind_from, sizeof air->wind_from, g->from, "wind's side", why) &&
	       copy(air->sky, sizeof air->sky, g->sky, "sky", why) &&
	       copy(air->time, sizeof air->time, g->time, "time", why) &&
	       split(g->low, "a thermometer", air->low, air->low_height, why) &&
	       split(g->high, "a thermometer", air->high, air->high_height, why) &&
	       split(g->at, "a thermometer", air->at, air->at_height, why) &&
	       split(g->wind, "a wind", air->wind_speed, air->wind_height, why);
}

int command_air(int argc, char **argv)
{
	struct given g = {"", "", "", "", "", "", "", "", ""};
	bool csv = false, ok;
	const struct option_word options[] = {{"--pressure", &g.pressure, NULL, NULL},
	                                      {"--low", &g.low, NULL, NULL},
	                                      {"--high", &g.high, NULL, NULL},
	                                      {"--water", &g.water, NULL, NULL},
	                                      {"--at", &g.at, NULL, NULL},
	                                      {"--wind", &g.wind, NULL, NULL},
	                                      {"--wind-from", &g.from, NULL, NULL},
	                                      {"--sky", &g.sky, NULL, NULL},
	                                      {"--time", &g.time, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_run_info info;
	struct book_air air = {0};
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, usage))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_run_find(book, words.word[1], &info, &why);
	if (ok && !*g.pressure && !*g.low && !*g.high && !*g.water && !*g.at && !*g.wind &&
	    !*g.from && !*g.sky)
		ok = report_airs(stdout, book, &info, csv, &why);
	else
		ok = ok && read_air(&g, &air, &why) && book_air_add(book, info.id, &air, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
