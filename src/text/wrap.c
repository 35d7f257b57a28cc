#include "text/wrap.h"

#include <string.h>

#include "text/cells.h"

#define DEEPER 4

static bool is_first_byte(char byte)
{
	return (byte & 0xc0) != 0x80;
}

static bool is_digit(char byte)
{
	return byte >= '0' && byte <= '9';
}

bool wrap_breaks(const char *text, size_t at)
{
	size_t from = at, to = at + 1;
	if (at && text[at - 1] == '\'' && is_digit(text[to]))
		return false;
	while (from && is_digit(text[from - 1]))
		from--;
	if (from == at || (from && text[from - 1] == '/'))
		return true;
	while (is_digit(text[to]))
		to++;
	return to == at + 1 || text[to] != '/' || !is_digit(text[to + 1]);
}

size_t wrap_fit(const char *text, int columns, const char **next)
{
	size_t at = 0, blank = 0, size, step;
	int count = 0, cells;
	bool begun = false; /* a blank before the first word is no place to break */
	for (; text[at]; at += step) {
		step = cells_first(text + at, &cells);
		if (count && count + cells > columns)
			break;
		if (text[at] == ' ' && begun && text[at - 1] != ' ' && wrap_breaks(text, at))
			blank = at;
		begun = begun || text[at] != ' ';
		count += cells;
	}
	size = !text[at] || (text[at] == ' ' && wrap_breaks(text, at)) || !blank ? at : blank;
	*next = text + size;
	while (**next == ' ')
		++*next;
	while (size && text[size - 1] == ' ')
		size--;
	return size;
}

/* One line, without its end. */
static void wrap_line(FILE *out, const char *line, int columns)
{
	int indent = (int)strspn(line, " ");
	const char *next;
	size_t size = wrap_fit(line, columns, &next);
	fprintf(out, "%.*s\n", (int)size, line);
	indent = indent + DEEPER < columns / 2 ? indent + DEEPER : columns / 2;
	while (*next) {
		line = next;
		size = wrap_fit(line, columns - indent, &next);
		fprintf(out, "%*s%.*s\n", indent, "", (int)size, line);
	}
}

void wrap_text(FILE *out, const char *text, int columns)
{
	char line[4000];
	while (*text) {
		size_t whole = strcspn(text, "\n");
		size_t size = whole < sizeof line - 1 ? whole : sizeof line - 1;
		while (size < whole && size && !is_first_byte(text[size]))
			size--;
		memcpy(line, text, size);
		line[size] = '\0';
		wrap_line(out, line, columns);
		text += size;
		text += *text == '\n';
	}
}

void wrap_put(FILE *out, const char *text, int width)
{
	int shown = 0, cells;
	size_t size = cells_first(text, &cells);
	for (; size && shown + cells <= width; size = cells_first(text, &cells)) {
		fwrite(text, 1, size, out);
		text += size;
		shown += cells;
	}
	fprintf(out, "%*s", width - shown, "");
}
