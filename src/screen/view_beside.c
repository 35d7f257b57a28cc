/* What is booked beside a sight: its place along a line, and photographs of it. */
#include <string.h>

#include "rodbook/along.h"
#include "screen/editor.h"
#include "screen/views.h"

bool view_beside(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	struct question questions[] = {
	    {"Along the line",
	     "distance from the start of the line that a profile is measured on: 87.5, 0+050, "
	     "12+50; empty for none",
	     "", BOOK_ALONG_CHARS},
	    {"Photographs", "file names, parted by blanks: the papers name them beside the sight",
	     "", LEVEL_REMARK_CHARS},
	};
	struct fault why = {0};
	level_nm along;
	char message[700] = "";
	if (ed->target == TARGET_CHANGE && !level_counted(&ed->run.run.sight[ed->at])) {
		editor_say(ed, "a struck sight stays as it is");
		return false;
	}
	strcpy(questions[0].text, slot->along);
	strcpy(questions[1].text, slot->photo);
	while (ask("Beside this sight", questions, 2, message)) {
		if (*questions[0].text &&
		    !level_parse_along(questions[0].text, ed->settings.style.unit, &along, &why)) {
			snprintf(message, sizeof message, "%s", why.text);
			continue;
		}
		if (strcmp(slot->along, questions[0].text) == 0 &&
		    strcmp(slot->photo, questions[1].text) == 0)
			return false;
		snprintf(slot->along, sizeof slot->along, "%.63s", questions[0].text);
		snprintf(slot->photo, sizeof slot->photo, "%.483s", questions[1].text);
		return true;
	}
	return false;
}
