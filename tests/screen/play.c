/*
 * Plays a screen script: drives the real program in a pseudo-terminal and compares whole
 * screens with expected text.
 *
 *	screen_play PROGRAM SCRIPT.screen
 *
 * A script is plain lines, played from the top until one fails; `#` begins a comment line.
 *
 *	size COLS ROWS   the terminal's size at the next start (80 24)
 *	file NAME        writes the following lines, each behind a bar, to a file
 *	demo NAME        puts the demonstration book there: a copy of the one that PLAY_DEMO names,
 *	                 else data/demo-book makes it
 *	sh COMMAND       must exit 0; $RODBOOK is the program, $DATA the data directory
 *	sh! N COMMAND    must exit N
 *	out, err         the last command wrote exactly the following lines, each behind a bar
 *	clock TIME       sets RODBOOK_CLOCK for what is run from here on
 *	env NAME=VALUE   sets a variable for what is run from here on; `env NAME` unsets it
 *	start ARG...     starts the program; "an argument with blanks" is quoted
 *	inside COMMAND   starts a shell's command, which starts $RODBOOK in another program
 *	keys TOKEN...    <Enter>, <CtrlHome>, <Ctrl-X>, <Alt-x>, <F1>, <Kp5>, <Paste:"a\nb">;
 *	                 any other token is typed as it stands; keys.c lists the names
 *	type TEXT        types the rest of the line, with its blanks
 *	screen           the whole screen is the following lines, each between two bars
 *	see TEXT         some row holds it
 *	unseen TEXT      no row holds it once the screen is quiet
 *	line ROW TEXT    the row, counted from 0, is this, trailing blanks apart
 *	attr ROW COL NAME...  the cell is reverse, bold, underline, plain, colored or uncolored
 *	cursor ROW COL   or `cursor hidden`
 *	resize COLS ROWS while the program runs
 *	kill SIGNAL      sends it and waits for the end; `exit N` after it asks for a status
 *	hangup           takes the terminal away and waits for the end
 *	exit N           the program ends by itself with this status
 *	show             prints the screen, for authors; PLAY_SHOW=1 does so at each `screen`
 *
 * Commands and program run in a private directory, which is removed at the end. Whatever is
 * expected of the screen is waited for, up to twenty seconds. The program must be over when the
 * script is. A sanitizer's report fails the script wherever it turns up.
 */
#include "play.h"
#include "cells.h"

#include <errno.h>
#include <ftw.h>
#include <limits.h>
#include <locale.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static const struct {
	const char *name;
	directive *play;
	bool on_screen; /* needs a program that was started */
} directives[] = {
    {"file", play_file, false},     {"demo", play_demo, false},     {"sh", play_sh, false},
    {"sh!", play_sh_status, false}, {"out", play_out, false},       {"err", play_err, false},
    {"size", play_size, false},     {"clock", play_clock, false},   {"env", play_env, false},
    {"start", play_start, false},   {"inside", play_inside, false}, {"keys", play_keys, true},
    {"type", play_type, true},      {"screen", play_screen, true},  {"see", play_see, true},
    {"unseen", play_unseen, true},  {"line", play_line, true},      {"attr", play_attr, true},
    {"cursor", play_cursor, true},  {"resize", play_resize, true},  {"kill", play_kill, true},
    {"hangup", play_hangup, true},  {"exit", play_exit, true},      {"show", play_show, true},
};

bool play_fail(const struct play *p, const char *format, ...)
{
	va_list args;

	printf("%s:%d: ", p->path, p->directive + 1);
	va_start(args, format);
	vprintf(format, args);
	va_end(args);
	putchar('\n');
	return false;
}

char *play_path(const struct play *p, const char *name)
{
	char *path = malloc(strlen(p->dir) + strlen(name) + 2);
	if (path == NULL)
		abort();
	sprintf(path, "%s/%s", p->dir, name);
	return path;
}

char *play_slurp(const char *path)
{
	size_t size = 0, room = 4096;
	char *text = malloc(room);
	FILE *file = fopen(path, "rb");

	while (text != NULL && file != NULL) {
		size_t got = fread(text + size, 1, room - size - 1, file);
		size += got;
		if (got == 0)
			break;
		if (room - size < 2) {
			char *larger = realloc(text, room *= 2);
			if (larger == NULL)
				abort();
			text = larger;
		}
	}
	if (text == NULL)
		abort();
	if (file != NULL)
		fclose(file);
	text[size] = '\0';
	return text;
}

bool play_sanitizer_spoke(const char *path)
{
	char *text = play_slurp(path);
	bool spoke = strstr(text, "Sanitizer") != NULL || strstr(text, "runtime error:") != NULL;

	if (spoke)
		printf("%s", text);
	free(text);
	return spoke;
}

static bool read_script(struct play *p)
{
	FILE *file = fopen(p->path, "r");
	char *line = NULL;
	size_t room = 0;
	ssize_t size;

	if (file == NULL) {
		printf("%s: %s\n", p->path, strerror(errno));
		return false;
	}
	while ((size = getline(&line, &room, file)) >= 0) {
		if (size > 0 && line[size - 1] == '\n')
			line[size - 1] = '\0';
		p->lines = realloc(p->lines, (size_t)(p->line_count + 1) * sizeof *p->lines);
		if (p->lines == NULL)
			abort();
		p->lines[p->line_count++] = strdup(line);
	}
	free(line);
	fclose(file);
	return true;
}

