/*
 * A screen script being played: what the directives share.
 */
#ifndef PLAY_H
#define PLAY_H

#include "term.h"

struct play {
	const char *path; /* of the script */
	char **lines;
	int line_count;
	int at;        /* the line being played */
	int directive; /* the line that began it, for what is said */

	char *dir;      /* private, removed at the end */
	char *work;     /* in it: where every command runs */
	int cols, rows; /* of the next start */
	bool show;
	bool ran_shell;
	struct term term;
};

/* Each directive gets the rest of its line; false after it said what failed. */
typedef bool directive(struct play *, char *rest);

/* Says where and what, in the manner of printf; always false. */
bool play_fail(const struct play *p, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Takes the lines that follow behind bars; the bar still stands in them. */
struct block {
	char **lines;
	int count;
};
struct block play_take_block(struct play *p);

/* A path in the private directory, to be freed. */
char *play_path(const struct play *p, const char *name);

/* The whole file as a string, to be freed; empty when there is none. */
char *play_slurp(const char *path);

/* Whether a sanitizer had something to say in the file; prints the file if so. */
bool play_sanitizer_spoke(const char *path);

/* shell.c */
directive play_file, play_demo, play_sh, play_sh_status, play_out, play_err;

/* look.c */
directive play_screen, play_see, play_unseen, play_line, play_attr, play_cursor, play_show;

/* drive.c */
directive play_size, play_clock, play_env, play_start, play_inside, play_keys, play_type,
    play_resize, play_kill, play_hangup, play_exit;

#endif
