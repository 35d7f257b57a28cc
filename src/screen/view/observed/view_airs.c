/* The air of a run. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

enum { OBSERVED, PRESSURE, LOW, HIGH, WATER, ABOVE, WIND, FROM, SKY, AIR_QUESTIONS };

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
	snprintf(air->time, sizeof air->time, "%.39s", q[OBSERVED].text);
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		if (!take_at(&q[pairs[i].question], pairs[i].value, pairs[i].height, why))
			return false;
	return true;
}

static void read_air(struct editor *ed, char *message, size_t size)
{
	struct question questions[AIR_QUESTIONS] = {
	    QUESTION_TIME,
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
	int cursor = PRESSURE;
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
			ask_strike(ed->book, ed->run.info.id, list[at].id, "Strike an air",
			           book_air_strike, message, sizeof message);
		rows_close(&rows);
		free(list);
	}
}
