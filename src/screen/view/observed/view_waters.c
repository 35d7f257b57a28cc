/* Water readings of a run. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/set.h"
#include "rodbook/level/time.h"
#include "rodbook/work/next.h"
#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

enum { STATION, READING, REMARK, OBSERVED, QUESTIONS };

/* The mean of the readings that stand at a station; water_count 0 where there are none, or the book
 * cannot be read. */
static struct level_sight mean_at(const struct editor *ed, const char *station)
{
	struct level_sight out = {0};
	struct book_water *list;
	struct fault why;
	size_t count;
	if (!book_waters(ed->book, ed->run.info.id, &list, &count, &why))
		return out;
	snprintf(out.station, sizeof out.station, "%.160s", station);
	book_water_mean(list, count, &out);
	free(list);
	return out;
}

/* What makes a reading that could be booked look like a slip, empty where nothing does; returns the
 * question that it is about. */
static int doubt(const struct editor *ed, const struct question *reading,
                 const struct question *station, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	struct work_water_doubt doubt;
	struct book_water *list;
	char one[LEVEL_SET_READING_BYTES];
	size_t count;
	text[0] = '\0';
	if (level_is_like_reading(station->text) || level_is_typed_time(station->text)) {
		snprintf(text, size, "a station named %.60s? If not, type the station over it",
		         station->text);
		return STATION;
	}
	if (!book_waters(ed->book, ed->run.info.id, &list, &count, NULL))
		return READING;
	doubt = work_doubt_waters(list, count, station->text, reading->text, style->unit, one);
	report_water_doubt(&doubt, one, station->text, style, text, size);
	free(list);
	return READING;
}

static size_t readings_in(const char *typed)
{
	size_t count = 1;
	for (; *typed; typed++)
		count += *typed == ';';
	return count;
}

/* The station of the reading after those that were booked: the same until there is a set of it. */
static void put_next(const struct editor *ed, size_t at_once, int there, struct question *station)
{
	struct book_water *list;
	size_t size;
	if (!work_water_is_set(at_once, there) ||
	    !book_waters(ed->book, ed->run.info.id, &list, &size, NULL))
		return;
	snprintf(station->text, sizeof station->text, "%s",
	         work_next_water(&ed->closing, list, size, ed->marks, ed->mark_count));
	free(list);
}

/* Says what stands at a station now, after a reading of it was booked, and proposes the next one.
 */
static void say_booked(const struct editor *ed, const struct question *reading,
                       struct question *station, char *message, size_t size)
{
	struct level_sight mean = mean_at(ed, station->text);
	size_t at_once = readings_in(reading->text);
	char shown[LEVEL_LENGTH_BYTES], what[BOOK_TYPED_BYTES];
	bool other;
	put_next(ed, at_once, mean.water_count, station);
	other = strcmp(station->text, mean.station) != 0;
	if (at_once > 1)
		snprintf(what, sizeof what, "%zu readings", at_once);
	else
		snprintf(what, sizeof what, "%.40s", reading->text);
	snprintf(message, size, "booked: %s; %d at %.60s, mean %s. %s%.60s%s, or Esc", what,
	         mean.water_count, mean.station,
	         level_format_length(shown, mean.water, &ed->settings.style, false),
	         other ? "Now " : "The next", other ? station->text : "", other ? ": Enter" : "");
}

/* The day of the last reading, where notes of another day are typed. */
static void put_day(const struct editor *ed, char *text)
{
	struct book_water *list;
	size_t count;
	if (!book_waters(ed->book, ed->run.info.id, &list, &count, NULL))
		return;
	if (count)
		work_paper_day(ed->book, list[count - 1].time, list[count - 1].booked, text);
	free(list);
}

/* One reading, or a set, after the other at one station, until the user turns back: Enter at
 * Reading books. After a set the other end is proposed. What looks like a slip is booked when it is
 * entered twice. */
