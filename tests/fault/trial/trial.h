/* What the trials share: scenes, a directory to play them in, and the judgment of what is left.
 *
 * A trial disturbs one run of the real program, in each place in turn. Whatever happens to it, the
 * book must afterwards hold exactly what it held before, or exactly what the undisturbed program
 * makes of it. */
#ifndef TRIAL_H
#define TRIAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>

#define TRIAL_WORDS 64

/* --- how a trial is run, and what it says (report.c) --- */

/* RODBOOK_TRIALS=long: every place; else a sample that takes seconds. */
bool trial_long(void);

/* Every sample is drawn from the same seed each time; xorshift64* (Vigna 2016, ACM Trans. Math.
 * Softw. 42, 30). */
uint64_t trial_chance(uint64_t *state);
uint64_t trial_seed(const char *what);

struct trial_count {
	long tries, losses;
};
/* Says on standard error what was lost; only the first ones in full. */
void trial_loss(struct trial_count *count, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* In the long form says on standard error how far it is: behind which command, and the sums. */
void trial_progress(const char *line, const struct trial_count *count, size_t counts);
/* One line on standard output: name, tries, losses, words, parted by tabs. False where anything
 * was lost, or nothing was tried. */
bool trial_report(const char *name, const struct trial_count *count, const char *words);
/* Ends the program: the trial itself cannot go on. */
_Noreturn void trial_stop(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* --- files and programs (spawn.c) --- */

struct trial_bytes {
	unsigned char *at;
	size_t size;
	bool there; /* else there is no such file */
};
struct trial_bytes trial_read(const char *path);
void trial_write(const char *path, const void *bytes, size_t size);
/* Words parted by blanks; a part in '...' is taken as it stands. Ends in NULL. */
void trial_split(const char *line, char *room, size_t size, char *words[TRIAL_WORDS]);
/* A private directory in memory, made the working one; removed at the end of the program. */
const char *trial_enter(void);

struct trial_said {
	int status; /* as waitpid() gives it */
	struct trial_bytes out, err;
};
/* The program under test: RODBOOK of the environment. */
const char *trial_program(void);
void trial_use_program(const char *path);
/* The library that the program is started with, or NULL: none. */
void trial_preload(const char *path);
/* Starts the program (words[0] is its own name) with both outputs in files. */
pid_t trial_start(char *const *words);
/* Empties both files. */
void trial_silence(void);
/* What it said, once it ended. The bytes live until the next program is started. */
void trial_said(int status, struct trial_said *said);
void trial_run(char *const *words, struct trial_said *said);
/* In a child: standard output and error into the files. */
void trial_redirect(void);

/* --- scenes (scenes.c) --- */

enum trial_kind { TRIAL_WRITES, TRIAL_READS, TRIAL_UPGRADES };

struct trial_scene {
	const char *line; /* the command and its words */
	enum trial_kind kind;
	const char *base; /* the book that it starts from; NULL: none */
};
/* Whose file is looked at. */
#define TRIAL_BOOK "book.rodbook"

extern const struct trial_scene trial_scenes[];
size_t trial_scene_count(void);
size_t trial_scenes_of(enum trial_kind kind);
/* Makes the books of all scenes, and the files that they import. */
void trial_make_bases(void);

/* --- what is left (judge.c) --- */

/* A scene that is set: the book before and after, and what the undisturbed command says. */
struct trial_set {
	const struct trial_scene *scene;
	char room[1000];
	char *words[TRIAL_WORDS];
	struct trial_bytes base; /* the file before */
	uint64_t before, after;  /* prints of the contents */
	int status;              /* exit status of the undisturbed command */
	struct trial_bytes out;  /* its standard output */
};
void trial_set(struct trial_set *set, const struct trial_scene *scene);
void trial_unset(struct trial_set *set);
/* Puts the book back as it was before. */
void trial_reset(const struct trial_set *set);

enum trial_end {
	TRIAL_DISTURBED, /* the program ended by itself, and must have told the truth */
	TRIAL_KILLED,    /* it was killed: the book is before or after */
	TRIAL_CUT,       /* the power was cut: likewise */
	TRIAL_DONE,      /* the power was cut after it had said done: the book is after */
};
/* False where something was lost or falsified; words say what. */
bool trial_judge(const struct trial_set *set, enum trial_end end, const struct trial_said *said,
                 char *words, size_t size);

/* --- one book (print.c) --- */

/* A number that stands for all that a book holds; 0 where there is no book. False, with words,
 * where it cannot be opened or its proof fails. */
bool trial_print(const char *path, bool upgrades, uint64_t *print, char *words, size_t size);

#endif
