/* What can be done in a list or a form, and what is under the cursor there. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "screen/view/views.h"

/* The longest bar: a window of many columns has room for it. */
#define BAR_BYTES 512
#define HINTS_KEY "F1/^G help"

static size_t first_line(const char *text)
{
	return strcspn(text, "\n");
}

void view_first_line(int row, int rows, attr_t attribute, const char *text)
{
	char line[BAR_BYTES];
	snprintf(line, sizeof line, "%.*s", (int)first_line(text), text);
	term_message(row, rows, attribute, line);
}

void view_bar(const char *keys)
{
	char line[BAR_BYTES];
	size_t length = first_line(keys);
	int left = COLS - (int)(length + strlen(HINTS_KEY));
	snprintf(line, sizeof line, "%.*s%s%s", (int)length, keys, left > 1 ? "  " : " ",
	         left > 0 ? HINTS_KEY : "");
	term_bar(LINES - 1, A_NORMAL, line);
}

char *view_rod_limits(char text[VIEW_LIMITS_BYTES], const struct book_settings *settings)
{
	char length[LEVEL_LENGTH_BYTES];
	snprintf(text, VIEW_LIMITS_BYTES, "Bare numbers are in %s. The rod ends at %s.",
	         level_unit_words(settings->style.unit),
	         level_format_length(length, settings->rod_length, &settings->style, false));
	return text;
}

/* The words of a bar, parted by two blanks, each on a line of its own. */
static void put_keys(FILE *out, const char *keys)
{
	const char *end = keys + first_line(keys);
	if (*end) {
		fprintf(out, "%s\n", end + 1);
		return;
	}
	while (keys < end) {
		const char *gap = strstr(keys, "  ");
		size_t length = gap ? (size_t)(gap - keys) : (size_t)(end - keys);
		while (length && *keys == ' ') {
			keys++;
			length--;
		}
		if (length)
			fprintf(out, "  %.*s\n", (int)length, keys);
		keys += length + strspn(keys + length, " ");
	}
}

/* Blanks that only line columns up are of no use here. */
static void put_squeezed(FILE *out, const char *text)
{
	for (; *text; text++)
		if (strncmp(text, "   ", 3) != 0)
			fputc(*text, out);
}

void view_hints(const char *title, const struct hints *hints)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	if (out) {
		if (*hints->name)
			fprintf(out, "%s%s", hints->name, *hints->text ? ": " : "");
		put_squeezed(out, hints->text);
		if (*hints->name)
			fputc('\n', out);
		if (hints->meaning)
			fprintf(out, "%s\n", hints->meaning + strspn(hints->meaning, " "));
		fprintf(out, "%sTHE KEYS\n", *hints->name || hints->meaning ? "\n" : "");
		put_keys(out, hints->keys);
		fprintf(out, "%s", hints->more);
		if (fclose(out) == 0)
			view_text(title, text);
	}
	free(text);
}
