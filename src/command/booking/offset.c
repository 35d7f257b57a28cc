#include <string.h>

#include "command/command.h"
#include "rodbook/work/sight.h"

static const char usage[] =
    "offset BOOK RUN FROM TO HEIGHT | --ends A B  [--method tape|ruler|tube]\n"
    "  [--u U | --limit L] [--remark TEXT] [--along PLACE] [--photo FILE]\n"
    "  [--time TIME]";

int command_offset(int argc, char **argv)
{
	struct work_typed typed = {.text[WORK_SIGHT] = "OFF"};
	char ends[400];
	const char *end = NULL;
	const struct option_word options[] = {{"--ends", &end, NULL, NULL},
	                                      {"--method", &typed.text[WORK_METHOD], NULL, NULL},
	                                      {"--u", &typed.text[WORK_U], NULL, NULL},
	                                      {"--limit", &typed.text[WORK_LIMIT], NULL, NULL},
	                                      {"--remark", &typed.text[WORK_REMARK], NULL, NULL},
	                                      {"--along", &typed.text[WORK_ALONG], NULL, NULL},
	                                      {"--photo", &typed.text[WORK_PHOTO], NULL, NULL},
	                                      {"--time", &typed.text[WORK_TIME], NULL, NULL},
	                                      {0}};
	struct words words;
	struct work_booked booked;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 5, 5, &words, usage))
		return EXIT_USAGE;
	typed.from = words.word[2];
	typed.text[WORK_STATION] = words.word[3];
	/* Of two ends the second is the fifth word. */
	if (end) {
		snprintf(ends, sizeof ends, "%.190s; %.190s", end, words.word[4]);
		typed.text[WORK_ENDS] = ends;
	} else {
		typed.text[WORK_READING] = words.word[4];
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_book_sight(book, words.word[1], &typed, &booked, &why);
	if (ok)
		command_say_booked(book, &booked);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
