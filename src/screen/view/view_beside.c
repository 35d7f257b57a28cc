/* What is booked beside a sight: when it was observed, its place along a line, and photographs of
 * it. */
#include <string.h>

#include "rodbook/level/along.h"
#include "screen/editor.h"
#include "screen/view/views.h"

enum { OBSERVED, ALONG, PHOTO, GRADE, QUESTIONS };

/* Whether place and grade can be read, and the grade may be given now; else says why, and *at is
 * the question. */
static bool is_sound(const struct editor *ed, const char *along, const char *grade, char *message,
                     size_t size, int *at)
{
	struct fault why = {0};
	struct level_grade read;
	level_nm place;
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
	    QUESTION_TIME,
	    {"Along the line",
	     "distance from the start of the line that a profile is measured on: 87.5, 0+050, "
	     "12+50; empty for none",
	     "", BOOK_ALONG_CHARS, "along"},
	    {"Photographs", "file names, parted by blanks: the papers name them beside the sight",
	     "", LEVEL_REMARK_CHARS, "photo"},
	    {"Grade of the run",
	     "design that all its ground is held against: an elevation, or ELEVATION; FROM; "
	     "SLOPE as in 12.345; 0+000; -0.5 %; empty for none",
	     "", LEVEL_GRADE_BYTES - 1, "grade"},
	};
	char message[700] = "";
	bool graded, changed;
	int cursor = ALONG;
	strcpy(questions[OBSERVED].text, slot->time);
	strcpy(questions[ALONG].text, slot->along);
	strcpy(questions[PHOTO].text, slot->photo);
	strcpy(questions[GRADE].text, ed->run.info.grade);
	while (ask("Beside this sight", questions, QUESTIONS, &cursor, message)) {
		if (!is_sound(ed, questions[ALONG].text, questions[GRADE].text, message,
		              sizeof message, &cursor))
			continue;
		graded = strcmp(questions[GRADE].text, ed->run.info.grade) != 0;
		changed = strcmp(slot->time, questions[OBSERVED].text) != 0 ||
		          strcmp(slot->along, questions[ALONG].text) != 0 ||
		          strcmp(slot->photo, questions[PHOTO].text) != 0;
		snprintf(slot->time, sizeof slot->time, "%.39s", questions[OBSERVED].text);
		snprintf(slot->along, sizeof slot->along, "%.63s", questions[ALONG].text);
		snprintf(slot->photo, sizeof slot->photo, "%.483s", questions[PHOTO].text);
		slot->used = slot->used || changed;
		if (graded)
			editor_grade(ed, questions[GRADE].text);
		return changed && !graded;
	}
	return false;
}
