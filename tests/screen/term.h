/*
 * The program under test in a pseudo-terminal, and the screen it paints, kept by libvterm.
 */
#ifndef PLAY_TERM_H
#define PLAY_TERM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>
#include <vterm.h>

/* How long anything is waited for before it counts as not coming. */
#define TERM_PATIENCE_MS 20000

struct term {
	VTerm *vt;
	VTermScreen *screen;
	int rows, cols;
	bool cursor_hidden;

	int master;
	int slave; /* kept open to see what the program has not read yet; -1 once it ended */
	pid_t pid;
	bool running;
	int status;         /* of waitpid, once it ended */
	int64_t changed_at; /* when the program last wrote, or keys were last sent */
	bool after_escape;  /* the last key sent was a lone Escape */

	char *unsent; /* keys, and the terminal's answers to queries */
	size_t unsent_size, unsent_room;
};

int64_t term_now_ms(void);

/*
 * Starts argv[0] with its standard error in a file. The screen of a program started earlier in
 * the same struct is let go. False with errno when there is no pseudo-terminal or process.
 */
bool term_start(struct term *t, char **argv, int rows, int cols, const char *stderr_path);

/* Reads what the program wrote, sends what is unsent, notes its end; waits at most wait_ms. */
void term_serve(struct term *t, int wait_ms);

/* Appends bytes for the program; term_serve sends them. */
void term_put(struct term *t, const char *bytes, size_t size);

/* Serves until the program took all keys, as far as can be seen from outside. */
bool term_flush(struct term *t);

/* Every key sent was read, and nothing was painted for that long. */
bool term_quiet(const struct term *t, int quiet_ms);

/* Waits for the program to be ready for keys, and for a lone Escape to stand by itself. */
void term_ready_for_key(struct term *t);

void term_resize(struct term *t, int rows, int cols);

/* Waits for the program's end; false when it did not come in time. */
bool term_wait_end(struct term *t);

/* Takes the terminal away, as a dropped line does. */
void term_hang_up(struct term *t);

/* Ends the program if it still runs and lets go of everything. */
void term_close(struct term *t);

#endif
