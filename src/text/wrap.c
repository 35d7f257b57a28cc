#include "text/wrap.h"

#include <stdbool.h>
#include <string.h>

#define DEEPER 4

static bool is_first_byte(char byte)
{
	return (byte & 0xc0) != 0x80;
}

int wrap_characters(const char *text)
{
	int count = 0;
	for (; *text; text++)
		count += is_first_byte(*text);
	return count;
}

size_t wrap_fit(const char *text, int columns, const char **next)
{
	size_t at = 0, blank = 0, size;
	int count = 0;
	bool begun = false; /* a blank before the first word is no place to break */
	for (; text[at]; at++) {
		if (!is_first_byte(text[at]))
			continue;
		if (count == columns)
			break;
		if (text[at] == ' ' && begun && text[at - 1] != ' ')
			blank = at;
		begun = begun || text[at] != ' ';
		count++;
	}
	size = !text[at] || text[at] == ' ' || !blank ? at : blank;
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
	int shown = 0;
	while (*text && shown < width) {
		fputc(*text++, out);
		while (!is_first_byte(*text))
			fputc(*text++, out);
		shown++;
	}
	fprintf(out, "%*s", width - shown, "");
}
