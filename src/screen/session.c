/* From the book to the editor and back: the run, the marks, the settings, what is half typed. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/along.h"
#include "rodbook/book/closings.h"
#include "rodbook/level/set.h"
#include "rodbook/work/repeat.h"
#include "screen/editor.h"

void editor_fail(struct editor *ed, const char *why)
{
	ed->leaving = true;
	fault_say(&ed->trouble, FAULT_FILE, "%s; what is booked is on disk", why);
}

bool editor_save_draft(struct editor *ed)
{
	struct book_draft save[2] = {ed->slot[0], ed->slot[1]};
	struct fault why;

	if (!ed->draft_unsaved || book_read_only(ed->book))
		return true;
	save[1].used = ed->target != TARGET_NEW && editor_touched(ed);
	if (!save[0].used && !save[1].used && !ed->draft_on_disk) {
		ed->draft_unsaved = false;
		return true;
	}
	if (!book_draft_save(ed->book, ed->run.info.id, save, &why)) {
		/* Tried again in the next idle moment. */
		ed->unsaved_since = term_milliseconds();
		return false;
	}
	ed->draft_on_disk = save[0].used || save[1].used;
	ed->draft_unsaved = false;
	return true;
}

bool editor_find_target(const struct editor *ed, const struct book_draft *draft, size_t *at)
{
	for (size_t i = 0; i < ed->run.run.count; i++)
		if (ed->run.run.sight[i].id == draft->at) {
			*at = draft->inserts ? i + 1 : i;
			return draft->inserts || level_counted(&ed->run.run.sight[i]);
		}
	*at = 0;
	return draft->inserts && draft->at == 0;
}

/* What hangs on the run, and its marks and settings. */
struct beside {
	struct book_settings settings;
	struct book_mark *marks;
	struct book_terms terms;
	struct book_water *waters;
	struct book_rod *rods;
	size_t mark_count, rod_count, water_count;
	struct work_tested tested;
	struct work_times times;
	struct book_draft far;
	bool has_far;
	char last_instrument[LEVEL_NAME_BYTES];
};

static void free_beside(struct beside *b)
{
	free(b->marks);
	free(b->waters);
	free(b->rods);
}

static bool read_beside(struct book *book, const struct book_run *run, struct beside *b,
                        struct fault *why)
{
	*b = (struct beside){0};
	if (book_settings(book, &b->settings, why) &&
	    book_marks(book, &b->marks, &b->mark_count, why) &&
	    book_run_terms(book, run, &b->terms, why) &&
	    work_tested(book, run, &b->terms, &b->settings.tolerance, &b->tested, why) &&
	    /* Only the pane of a crossing says them. */
	    (run->run.kind != LEVEL_CROSSING || work_times(book, run, &b->terms, &b->times, why)) &&
	    work_far_sight(book, run, &b->settings.style, &b->far, &b->has_far, why) &&
	    book_last_instrument(book, b->last_instrument, why) &&
	    book_rods(book, &b->rods, &b->rod_count, why) &&
	    book_waters(book, run->info.id, &b->waters, &b->water_count, why))
		return true;
	free_beside(b);
	return false;
}

static void take_beside(struct editor *ed, const struct beside *b)
{
	if (!editor_same_bytes(&ed->terms.terms, &b->terms.terms, sizeof b->terms.terms))
		ed->page.count = 0;
	free(ed->marks);
	free(ed->rods);
	free(ed->waters);
	ed->settings = b->settings;
	ed->marks = b->marks;
	ed->mark_count = b->mark_count;
	ed->terms = b->terms;
	ed->waters = b->waters;
	ed->water_count = b->water_count;
	ed->rods = b->rods;
	ed->rod_count = b->rod_count;
	ed->tested = b->tested;
	ed->times = b->times;
	ed->far = b->far;
	ed->has_far = b->has_far;
	strcpy(ed->last_instrument, b->last_instrument);
}

/* Another run: all of it, or none, and what is shown stays until the new is whole. */
static bool read_other(struct editor *ed, int64_t id, struct fault *why)
{
	struct book_run run;
	struct beside beside;
	if (!book_load(ed->book, id, &run, why))
		return false;
	if (!read_beside(ed->book, &run, &beside, why)) {
		book_run_free(&run);
		return false;
	}
	book_run_free(&ed->run);
	ed->run = run;
	ed->filled = 0;
	take_beside(ed, &beside);
	return true;
}

/* The run in hand as it now is. Where what hangs on it cannot be read, its rows are shown anew with
 * what was read before, and nothing is booked until all can be read. */
static bool read_again(struct editor *ed, struct fault *why)
{
	struct beside beside;
	size_t same;
	if (!book_reload(ed->book, &ed->run, &same, why))
		return false;
	ed->filled = same < ed->filled ? same : ed->filled;
	if (!read_beside(ed->book, &ed->run, &beside, why)) {
		ed->run.seq = 0;
		editor_aim(ed, TARGET_NEW, 0);
		return false;
	}
	take_beside(ed, &beside);
	return true;
}

static bool read_held(struct editor *ed, int64_t id, struct book_draft saved[2], struct fault *why)
{
	return book_draft_load(ed->book, id, saved, why) &&
	       (id == ed->run.info.id ? read_again(ed, why) : read_other(ed, id, why));
}

/* All in one state of the book. */
static bool read_book(struct editor *ed, int64_t id, struct book_draft saved[2], struct fault *why)
{
	bool ok;
	if (!book_hold(ed->book, why))
		return false;
	ok = read_held(ed, id, saved, why);
	book_release(ed->book);
	return ok;
}

bool editor_load(struct editor *ed, int64_t run, struct fault *why)
{
	struct book_draft saved[2];
	int64_t before = ed->run.info.id;
	size_t at;
	if (!read_book(ed, run, saved, why))
		return false;
	if (run != before) {
		ed->wanted[0] = '\0';
		ed->emptied.draft.used = false;
		if (ed->series)
			editor_say(ed, "the series of IS has ended: F6 twice begins one again");
		ed->series = false;
	}
	ed->asked[0] = '\0';
	ed->has_found = ed->alike.found = false;
	look_use(ed->settings.look);
	ed->draft_on_disk = saved[0].used || saved[1].used;
	ed->draft_unsaved = false;
	for (int i = 0; i < 2; i++)
		work_draft_carry(&saved[i], &ed->settings.style);
	ed->slot[0] = saved[0];
	ed->number_asked[0] = '\0';
	ed->slot[1] = (struct book_draft){0};
	editor_aim(ed, TARGET_NEW, 0);
	if (saved[1].used && editor_find_target(ed, &saved[1], &at)) {
		ed->target = saved[1].inserts ? TARGET_INSERT : TARGET_CHANGE;
		editor_aim(ed, ed->target, at);
		editor_restore(ed, &saved[1]);
		if (!ed->entry)
			return true;
	}
	if (book_draft_says(&ed->slot[0]) || ed->target != TARGET_NEW)
		editor_say(ed, "The sight you were typing is back: it is not booked yet.");
	return true;
}

void editor_unload(struct editor *ed)
{
	entry_close(ed->entry);
	ed->entry = NULL;
	level_page_free(&ed->page);
	book_run_free(&ed->run);
	free(ed->work.sight);
	free(ed->marks);
	free(ed->waters);
	free(ed->rods);
	ed->rods = NULL;
	ed->work.sight = NULL;
	ed->marks = NULL;
	ed->waters = NULL;
}
