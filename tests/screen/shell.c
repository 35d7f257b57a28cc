/*
 * Files and commands: what a script needs around the screen.
 */
#include "play.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* Long enough for a command under a sanitizer on a busy machine. */
#define SHELL_PATIENCE_MS 60000

bool play_file(struct play *p, char *rest)
{
	char *dir = play_path(p, "work/");
	char *path = malloc(strlen(dir) + strlen(rest) + 1);
	struct block block = play_take_block(p);
	FILE *file = NULL;

	if (path != NULL) {
		sprintf(path, "%s%s", dir, rest);
		file = fopen(path, "w");
	}
	free(path);
	free(dir);
	for (int i = 0; file != NULL && i < block.count; i++)
		fprintf(file, "%s\n", block.lines[i] + 1);
	if (file == NULL || fclose(file) != 0)
		return play_fail(p, "the file %s cannot be written", rest);
	return true;
}

static void become_shell(const struct play *p, const char *command, const char *out,
                         const char *err)
{
	int flags = O_WRONLY | O_CREAT | O_TRUNC;
	/* A group of its own, so that all of it can be stopped. */
	setpgid(0, 0);
	dup2(open("/dev/null", O_RDONLY), STDIN_FILENO);
	dup2(open(out, flags, 0600), STDOUT_FILENO);
	dup2(open(err, flags, 0600), STDERR_FILENO);
	if (chdir(p->work) == 0)
		execl("/bin/sh", "sh", "-c", command, (char *)NULL);
	_exit(127);
}

/* The exit status, 128 and the signal's number, or -1 when it took too long. */
static int run(struct play *p, const char *command, const char *out, const char *err)
{
	int64_t deadline = term_now_ms() + SHELL_PATIENCE_MS;
	int status = 0;
	pid_t pid;

	fflush(NULL);
	pid = fork();
	if (pid == 0)
		become_shell(p, command, out, err);
	if (pid < 0)
		return -1;
	while (waitpid(pid, &status, WNOHANG) == 0) {
		if (term_now_ms() > deadline) {
			kill(-pid, SIGKILL);
			waitpid(pid, &status, 0);
			return -1;
		}
		/* A program that is under way must not stall for want of a reader. */
		term_serve(&p->term, 1);
	}
	return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

static void print_file(const char *title, const char *path)
{
	char *text = play_slurp(path);
	if (text[0] != '\0')
		printf("%s:\n%s", title, text);
	free(text);
}

static bool run_expecting(struct play *p, int expected, const char *command)
{
	char *out = play_path(p, "shell.out");
	char *err = play_path(p, "shell.err");
	int status = run(p, command, out, err);
	bool spoke = play_sanitizer_spoke(err);
	bool passed = status == expected && !spoke;

	p->ran_shell = true;
	if (!passed) {
		if (status < 0)
			play_fail(p, "the command did not end: %s", command);
		else
			play_fail(p, "the command exited %d, not %d: %s", status, expected,
			          command);
		print_file("Its standard output", out);
		if (!spoke)
			print_file("Its standard error", err);
	}
	free(out);
	free(err);
	return passed;
}

bool play_sh(struct play *p, char *rest)
{
	return run_expecting(p, 0, rest);
}

/* To make that book takes some eighty starts of the program, so a test run makes it once. */
bool play_demo(struct play *p, char *rest)
{
	setenv("NAME", rest, 1);
	bool passed = run_expecting(p, 0,
	                            "if [ -n \"$PLAY_DEMO\" ]; then cp \"$PLAY_DEMO\" \"$NAME\"; "
	                            "else \"$DATA/demo-book\" \"$RODBOOK\" \"$PWD/$NAME\"; fi");
	unsetenv("NAME");
	return passed;
}

bool play_sh_status(struct play *p, char *rest)
{
	int expected, end = 0;
	if (sscanf(rest, "%d %n", &expected, &end) != 1 || end == 0)
		return play_fail(p, "write `sh! STATUS COMMAND`");
	return run_expecting(p, expected, rest + end);
}

static bool same_text(struct block expected, const char *text)
{
	for (int i = 0; i < expected.count; i++) {
		const char *line = expected.lines[i] + 1;
		size_t size = strlen(line);
		if (strncmp(text, line, size) != 0 || text[size] != '\n')
			return false;
		text += size + 1;
	}
	return *text == '\0';
}

/* The text with bars, ready for a script; the lines that differ are marked. */
static void print_barred(const char *text, struct block expected)
{
	for (int i = 0; *text != '\0'; i++) {
		size_t size = strcspn(text, "\n");
		bool same = i < expected.count && strlen(expected.lines[i] + 1) == size &&
		            strncmp(expected.lines[i] + 1, text, size) == 0;
		printf("%c |%.*s%s\n", same ? ' ' : '*', (int)size, text,
		       text[size] == '\0' ? "(no newline)" : "");
		text += size + (text[size] == '\n');
	}
}

static bool compare(struct play *p, const char *name, const char *title)
{
	struct block expected = play_take_block(p);
	char *path = play_path(p, name);
	char *text = play_slurp(path);
	bool same = same_text(expected, text);

	if (!p->ran_shell) {
		same = play_fail(p, "no command was run yet");
	} else if (!same) {
		play_fail(p, "%s differs; expected", title);
		for (int i = 0; i < expected.count; i++)
			printf("  %s\n", expected.lines[i]);
		printf("actual\n");
		print_barred(text, expected);
	} else if (p->show) {
		printf("%s\n%s", title, text);
	}
	free(text);
	free(path);
	return same;
}

bool play_out(struct play *p, char *rest)
{
	(void)rest;
	return compare(p, "shell.out", "standard output");
}

bool play_err(struct play *p, char *rest)
{
	(void)rest;
	return compare(p, "shell.err", "standard error");
}
