#include <stdlib.h>
#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "sight BOOK RUN BS|IS|FS STATION READING [--distance D]\n"
    "  [--distance-by tape|wires|map|step] [--method rod|tape|target]\n"
    "  [--instrument NAME] [--rod NAME] [--remark TEXT] [--again] [--along PLACE] [--photo FILE]";

struct typed {
	const char *kind, *station, *reading, *distance, *method, *instrument, *rod, *remark,
	    *along, *photo, *way;
	bool again;
};

static bool take_text(char *out, size_t size, const char *text, const char *what, struct fault *why)
{
	if (strlen(text) >= size)
		return fault_say(why, FAULT_INPUT, "the %s is too long", what);
	strcpy(out, text);
	return true;
}

/* The rod's own length goes before that of the settings. */
static bool take_rod(struct book *book, const char *name, struct book_settings *with,
                     struct fault *why)
{
	struct book_rod *list;
	size_t count;
	if (!book_rods(book, &list, &count, why))
		return false;
	with->rod_length = book_rod_length(list, count, name, with->rod_length);
	free(list);
	return true;
}

static bool book_sight(struct book *book, struct book_run *run,
                       const struct book_settings *settings, const struct typed *typed,
                       struct fault *why)
{
	struct level_sight sight = {0};
	struct book_note note = {.unit = settings->style.unit};
	struct book_settings with = *settings;
	sight.again = typed->again;
	if (!level_kind_find(typed->kind, &sight.kind))
		return fault_say(why, FAULT_INPUT, "a sight is BS, IS or FS");
	if (!level_method_find(typed->method, &sight.method))
		return fault_say(why, FAULT_INPUT, "a method is rod, tape or target");
	if (!take_text(sight.station, sizeof sight.station, typed->station, "station", why) ||
	    !take_text(note.reading, sizeof note.reading - 4, typed->reading, "reading", why) ||
	    !take_text(note.distance, sizeof note.distance - 4, typed->distance, "distance", why) ||
	    !take_text(note.distance_by, sizeof note.distance_by, typed->way, "way", why) ||
	    !take_text(note.instrument, sizeof note.instrument, typed->instrument, "instrument",
	               why) ||
	    !take_text(note.remark, sizeof note.remark, typed->remark, "remark", why) ||
	    !take_text(note.rod, sizeof note.rod, typed->rod, "rod", why) ||
	    !take_text(note.along, sizeof note.along, typed->along, "place", why) ||
	    !take_text(note.photo, sizeof note.photo, typed->photo, "photograph", why) ||
	    !take_rod(book, typed->rod, &with, why) ||
	    !book_read_sight(&with, &note, &sight, NULL, why))
		return false;
	return book_add(book, run, run->run.count, &sight, &note, why);
}

static bool count_seals(struct book *book, int64_t run, size_t *count, struct fault *why)
{
	struct book_seal *seals;
	bool ok = book_seals(book, run, &seals, count, why);
	free(seals);
	return ok;
}

/* A digest is published when figures are sealed. */
static bool book_and_tell(struct book *book, struct book_run *run,
                          const struct book_settings *settings, const struct typed *typed,
                          struct fault *why)
{
	char witness[REPORT_WITNESS_BYTES];
	size_t before, now;
	if (!count_seals(book, run->info.id, &before, why) ||
	    !book_sight(book, run, settings, typed, why))
		return false;
	/* It is booked, whatever can be said of it. */
	if (!before && !count_seals(book, run->info.id, &now, NULL))
		puts("the digest could not be worked out: rodbook verify prints it");
	else if (!before && now)
		printf("the figures of the allowance are sealed; %s\n",
		       report_witness(book, witness));
	return true;
}

int command_sight(int argc, char **argv)
{
	struct typed typed = {.distance = "",
	                      .method = "rod",
	                      .instrument = "",
	                      .rod = "",
	                      .remark = "",
	                      .along = "",
	                      .photo = "",
	                      .way = ""};
	const struct option_word options[] = {{"--distance", &typed.distance, NULL, NULL},
	                                      {"--distance-by", &typed.way, NULL, NULL},
	                                      {"--method", &typed.method, NULL, NULL},
	                                      {"--instrument", &typed.instrument, NULL, NULL},
	                                      {"--rod", &typed.rod, NULL, NULL},
	                                      {"--remark", &typed.remark, NULL, NULL},
	                                      {"--along", &typed.along, NULL, NULL},
	                                      {"--photo", &typed.photo, NULL, NULL},
	                                      {"--again", NULL, &typed.again, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_settings settings;
	struct book_run_info info;
	struct book_run run;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 5, 5, &words, usage))
		return EXIT_USAGE;
	typed.kind = words.word[2];
	typed.station = words.word[3];
	typed.reading = words.word[4];
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_settings(book, &settings, &why) &&
	     book_run_find(book, words.word[1], &info, &why) &&
	     book_load(book, info.id, &run, &why);
	if (ok) {
		ok = book_and_tell(book, &run, &settings, &typed, &why);
		book_run_free(&run);
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
