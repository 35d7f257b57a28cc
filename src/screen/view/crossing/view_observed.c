/* Water readings and air of a run. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

/* Strikes an entry of the run for a reason, which is asked until there is one. */
static void strike(struct editor *ed, const char *title, int64_t id,
                   bool (*strike_row)(struct book *book, int64_t run, int64_t id,
                                      const char *reason, struct fault *why),
                   char *message, size_t size)
{
	char reason[LEVEL_REMARK_BYTES];
	struct fault why = {0};
	while (ask_reason(title, "Why it is struck; it stays legible.", reason, message)) {
		if (strike_row(ed->book, ed->run.info.id, id, reason, &why)) {
			snprintf(message, size, "struck; it stays in the list");
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

/* --- water --- */

/* Waves are read within this of each other (common practice, no source). */
#define WAVES_MOST (LEVEL_NM_PER_M / 4)

enum { STATION, REMARK, READING, QUESTIONS };

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
	struct level_sight mean = mean_at(ed, station->text);
	level_nm value, off;
	char far[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (level_is_like_reading(station->text)) {
		snprintf(text, size, "a station named %.60s? If that was the reading: Shift-Tab",
		         station->text);
		return STATION;
	}
	if (!level_parse_length(reading->text, style->unit, &value, NULL))
		return READING;
	off = value - mean.water;
	if (mean.water_count && (off > WAVES_MOST || off < -WAVES_MOST))
		snprintf(text, size, "%.40s is %s from the mean of those at %.60s", reading->text,
		         level_format_length(far, off < 0 ? -off : off, style, false),
		         mean.station);
	return READING;
}

/* What stands at a station now, after a reading of it was booked. */
static void say_booked(const struct editor *ed, const struct question *reading,
                       const struct question *station, char *message, size_t size)
{
	struct level_sight mean = mean_at(ed, station->text);
	char shown[LEVEL_LENGTH_BYTES];
	snprintf(message, size, "booked: %s; %d at %.60s, mean %s. The next, or Esc", reading->text,
	         mean.water_count, mean.station,
	         level_format_length(shown, mean.water, &ed->settings.style, false));
}

/* One reading after the other at one station, until the user turns back: Enter books, since the
 * reading comes last. What looks like a slip is booked when it is entered twice. */
static void read_water(struct editor *ed, const char *proposed, char *message, size_t size)
{
	struct question questions[] = {
	    {"Station", "The end station whose height above the water is read.", "",
	     LEVEL_STATION_CHARS, "station"},
	    {"Remark", "Such as: stilled in a pipe.", "", LEVEL_REMARK_CHARS, "remark"},
	    {"Reading", "Water up to the mark; 0 where the rod stands on the water. Esc ends.", "",
	     40, "reading"}};
	struct question *reading = &questions[READING], *station = &questions[STATION];
	struct fault why = {0};
	char doubted[300] = "", text[300];
	int cursor = *proposed ? READING : STATION;
	snprintf(station->text, sizeof station->text, "%s", proposed);
	message[0] = '\0';
	while (ask("A water reading", questions, QUESTIONS, &cursor, message)) {
		cursor = doubt(ed, reading, station, text, sizeof text);
		if (*text && strcmp(text, doubted) != 0) {
			strcpy(doubted, text);
			snprintf(message, size, "%s; Ctrl-B books it all the same", text);
		} else if (book_water_add(ed->book, ed->run.info.id, station->text, reading->text,
		                          "", questions[REMARK].text, &why)) {
			say_booked(ed, reading, station, message, size);
			reading->text[0] = '\0';
			cursor = READING;
		} else {
			snprintf(message, size, "%s", why.text);
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

/* The station that a reading is likely to be for: an end without one, else the last one read. */
static const char *likely_station(const struct editor *ed, const struct book_water *list,
                                  size_t count)
{
	const struct level_closing *c = &ed->closing;
	const char *ends[] = {c->start_station, c->end_station};
	for (int i = 0; i < 2; i++) {
		bool read = ends[i] == NULL;
		for (size_t j = 0; j < count && !read; j++)
			read = !*list[j].struck && strcmp(list[j].station, ends[i]) == 0;
		if (!read)
			return ends[i];
	}
	for (size_t j = count; j-- > 0;)
		if (!*list[j].struck)
			return list[j].station;
	return "";
}

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
		                  rows.line, count, &at, "ns",
		                  " Up Down choose  n new  s strike  Esc turn back", message);
		message[0] = '\0';
		if (key == 'n')
			read_water(ed, likely_station(ed, list, count), message, sizeof message);
		else if (key == 's' && count && *list[at].struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && count)
			strike(ed, "Strike a water reading", list[at].id, book_water_strike,
			       message, sizeof message);
		rows_close(&rows);
		free(list);
	}
}

/* --- air --- */

enum { PRESSURE, LOW, HIGH, WATER, ABOVE, WIND, FROM, SKY, AIR_QUESTIONS };

/* "15.2 C@1 m" into its two texts. */
static bool take_at(const struct question *question, char value[24], char height[BOOK_TYPED_BYTES],
                    struct fault *why)
{
	char a[24], b[24];
	if (!*question->text)
		return true;
	if (!level_split_at(question->text, a, b, sizeof a)) {
		fault_say(why, FAULT_INPUT,
		          "%s is written with its height behind an @, as in 15.2@1",
		          question->label);
		return fault_at(why, question->field);
	}
	strcpy(value, a);
	strcpy(height, b);
	return true;
}

/* The answers as an air. */
static bool take_air(const struct question *q, struct book_air *air, struct fault *why)
{
	struct {
		int question;
		char *value, *height;
	} pairs[] = {{LOW, air->low, air->low_height},
	             {HIGH, air->high, air->high_height},
	             {ABOVE, air->at, air->at_height},
	             {WIND, air->wind_speed, air->wind_height}};
	snprintf(air->pressure, sizeof air->pressure, "%.23s", q[PRESSURE].text);
	snprintf(air->water, sizeof air->water, "%.23s", q[WATER].text);
	snprintf(air->wind_from, sizeof air->wind_from, "%.7s", q[FROM].text);
	snprintf(air->sky, sizeof air->sky, "%s", q[SKY].text);
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		if (!take_at(&q[pairs[i].question], pairs[i].value, pairs[i].height, why))
			return false;
	return true;
}

static void read_air(struct editor *ed, char *message, size_t size)
{
	struct question questions[AIR_QUESTIONS] = {
	    {"Pressure", "At the place itself, not reduced to the sea; empty: 1013 hPa.", "", 20,
	     "pressure"},
	    {"Low", "The lower thermometer and its height: 15.2@1. Best below the line.", "", 20,
	     "low"},
	    {"High", "The upper one, best above the line: 14.8@6. Shaded and aired both.", "", 20,
	     "high"},
	    {"Water", "The water's surface, by the thermometer dipped into it.", "", 20, "water"},
	    {"Above it", "The same thermometer then held above the water: 15.1@2.", "", 20, "at"},
	    {"Wind", "Wind there, with its height: 3@2.", "", 20, "wind"},
	    {"Wind from", "water or land: on the shore that the wind leaves no mast counts.", "", 7,
	     "wind_from"},
	    {"Sky", "Such as: overcast.", "", 60, "sky"}};
	int cursor = 0;
	struct fault why = {0};
	message[0] = '\0';
	while (ask("The air", questions, AIR_QUESTIONS, &cursor, message)) {
		struct book_air air = {0};
		if (take_air(questions, &air, &why) &&
		    book_air_add(ed->book, ed->run.info.id, &air, &why)) {
			/* What was sealed never moves by itself. */
			snprintf(
			    message, size, "the air is booked%s",
			    ed->terms.sealed
			        ? "; the run is sealed, k stays until you amend it: F11, figures"
			    : *air.wind_from ? ""
			                     : "; say where the wind comes from: it decides "
			                       "whether the mast counts");
			return;
		}
		snprintf(message, size, "%s", why.text);
		cursor = question_at(questions, AIR_QUESTIONS, &why, cursor);
	}
	message[0] = '\0';
}

static void list_airs(const struct book_air *list, size_t count, struct rows *rows)
{
	for (size_t i = 0; i < count; i++) {
		const struct book_air *a = &list[i];
		size_t used;
		/* month, day and time: a run is of one year */
		snprintf(rows->name[i], ROW_BYTES, "%.11s",
		         strlen(a->time) > 16 ? a->time + 5 : a->time);
		snprintf(rows->text[i], ROW_BYTES, "%s", *a->struck ? "x " : "");
		used = strlen(rows->text[i]);
		report_air_text(a, rows->text[i] + used, ROW_BYTES - used);
		rows->line[i].detail = rows->text[i];
	}
}

void view_airs(struct editor *ed)
{
	char message[640] = "";
	size_t at = 0;
	int key = 0;
	while (key != TERM_KEY_ESCAPE) {
		struct book_air *list;
		struct rows rows = {0};
		struct fault why = {0};
		size_t count;
		if (!book_airs(ed->book, ed->run.info.id, &list, &count, &why) ||
		    !rows_open(&rows, count)) {
			rows_close(&rows);
			free(list);
			return;
		}
		list_airs(list, count, &rows);
		if (count == 0 && !*message)
			strcpy(message, "no air was booked yet: n books it");
		key = list_choose("The air of this run", rows.line, count, &at, "ns",
		                  " Up Down choose  n new  s strike  Esc turn back", message);
		message[0] = '\0';
		if (key == 'n')
			read_air(ed, message, sizeof message);
		else if (key == 's' && count && *list[at].struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && count)
			strike(ed, "Strike an air", list[at].id, book_air_strike, message,
			       sizeof message);
		rows_close(&rows);
		free(list);
	}
}
