/*
 * What a script expects of the screen. Each expectation is waited for: the player goes on
 * serving the terminal until it holds, and fails it only when time is up or the program ended.
 */
#include "play.h"
#include "cells.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define QUIET_MS 100

/* Something that may hold of the screen. */
struct hope {
	bool (*holds)(const struct term *, const struct hope *);
	const char *text;
	struct block rows;
	int row, col;
};

static bool comes_true(struct term *t, const struct hope *hope)
{
	int64_t deadline = term_now_ms() + TERM_PATIENCE_MS;

	term_serve(t, 0);
	while (!hope->holds(t, hope)) {
		if (!t->running || term_now_ms() > deadline)
			return false;
		term_serve(t, 10);
	}
	return true;
}

/* The text between the two bars, to be freed; NULL when the closing one is missing. */
static char *between_bars(const char *line)
{
	char *text = strdup(line + 1);
	if (text == NULL)
		abort();
	cells_trim(text);
	size_t size = strlen(text);
	if (size == 0 || text[size - 1] != '|') {
		free(text);
		return NULL;
	}
	text[size - 1] = '\0';
	return text;
}

static bool same_row(const struct term *t, int row, const char *line)
{
	char *expected = between_bars(line);
	char *actual = cells_row(t, row);
	bool same = expected != NULL && strcmp(expected, actual) == 0;
	free(expected);
	free(actual);
	return same;
}

static bool same_screen(const struct term *t, const struct hope *hope)
{
	for (int row = 0; row < t->rows; row++)
		if (!same_row(t, row, hope->rows.lines[row]))
			return false;
	return true;
}

static bool well_formed(struct play *p, struct block rows)
{
	if (rows.count != p->term.rows)
		return play_fail(p, "%d lines are expected, the screen has %d", rows.count,
		                 p->term.rows);
	for (int i = 0; i < rows.count; i++) {
		char *text = between_bars(rows.lines[i]);
		int width = text != NULL ? cells_width(text) : -1;
		free(text);
		if (width == p->term.cols)
			continue;
		p->directive = p->at - rows.count + 1 + i;
		if (width < 0)
			return play_fail(p, "this is not a row between two bars");
		return play_fail(p, "this row has %d cells, the screen %d", width, p->term.cols);
	}
	return true;
}

/* Characters that look alike, such as two kinds of blank, are told apart by their numbers. */
static void fail_at_first_difference(struct play *p, struct block rows)
{
	int row = 0;
	while (row < rows.count - 1 && same_row(&p->term, row, rows.lines[row]))
		row++;
	char *expected = between_bars(rows.lines[row]);
	char *actual = cells_row(&p->term, row);
	const char *e = expected, *a = actual;
	wchar_t expected_char = 0, actual_char = 0;

	while (*e != '\0' && expected_char == actual_char) {
		int size = mbtowc(&expected_char, e, strlen(e));
		e += size > 0 ? size : 1;
		size = mbtowc(&actual_char, a, strlen(a));
		a += size > 0 ? size : 1;
	}
	play_fail(p, "the screen differs in the rows marked *, first in row %d: U+%04X, not U+%04X",
	          row, (unsigned)actual_char, (unsigned)expected_char);
	free(expected);
	free(actual);
}

bool play_screen(struct play *p, char *rest)
{
	struct hope hope = {.holds = same_screen, .rows = play_take_block(p)};

	if (*rest != '\0')
		return play_fail(p, "nothing stands behind `screen`");
	/* An author asking for the lines to write here. */
	if (p->show && hope.rows.count == 0)
		return play_show(p, rest);
	if (!well_formed(p, hope.rows))
		return false;
	bool same = comes_true(&p->term, &hope);
	if (p->show) {
		printf("screen # line %d\n", p->directive + 1);
		cells_print(&p->term);
	}
	if (same)
		return true;
	fail_at_first_difference(p, hope.rows);
	printf("expected\n");
	for (int row = 0; row < p->term.rows; row++)
		printf("%c %2d %s\n", same_row(&p->term, row, hope.rows.lines[row]) ? ' ' : '*',
		       row, hope.rows.lines[row]);
	printf("actual\n");
	for (int row = 0; row < p->term.rows; row++) {
		char *text = cells_row(&p->term, row);
		printf("%c %2d |%s|\n", same_row(&p->term, row, hope.rows.lines[row]) ? ' ' : '*',
		       row, text);
		free(text);
	}
	return false;
}

