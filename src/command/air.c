#include <string.h>

#include "command/command.h"
#include "rodbook/paper.h"

static const char usage[] =
    "air BOOK RUN [--pressure HPA] [--low T@HEIGHT --high T@HEIGHT] [--water T]\n"
    "  [--wind TEXT] [--sky TEXT] [--csv]";

static bool copy(char *out, size_t size, const char *text, const char *what, struct fault *why)
{
	if (strlen(text) >= size)
		return fault_say(why, FAULT_INPUT, "the %s is too long", what);
	strcpy(out, text);
	return true;
}

/* "15.2@1 m" into its two texts. */
static bool split(const char *text, char *temperature, size_t size, char *height,
                  size_t height_size, struct fault *why)
{
	const char *at = strchr(text, '@');
	if (!*text)
		return true;
	if (!at || (size_t)(at - text) >= size)
		return fault_say(why, FAULT_INPUT,
		                 "a thermometer is written temperature@height, as in 15.2@1 m, not "
		                 "\"%.40s\"",
		                 text);
	memcpy(temperature, text, (size_t)(at - text));
	temperature[at - text] = '\0';
	return copy(height, height_size, at + 1, "height", why);
}

int command_air(int argc, char **argv)
{
	const char *pressure = "", *low = "", *high = "", *water = "", *wind = "", *sky = "";
	bool csv = false, ok;
	const struct option_word options[] = {
	    {"--pressure", &pressure, NULL, NULL}, {"--low", &low, NULL, NULL},
	    {"--high", &high, NULL, NULL},         {"--water", &water, NULL, NULL},
	    {"--wind", &wind, NULL, NULL},         {"--sky", &sky, NULL, NULL},
	    {"--csv", NULL, &csv, NULL},           {0}};
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
	if (ok && !*pressure && !*low && !*high && !*water && !*wind && !*sky)
		ok = paper_airs(stdout, book, &info, csv, &why);
	else
		ok = ok && copy(air.pressure, sizeof air.pressure, pressure, "pressure", &why) &&
		     copy(air.water, sizeof air.water, water, "water temperature", &why) &&
		     copy(air.wind, sizeof air.wind, wind, "wind", &why) &&
		     copy(air.sky, sizeof air.sky, sky, "sky", &why) &&
		     split(low, air.low, sizeof air.low, air.low_height, sizeof air.low_height,
		           &why) &&
		     split(high, air.high, sizeof air.high, air.high_height, sizeof air.high_height,
		           &why) &&
		     book_air_add(book, info.id, &air, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
