/* The set-outs of a run: wanted, and as they stand. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

static void list_setouts(const struct work_run *run, struct rows *rows)
{
	char words[4 * LEVEL_LENGTH_BYTES + 100];
	for (size_t i = 0; i < run->setout_count; i++) {
		const struct book_setout *s = &run->setouts[i].setout;
		report_setout_words(&run->setouts[i], &run->settings.style, words, sizeof words);
		snprintf(rows->name[i], ROW_BYTES, "%s", s->station);
		snprintf(rows->text[i], ROW_BYTES, "%s%.330s%s%.120s", *s->struck ? "x " : "",
		         words, *s->why ? "; struck: " : "", s->why);
	}
}

void view_setouts(struct editor *ed)
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
		if (!rows_open(&rows, run.setout_count)) {
			rows_close(&rows);
			work_run_free(&run);
			return;
		}
		list_setouts(&run, &rows);
		if (run.setout_count == 0 && !*message)
			strcpy(message, "nothing was set out yet: F12 wants an elevation, and each "
			                "IS or FS booked then is kept");
		key = list_choose("Set-outs of this run", rows.line, run.setout_count, &at, "s",
		                  " Up Down choose  s strike  Esc turn back", message);
		message[0] = '\0';
		if (key == 's' && run.setout_count && *run.setouts[at].setout.struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && run.setout_count)
			ask_strike(ed->book, ed->run.info.id, run.setouts[at].setout.id,
			           "Strike a set-out", book_setout_strike, message, sizeof message);
		rows_close(&rows);
		work_run_free(&run);
	}
}
