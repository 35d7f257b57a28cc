/* The instruments of the book, and their peg tests. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

/* The tolerance that the settings give a level without a name, or "". */
static void usual_tolerance(struct book *book, char out[BOOK_VALUE_BYTES])
{
	struct book_setting setting;
	*out = '\0';
	for (size_t i = 0; i < book_setting_count(); i++)
		if (book_setting(book, i, &setting, NULL) &&
		    strcmp(setting.name, "instrument") == 0)
			strcpy(out, setting.value);
}

static void ask_instrument(struct book *book, const struct book_instrument *old, char *message,
                           size_t size)
{
	struct question questions[] = {
	    {"Name",
	     "A name for this level as it is adjusted now.\n"
	     "  Such as its number. After an adjustment give it another name: its tests are\n"
	     "  those of the name.",
	     "", LEVEL_NAME_CHARS, "name"},
	    {"Tolerance",
	     "The tilt it may have, a maker's word: 0.1 mm/m, 1/16 in in 300 ft, 5 arcsec.\n  Not "
	     "the mm for 1 km of double run: that says how readings scatter.",
	     "", 50, "tolerance"},
	    {"Tilt",
	     "Tilt found by a peg test, + upward, such as 0.02 mm/m. Empty: not tested.\n"
	     "  A peg test fills it in: press p in the list of instruments.",
	     "", 50, "tilt"},
	    {"Uncertainty",
	     "Its standard uncertainty, from repeated sets.\n"
	     "  0.01 mm/m. It goes with the tilt: give both, or neither.",
	     "", 50, "tilt_u"},
	    {"Remark", "", "", LEVEL_REMARK_CHARS, "remark"}};
	int cursor = 0;
	struct fault why = {0};
	if (old) {
		strcpy(questions[0].text, old->name);
		strcpy(questions[1].text, old->tolerance);
		strcpy(questions[2].text, old->tilt);
		strcpy(questions[3].text, old->tilt_u);
		strcpy(questions[4].text, old->remark);
	} else {
		usual_tolerance(book, questions[1].text);
	}
	message[0] = '\0';
	while (ask("An instrument", questions, 5, &cursor, message)) {
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
		cursor = question_at(questions, 5, &why, cursor);
	}
	message[0] = '\0';
}

/* The peg tests of an instrument, or of all. */
static void show_history(struct book *book, const char *instrument)
{
	struct book_pegtest *tests;
	struct book_settings settings;
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0, count;
	FILE *out = open_memstream(&text, &used);
	if (!out || !book_settings(book, &settings, &why) ||
	    !book_pegtests(book, instrument, &tests, &count, &why)) {
		if (out)
			fclose(out);
		free(text);
		return;
	}
	if (count == 0)
		fprintf(out, "no peg test was kept yet\n");
	for (size_t i = 0; i < count; i++)
		report_pegtest_kept(out, &tests[i], &settings.terms);
	fclose(out);
	free(tests);
	view_text("Peg tests", text);
	free(text);
}

/* Tolerance as typed, and a tested tilt to what its u carries. */
static void put_figures(const struct book_instrument *i, char text[ROW_BYTES])
{
	char words[REPORT_TILT_BYTES];
	double tilt, u;
	bool tested = *i->tilt && level_parse_tilt(i->tilt, &tilt, NULL) &&
	              level_parse_tilt(i->tilt_u, &u, NULL);
	snprintf(text, ROW_BYTES, "tolerance %s%s%s", i->tolerance, tested ? ", " : "",
	         tested ? report_tilt(words, tilt, u) : "");
}

static const char bar[] =
    " Enter take  n new  c change  p peg  f field test  h history  Esc back\n"
    "  Enter          the sights to come are read with this level\n"
    "  n              names another level\n"
    "  c              changes its tolerance, its tilt or its remark\n"
    "  p              tests it by two pegs: its tilt follows\n"
    "  f              tests it by pairs of readings: how well it reads follows\n"
    "  h              shows the peg tests that were kept\n"
    "  Esc            turns back";

bool view_instruments(struct book *book, const char *now, char picked[LEVEL_NAME_BYTES])
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
		/* A new one stands at the end. */
		at = at > count ? count : at;
		strcpy(rows.name[0], "-");
		strcpy(rows.text[0], "the unnamed level, with the tolerance of the settings");
		for (size_t i = 0; i < count; i++) {
			snprintf(rows.name[i + 1], ROW_BYTES, "%s", list[i].name);
			put_figures(&list[i], rows.text[i + 1]);
			rows.line[i + 1].detail = *list[i].remark ? list[i].remark : NULL;
			if (key == 0 && strcmp(list[i].name, now) == 0)
				at = i + 1;
		}
		key = list_choose("The instrument of the sights to come", rows.line, count + 1, &at,
		                  "ncphf", bar, message);
		message[0] = '\0';
		if (key == 'n' || (key == 'c' && at > 0)) {
			ask_instrument(book, key == 'c' ? &list[at - 1] : NULL, message,
			               sizeof message);
			at = key == 'n' ? SIZE_MAX : at;
		} else if (key == 'p' && at > 0) {
			view_pegtest(book, list[at - 1].name, message, sizeof message);
		} else if (key == 'f' && at > 0) {
			view_fieldtests(book, list[at - 1].name);
		} else if (key == 'h') {
			show_history(book, at > 0 ? list[at - 1].name : NULL);
		} else if (key == 'p' || key == 'f') {
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
