/* The list of stations: elevations given, and what the runs found. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/book/aside.h"
#include "rodbook/report/stations.h"
#include "screen/editor.h"
#include "screen/view/views.h"

#define LINE_BYTES 700

/* A line of the list: a mark that counts, a station without a given elevation, or a struck mark. */
struct place {
	const struct book_mark *mark;       /* NULL: no elevation is given */
	const struct work_station *station; /* NULL: a struck mark */
};

/* What the list shows of all. */
struct mark_list {
	struct book_settings settings;
	struct book_mark *marks, *struck;
	size_t mark_count, struck_count;
	struct work_stations stations;
	struct place *places;
	size_t count;
	struct list_line *lines;
	char (*texts)[LINE_BYTES], (*details)[LINE_BYTES];
};

static void free_list(struct mark_list *list)
{
	free(list->marks);
	free(list->struck);
	free(list->places);
	free(list->lines);
	free(list->texts);
	free(list->details);
	work_stations_free(&list->stations);
	*list = (struct mark_list){0};
}

static bool read_marks(struct book *book, struct mark_list *list, struct fault *why)
{
	return book_settings(book, &list->settings, why) &&
	       book_marks(book, &list->marks, &list->mark_count, why) &&
	       book_marks_struck(book, &list->struck, &list->struck_count, why) &&
	       work_stations(book, NULL, &list->stations, why);
}

static const struct book_mark *mark_of(const struct mark_list *list, const char *name)
{
	for (size_t i = 0; i < list->mark_count; i++)
		if (strcmp(list->marks[i].name, name) == 0)
			return &list->marks[i];
	return NULL;
}

/* Those with a given elevation first, then the other stations, then what is struck. */
static void put_places(struct mark_list *list)
{
	for (int given = 1; given >= 0; given--)
		for (size_t i = 0; i < list->stations.count; i++)
			if (list->stations.station[i].has_given == (given == 1))
				list->places[list->count++] =
				    (struct place){mark_of(list, list->stations.station[i].name),
				                   &list->stations.station[i]};
	for (size_t i = 0; i < list->struck_count; i++)
		list->places[list->count++] = (struct place){&list->struck[i], NULL};
}

static void put_given(const struct mark_list *list, const struct book_mark *m,
                      char text[LINE_BYTES])
{
	char elevation[LEVEL_LENGTH_BYTES];
	snprintf(text, LINE_BYTES, "%14s%s%s%.16s%s%s  %s",
	         level_format_length(elevation, m->elevation, &list->settings.style, false),
	         level_unit_after(list->settings.style.unit), *m->struck ? "  x struck " : "",
	         m->struck, *m->u_typed ? "  u " : "", m->u_typed,
	         *m->source ? m->source : m->description);
}

/* What the runs found for it. */
static void put_found(const struct mark_list *list, const struct work_station *s,
                      char text[LINE_BYTES])
{
	const struct level_style *style = &list->settings.style;
	char latest[LEVEL_LENGTH_BYTES], spread[LEVEL_LENGTH_BYTES];
	if (!s->count)
		return;
	level_format_length(latest, s->latest, style, false);
	if (s->compared > 1)
		snprintf(text, LINE_BYTES, "determined %zu times, spread %s, last %s: %s", s->count,
		         level_format_length(spread, s->spread, style, false), latest,
		         s->state == WORK_STATION_DIFFERS ? "DIFFERS" : "agrees");
	else
		snprintf(text, LINE_BYTES, "determined %zu time%s, last %s%s", s->count,
		         s->count == 1 ? "" : "s", latest,
		         s->state == WORK_STATION_DIFFERS  ? ": DIFFERS"
		         : s->state == WORK_STATION_AGREES ? ": agrees"
		                                           : "");
}

static bool read_list(struct book *book, struct mark_list *list, struct fault *why)
{
	size_t most;
	*list = (struct mark_list){0};
	if (!read_marks(book, list, why))
		return false;
	most = list->stations.count + list->struck_count + 1;
	list->places = calloc(most, sizeof *list->places);
	list->lines = calloc(most, sizeof *list->lines);
	list->texts = calloc(most, sizeof *list->texts);
	list->details = calloc(most, sizeof *list->details);
	if (!list->places || !list->lines || !list->texts || !list->details)
		return fault_memory(why);
	put_places(list);
	for (size_t i = 0; i < list->count; i++) {
		const struct place *at = &list->places[i];
		if (at->mark)
			put_given(list, at->mark, list->texts[i]);
		else
			snprintf(list->texts[i], LINE_BYTES, "%14s", "not given");
		if (at->station)
			put_found(list, at->station, list->details[i]);
		list->lines[i] = (struct list_line){at->mark ? at->mark->name : at->station->name,
		                                    list->texts[i], list->details[i]};
	}
	return true;
}

