/*
 * What a script does to the program.
 */
#include "play.h"
#include "keys.h"

#include <ctype.h>
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define MAX_ARGS 60

static bool read_size(struct play *p, const char *rest, int *cols, int *rows)
{
	/* libvterm crashes on a wide character in a screen of one column. */
	if (sscanf(rest, "%d %d", cols, rows) != 2 || *cols < 2 || *rows < 1 || *cols > 1000 ||
	    *rows > 1000)
		return play_fail(p, "COLS (at least 2) and ROWS are needed");
	return true;
}

bool play_size(struct play *p, char *rest)
{
	return read_size(p, rest, &p->cols, &p->rows);
}

bool play_resize(struct play *p, char *rest)
{
	int cols, rows;
	if (!read_size(p, rest, &cols, &rows))
		return false;
	term_resize(&p->term, rows, cols);
	return true;
}

bool play_clock(struct play *p, char *rest)
{
	(void)p;
	return setenv("RODBOOK_CLOCK", rest, 1) == 0;
}

bool play_env(struct play *p, char *rest)
{
	char *value = strchr(rest, '=');
	if (*rest == '\0' || value == rest)
		return play_fail(p, "write `env NAME=VALUE` or `env NAME`");
	if (value == NULL)
		return unsetenv(rest) == 0;
	*value = '\0';
	return setenv(rest, value + 1, 1) == 0;
}

/* Cuts the rest of the line into arguments, in place; false when there are too many. */
static bool cut_args(char *rest, char **args)
{
	int count = 1;
	for (char *at = rest; *(at += strspn(at, " \t")) != '\0';) {
		char *to = at;
		bool quoted = false;
		if (count == MAX_ARGS)
			return false;
		args[count++] = at;
		for (; *at != '\0' && (quoted || !isblank((unsigned char)*at)); at++) {
			if (*at == '"')
				quoted = !quoted;
			else
				*to++ = *at;
		}
		at += *at != '\0';
		*to = '\0';
	}
	return true;
}

static bool start_in_work(struct play *p, char **args)
{
	char *err, *home;
	bool started;

	if (p->term.running)
		return play_fail(p, "the program still runs");
	fflush(NULL);
	err = play_path(p, "program.err");
	home = getcwd(NULL, 0);
	started = chdir(p->work) == 0 && term_start(&p->term, args, p->rows, p->cols, err);
	if (!started)
		play_fail(p, "cannot start the program: %s", strerror(errno));
	if (home != NULL && chdir(home) != 0)
		started = play_fail(p, "cannot go back to %s", home);
	free(home);
	free(err);
	return started;
}

bool play_start(struct play *p, char *rest)
{
	char *args[MAX_ARGS + 1] = {getenv("RODBOOK")};
	if (!cut_args(rest, args))
		return play_fail(p, "more than %d arguments", MAX_ARGS - 1);
	return start_in_work(p, args);
}

bool play_inside(struct play *p, char *rest)
{
	char shell[] = "/bin/sh", option[] = "-c";
	char *args[] = {shell, option, rest, NULL};
	return start_in_work(p, args);
}

bool play_keys(struct play *p, char *rest)
{
	if (!p->term.running)
		return play_fail(p, "the program is over");
	const char *wrong = keys_send(&p->term, rest);
	return wrong == NULL || play_fail(p, "%s", wrong);
}

bool play_type(struct play *p, char *rest)
{
	if (!p->term.running)
		return play_fail(p, "the program is over");
	keys_type(&p->term, rest, strlen(rest));
	return term_flush(&p->term) || play_fail(p, "the program does not read its keys");
}

static bool nothing_reported(struct play *p)
{
	char *err = play_path(p, "program.err");
	bool spoke = play_sanitizer_spoke(err);
	free(err);
	return !spoke || play_fail(p, "a sanitizer reported, see above");
}

static bool end(struct play *p)
{
	if (!term_wait_end(&p->term))
		return play_fail(p, "the program does not end");
	return nothing_reported(p);
}

bool play_kill(struct play *p, char *rest)
{
	static const struct {
		const char *name;
		int number;
	} signals[] = {{"HUP", SIGHUP},   {"INT", SIGINT},   {"QUIT", SIGQUIT}, {"TERM", SIGTERM},
	               {"KILL", SIGKILL}, {"USR1", SIGUSR1}, {"ABRT", SIGABRT}, {"PIPE", SIGPIPE}};
	int number = 0;

	for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
		if (strcmp(signals[i].name, rest) == 0)
			number = signals[i].number;
	if (number == 0)
		return play_fail(p, "no signal is named %s here", rest);
	term_serve(&p->term, 0);
	if (!p->term.running)
		return play_fail(p, "the program is over");
	kill(p->term.pid, number);
	if (!end(p))
		return false;
	if (WIFSIGNALED(p->term.status) && WTERMSIG(p->term.status) != number)
		return play_fail(p, "the program died of signal %d", WTERMSIG(p->term.status));
	return true;
}

bool play_hangup(struct play *p, char *rest)
{
	(void)rest;
	term_serve(&p->term, 0);
	if (!p->term.running)
		return play_fail(p, "the program is over");
	term_hang_up(&p->term);
	return end(p);
}

bool play_exit(struct play *p, char *rest)
{
	char *after;
	int expected = (int)strtol(rest, &after, 10);

	if (after == rest || *after != '\0')
		return play_fail(p, "write `exit STATUS`");
	if (!end(p))
		return false;
	if (WIFSIGNALED(p->term.status))
		return play_fail(p, "the program died of signal %d", WTERMSIG(p->term.status));
	if (WEXITSTATUS(p->term.status) != expected)
		return play_fail(p, "the program exited %d, not %d", WEXITSTATUS(p->term.status),
		                 expected);
	return true;
}