static void read_water(struct editor *ed, const char *proposed, char *message, size_t size)
{
	char hint[400], limits[VIEW_LIMITS_BYTES];
	struct question questions[] = {
	    {"Station", "The end station whose height above the water is read.", "",
	     LEVEL_STATION_CHARS, "station"},
	    {"Reading", hint, "", LEVEL_REMARK_CHARS, "reading"},
	    {"Remark", "Such as: stilled in a pipe.", "", LEVEL_REMARK_CHARS, "remark"},
	    QUESTION_TIME};
	struct question *reading = &questions[READING], *station = &questions[STATION];
	struct fault why = {0};
	char doubted[300] = "", text[300], stood[LEVEL_STATION_BYTES];
	int cursor = *proposed ? READING : STATION;
	snprintf(hint, sizeof hint,
	         "Water up to the mark; 0 where the rod stands on the water. Enter books.\n"
	         "  0.412, 16 1/4, or several: 0.412; 0.409; 0.414. Ten readings at each end,\n"
	         "  over minutes, and the swell drops out of their mean; the spread says how\n"
	         "  well. %s",
	         view_rod_limits(limits, &ed->settings));
	snprintf(station->text, sizeof station->text, "%s", proposed);
	snprintf(stood, sizeof stood, "%s", proposed);
	put_day(ed, questions[OBSERVED].text);
	message[0] = '\0';
	while (ask("A water reading", questions, QUESTIONS, &cursor, message)) {
		if (question_move_reading(station, reading, stood) && !*stood) {
			strcpy(message, "that is a reading: at which station?");
			cursor = STATION;
			continue;
		}
		cursor = doubt(ed, reading, station, text, sizeof text);
		if (*text && strcmp(text, doubted) != 0) {
			strcpy(doubted, text);
			snprintf(message, size, "%s; Enter books it all the same", text);
		} else if (book_water_add_set(ed->book, ed->run.info.id, station->text,
		                              reading->text, questions[OBSERVED].text,
		                              questions[REMARK].text, &why)) {
			snprintf(stood, sizeof stood, "%.160s", station->text);
			say_booked(ed, reading, station, message, size);
			reading->text[0] = '\0';
			cursor = strcmp(stood, station->text) == 0 ? READING : STATION;
			snprintf(stood, sizeof stood, "%.160s", station->text);
		} else {
			bool several = strchr(reading->text, ' ') && !level_is_set(reading->text);
			snprintf(message, size, "%.500s%s", why.text,
			         several ? "; several readings have ; between them" : "");
			cursor = question_at(questions, QUESTIONS, &why, cursor);
		}
	}
	message[0] = '\0';
}

static void list_waters(const struct editor *ed, const struct book_water *list, size_t count,
                        struct rows *rows)
{
	char reading[LEVEL_LENGTH_BYTES];
	for (size_t i = 0; i < count; i++) {
		snprintf(rows->name[i], ROW_BYTES, "%s", list[i].station);
		snprintf(rows->text[i], ROW_BYTES, "%12s  %.16s  %s%.200s%s%.200s",
		         level_format_length(reading, list[i].reading, &ed->settings.style, false),
		         list[i].time, *list[i].struck ? "x struck: " : "", list[i].why,
		         *list[i].struck && *list[i].remark ? "; remark: " : "", list[i].remark);
	}
}

static const char bar[] =
    " Up Down choose  n new  s strike  Esc turn back\n"
    "  n              reads the water, one reading after the other until Esc\n"
    "  s              strikes a reading, with a reason\n"
    "  Esc            turns back";

void view_waters(struct editor *ed)
{
	char message[640] = "";
	size_t at = 0;
	int key = 0;
	while (key != TERM_KEY_ESCAPE) {
		struct book_water *list;
		struct rows rows = {0};
		struct fault why = {0};
		size_t count;
		if (!book_waters(ed->book, ed->run.info.id, &list, &count, &why) ||
		    !rows_open(&rows, count)) {
			rows_close(&rows);
			free(list);
			return;
		}
		list_waters(ed, list, count, &rows);
		if (count == 0 && !*message)
			strcpy(message, "no water was read yet: n reads it");
		key = list_choose("Water readings: how far the stations stand above the water",
		                  rows.line, count, &at, "ns", bar, message);
		message[0] = '\0';
		if (key == 'n')
			read_water(
			    ed,
			    work_next_water(&ed->closing, list, count, ed->marks, ed->mark_count),
			    message, sizeof message);
		else if (key == 's' && count && *list[at].struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && count)
			ask_strike(ed->book, ed->run.info.id, list[at].id, "Strike a water reading",
			           book_water_strike, message, sizeof message);
		rows_close(&rows);
		free(list);
	}
}
