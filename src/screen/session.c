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

/* All of it, or none: what is shown stays until the new is whole. */
static bool read_book(struct editor *ed, int64_t id, struct fault *why)
{
	struct book_settings settings;
	struct book_mark *marks = NULL;
	struct book_run run;
	struct book_terms terms;
	struct book_water *waters;
	struct book_rod *rods = NULL;
	size_t rod_count;
	struct work_tested tested;
	struct work_times times;
	struct book_draft far = {0};
	bool has_far;
	char last_instrument[LEVEL_NAME_BYTES];
	size_t count, water_count;
	if (!book_settings(ed->book, &settings, why) ||
	    !book_marks(ed->book, &marks, &count, why) || !book_load(ed->book, id, &run, why)) {
		free(marks);
		return false;
	}
	if (!book_run_terms(ed->book, &run, &terms, why) ||
	    !work_tested(ed->book, &run, &settings.tolerance, &tested, why) ||
	    !work_times(ed->book, &run, &times, why) ||
	    !work_far_sight(ed->book, &run, &settings.style, &far, &has_far, why) ||
	    !book_last_instrument(ed->book, last_instrument, why) ||
	    !book_rods(ed->book, &rods, &rod_count, why) ||
	    !book_waters(ed->book, id, &waters, &water_count, why)) {
		free(rods);
		free(marks);
		book_run_free(&run);
		return false;
	}
	free(ed->marks);
	book_run_free(&ed->run);
	ed->settings = settings;
	ed->marks = marks;
	ed->mark_count = count;
	ed->run = run;
	ed->terms = terms;
	ed->tested = tested;
	ed->times = times;
	ed->far = far;
	ed->has_far = has_far;
	strcpy(ed->last_instrument, ed->has_chosen_level ? ed->chosen_level : last_instrument);
	free(ed->rods);
	ed->rods = rods;
	ed->rod_count = rod_count;
	free(ed->waters);
	ed->waters = waters;
	ed->water_count = water_count;
	return true;
}

bool editor_load(struct editor *ed, int64_t run, struct fault *why)
{
	struct book_draft saved[2];
	int64_t before = ed->run.info.id;
	size_t at;
	if (!book_draft_load(ed->book, run, saved, why) || !read_book(ed, run, why))
		return false;
	if (run != before) {
		ed->wanted[0] = '\0';
		ed->emptied.draft.used = false;
	}
	ed->asked[0] = '\0';
	ed->has_found = false;
	look_use(ed->settings.look);
	ed->draft_on_disk = saved[0].used || saved[1].used;
	ed->draft_unsaved = false;
	for (int i = 0; i < 2; i++)
		work_draft_carry(&saved[i], &ed->settings.style);
	ed->slot[0] = saved[0];
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