/* Asks for the elevation, uncertainty and source of a mark, and where it is a new one its name. */
static void ask_mark(struct book *book, const struct mark_list *list, const struct place *place,
                     char *message, size_t size)
{
	struct question questions[] = {
	    {"Name",
	     "The mark's name, as stations are named on the page.\n"
	     "  BM1, GATE, 12+50. Each sight on a station of that name has the elevation.",
	     "", LEVEL_STATION_CHARS, "name"},
	    {"Elevation",
	     "Its known elevation; a bare number is in the book's unit.\n"
	     "  29.230, 95.9 ft. A line that starts there begins with it; one that ends\n"
	     "  there is closed by it.",
	     "", 40, "elevation"},
	    {"Uncertainty",
	     "Its standard uncertainty, where you know one; else leave it empty.\n"
	     "  2 mm, 0.002: how far off the elevation itself may be.",
	     "", 40, "u"},
	    {"Source",
	     "Where the elevation is from: a description, a sheet, a stage board.\n"
	     "  Without one nobody can look it up again.",
	     "", LEVEL_REMARK_CHARS, "source"},
	};
	const struct book_mark *mark = place ? place->mark : NULL;
	const char *name = mark ? mark->name : place ? place->station->name : "";
	int known = place ? 1 : 0;
	char title[LEVEL_STATION_BYTES + 40];
	int cursor = 0;
	struct fault why = {0};

	snprintf(title, sizeof title,
	         mark    ? "Another elevation for %s"
	         : place ? "An elevation for %s"
	                 : "A new mark%s",
	         name);
	strcpy(questions[0].text, name);
	if (mark) {
		enum level_unit here = list->settings.style.unit;
		level_carry_text(questions[1].text, sizeof questions[1].text, mark->typed,
		                 mark->unit, here);
		level_carry_text(questions[2].text, sizeof questions[2].text, mark->u_typed,
		                 mark->unit, here);
		strcpy(questions[3].text, mark->source);
	}
	message[0] = '\0';
	while (ask(title, questions + known, 4 - known, &cursor, message)) {
		const struct book_mark_given given = {questions[0].text,
		                                      questions[1].text,
		                                      questions[2].text,
		                                      questions[3].text,
		                                      NULL,
		                                      NULL};
		bool taken = !mark && mark_of(list, questions[0].text);
		if (taken) {
			snprintf(message, size,
			         "%s has an elevation already: turn back, and press Enter on it to "
			         "change that",
			         questions[0].text);
		} else if (book_mark_put(book, list->settings.style.unit, &given, &why)) {
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

/* What a mark is, and how it is found. */
static void describe(struct book *book, const struct book_mark *mark, char *message, size_t size)
{
	struct question questions[] = {
	    {"Description",
	     "What it is: a bolt, a pipe, a cut cross.\n"
	     "  As somebody sees it who has never been there.",
	     "", LEVEL_REMARK_CHARS, "description"},
	    {"Reach", "How it is found: NE corner of the mill, 0.3 m above ground.", "",
	     LEVEL_REMARK_CHARS, "reach"},
	    {"Surface",
	     "yes where it is the surface of the water itself; else empty.\n"
	     "  A crossing may start and end on such marks, and then needs no water reading.",
	     "", 3, "mark"},
	};
	char title[LEVEL_STATION_BYTES + 40];
	struct fault why = {0};
	int cursor = 0;
	snprintf(title, sizeof title, "What %s is, and how it is found", mark->name);
	strcpy(questions[0].text, mark->description);
	strcpy(questions[1].text, mark->reach);
	strcpy(questions[2].text, mark->surface ? "yes" : "");
	message[0] = '\0';
	while (ask(title, questions, 3, &cursor, message)) {
		const char *surface = questions[2].text;
		if (*surface && strcmp(surface, "yes") != 0 && strcmp(surface, "no") != 0) {
			snprintf(message, size, "Surface is yes, no or empty");
			cursor = 2;
		} else if (book_mark_describe(book, mark->name, questions[0].text,
		                              questions[1].text, &why) &&
		           book_mark_surface(book, mark->name, strcmp(surface, "yes") == 0, &why)) {
			snprintf(message, size, "%s is described", mark->name);
			return;
		} else {
			snprintf(message, size, "%s", why.text);
			cursor = question_at(questions, 3, &why, cursor);
		}
	}
	message[0] = '\0';
}

/* Each determination of a station. */
static void show_found(struct book *book, const struct work_station *station)
{
	char title[LEVEL_STATION_BYTES + 40];
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0, unreadable;
	FILE *out = open_memstream(&text, &used);
	if (!out)
		return;
	if (!report_station(out, book, station->name, false, &unreadable, &why))
		fprintf(out, "%s\n", why.text);
	fclose(out);
	snprintf(title, sizeof title, "What the runs found for %s", station->name);
	view_text(title, text);
	free(text);
}

/* Sets the mark aside in the run, or holds it again. */
static void turn_aside(struct editor *ed, const struct book_mark *mark, char *message, size_t size)
{
	char reason[LEVEL_REMARK_BYTES] = "", title[LEVEL_STATION_BYTES + 60];
	struct fault why = {0};
	bool aside = false;
	for (size_t i = 0; i < ed->run.run.count; i++)
		if (strcmp(ed->run.run.sight[i].station, mark->name) == 0)
			aside = aside || ed->run.run.sight[i].aside;
	snprintf(title, sizeof title,
	         aside ? "Hold %s again in this run" : "Set %s aside in this run", mark->name);
	message[0] = '\0';
	while (ask_reason(title,
	                  aside ? "Why it counts again; may be empty."
	                        : "Why: it has moved, say. Its given elevation is not held here.",
	                  reason, message)) {
		if (book_aside_set(ed->book, &ed->run, mark->name, !aside, reason, &why)) {
			snprintf(message, size, "%s %s in run %s", mark->name,
			         aside ? "is held again" : "is set aside", ed->run.info.name);
			if (!editor_load(ed, ed->run.info.id, &why))
				snprintf(message, size, "%s", why.text);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

/* Where the bar begins: on the station of the form. */
static size_t place_of(const struct mark_list *list, const char *station)
{
	for (size_t i = 0; i < list->count; i++)
		if (list->places[i].station && strcmp(list->lines[i].name, station) == 0)
			return i;
	return 0;
}

static const char bar[] = " Enter elevation  d found  w what  a aside  n new  s strike  Esc back\n"
                          "  Enter          gives the station an elevation, or another one\n"
                          "  d              shows what each run found for it\n"
                          "  w              says what the mark is and how it is found\n"
                          "  a              sets the mark aside in this run, or holds it again\n"
                          "  n              gives the elevation of a new mark\n"
                          "  s              strikes an elevation given: s again, to be sure\n"
                          "  Esc            turns back";

void view_marks(struct editor *ed)
{
	char message[1400] = "", doomed[LEVEL_STATION_BYTES] = "";
	struct book *book = ed->book;
	size_t at = 0;
	bool first = true;
	int key = 0;

	while (key != TERM_KEY_ESCAPE) {
		struct mark_list list;
		const struct place *place;
		struct fault why = {0};

		/* Even a list that cannot be read is shown, with the reason. */
		if (!read_list(book, &list, &why)) {
			list.count = 0;
			snprintf(message, sizeof message, "%s", why.text);
		}
		if (first)
			at = place_of(&list, editor_slot(ed)->station);
		first = false;
		if (list.count == 0 && !*message)
			strcpy(message, "no mark has a known elevation yet: n gives one");
		key = list_choose("Stations, and the elevations given", list.lines, list.count, &at,
		                  "nsdaw", bar, message);
		place = at < list.count ? &list.places[at] : NULL;
		message[0] = '\0';
		if (key == 'n') {
			ask_mark(book, &list, NULL, message, sizeof message);
		} else if (key != TERM_KEY_ESCAPE && place && !place->station) {
			strcpy(message, "that one is struck, and stays as it is");
		} else if (key == KEY_ENTER && place) {
			ask_mark(book, &list, place, message, sizeof message);
		} else if (key == 'd' && place) {
			show_found(book, place->station);
		} else if ((key == 's' || key == 'a' || key == 'w') && place && !place->mark) {
			strcpy(message, "no elevation is given for it: Enter gives one");
		} else if (key == 'w' && place) {
			describe(book, place->mark, message, sizeof message);
		} else if (key == 'a' && place) {
			turn_aside(ed, place->mark, message, sizeof message);
		} else if (key == 's' && place && strcmp(doomed, place->mark->name) == 0) {
			snprintf(message, sizeof message, "%s",
			         book_mark_strike(book, doomed, &why) ? "struck" : why.text);
		} else if (key == 's' && place) {
			snprintf(message, sizeof message,
			         "s again strikes %s: runs that stand on it lose its elevation",
			         place->mark->name);
			strcpy(doomed, place->mark->name);
			free_list(&list);
			continue;
		}
		doomed[0] = '\0';
		free_list(&list);
	}
}
