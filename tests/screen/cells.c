#include "cells.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

/* libvterm's mark of the right half of a wide character. */
#define RIGHT_HALF UINT32_MAX

static char *append_utf8(char *at, uint32_t c)
{
	if (c < 0x80) {
		*at++ = (char)c;
	} else if (c < 0x800) {
		*at++ = (char)(0xc0 | c >> 6);
		*at++ = (char)(0x80 | (c & 0x3f));
	} else if (c < 0x10000) {
		*at++ = (char)(0xe0 | c >> 12);
		*at++ = (char)(0x80 | (c >> 6 & 0x3f));
		*at++ = (char)(0x80 | (c & 0x3f));
	} else {
		*at++ = (char)(0xf0 | (c >> 18 & 0x07));
		*at++ = (char)(0x80 | (c >> 12 & 0x3f));
		*at++ = (char)(0x80 | (c >> 6 & 0x3f));
		*at++ = (char)(0x80 | (c & 0x3f));
	}
	return at;
}

char *cells_row(const struct term *t, int row)
{
	char *text = malloc((size_t)t->cols * VTERM_MAX_CHARS_PER_CELL * 4 + 1);
	char *at = text;

	if (text == NULL)
		abort();
	for (int col = 0; col < t->cols; col++) {
		VTermScreenCell cell = {0};
		vterm_screen_get_cell(t->screen, (VTermPos){row, col}, &cell);
		if (cell.chars[0] == RIGHT_HALF)
			continue;
		if (cell.chars[0] == 0)
			*at++ = ' ';
		for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell.chars[i] != 0; i++)
			at = append_utf8(at, cell.chars[i]);
	}
	*at = '\0';
	return text;
}

void cells_trim(char *text)
{
	size_t size = strlen(text);
	while (size > 0 && text[size - 1] == ' ')
		size--;
	text[size] = '\0';
}

int cells_width(const char *text)
{
	int width = 0;
	while (*text != '\0') {
		wchar_t c;
		int size = mbtowc(&c, text, strlen(text));
		int cells = size > 0 ? wcwidth(c) : -1;
		if (cells < 0)
			return -1;
		width += cells;
		text += size;
	}
	return width;
}

static const char *const attributes[] = {"reverse", "bold",    "underline",
                                         "plain",   "colored", "uncolored"};

bool cells_attribute_known(const char *name)
{
	for (size_t i = 0; i < sizeof attributes / sizeof *attributes; i++)
		if (strcmp(name, attributes[i]) == 0)
			return true;
	return false;
}

bool cells_has(const struct term *t, int row, int col, const char *name)
{
	VTermScreenCell cell = {0};
	vterm_screen_get_cell(t->screen, (VTermPos){row, col}, &cell);
	bool colored = !VTERM_COLOR_IS_DEFAULT_FG(&cell.fg) || !VTERM_COLOR_IS_DEFAULT_BG(&cell.bg);

	if (strcmp(name, "reverse") == 0)
		return cell.attrs.reverse;
	if (strcmp(name, "bold") == 0)
		return cell.attrs.bold;
	if (strcmp(name, "underline") == 0)
		return cell.attrs.underline;
	if (strcmp(name, "colored") == 0)
		return colored;
	if (strcmp(name, "uncolored") == 0)
		return !colored;
	return !cell.attrs.reverse && !cell.attrs.bold && !cell.attrs.underline;
}

void cells_cursor(const struct term *t, int *row, int *col)
{
	VTermPos pos;
	vterm_state_get_cursorpos(vterm_obtain_state(t->vt), &pos);
	*row = pos.row;
	*col = pos.col;
}

void cells_print(const struct term *t)
{
	for (int row = 0; row < t->rows; row++) {
		char *text = cells_row(t, row);
		printf("|%s|\n", text);
		free(text);
	}
}
