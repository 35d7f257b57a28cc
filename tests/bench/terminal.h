/* The real program in a pseudo-terminal. */
#ifndef BENCH_TERMINAL_H
#define BENCH_TERMINAL_H

#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include "../unit/suite.h"

static inline double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* A book of that many setups in the present directory, each to a station of its own. */
static inline void make_book(const char *name, int setups)
{
	char command[400];
	FILE *csv = fopen("run.csv", "w");
	ck_assert_ptr_nonnull(csv);
	fprintf(csv, "run,sight,station,reading,distance\n");
	for (int i = 0; i < setups; i++)
		fprintf(csv, "r,BS,TP%d,1.500,30\nr,FS,TP%d,1.400,31\n", i, i + 1);
	fclose(csv);
	snprintf(command, sizeof command, "\"$RODBOOK\" new %s && \"$RODBOOK\" import %s run.csv",
	         name, name);
	ck_assert_int_eq(system(command), 0);
}

/* The editor on run r of a book; its process, and the terminal it is in. */
static inline pid_t open_editor(const char *book, int *terminal)
{
	struct winsize size = {.ws_row = 24, .ws_col = 80};
	pid_t child = forkpty(terminal, NULL, NULL, &size);
	if (child == 0) {
		setenv("TERM", "xterm-256color", 1);
		execl(getenv("RODBOOK"), "rodbook", book, "r", (char *)NULL);
		_exit(127);
	}
	ck_assert_int_gt(child, 0);
	return child;
}

/*
 * Reads what is painted, whose first byte may take so many milliseconds, until nothing comes for so
 * many; the time of the last byte.
 */
static inline double drain(int terminal, int first, int quiet)
{
	struct pollfd input = {.fd = terminal, .events = POLLIN};
	char bytes[4096];
	double last = seconds();
	int wait = first;
	while (poll(&input, 1, wait) > 0 && read(terminal, bytes, sizeof bytes) > 0) {
		last = seconds();
		wait = quiet;
	}
	return last;
}

#endif
