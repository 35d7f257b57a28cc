/* Water readings and air of a run, and the instruments of the book. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/views.h"

#define LINE_BYTES 700

/* Texts of a list, as many as there are rows. */
struct rows {
	struct list_line *line;
	char (*name)[LINE_BYTES], (*text)[LINE_BYTES];
};

static bool rows_open(struct rows *rows, size_t count)
{
	rows->line = calloc(count + 1, sizeof *rows->line);
	rows->name = calloc(count + 1, sizeof *rows->name);
	rows->text = calloc(count + 1, sizeof *rows->text);
	for (size_t i = 0; rows->line && rows->name && rows->text && i < count; i++)
		rows->line[i] = (struct list_line){rows->name[i], rows->text[i], NULL};
	return rows->line && rows->name && rows->text;
}

static void rows_close(struct rows *rows)
{
	free(rows->line);
	free(rows->name);
	free(rows->text);
	*rows = (struct rows){0};
}

static bool ask_reason(const char *what, char reason[LEVEL_REMARK_BYTES])
{
	struct question question = {"Reason", "Why it is struck; it stays legible.", "",
	                            LEVEL_REMARK_CHARS};
	if (!ask(what, &question, 1, ""))
		return false;
	snprintf(reason, LEVEL_REMARK_BYTES, "%.480s", question.text);
	return true;
}

/* --- water --- */

/* One reading after the other at one station, until an empty one. */
static void read_water(struct editor *ed, const char *proposed, char *message, size_t size)
{
	struct question questions[] = {
	    {"Reading", "Water up to the mark; 0 where the rod stands on the water. Esc ends.", "",
	     40},
	    {"Station", "The end station whose height above the water is read.", "",
	     LEVEL_STATION_CHARS},
	    {"Remark", "Such as: stilled in a pipe.", "", LEVEL_REMARK_CHARS}};
	struct fault why = {0};
	snprintf(questions[1].text, sizeof questions[1].text, "%s", proposed);
	message[0] = '\0';
	while (ask("A water reading", questions, 3, message)) {
		if (book_water_add(ed->book, ed->run.info.id, questions[1].text, questions[0].text,
		                   "", questions[2].text, &why)) {
			struct level_sight sight = {0};
			struct book_water *list;
			size_t count;
			char mean[LEVEL_LENGTH_BYTES];
			if (!book_waters(ed->book, ed->run.info.id, &list, &count, &why))
				return;
			snprintf(sight.station, sizeof sight.station, "%.160s", questions[1].text);
			book_water_mean(list, count, &sight);
			free(list);
			snprintf(
			    message, size, "booked: %s; %d at %.60s, mean %s. The next, or Esc",
			    questions[0].text, sight.water_count, sight.station,
			    level_format_length(mean, sight.water, &ed->settings.style, false));
			questions[0].text[0] = '\0';
		} else {
			snprintf(message, size, "%s", why.text);
		}
	}
	message[0] = '\0';
}

static void list_waters(const struct editor *ed, const struct book_water *list, size_t count,
                        struct rows *rows)
{
	char reading[LEVEL_LENGTH_BYTES];
	for (size_t i = 0; i < count; i++) {
		snprintf(rows->name[i], LINE_BYTES, "%s", list[i].station);
		snprintf(rows->text[i], LINE_BYTES, "%12s  %.16s  %s%s%s",
		         level_format_length(reading, list[i].reading, &ed->settings.style, false),
		         list[i].time, *list[i].struck ? "x struck: " : "", list[i].why,
		         list[i].remark);
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
	return count ? list[count - 1].station : "";
}

void view_waters(struct editor *ed)
{
	char message[640] = "", reason[LEVEL_REMARK_BYTES];
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
		else if (key == 's' && count && ask_reason("Strike a water reading", reason))
			snprintf(
			    message, sizeof message, "%s",
			    book_water_strike(ed->book, ed->run.info.id, list[at].id, reason, &why)
			        ? "struck; it stays in the list"
			        : why.text);
		rows_close(&rows);
		free(list);
	}
}

/* --- air --- */

