#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"
#include "rodbook/work/sight.h"

static const char usage[] =
    "sight BOOK RUN BS|IS|FS STATION READING [--distance D]\n"
    "  [--distance-by tape|wires|map|step] [--method rod|tape|target]\n"
    "  [--instrument NAME] [--rod NAME] [--remark TEXT] [--again] [--along PLACE] [--photo FILE]\n"
    "  [--time TIME] [--limit L | --u U] [--declared]\n"
    "  [--scaled \"MARK@PX; MARK@PX; hair PX; u PX\"]   READING is then the word scaled";

/* A digest is published when figures are sealed. */
void command_say_booked(struct book *book, const struct work_booked *booked)
{
	struct report_warned about = {.warned = &booked->warned,
	                              .compared = &booked->compared,
	                              .sight = &booked->sight,
	                              .setup = booked->setup,
	                              .reading_u = booked->reading_u,
	                              .settings = &booked->settings};
	char witness[REPORT_WITNESS_BYTES], warnings[600];
	report_warnings(&about, warnings, sizeof warnings);
	if (*warnings)
		fprintf(stderr, "rodbook: booked with a warning: %s\n", warnings);
	if (*booked->photos)
		fprintf(stderr, "rodbook: booked with a warning: %s\n", booked->photos);
	if (booked->seal == WORK_SEALED)
		printf("the figures of the allowance are sealed; %s\n",
		       report_witness(book, witness));
	else if (booked->seal == WORK_SEAL_NOT_KNOWN)
		puts("the digest could not be worked out: rodbook verify prints it");
}

int command_sight(int argc, char **argv)
{
	struct work_typed typed = {0};
	bool again = false, declared = false;
	const struct option_word options[] = {
	    {"--distance", &typed.text[WORK_DISTANCE], NULL, NULL},
	    {"--distance-by", &typed.text[WORK_DISTANCE_BY], NULL, NULL},
	    {"--method", &typed.text[WORK_METHOD], NULL, NULL},
	    {"--instrument", &typed.text[WORK_INSTRUMENT], NULL, NULL},
	    {"--rod", &typed.text[WORK_ROD], NULL, NULL},
	    {"--remark", &typed.text[WORK_REMARK], NULL, NULL},
	    {"--along", &typed.text[WORK_ALONG], NULL, NULL},
	    {"--photo", &typed.text[WORK_PHOTO], NULL, NULL},
	    {"--time", &typed.text[WORK_TIME], NULL, NULL},
	    {"--limit", &typed.text[WORK_LIMIT], NULL, NULL},
	    {"--u", &typed.text[WORK_U], NULL, NULL},
	    {"--scaled", &typed.text[WORK_SCALED], NULL, NULL},
	    {"--declared", NULL, &declared, NULL},
	    {"--again", NULL, &again, NULL},
	    {0}};
	struct words words;
	struct work_booked booked;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 5, 5, &words, usage))
		return EXIT_USAGE;
	typed.text[WORK_SIGHT] = words.word[2];
	typed.text[WORK_STATION] = words.word[3];
	typed.text[WORK_READING] = words.word[4];
	typed.text[WORK_AGAIN] = again ? "again" : NULL;
	typed.text[WORK_DECLARED] = declared ? "declared" : NULL;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_book_sight(book, words.word[1], &typed, &booked, &why);
	if (ok)
		command_say_booked(book, &booked);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
