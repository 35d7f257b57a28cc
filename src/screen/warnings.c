/* Warnings about the draft while they can still be cured. */
#include "rodbook/work/sight.h"
#include "screen/editor.h"

void editor_warnings(const struct editor *ed, char *words, size_t size,
                     char brief[LEVEL_REMARK_BYTES])
{
	const struct level_sight *sight = &ed->work.sight[ed->at];
	struct level_warned warned;
	struct report_warned about = {.warned = &warned,
	                              .compared = &ed->compared,
	                              .sight = sight,
	                              .setup = ed->page.row[ed->at].setup,
	                              .reading_u = work_reading_u(&ed->terms.terms, sight),
	                              .settings = &ed->settings};
	words[0] = brief[0] = '\0';
	if (sight->state != LEVEL_DRAFT)
		return;
	warned =
	    work_warn(&ed->work, &ed->page, ed->at, &ed->settings, &ed->terms.terms, &ed->compared,
	              work_warn_time(ed->book, &ed->run, ed->at, ed->draft_note.time));
	report_warnings(&about, words, size);
	level_warned_names(&warned, brief);
}