bool play_show(struct play *p, char *rest)
{
	int64_t deadline = term_now_ms() + TERM_PATIENCE_MS;
	(void)rest;
	do
		term_serve(&p->term, 10);
	while (!term_quiet(&p->term, QUIET_MS) && term_now_ms() < deadline);
	printf("show # line %d\n", p->directive + 1);
	cells_print(&p->term);
	return true;
}

static bool somewhere(const struct term *t, const struct hope *hope)
{
	bool found = false;
	for (int row = 0; row < t->rows && !found; row++) {
		char *text = cells_row(t, row);
		found = strstr(text, hope->text) != NULL;
		free(text);
	}
	return found;
}

static bool nowhere(const struct term *t, const struct hope *hope)
{
	return term_quiet(t, QUIET_MS) && !somewhere(t, hope);
}

bool play_see(struct play *p, char *rest)
{
	struct hope hope = {.holds = somewhere, .text = rest};
	if (*rest == '\0')
		return play_fail(p, "write `see TEXT`");
	return comes_true(&p->term, &hope) || play_fail(p, "no row holds \"%s\"", rest);
}

bool play_unseen(struct play *p, char *rest)
{
	struct hope hope = {.holds = nowhere, .text = rest};
	if (*rest == '\0')
		return play_fail(p, "write `unseen TEXT`");
	if (comes_true(&p->term, &hope))
		return true;
	if (somewhere(&p->term, &hope))
		return play_fail(p, "a row holds \"%s\"", rest);
	return play_fail(p, "the screen never came to rest");
}

static bool row_reads(const struct term *t, const struct hope *hope)
{
	char *text = cells_row(t, hope->row);
	cells_trim(text);
	bool same = strcmp(text, hope->text) == 0;
	free(text);
	return same;
}

bool play_line(struct play *p, char *rest)
{
	struct hope hope = {.holds = row_reads};
	char *end;

	hope.row = (int)strtol(rest, &end, 10);
	if (end == rest || hope.row < 0 || hope.row >= p->term.rows)
		return play_fail(p, "write `line ROW TEXT`, ROW from 0 to %d", p->term.rows - 1);
	/* One blank parts them; any more are the row's own. */
	end += *end == ' ';
	cells_trim(end);
	hope.text = end;
	if (comes_true(&p->term, &hope))
		return true;
	char *text = cells_row(&p->term, hope.row);
	play_fail(p, "row %d differs\nexpected |%s\n  actual |%s", hope.row, hope.text, text);
	free(text);
	return false;
}

static bool read_cell(struct play *p, char *rest, struct hope *hope)
{
	int end = 0;
	if (sscanf(rest, "%d %d %n", &hope->row, &hope->col, &end) != 2 || hope->row < 0 ||
	    hope->row >= p->term.rows || hope->col < 0 || hope->col >= p->term.cols)
		return play_fail(p, "ROW and COL of a cell of the screen are needed");
	hope->text = rest + end;
	return true;
}

static bool has_attribute(const struct term *t, const struct hope *hope)
{
	return cells_has(t, hope->row, hope->col, hope->text);
}

bool play_attr(struct play *p, char *rest)
{
	struct hope hope = {.holds = has_attribute};
	char *at = NULL;

	if (!read_cell(p, rest, &hope))
		return false;
	if (*hope.text == '\0')
		return play_fail(p, "write `attr ROW COL NAME`");
	char *words = rest + (hope.text - rest);
	for (char *name = strtok_r(words, " ", &at); name; name = strtok_r(NULL, " ", &at)) {
		if (!cells_attribute_known(name))
			return play_fail(p, "there is no attribute %s", name);
		hope.text = name;
		if (!comes_true(&p->term, &hope))
			return play_fail(p, "row %d col %d is not %s", hope.row, hope.col, name);
	}
	return true;
}

static bool cursor_stands(const struct term *t, const struct hope *hope)
{
	int row, col;
	cells_cursor(t, &row, &col);
	return row == hope->row && col == hope->col && !t->cursor_hidden;
}

static bool cursor_hides(const struct term *t, const struct hope *hope)
{
	(void)hope;
	return t->cursor_hidden;
}

bool play_cursor(struct play *p, char *rest)
{
	struct hope hope = {.holds = cursor_hides};
	int row, col;

	if (strcmp(rest, "hidden") != 0) {
		if (!read_cell(p, rest, &hope))
			return false;
		hope.holds = cursor_stands;
	}
	if (comes_true(&p->term, &hope))
		return true;
	cells_cursor(&p->term, &row, &col);
	return play_fail(p, "the cursor is %s at row %d col %d",
	                 p->term.cursor_hidden ? "hidden" : "shown", row, col);
}
