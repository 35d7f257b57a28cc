/* A program followed from system call to system call, one of which is refused, or its last. */
#ifndef TRIAL_TRACE_H
#define TRIAL_TRACE_H

#include <stdbool.h>
#include <sys/types.h>

#define TRACE_KILL (-1)
#define TRACE_CALLS 20000

struct trace_plan {
	long at;   /* the call that is refused, counted from 1; 0: none is */
	int error; /* what it ends in, or TRACE_KILL: the program is killed before it */
	bool full; /* from there on every call that would write to a file is refused */
	bool *
	    changes; /* NULL, or room for TRACE_CALLS: whether call i + 1 opens or changes a file */
};

/* Whether this machine lets programs be followed. */
bool trace_works(void);

/* In the child, before it becomes the program. */
void trace_me(void);

/* Follows the child to its end and gives its status, as waitpid() does. Calls count from the first
 * one that names a file with `book` in its name; *calls is how many there were. */
int trace_follow(pid_t child, const char *book, const struct trace_plan *plan, long *calls);

#endif
