/* Everything about a crossing beside its sights, in one list. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/repeat.h"
#include "screen/editor.h"
#include "screen/view/views.h"

enum part {
	PART_PLAN,
	PART_INSTRUMENT,
	PART_ROD,
	PART_WATER,
	PART_AIR,
	PART_FIGURES,
	PART_DROP,
	PART_DROPS,
	PART_GAUGES,
	PART_SETOUTS,
	PARTS
};

#define LINE_BYTES 700

static void plan_state(const struct editor *ed, char *text)
{
	snprintf(text, LINE_BYTES, "%s", *ed->run.info.plan ? ed->run.info.plan : "none");
}

static void instrument_state(const struct editor *ed, char *text)
{
	const char *name = ed->slot[0].instrument;
	char tolerance[BOOK_VALUE_BYTES], typed[2][BOOK_VALUE_BYTES], words[REPORT_TILT_BYTES];
	char figure[LEVEL_NAME_BYTES + 20];
	double tilt, u;
	char late[REPORT_TESTED_BYTES];
	bool tested;
	snprintf(figure, sizeof figure, "instrument%s%s", *name ? " " : "", name);
	book_figure(&ed->terms.figures, figure, tolerance);
	snprintf(figure, sizeof figure, "tilt %s", name);
	tested = book_figure(&ed->terms.figures, figure, typed[0]);
	snprintf(figure, sizeof figure, "tilt_u %s", name);
	tested = tested && book_figure(&ed->terms.figures, figure, typed[1]) &&
	         level_parse_tilt(typed[0], &tilt, NULL) && level_parse_tilt(typed[1], &u, NULL);
	if (!tested && strcmp(ed->tested.late, name) == 0 && *report_late_test(late, &ed->tested)) {
		snprintf(text, LINE_BYTES, "%s", late);
		return;
	}
	snprintf(text, LINE_BYTES, "%s, %s%s%s", *name ? name : "the unnamed level", tolerance,
	         tested ? "; tested, " : "; not tested", tested ? report_tilt(words, tilt, u) : "");
}

/* Each station with its count and mean. */
static void water_state(const struct editor *ed, char *text)
{
	char mean[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	for (size_t i = 0; i < ed->water_count; i++) {
		struct level_sight sight = {0};
		bool seen = *ed->waters[i].struck != 0;
		for (size_t j = 0; j < i && !seen; j++)
			seen = !*ed->waters[j].struck &&
			       strcmp(ed->waters[j].station, ed->waters[i].station) == 0;
		if (seen)
			continue;
		strcpy(sight.station, ed->waters[i].station);
		book_water_mean(ed->waters, ed->water_count, &sight);
		level_format_length(mean, sight.water, &ed->settings.style, false);
		snprintf(text + strlen(text), LINE_BYTES - strlen(text), "%s%s %s (%d)",
		         *text ? ", " : "", sight.station, mean, sight.water_count);
	}
	if (!*text)
		strcpy(text, "none read");
}

static void air_state(struct editor *ed, char *text)
{
	struct book_air *list;
	struct fault why = {0};
	size_t count, live = 0;
	if (!book_airs(ed->book, ed->run.info.id, &list, &count, &why)) {
		snprintf(text, LINE_BYTES, "%s", why.text);
		return;
	}
	for (size_t i = 0; i < count; i++)
		live += *list[i].struck == 0;
	snprintf(text, LINE_BYTES, live ? "booked %zu times" : "not booked", live);
	if (live == 1)
		strcpy(text, "booked once");
	free(list);
}

static void figures_state(const struct editor *ed, char *text)
{
	char seal[200], k[300];
	if (ed->run.run.kind != LEVEL_CROSSING) {
		snprintf(text, LINE_BYTES, "of crossings only");
		return;
	}
	drop_seal(ed, seal, sizeof seal);
	drop_k(ed, k, sizeof k);
	snprintf(text, LINE_BYTES, "%s; %s", seal, k);
}

static void drop_state(const struct work_run *run, char *text)
{
	char words[600];
	if (!report_no_drop(run, words, sizeof words) && run->closing.finding.none)
		report_no_answer(&run->closing, words, sizeof words);
	else if (!*words)
		snprintf(words, sizeof words, "%s%s",
		         level_answer_short(run->closing.finding.answer),
		         run->closing.finding.narrow ? ", narrowly" : "");
	snprintf(text, LINE_BYTES, "%s", words);
}

static void gauge_state(const struct work_run *run, char *text)
{
	size_t live = 0;
	for (size_t i = 0; i < run->gauge_count; i++)
		live += !*run->gauges[i].gauge.struck;
	snprintf(text, LINE_BYTES, live ? "%zu read" : "none read", live);
}

static void setout_state(const struct work_run *run, char *text)
{
	size_t live = 0, found = 0;
	for (size_t i = 0; i < run->setout_count; i++) {
		live += !*run->setouts[i].setout.struck;
		found += run->setouts[i].has_set;
	}
	snprintf(text, LINE_BYTES, live ? "%zu, a sight has found %zu" : "none", live, found);
}

/* Prints a paper into memory and shows it. */
static void show_paper(struct editor *ed, bool together, char *message, size_t size)
{
	struct work_run run;
	struct fault why = {0};
	char *text = NULL, title[LEVEL_NAME_BYTES + 40];
	size_t used = 0;
	FILE *out = open_memstream(&text, &used);
	bool ok = out != NULL;
	if (ok && together) {
		ok = report_drops(out, ed->book, NULL, 0, REPORT_AS_TEXT, &why);
	} else if (ok) {
		ok = work_run_load(ed->book, ed->run.info.name, NULL, &run, &why);
		if (ok) {
			ok = report_drop(out, ed->book, &run, false, &why);
			work_run_free(&run);
		}
	}
	if (out)
		fclose(out);
	snprintf(title, sizeof title, together ? "The crossings of this book" : "The drop of %s",
	         ed->run.info.name);
	if (ok)
		view_text(title, text);
	else
		snprintf(message, size, "%s", why.text);
	free(text);
}

static void choose_plan(struct editor *ed, char *message, size_t size)
{
	char picked[LEVEL_NAME_BYTES];
	struct fault why = {0};
	if (!view_plans(ed->book, editor_slot(ed)->instrument, picked))
		return;
	if (book_run_set_plan(ed->book, ed->run.info.id, picked, &why))
		snprintf(message, size, "this run goes by the plan %s", picked);
	else
		snprintf(message, size, "%s", why.text);
}

static void choose_instrument(struct editor *ed, char *message, size_t size)
{
	char picked[LEVEL_NAME_BYTES];
	if (!view_instruments(ed->book, ed->slot[0].instrument, picked))
		return;
	editor_instrument(ed, picked);
	editor_save_draft(ed);
	snprintf(message, size, "%s", ed->message);
}

static void choose_rod(struct editor *ed, char *message, size_t size)
{
	char picked[LEVEL_NAME_BYTES];
	if (!view_rods(ed->book, picked))
		return;
	editor_rod(ed, picked);
	editor_save_draft(ed);
	snprintf(message, size, "%s", ed->message);
}

static void state_all(struct editor *ed, char text[PARTS][LINE_BYTES])
{
	struct work_run run;
	struct fault why = {0};
	plan_state(ed, text[PART_PLAN]);
	instrument_state(ed, text[PART_INSTRUMENT]);
	snprintf(text[PART_ROD], LINE_BYTES, "%s",
	         *ed->slot[0].rod ? ed->slot[0].rod : "without a name, taken as true");
	water_state(ed, text[PART_WATER]);
	air_state(ed, text[PART_AIR]);
	figures_state(ed, text[PART_FIGURES]);
	if (work_run_load(ed->book, ed->run.info.name, NULL, &run, &why)) {
		drop_state(&run, text[PART_DROP]);
		gauge_state(&run, text[PART_GAUGES]);
		setout_state(&run, text[PART_SETOUTS]);
		work_run_free(&run);
	} else {
		snprintf(text[PART_DROP], LINE_BYTES, "%s", why.text);
		strcpy(text[PART_GAUGES], text[PART_DROP]);
		strcpy(text[PART_SETOUTS], text[PART_DROP]);
	}
	strcpy(text[PART_DROPS], "all crossings of this book that say something");
}

/* Begins the same long sight at another hour, under a name that is asked. Whether it did. */
static bool repeat(struct editor *ed, char *message, size_t size)
{
	struct question name = {"Name", "The run of the same long sight at another hour.", "",
	                        LEVEL_NAME_CHARS, "name"};
	char proposed[LEVEL_NAME_BYTES];
	struct book_run_info next;
	struct fault why = {0};
	message[0] = '\0';
	if (!work_repeat_name(ed->book, ed->run.info.name, proposed, &why)) {
		snprintf(message, size, "%s", why.text);
		return false;
	}
	snprintf(name.text, sizeof name.text, "%s", proposed);
	while (ask("Repeat the long sight", &name, 1, NULL, message)) {
		if (work_repeat(ed->book, ed->run.info.name, name.text, &next, &why) &&
		    editor_load(ed, next.id, &why)) {
			clearok(stdscr, TRUE);
			editor_say(ed,
			           "%s repeats the long sight: its water and air (F11), then both "
			           "sights again",
			           next.name);
			return true;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
	return false;
}

void view_crossing(struct editor *ed)
{
	static const char *const names[PARTS] = {"plan",   "instrument", "rod",  "water",
	                                         "air",    "figures",    "drop", "together",
	                                         "gauges", "set-outs"};
	static const char *const details[PARTS] = {
	    " What the long sight could show, thought through beforehand.",
	    " Which level the sights to come are read with.",
	    " Which rod stands on the mark: its known errors are taken off.",
	    " How far the end stations stand above the water: ten readings over minutes.",
	    " Pressure, two thermometers, water, wind, sky: k follows.",
	    " What prediction and allowance are made of. The first long sight seals it.",
	    " What the drop of this run says, with everything it hangs on.",
	    " Other days, other distances, both shores: weighted with what they share.",
	    " What a gauge showed by its own scale, against what the run found there.",
	    " Elevations that stations were to have, and how they stand."};
	char text[PARTS][LINE_BYTES], message[640] = "", title[LEVEL_NAME_BYTES + 20];
	struct list_line lines[PARTS];
	bool may_seal, is_crossing;
	size_t at = 0;
	int key = 0;
	snprintf(title, sizeof title, "The %s %s",
	         ed->run.info.kind == LEVEL_OPEN ? "open run"
	                                         : level_run_kind_name(ed->run.info.kind),
	         ed->run.info.name);
	while (key != TERM_KEY_ESCAPE) {
		struct fault why = {0};
		if (!editor_load(ed, ed->run.info.id, &why))
			snprintf(message, sizeof message, "%s", why.text);
		state_all(ed, text);
		is_crossing = ed->run.info.kind == LEVEL_CROSSING;
		may_seal = is_crossing && !ed->terms.sealed;
		for (int i = 0; i < PARTS; i++)
			lines[i] = (struct list_line){names[i], text[i], details[i]};
		key = list_choose(title, lines, PARTS, &at,
		                  may_seal      ? "rs"
		                  : is_crossing ? "r"
		                                : "",
		                  may_seal ? " Up Down choose  Enter open  s seal  r repeat  Esc "
		                             "back to the page"
		                  : is_crossing
		                      ? " Up Down choose  Enter open  r repeat  Esc back to "
		                        "the page"
		                      : " Up Down choose  Enter open  Esc back to the page",
		                  message);
		message[0] = '\0';
		if (key == 's')
			view_seal(ed, message, sizeof message);
		if (key == 'r' && repeat(ed, message, sizeof message))
			return;
		if (key != KEY_ENTER)
			continue;
		if (at == PART_PLAN)
			choose_plan(ed, message, sizeof message);
		else if (at == PART_INSTRUMENT)
			choose_instrument(ed, message, sizeof message);
		else if (at == PART_ROD)
			choose_rod(ed, message, sizeof message);
		else if (at == PART_WATER)
			view_waters(ed);
		else if (at == PART_AIR)
			view_airs(ed);
		else if (at == PART_GAUGES)
			view_gauges(ed);
		else if (at == PART_SETOUTS)
			view_setouts(ed);
		else if (at == PART_FIGURES)
			view_figures(ed);
		else
			show_paper(ed, at == PART_DROPS, message, sizeof message);
	}
}
