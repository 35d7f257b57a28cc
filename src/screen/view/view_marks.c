/* The list of marks with known elevations. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

#define LINE_BYTES 700

/* The mark in hand, and what the list shows of all. */
struct mark_list {
	struct book_settings settings;
	struct book_mark *marks; /* those that count, then the struck ones */
	size_t count, live;
	struct list_line *lines;
	char (*texts)[LINE_BYTES];
};

static void free_list(struct mark_list *list)
{
	free(list->marks);
	free(list->lines);
	free(list->texts);
	*list = (struct mark_list){0};
}

static bool read_marks(struct book *book, struct mark_list *list, struct fault *why)
{
	struct book_mark *struck = NULL, *all;
	size_t struck_count;
	if (!book_settings(book, &list->settings, why) ||
	    !book_marks(book, &list->marks, &list->live, why) ||
	    !book_marks_struck(book, &struck, &struck_count, why))
		return false;
	list->count = list->live + struck_count;
	all = realloc(list->marks, (list->count + 1) * sizeof *all);
	if (all) {
		list->marks = all;
		if (struck_count)
			memcpy(&all[list->live], struck, struck_count * sizeof *all);
	}
	free(struck);
	return all || fault_memory(why);
}

static bool read_list(struct book *book, struct mark_list *list, struct fault *why)
{
	*list = (struct mark_list){0};
	if (!read_marks(book, list, why))
		return false;
	list->lines = calloc(list->count + 1, sizeof *list->lines);
	list->texts = calloc(list->count + 1, sizeof *list->texts);
	if (!list->lines || !list->texts)
		return fault_memory(why);
	for (size_t i = 0; i < list->count; i++) {
		const struct book_mark *m = &list->marks[i];
		char elevation[LEVEL_LENGTH_BYTES];
		snprintf(list->texts[i], LINE_BYTES, "%14s%s%s%.16s%s%s  %s",
		         level_format_length(elevation, m->elevation, &list->settings.style, false),
		         level_unit_after(list->settings.style.unit),
		         *m->struck ? "  x struck " : "", m->struck, *m->u_typed ? "  u " : "",
		         m->u_typed, m->source);
		list->lines[i] = (struct list_line){m->name, list->texts[i], NULL};
	}
	return true;
}

/* Asks for the elevation, uncertainty and source of a mark, and where it is a new one its name. */
static void ask_mark(struct book *book, const struct mark_list *list, const struct book_mark *mark,
                     char *message, size_t size)
{
	struct question questions[] = {
	    {"Name", "The mark's name, as stations are named on the page.", "", LEVEL_STATION_CHARS,
	     "name"},
	    {"Elevation", "Its known elevation; a bare number is in the book's unit.", "", 40,
	     "elevation"},
	    {"Uncertainty", "Its standard uncertainty, where you know one; else leave it empty.",
	     "", 40, "u"},
	    {"Source", "Where the elevation is from: a description, a sheet, a stage board.", "",
	     LEVEL_REMARK_CHARS, "source"},
	};
	int known = mark ? 1 : 0;
	char title[LEVEL_STATION_BYTES + 40];
	int cursor = 0;
	struct fault why = {0};

	snprintf(title, sizeof title, mark ? "Another elevation for %s" : "A new mark%s",
	         mark ? mark->name : "");
	if (mark) {
		enum level_unit here = list->settings.style.unit;
		strcpy(questions[0].text, mark->name);
		level_carry_text(questions[1].text, sizeof questions[1].text, mark->typed,
		                 mark->unit, here);
		level_carry_text(questions[2].text, sizeof questions[2].text, mark->u_typed,
		                 mark->unit, here);
		strcpy(questions[3].text, mark->source);
	}
	message[0] = '\0';
	while (ask(title, questions + known, 4 - known, &cursor, message)) {
		bool taken = false;
		for (size_t i = 0; !mark && list->marks && i < list->live; i++)
			taken = taken || strcmp(list->marks[i].name, questions[0].text) == 0;
		if (taken) {
			snprintf(message, size,
			         "%s has an elevation already: turn back, and press Enter on it to "
			         "change that",
			         questions[0].text);
		} else if (book_mark_set(book, questions[0].text, questions[1].text,
		                         questions[2].text, questions[3].text, &why)) {
			snprintf(message, size, "%s is at %s%s", questions[0].text,
			         questions[1].text,
			         mark ? "; the old elevation stays in the list, struck" : "");
			return;
		} else {
			snprintf(message, size, "%s", why.text);
			cursor = question_at(questions + known, 4 - known, &why, cursor);
		}
	}
	message[0] = '\0';
}

void view_marks(struct book *book)
{
	char message[1400] = "", doomed[LEVEL_STATION_BYTES] = "";
	size_t at = 0;
	int key = 0;

	while (key != TERM_KEY_ESCAPE) {
		struct mark_list list;
		struct fault why = {0};
		bool live;

		/* Even a list that cannot be read is shown, with the reason. */
		if (!read_list(book, &list, &why)) {
			list.count = list.live = 0;
			snprintf(message, sizeof message, "%s", why.text);
		}
		if (list.count == 0 && !*message)
			strcpy(message, "no mark has a known elevation yet: n gives one");
		key = list_choose("Marks with known elevations", list.lines, list.count, &at, "ns",
		                  " Up Down choose  Enter change  n new  s strike  Esc turn back",
		                  message);
		live = at < list.live;
		message[0] = '\0';
		if (key == 'n') {
			ask_mark(book, &list, NULL, message, sizeof message);
		} else if ((key == KEY_ENTER || key == 's') && list.count && !live) {
			strcpy(message, "that one is struck, and stays as it is");
		} else if (key == KEY_ENTER && live) {
			ask_mark(book, &list, &list.marks[at], message, sizeof message);
		} else if (key == 's' && live && strcmp(doomed, list.marks[at].name) == 0) {
			snprintf(message, sizeof message, "%s",
			         book_mark_strike(book, doomed, &why) ? "struck" : why.text);
		} else if (key == 's' && live) {
			snprintf(message, sizeof message,
			         "s again strikes %s: runs that stand on it lose its elevation",
			         list.marks[at].name);
			strcpy(doomed, list.marks[at].name);
			free_list(&list);
			continue;
		}
		doomed[0] = '\0';
		free_list(&list);
	}
}
