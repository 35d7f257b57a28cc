/* A book that is not there yet: four questions, and it is made. */
#include <string.h>

#include "screen/editor.h"
#include "screen/screen.h"
#include "screen/view/views.h"

enum { UNIT, TITLE, MARK, SOURCE, QUESTIONS };

/* "BM1 29.230" into its two parts, the elevation as much of it as is a length: 57 3/8, 29.230 m;
 * false where there are not two. */
static bool part_mark(const char *text, enum level_unit unit, char name[LEVEL_STATION_BYTES],
                      const char **elevation)
{
	const char *blank = strchr(text, ' ');
	level_nm ignored;
	size_t size;
	while (blank && strchr(blank + 1, ' ') &&
	       !level_parse_length(blank + 1, unit, &ignored, NULL))
		blank = strchr(blank + 1, ' ');
	size = blank ? (size_t)(blank - text) : 0;
	if (!size || size >= LEVEL_STATION_BYTES)
		return false;
	memcpy(name, text, size);
	name[size] = '\0';
	level_trim(name);
	*elevation = blank + 1;
	return *name != '\0';
}

/* The mark is tried before the book is made: no half answer makes one. */
static bool make(const char *path, const struct question *q, book_clock *clock, int *cursor,
                 struct fault *why)
{
	enum level_unit unit;
	char name[LEVEL_STATION_BYTES] = "";
	const char *elevation = "";
	struct book *book;
	level_nm ignored;
	bool ok;
	*cursor = UNIT;
	if (!level_unit_find(q[UNIT].text, &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in");
	*cursor = MARK;
	if (*q[MARK].text && !part_mark(q[MARK].text, unit, name, &elevation))
		return fault_say(
		    why, FAULT_INPUT,
		    "a mark is a name and an elevation: BM1 29.230; or leave it empty");
	if (*name && (!level_check_name(name, "mark", why) ||
	              !level_parse_length(elevation, unit, &ignored, why)))
		return false;
	if (!*name && *q[SOURCE].text)
		return fault_say(
		    why, FAULT_INPUT,
		    "this describes the first mark, which has no name yet: name it, or "
		    "empty this");
	*cursor = TITLE;
	if (!book_create(path, unit, q[TITLE].text, clock, why))
		return false;
	if (!*name)
		return true;
	book = book_open(path, clock, why);
	ok = book && book_mark_set(book, name, elevation, "", q[SOURCE].text, why);
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
	    {"First mark", "Name and elevation of the mark to begin at: BM1 29.230; or nothing.",
	     "", LEVEL_STATION_CHARS + 20, "mark"},
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
