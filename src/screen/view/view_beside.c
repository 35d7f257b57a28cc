/* What is booked beside a sight: when it was observed, its place along a line, photographs of it,
 * and what its reading was scaled from. */
#include <string.h>

#include "rodbook/level/along.h"
#include "rodbook/level/scale.h"
#include "rodbook/work/next.h"
#include "screen/editor.h"
#include "screen/view/views.h"

enum { ALONG, PHOTO, SCALED, GRADE, OBSERVED, QUESTIONS };

/* What a scaling makes of the form's reading, "" for none; false says why it cannot be. */
static bool scale(const struct editor *ed, const char *typed, char reading[BOOK_SET_BYTES],
                  char *message, size_t size)
{
	const struct book_draft *slot = &ed->slot[ed->target != TARGET_NEW];
	enum level_unit unit = ed->settings.style.unit;
	char value[LEVEL_SCALED_BYTES], limit[LEVEL_SCALED_BYTES];
	struct level_scaling scaling;
	struct level_scaled scaled;
	struct fault why = {0};
	reading[0] = '\0';
	if (!*typed || strcmp(typed, slot->scaled) == 0)
		return true;
	if (slot->wires || strcmp(slot->kind, "OFF") == 0) {
		snprintf(message, size,
		         "one reading is scaled, not %s: Esc, choose it, then Ctrl-V",
		         slot->wires ? "three wires" : "an offset");
		return false;
	}
	if (!level_parse_scaling(typed, unit, &scaling, &why) ||
	    !level_scale(&scaling, &scaled, &why)) {
		snprintf(message, size, "%s", why.text);
		return false;
	}
	snprintf(reading, BOOK_SET_BYTES, "%s +- %s",
	         level_scaled_text(value, scaled.reading, unit),
	         level_scaled_text(limit, scaled.limit, unit));
	return true;
}

/* Whether time, place and grade can be read, and the grade may be given now; else says why, and *at
 * is the question. */
static bool is_sound(const struct editor *ed, const char *time, const char *along,
                     const char *grade, char *message, size_t size, int *at)
{
	struct fault why = {0};
	struct level_grade read;
	level_nm place;
	char full[BOOK_TIME_BYTES], now[BOOK_TIME_BYTES];
	*at = OBSERVED;
	if (!book_complete_time(ed->book, time, full, now, &why)) {
		snprintf(message, size, "%s", why.text);
		return false;
	}
	*at = ALONG;
	if (*along && !level_parse_along(along, ed->settings.style.unit, &place, &why)) {
		snprintf(message, size, "%s", why.text);
		return false;
	}
	*at = GRADE;
	if (*grade && !level_parse_grade(grade, ed->settings.style.unit, &read, NULL, &why)) {
		snprintf(message, size, "%s", why.text);
		return false;
	}
	if (ed->target != TARGET_NEW && strcmp(grade, ed->run.info.grade) != 0) {
		snprintf(message, size,
		         "the grade is given from the new sight: Esc, and Esc once more, then "
		         "Ctrl-V");
		return false;
	}
	return true;
}

bool view_beside(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	struct question questions[] = {
	    {"Along the line",
	     "distance from the start of the line that a profile is measured on: 87.5, 0+050, "
	     "12+50; empty for none",
	     "", BOOK_ALONG_CHARS, "along"},
	    {"Photographs", "file names, parted by blanks: the papers name them beside the sight",
	     "", LEVEL_REMARK_CHARS, "photo"},
	    {"Scaled from",
	     "two marks at their pixels, the hair, and what a pixel may be off by: 0.5@1204; "
	     "1.0@2310; hair 1650; u 2; it makes the reading; empty for none",
	     "", BOOK_SCALED_CHARS - 1, "scaled"},
	    {"Grade of the run",
	     "design that all its ground is held against: an elevation, or ELEVATION; FROM; "
	     "SLOPE as in 12.345; 0+000; -0.5 %; empty for none",
	     "", LEVEL_GRADE_BYTES - 1, "grade"},
	    QUESTION_TIME,
	};
	char message[700] = "", reading[BOOK_SET_BYTES];
	bool graded, changed;
	int cursor = ALONG;
	strcpy(questions[OBSERVED].text, slot->time);
	strcpy(questions[ALONG].text, slot->along);
	/* Proposed where it is seen, and kept where it is accepted. */
	if (!*slot->along && ed->target != TARGET_CHANGE && strcmp(slot->kind, "IS") == 0)
		work_next_along(&ed->run, ed->at, ed->settings.style.unit, questions[ALONG].text);
	strcpy(questions[PHOTO].text, slot->photo);
	strcpy(questions[SCALED].text, slot->scaled);
	strcpy(questions[GRADE].text, ed->run.info.grade);
	while (ask("Beside this sight", questions, QUESTIONS, &cursor, message)) {
		if (!is_sound(ed, questions[OBSERVED].text, questions[ALONG].text,
		              questions[GRADE].text, message, sizeof message, &cursor))
			continue;
		if (!scale(ed, questions[SCALED].text, reading, message, sizeof message)) {
			cursor = SCALED;
			continue;
		}
		graded = strcmp(questions[GRADE].text, ed->run.info.grade) != 0;
		changed = strcmp(slot->time, questions[OBSERVED].text) != 0 ||
		          strcmp(slot->along, questions[ALONG].text) != 0 ||
		          strcmp(slot->photo, questions[PHOTO].text) != 0 ||
		          strcmp(slot->scaled, questions[SCALED].text) != 0;
		snprintf(slot->time, sizeof slot->time, "%.39s", questions[OBSERVED].text);
		snprintf(slot->along, sizeof slot->along, "%.63s", questions[ALONG].text);
		snprintf(slot->photo, sizeof slot->photo, "%.483s", questions[PHOTO].text);
		snprintf(slot->scaled, sizeof slot->scaled, "%.203s", questions[SCALED].text);
		if (*reading)
			entry_choose(ed->entry, WORK_READING, reading);
		slot->used = slot->used || changed;
		if (graded)
			editor_grade(ed, questions[GRADE].text);
		return changed && !graded;
	}
	return false;
}
