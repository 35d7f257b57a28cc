/* The fuzzer of keystrokes: sessions of random keys for the real program in a pseudo-terminal. */
#ifndef FUZZ_KEYS_H
#define FUZZ_KEYS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>

/* --- keys_grammar.c --- */

/* Bytes that are sent at once; then a pause. With a size of the window: that first. */
struct chunk {
	char *bytes;
	size_t size, room;
	int pause;      /* ms */
	int rows, cols; /* 0: the window stays as it is */
	int back;       /* times that Escape comes next */
	bool crippled;  /* the window is too small, or a paste has no end */
};
/* The next one of a session; free(bytes) at the end. */
void chunk_next(struct chunk *chunk, uint64_t *chance);
/* Where the line of a run stands. */
struct stand {
	char station[200]; /* of the last sight; "" where there is none */
	bool in_setup;     /* a BS is booked, and its FS is not */
	bool stuck;        /* the sight before was not booked */
};
/* A sight that goes on from there; first, what must be set right before. */
void chunk_sight(struct chunk *chunk, uint64_t *chance, const struct stand *stand);
void chunk_put(struct chunk *chunk, const char *bytes, size_t size);

/* --- keys_pty.c --- */

struct pty {
	int master, slave;
	pid_t pid;
	bool running;
	int status; /* of waitpid(), once it ended */
};
/* Starts the program; its standard error is added to a file. */
bool pty_start(struct pty *p, char *const argv[], const char *errors);
void pty_resize(struct pty *p, int rows, int cols);
/* Sends bytes and waits until the program has taken them; false where it takes none for so many ms.
 */
bool pty_send(struct pty *p, const char *bytes, size_t size, int patience);
/* Reads what it writes for so many ms, or until it ends; whether it has ended. */
bool pty_wait(struct pty *p, int ms);
/* The terminal is gone; whether the program ends within so many ms. */
bool pty_hang_up(struct pty *p, int ms);
/* Kills it if it still runs, and closes. */
void pty_close(struct pty *p);

#endif
