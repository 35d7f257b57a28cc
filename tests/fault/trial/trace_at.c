/* Runs a program and refuses one of its system calls:
 *
 *	trace_at CALL ERROR FILE PROGRAM [WORD...]
 *
 * Calls count from the first one that names FILE. CALL 0 refuses none, and writes how many there
 * were to the file `calls.csv`. Ends as the program does. */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "trace.h"
#include "trial.h"

int main(int argc, char **argv)
{
	struct trace_plan plan = {0};
	char text[40];
	long calls;
	int status;
	pid_t child;
	if (argc < 5)
		return 2;
	plan.at = atol(argv[1]);
	plan.error = atoi(argv[2]);
	child = fork();
	if (child == 0) {
		trace_me();
		execv(argv[4], argv + 4);
		_exit(127);
	}
	status = trace_follow(child, argv[3], &plan, &calls);
	snprintf(text, sizeof text, "%ld\n", calls);
	if (!plan.at)
		trial_write("calls.csv", text, strlen(text));
	if (WIFEXITED(status))
		return WEXITSTATUS(status);
	raise(WTERMSIG(status));
	return 3;
}
