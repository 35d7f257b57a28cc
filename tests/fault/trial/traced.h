/* One command of a scene, followed. */
#ifndef TRIAL_TRACED_H
#define TRIAL_TRACED_H

#include <unistd.h>

#include "trace.h"
#include "trial.h"

/* Runs the command on the book as it was before; gives how many calls it made. */
static inline long traced_run(const struct trial_set *set, const struct trace_plan *plan,
                              struct trial_said *said)
{
	long calls;
	pid_t child;
	trial_reset(set);
	trial_preload(NULL);
	trial_silence();
	child = fork();
	if (child < 0)
		trial_stop("no process");
	if (child == 0) {
		trial_redirect();
		trace_me();
		execv(trial_program(), set->words);
		_exit(127);
	}
	trial_said(trace_follow(child, TRIAL_BOOK, plan, &calls), said);
	return calls;
}

#endif
