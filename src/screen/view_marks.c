/* The list of marks with known elevations. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/views.h"

#define LINE_BYTES 700

static void ask_mark(struct book *book, const struct book_mark *mark, char *message, size_t size)
{
	struct question questions[] = {
	    {"Name", "The mark's name, as stations are named on the page.", "",
	     LEVEL_STATION_CHARS},
	    {"Elevation", "Its known elevation; a bare number is in the book's unit.", "", 40},
	    {"Uncertainty", "Its standard uncertainty, where you know one; else leave it empty.",
	     "", 40},
	    {"Source", "Where the elevation is from: a description, a sheet, a stage board.", "",
	     LEVEL_REMARK_CHARS},
	};
	struct book_settings settings;
	struct fault why = {0};

	message[0] = '\0';
	if (!book_settings(book, &settings, &why)) {
		snprintf(message, size, "%s", why.text);
		return;
	}
	if (mark) {
		enum level_unit here = settings.style.unit;
		strcpy(questions[0].text, mark->name);
		level_carry_text(questions[1].text, sizeof questions[1].text, mark->typed,
		                 mark->unit, here);
		level_carry_text(questions[2].text, sizeof questions[2].text, mark->u_typed,
		                 mark->unit, here);
		strcpy(questions[3].text, mark->source);
	}
	while (ask(mark ? "Change a mark" : "A new mark", questions, 4, message)) {
		if (book_mark_set(book, questions[0].text, questions[1].text, questions[2].text,
		                  questions[3].text, &why)) {
			snprintf(message, size, "%s is kept", questions[0].text);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

static struct list_line *make_lines(const struct book_mark *marks, size_t count,
                                    const struct level_style *style, char (*texts)[LINE_BYTES])
{
	struct list_line *lines = calloc(count + 1, sizeof *lines);
	for (size_t i = 0; lines && i < count; i++) {
		char elevation[LEVEL_LENGTH_BYTES];
		snprintf(texts[i], LINE_BYTES, "%14s %s%s%s  %s",
		         level_format_length(elevation, marks[i].elevation, style, false),
		         level_unit_name(style->unit), *marks[i].u_typed ? "  u " : "",
		         marks[i].u_typed, marks[i].source);
		lines[i] = (struct list_line){marks[i].name, texts[i], NULL};
	}
	return lines;
}

void view_marks(struct book *book)
{
	char message[640] = "";
	size_t at = 0;
	int key = 0;

	while (key != TERM_KEY_ESCAPE) {
		struct book_settings settings;
		struct book_mark *marks = NULL;
		struct list_line *lines = NULL;
		char(*texts)[LINE_BYTES] = NULL;
		struct fault why = {0};
		size_t count = 0;

		if (book_settings(book, &settings, &why) &&
		    book_marks(book, &marks, &count, &why)) {
			texts = calloc(count + 1, sizeof *texts);
			lines = texts ? make_lines(marks, count, &settings.style, texts) : NULL;
		}
		if (!lines) {
			free(marks);
			free(texts);
			return;
		}
		if (count == 0 && !*message)
			strcpy(message, "no mark has a known elevation yet: n gives one");
		key = list_choose("Marks with known elevations", lines, count, &at, "ns",
		                  " Up Down choose  Enter change  n new  s strike  Esc turn back",
		                  message);
		message[0] = '\0';
		if (key == 'n' || (key == KEY_ENTER && count))
			ask_mark(book, key == 'n' ? NULL : &marks[at], message, sizeof message);
		else if (key == 's' && count)
			snprintf(message, sizeof message, "%s",
			         book_mark_strike(book, marks[at].name, &why) ? "struck"
			                                                      : why.text);
		free(marks);
		free(lines);
		free(texts);
	}
}
