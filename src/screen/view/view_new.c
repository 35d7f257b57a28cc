/* A book that is not there yet: a few questions, and it is made. */
#include <string.h>

#include "screen/editor.h"
#include "screen/screen.h"
#include "screen/view/views.h"

enum { UNIT, TITLE, MARK, ELEVATION, SOURCE, QUESTIONS };

/* The mark is tried before the book is made: no half answer makes one. */
static bool make(const char *path, const struct question *q, book_clock *clock, int *cursor,
                 struct fault *why)
{
	const char *name = q[MARK].text;
	enum level_unit unit;
	struct book *book;
	level_nm ignored;
	bool ok;
	*cursor = UNIT;
	if (!level_unit_find(q[UNIT].text, &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in");
	*cursor = MARK;
	if (*name && !level_check_name(name, "mark", why))
		return false;
	if (!*name && (*q[ELEVATION].text || *q[SOURCE].text))
		return fault_say(why, FAULT_INPUT,
		                 "what stands below is of the first mark: name it, or empty them");
	*cursor = ELEVATION;
	if (*name && !*q[ELEVATION].text)
		return fault_say(why, FAULT_INPUT,
		                 "a mark to begin at has an elevation: 0 where any will do");
	if (*name && !level_parse_length(q[ELEVATION].text, unit, &ignored, why))
		return false;
	*cursor = TITLE;
	if (!book_create(path, unit, q[TITLE].text, clock, why))
		return false;
	if (!*name)
		return true;
	book = book_open(path, clock, why);
	ok = book && book_mark_set(book, name, q[ELEVATION].text, "", q[SOURCE].text, why);
	book_close(book);
	return ok;
}

bool screen_make(const char *path, book_clock *clock, bool *made, struct fault *why)
{
	struct question questions[QUESTIONS] = {
	    {"Unit", "Of numbers typed without a unit: m, ft, ftin or in. It can be changed later.",
	     "m", 4, "unit"},
	    {"Title", "Such as the place and what is measured; or nothing.", "", LEVEL_REMARK_CHARS,
	     "title"},
	    {"First mark", "Name of the mark to begin at, such as BM1; or nothing.", "",
	     LEVEL_STATION_CHARS, "mark"},
	    {"Elevation", "In the unit above: 29.230; 0 where any will do.", "", 40, "elevation"},
	    {"What it is",
	     "And where its elevation is from: bolt at the sluice, mill plan; or nothing.", "",
	     LEVEL_REMARK_CHARS, "source"}};
	char title[300], message[sizeof why->text] = "";
	int cursor = UNIT;
	*made = false;
	if (!term_begin(why))
		return false;
	snprintf(title, sizeof title, "There is no book %.200s: Enter makes it, Esc leaves", path);
	while (!*made && ask(title, questions, QUESTIONS, &cursor, message)) {
		struct fault refused = {0};
		*made = make(path, questions, clock, &cursor, &refused);
		snprintf(message, sizeof message, "%s", refused.text);
	}
	term_end();
	return true;
}
