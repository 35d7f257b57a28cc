/* The figures that prediction and allowance of a run are made of. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

#define FIGURES_MOST 80

/* Asks for another value of a sealed figure, and why. */
static void amend(struct editor *ed, const char *name, const char *value, char *message,
                  size_t size)
{
	int cursor = 0;
	struct question questions[] = {
	    {"Value", "The amended value; the sealed one stays on every statement.", "", 100,
	     "value"},
	    {"Reason", "Why it is amended: every statement shows it.", "", LEVEL_REMARK_CHARS - 10,
	     "reason"}};
	char title[BOOK_VALUE_BYTES + 20];
	snprintf(title, sizeof title, "Amend %s", name);
	snprintf(questions[0].text, sizeof questions[0].text, "%s", value);
	message[0] = '\0';
	while (ask(title, questions, 2, &cursor, message)) {
		struct work_run run;
		struct fault why = {0};
		bool ok = work_run_load(ed->book, ed->run.info.name, NULL, &run, &why);
		if (ok) {
			ok = book_amend(ed->book, &run.book, name, questions[0].text,
			                questions[1].text, &why);
			work_run_free(&run);
		}
		if (ok) {
			snprintf(message, size, "%.60s is amended to %.200s", name,
			         questions[0].text);
			return;
		}
		snprintf(message, size, "%s", why.text);
		cursor = question_at(questions, 2, &why, 0);
	}
	message[0] = '\0';
}

void view_seal(struct editor *ed, char *message, size_t size)
{
	char witness[REPORT_WITNESS_BYTES];
	struct fault why = {0};
	if (book_seal(ed->book, &ed->run, &why))
		snprintf(message, size, "the figures are sealed from now on; %s",
		         report_witness(ed->book, witness));
	else
		snprintf(message, size, "%s", why.text);
}

/* The title and meaning of a figure that is a setting; "" of another one. */
static void detail_of(struct book *book, const char *name, char *text, size_t size)
{
	struct book_setting setting;
	text[0] = '\0';
	for (size_t i = 0; i < book_setting_count(); i++)
		if (book_setting(book, i, &setting, NULL) && strcmp(setting.name, name) == 0)
			snprintf(text, size, " %s: %s", setting.title, setting.what);
}

void view_figures(struct editor *ed)
{
	char(*name)[BOOK_VALUE_BYTES] = calloc(FIGURES_MOST, sizeof *name);
	char(*value)[BOOK_VALUE_BYTES] = calloc(FIGURES_MOST, sizeof *value);
	char(*detail)[BOOK_VALUE_BYTES] = calloc(FIGURES_MOST, sizeof *detail);
	struct list_line *lines = calloc(FIGURES_MOST, sizeof *lines);
	char message[640] = "", title[LEVEL_NAME_BYTES + 160];
	size_t at = 0, count;
	int key = 0;
	while (name && value && detail && lines && key != TERM_KEY_ESCAPE) {
		struct book_terms now;
		struct fault why = {0};
		if (!book_run_terms(ed->book, &ed->run, &now, &why)) {
			snprintf(message, sizeof message, "%s", why.text);
			now = ed->terms;
		}
		if (!*message && book_terms_air_waits(&now) != BOOK_AIR_WAITS_NOT)
			snprintf(message, sizeof message,
			         "k is the default until the %s; then it comes from the air",
			         book_terms_air_waits(&now) == BOOK_AIR_WAITS_FOR_SIGHT
			             ? "long sight stands"
			             : "water is read at its near end");
		snprintf(title, sizeof title, "The figures of %s: %s%s", ed->run.info.name,
		         now.sealed ? "sealed " : "not sealed yet", now.sealed_time);
		for (count = 0; count < FIGURES_MOST &&
		                book_figure_at(&now.figures, count, name[count], value[count]);
		     count++) {
			detail_of(ed->book, name[count], detail[count], sizeof *detail);
			lines[count] = (struct list_line){name[count], value[count], detail[count]};
		}
		key = list_choose(title, lines, count, &at, now.sealed ? "" : "s",
		                  now.sealed ? " Up Down choose  Enter amend  Esc turn back\n"
		                               "  Enter          amends a figure: every paper "
		                               "shows both, and the reason\n"
		                               "  Esc            turns back"
		                             : " Up Down choose  s seal them now  Esc turn back\n"
		                               "  s              seals the figures: from then on a "
		                               "change is an amendment\n"
		                               "  Esc            turns back",
		                  message);
		message[0] = '\0';
		if (key == 's') {
			view_seal(ed, message, sizeof message);
			if (!editor_load(ed, ed->run.info.id, &why))
				snprintf(message, sizeof message, "%s", why.text);
		}
		if (key != KEY_ENTER)
			continue;
		if (now.sealed)
			amend(ed, name[at], value[at], message, sizeof message);
		else
			strcpy(message,
			       "not sealed yet: change the plan, the air or the settings (F4)");
	}
	free(name);
	free(value);
	free(detail);
	free(lines);
}