struct block play_take_block(struct play *p)
{
	struct block block = {.lines = p->lines + p->at + 1};
	while (p->at + 1 < p->line_count && p->lines[p->at + 1][0] == '|') {
		p->at++;
		block.count++;
	}
	return block;
}

static bool play_line_at(struct play *p)
{
	char *line = p->lines[p->at];
	size_t size = strcspn(line, " ");

	if (line[0] == '|')
		return play_fail(p, "this line belongs to no directive that takes lines");
	for (size_t i = 0; i < sizeof directives / sizeof *directives; i++) {
		if (strlen(directives[i].name) != size ||
		    strncmp(directives[i].name, line, size) != 0)
			continue;
		if (directives[i].on_screen && p->term.vt == NULL)
			return play_fail(p, "nothing was started yet");
		return directives[i].play(p, line + size + (line[size] == ' '));
	}
	return play_fail(p, "there is no directive %.*s", (int)size, line);
}

/* What there is to see of the program when a directive failed. */
static void print_program(const struct play *p)
{
	char *path = play_path(p, "program.err");
	char *text = play_slurp(path);
	int status = p->term.status;

	printf("The screen:\n");
	cells_print(&p->term);
	if (p->term.running)
		printf("The program runs.\n");
	else if (WIFSIGNALED(status))
		printf("The program died of signal %d.\n", WTERMSIG(status));
	else
		printf("The program exited %d.\n", WEXITSTATUS(status));
	if (text[0] != '\0')
		printf("Its standard error:\n%s", text);
	free(text);
	free(path);
}

static bool play_all(struct play *p)
{
	for (p->at = 0; p->at < p->line_count; p->at++) {
		const char *line = p->lines[p->at];
		p->directive = p->at;
		if (line[strspn(line, " \t")] == '\0' || line[0] == '#')
			continue;
		if (!play_line_at(p)) {
			if (p->term.vt != NULL)
				print_program(p);
			return false;
		}
	}
	if (p->term.running)
		return play_fail(p, "the program still runs: close with `exit` or `kill`");
	return true;
}

static int remove_one(const char *path, const struct stat *info, int kind, struct FTW *walk)
{
	(void)info, (void)kind, (void)walk;
	return remove(path);
}

/* The same surroundings for every run, whatever the machine's. */
static void set_environment(const struct play *p, const char *program)
{
	static const char *const unwanted[] = {
	    "LINES",           "COLUMNS",       "ESCDELAY",       "NO_COLOR",
	    "COLORTERM",       "LANG",          "LANGUAGE",       "TERMINFO",
	    "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME",
	};
	static const char *const sanitizers[] = {"ASAN_OPTIONS", "UBSAN_OPTIONS"};
	char value[PATH_MAX], *slash;

	for (size_t i = 0; i < sizeof unwanted / sizeof *unwanted; i++)
		unsetenv(unwanted[i]);
	setenv("TERM", "xterm-256color", 1);
	setenv("LC_ALL", "C.UTF-8", 1);
	setenv("TZ", "UTC0", 1);
	setenv("HOME", p->work, 1);
	setenv("RODBOOK_CLOCK", "2026-05-04T09:30:00+02:00", 1);
	setenv("RODBOOK", program, 1);

	/* A status of its own, so that no expected failure can be mistaken for it. */
	for (size_t i = 0; i < sizeof sanitizers / sizeof *sanitizers; i++) {
		const char *others = getenv(sanitizers[i]);
		snprintf(value, sizeof value, "%s:exitcode=99", others != NULL ? others : "");
		setenv(sanitizers[i], others != NULL ? value : value + 1, 1);
	}

	if (realpath(p->path, value) == NULL || (slash = strrchr(value, '/')) == NULL)
		return;
	*slash = '\0';
	char *data = malloc(strlen(value) + sizeof "/../../data");
	if (data == NULL)
		abort();
	sprintf(data, "%s/../../data", value);
	setenv("DATA", realpath(data, value) != NULL ? value : data, 1);
	free(data);
}

int main(int argc, char **argv)
{
	char program[PATH_MAX], dir[] = "/tmp/screen_play.XXXXXX";
	struct play p = {.cols = 80, .rows = 24, .show = getenv("PLAY_SHOW") != NULL};
	bool passed;

	if (argc != 3) {
		fprintf(stderr, "usage: screen_play PROGRAM SCRIPT.screen\n");
		return 2;
	}
	if (realpath(argv[1], program) == NULL || mkdtemp(dir) == NULL) {
		fprintf(stderr, "screen_play: %s: %s\n", argv[1], strerror(errno));
		return 2;
	}
	p.path = argv[2];
	p.dir = dir;
	p.work = play_path(&p, "work");
	mkdir(p.work, 0700);
	set_environment(&p, program);
	setlocale(LC_ALL, "");

	passed = read_script(&p) && play_all(&p);

	term_close(&p.term);
	nftw(dir, remove_one, 16, FTW_DEPTH | FTW_PHYS);
	for (int i = 0; i < p.line_count; i++)
		free(p.lines[i]);
	free(p.lines);
	free(p.work);
	return passed ? 0 : 1;
}
