/* Gauges read during a run. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

/* One reading after the other, until the user turns back. */
static void read_gauge(struct editor *ed, const char *proposed, char *message, size_t size)
{
	enum { STATION, READING, REMARK, OBSERVED, QUESTIONS };
	struct question questions[] = {
	    {"Station", "The gauge, named as the station that the rod stands on for it.", "",
	     LEVEL_STATION_CHARS, "station"},
	    {"Reading",
	     "What its own scale shows, above its own zero. Enter books.\n"
	     "  The book holds it against the elevation that the run found there.",
	     "", 40, "reading"},
	    {"Remark", "Such as: ice at the edge.", "", LEVEL_REMARK_CHARS, "remark"},
	    QUESTION_TIME};
	struct question *station = &questions[STATION], *reading = &questions[READING];
	struct fault why = {0};
	int cursor = *proposed ? READING : STATION;
	bool doubted = false;
	snprintf(station->text, sizeof station->text, "%s", proposed);
	message[0] = '\0';
	while (ask("A gauge reading", questions, QUESTIONS, &cursor, message)) {
		if (question_move_reading(station, reading, proposed) && !*proposed) {
			strcpy(message, "that is a reading: of which gauge?");
			cursor = STATION;
			continue;
		}
		if (level_is_like_reading(station->text) && !doubted) {
			snprintf(message, size,
			         "a station named %.60s? If not, type the station over it; Ctrl-K "
			         "books it all the same",
			         station->text);
			cursor = STATION;
			doubted = true;
		} else if (book_gauge_add(ed->book, ed->run.info.id, station->text, reading->text,
		                          questions[OBSERVED].text, questions[REMARK].text, &why)) {
			snprintf(message, size, "booked: %.40s at %.60s. The next, or Esc",
			         reading->text, station->text);
			station->text[0] = reading->text[0] = questions[REMARK].text[0] = '\0';
			proposed = "";
			cursor = STATION;
			doubted = false;
		} else {
			snprintf(message, size, "%s", why.text);
			cursor = question_at(questions, QUESTIONS, &why, cursor);
		}
	}
	message[0] = '\0';
}

static void list_gauges(const struct work_run *run, struct rows *rows)
{
	char words[4 * LEVEL_LENGTH_BYTES + 100];
	for (size_t i = 0; i < run->gauge_count; i++) {
		const struct book_gauge *g = &run->gauges[i].gauge;
		report_gauge_words(&run->gauges[i], &run->settings.style, words, sizeof words);
		snprintf(rows->name[i], ROW_BYTES, "%s", g->station);
		snprintf(rows->text[i], ROW_BYTES, "%s%.330s%s%.120s%s%.120s",
		         *g->struck ? "x " : "", words, *g->why ? "; struck: " : "", g->why,
		         *g->remark ? "; " : "", g->remark);
	}
}

/* The station of the last sight that was booked, where that may be one at a gauge. */
static const char *likely_gauge(const struct editor *ed)
{
	size_t last = level_counted_before(&ed->run.run, ed->run.run.count);
	const struct level_sight *sight = &ed->run.run.sight[last];
	if (last == ed->run.run.count || sight->kind == LEVEL_BS ||
	    level_is_passing(sight->station))
		return "";
	return sight->station;
}

static const char bar[] = " Up Down choose  n new  s strike  Esc turn back\n"
                          "  n              reads gauges, one after the other until Esc\n"
                          "  s              strikes a reading, with a reason\n"
                          "  Esc            turns back";

void view_gauges(struct editor *ed)
{
	char message[640] = "";
	size_t at = 0;
	int key = 0;
	while (key != TERM_KEY_ESCAPE) {
		struct work_run run;
		struct rows rows = {0};
		struct fault why = {0};
		if (!work_run_load(ed->book, ed->run.info.name, NULL, &run, &why))
			return;
		if (!rows_open(&rows, run.gauge_count)) {
			rows_close(&rows);
			work_run_free(&run);
			return;
		}
		list_gauges(&run, &rows);
		if (run.gauge_count == 0 && !*message)
			strcpy(message, "no gauge was read yet: n reads one");
		key = list_choose("Gauges read in this run", rows.line, run.gauge_count, &at, "ns",
		                  bar, message);
		message[0] = '\0';
		if (key == 'n')
			read_gauge(ed, likely_gauge(ed), message, sizeof message);
		else if (key == 's' && run.gauge_count && *run.gauges[at].gauge.struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && run.gauge_count)
			ask_strike(ed->book, ed->run.info.id, run.gauges[at].gauge.id,
			           "Strike a gauge reading", book_gauge_strike, message,
			           sizeof message);
		rows_close(&rows);
		work_run_free(&run);
	}
}
