/* Taking back: what is half typed first, then what is booked. */
#include <string.h>

#include "screen/editor.h"

static void keep_emptied(struct editor *ed)
{
	ed->emptied.draft = *editor_slot(ed);
	ed->emptied.draft.used = true;
	ed->emptied.target = ed->target;
	ed->draft_unsaved = true;
	ed->unsaved_since = term_milliseconds();
}

/* What was emptied or dropped comes back into the form, in the units that the book has now. */
static void bring_back(struct editor *ed)
{
	struct book_draft draft = ed->emptied.draft;
	size_t at = 0;
	ed->emptied.draft.used = false;
	if (ed->emptied.target != TARGET_NEW && !editor_find_target(ed, &draft, &at)) {
		editor_refuse(ed, "the sight that was being changed does not count any more");
		return;
	}
	work_draft_carry(&draft, &ed->settings.style);
	editor_aim(ed, ed->emptied.target, at);
	editor_restore(ed, &draft);
	ed->draft_unsaved = true;
	ed->unsaved_since = term_milliseconds();
	editor_say(ed, "back: it is not booked yet");
}

/* Whether the new sight has more than what was proposed: also a station alone. */
static bool is_begun(const struct editor *ed)
{
	const struct book_draft *slot = &ed->slot[0];
	struct book_draft proposed;
	if (!slot->used || !*slot->station || ed->target != TARGET_NEW)
		return book_draft_says(slot);
	editor_suggest(ed, &proposed);
	return book_draft_says(slot) || strcmp(slot->station, proposed.station) != 0;
}

void editor_undo(struct editor *ed, bool redo)
{
	char what[160];
	struct fault why = {0};
	if (!redo && ed->target == TARGET_NEW && is_begun(ed)) {
		keep_emptied(ed);
		ed->slot[0] = (struct book_draft){0};
		editor_aim(ed, TARGET_NEW, 0);
		editor_say(ed, "the form is empty; Ctrl-Y brings back what was typed, F9 again "
		               "takes back what was booked");
		return;
	}
	if (!editor_may_turn(ed))
		return;
	if (redo && ed->emptied.draft.used && !is_begun(ed)) {
		bring_back(ed);
		return;
	}
	if (redo ? !book_redo(ed->book, &ed->run, what, &why)
	         : !book_undo(ed->book, &ed->run, what, &why)) {
		editor_refused(ed, &why);
		return;
	}
	ed->emptied.draft.used = false;
	editor_say(ed, redo ? "%s" : "%s; Ctrl-Y brings it back", what);
	editor_reload(ed);
}

void editor_escape(struct editor *ed)
{
	if (ed->target == TARGET_NEW) {
		editor_say(ed, "Ctrl-U empties a field; F10 leaves, and keeps what is typed");
		return;
	}
	if (editor_touched(ed)) {
		keep_emptied(ed);
		editor_say(ed, "dropped, nothing was changed; Ctrl-Y brings it back");
	} else {
		ed->message[0] = '\0';
	}
	ed->slot[1] = (struct book_draft){0};
	ed->draft_unsaved = true;
	ed->unsaved_since = term_milliseconds();
	editor_aim(ed, TARGET_NEW, 0);
}