static void read_air(struct editor *ed, char *message, size_t size)
{
	struct question questions[] = {
	    {"Pressure", "hPa at the place itself, not reduced to the sea.", "", 20},
	    {"Low", "Temperature of the lower thermometer, degrees C, in the shade.", "", 20},
	    {"at height", "Its height above the water or ground.", "", 40},
	    {"High", "Temperature of the upper thermometer, degrees C.", "", 20},
	    {"at height", "Its height; 10 m apart tell something, 1 m nearly nothing.", "", 40},
	    {"Water", "Temperature of the water, degrees C.", "", 20},
	    {"Wind", "Such as: light, from the north-west.", "", 60},
	    {"Sky", "Such as: overcast.", "", 60}};
	struct fault why = {0};
	message[0] = '\0';
	while (ask("The air", questions, 8, message)) {
		struct book_air air = {0};
		snprintf(air.pressure, sizeof air.pressure, "%.23s", questions[0].text);
		snprintf(air.low, sizeof air.low, "%.23s", questions[1].text);
		snprintf(air.low_height, sizeof air.low_height, "%.60s", questions[2].text);
		snprintf(air.high, sizeof air.high, "%.23s", questions[3].text);
		snprintf(air.high_height, sizeof air.high_height, "%.60s", questions[4].text);
		snprintf(air.water, sizeof air.water, "%.23s", questions[5].text);
		snprintf(air.wind, sizeof air.wind, "%s", questions[6].text);
		snprintf(air.sky, sizeof air.sky, "%s", questions[7].text);
		if (book_air_add(ed->book, ed->run.info.id, &air, &why)) {
			strcpy(message, "the air is booked");
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

static void list_airs(const struct book_air *list, size_t count, struct rows *rows)
{
	for (size_t i = 0; i < count; i++) {
		const struct book_air *a = &list[i];
		char k[60] = "no k: pressure and two thermometers make one";
		if (a->has_k)
			snprintf(k, sizeof k, "k %.3f, u %.3f", a->k, a->u);
		snprintf(rows->name[i], LINE_BYTES, "%.16s", a->time);
		snprintf(rows->text[i], LINE_BYTES, "%s%s  %s hPa  %s, %s C  water %s  %s  %s",
		         *a->struck ? "x struck  " : "", k, *a->pressure ? a->pressure : "-",
		         *a->low ? a->low : "-", *a->high ? a->high : "-",
		         *a->water ? a->water : "-", a->wind, a->sky);
	}
}

void view_airs(struct editor *ed)
{
	char message[640] = "", reason[LEVEL_REMARK_BYTES];
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
		else if (key == 's' && count && ask_reason("Strike an air", reason))
			snprintf(
			    message, sizeof message, "%s",
			    book_air_strike(ed->book, ed->run.info.id, list[at].id, reason, &why)
			        ? "struck; it stays in the list"
			        : why.text);
		rows_close(&rows);
		free(list);
	}
}

/* --- instruments --- */

static void ask_instrument(struct book *book, const struct book_instrument *old, char *message,
                           size_t size)
{
	struct question questions[] = {
	    {"Name", "A name for this level as it is adjusted now.", "", LEVEL_NAME_CHARS},
	    {"Tolerance", "The tilt it may have: 1/16 in in 300 ft, 0.1 mm/m, 5 arcsec.", "", 50},
	    {"Tilt", "Tilt found by pegs, + upward, as 0.02 mm/m; empty: not tested.", "", 50},
	    {"Uncertainty", "Its standard uncertainty, from repeated sets.", "", 50},
	    {"Remark", "", "", LEVEL_REMARK_CHARS}};
	struct fault why = {0};
	if (old) {
		strcpy(questions[0].text, old->name);
		strcpy(questions[1].text, old->tolerance);
		strcpy(questions[2].text, old->tilt);
		strcpy(questions[3].text, old->tilt_u);
		strcpy(questions[4].text, old->remark);
	}
	message[0] = '\0';
	while (ask("An instrument", questions, 5, message)) {
		struct book_instrument i = {0};
		snprintf(i.name, sizeof i.name, "%.160s", questions[0].text);
		snprintf(i.tolerance, sizeof i.tolerance, "%.60s", questions[1].text);
		snprintf(i.tilt, sizeof i.tilt, "%.60s", questions[2].text);
		snprintf(i.tilt_u, sizeof i.tilt_u, "%.60s", questions[3].text);
		snprintf(i.remark, sizeof i.remark, "%.480s", questions[4].text);
		if (book_instrument_set(book, &i, &why)) {
			snprintf(message, size, "%s is in the book", i.name);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

/* The peg tests of an instrument, or of all. */
static void show_history(struct book *book, const char *instrument)
{
	struct book_pegtest *tests;
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0, count;
	FILE *out = open_memstream(&text, &used);
	if (!out || !book_pegtests(book, instrument, &tests, &count, &why)) {
		if (out)
			fclose(out);
		free(text);
		return;
	}
	if (count == 0)
		fprintf(out, "no peg test was kept yet\n");
	for (size_t i = 0; i < count; i++)
		fprintf(out, "%.16s  %s  tilt %s +- %s\n  %s\n", tests[i].time, tests[i].instrument,
		        tests[i].tilt, tests[i].tilt_u, tests[i].standings);
	fclose(out);
	free(tests);
	view_text("Peg tests", text);
	free(text);
}

bool view_instruments(struct book *book, char picked[LEVEL_NAME_BYTES])
{
	char message[640] = "";
	size_t at = 0;
	bool done = false;
	int key = 0;
	picked[0] = '\0';
	while (!done && key != TERM_KEY_ESCAPE) {
		struct book_instrument *list;
		struct rows rows = {0};
		struct fault why = {0};
		size_t count;
		if (!book_instruments(book, &list, &count, &why) || !rows_open(&rows, count + 1)) {
			rows_close(&rows);
			free(list);
			return false;
		}
		strcpy(rows.name[0], "-");
		strcpy(rows.text[0], "the unnamed level, with the tolerance of the settings");
		for (size_t i = 0; i < count; i++) {
			snprintf(rows.name[i + 1], LINE_BYTES, "%s", list[i].name);
			snprintf(rows.text[i + 1], LINE_BYTES, "tolerance %s%s%s%s%s  %s",
			         list[i].tolerance, *list[i].tilt ? ", tilt " : "", list[i].tilt,
			         *list[i].tilt ? " +- " : "", list[i].tilt_u, list[i].remark);
		}
		key = list_choose(
		    "The instrument of the sights to come", rows.line, count + 1, &at, "ncph",
		    " Enter take  n new  c change  p peg test  h history  Esc turn back", message);
		message[0] = '\0';
		if (key == 'n' || (key == 'c' && at > 0)) {
			ask_instrument(book, key == 'c' ? &list[at - 1] : NULL, message,
			               sizeof message);
		} else if (key == 'p' && at > 0) {
			view_pegtest(book, list[at - 1].name, message, sizeof message);
		} else if (key == 'h') {
			show_history(book, at > 0 ? list[at - 1].name : NULL);
		} else if (key == 'p') {
			strcpy(message, "give the level a name first: n");
		} else if (key == KEY_ENTER) {
			if (at > 0)
				strcpy(picked, list[at - 1].name);
			done = true;
		}
		rows_close(&rows);
		free(list);
	}
	return done;
}
