/* The subcommands: each takes the words behind its name and returns an exit status. */
#ifndef COMMAND_COMMAND_H
#define COMMAND_COMMAND_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/book/book.h"
#include "rodbook/report/report.h"

enum exit_status { EXIT_DONE, EXIT_NO, EXIT_USAGE, EXIT_UNUSABLE };

/* An option: --name VALUE or --name=VALUE, or --name alone where value is NULL. */
struct option_word {
	const char *name; /* with its dashes */
	const char **value;
	bool *given;
	struct many *many; /* for an option that may stand several times: all its values */
};

struct many {
	int count;
	const char *value[40];
};

#define WORDS_MAX 64

/* The words that are no options, in order. */
struct words {
	int count;
	const char *word[WORDS_MAX];
};

/* Says on stderr what is wrong with the words, the first line of the usage, and where the rest is.
 */
void command_wrong(const char *usage, const char *what, ...) __attribute__((format(printf, 2, 3)));
/* Sorts argv into options and words; least to most words are wanted. A word that begins with a
 * dash and a digit is a number, not an option; all behind -- are words. On a fault it says so by
 * command_wrong() and returns false; --help alone prints the usage, and returns false too. */
bool command_words(int argc, char **argv, const struct option_word *options, int least, int most,
                   struct words *out, const char *usage);

/* Prints the fault to stderr and gives the exit status for it. */
int command_fail(const struct fault *why);
/* Opens the book, or prints why not and sets *status. */
struct book *command_open(const char *path, int *status);
/* Opens the book and loads a run of it; else prints why not, sets *status, and nothing is open. */
struct book *command_load(const char *path, const char *name, struct work_run *run, int *status);
/* Whether at most one form of a paper is asked for; else prints these words and the usage. */
bool command_one_form(int asked, const char *forms, const char *usage);
/* EXIT_DONE where stdout took everything, else a message and EXIT_UNUSABLE. */
int command_flush(void);
/* Writes a file by way of another beside it, so that it is whole or not there; a device or pipe
 * takes it as it comes, and a book is never overwritten. */
typedef bool command_writer(FILE *out, void *context, struct fault *why);
bool command_write(const char *path, command_writer *write, void *context, struct fault *why);
/* Writes a paper of a run as an HTML file, likewise. */
bool command_html(const char *path, struct book *book, const struct work_run *run,
                  enum report_paper paper, struct fault *why);
/* What a sight just booked is warned of, and that it sealed the figures. */
struct work_booked;
void command_say_booked(struct book *book, const struct work_booked *booked);
void command_clock(char out[BOOK_TIME_BYTES]);

int command_new(int argc, char **argv);
int command_rescue(int argc, char **argv);
int command_mark(int argc, char **argv);
int command_import(int argc, char **argv);
int command_gauge(int argc, char **argv);
int command_gauges(int argc, char **argv);
int command_setout(int argc, char **argv);
int command_setouts(int argc, char **argv);
int command_offset(int argc, char **argv);
int command_set(int argc, char **argv);
int command_runs(int argc, char **argv);
int command_stations(int argc, char **argv);
int command_find(int argc, char **argv);
int command_page(int argc, char **argv);
int command_closure(int argc, char **argv);
int command_export(int argc, char **argv);
int command_begin(int argc, char **argv);
int command_card(int argc, char **argv);
int command_blank(int argc, char **argv);
int command_copy(int argc, char **argv);
int command_bundle(int argc, char **argv);
int command_head(int argc, char **argv);
int command_sight(int argc, char **argv);
int command_water(int argc, char **argv);
int command_air(int argc, char **argv);
int command_instrument(int argc, char **argv);
int command_plan(int argc, char **argv);
int command_drop(int argc, char **argv);
int command_drops(int argc, char **argv);
int command_repeat(int argc, char **argv);
int command_seal(int argc, char **argv);
int command_amend(int argc, char **argv);
int command_pegtest(int argc, char **argv);
int command_tolerance(int argc, char **argv);
int command_rod(int argc, char **argv);
int command_reciprocal(int argc, char **argv);
int command_scale(int argc, char **argv);
int command_fieldtest(int argc, char **argv);
int command_slips(int argc, char **argv);
int command_profile(int argc, char **argv);
int command_longsight(int argc, char **argv);
int command_closures(int argc, char **argv);
int command_statement(int argc, char **argv);
int command_grade(int argc, char **argv);
int command_adjust(int argc, char **argv);
int command_adjusted(int argc, char **argv);
int command_changes(int argc, char **argv);
int command_verify(int argc, char **argv);
int command_journal(int argc, char **argv);
int command_check(int argc, char **argv);
int command_close(int argc, char **argv);
int command_reopen(int argc, char **argv);
int command_leave(int argc, char **argv);
int command_edit(int argc, char **argv);

#endif
