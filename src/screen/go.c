/* From row to row. */
#include "screen/editor.h"

bool editor_shows(const struct editor *ed, size_t i)
{
	return !ed->folded || i == ed->at || ed->work.sight[i].state != LEVEL_STRUCK;
}

size_t editor_row_before(const struct editor *ed, size_t from, size_t rows)
{
	size_t row = from;
	for (size_t i = from; rows > 0 && i-- > 0;)
		if (editor_shows(ed, i)) {
			row = i;
			rows--;
		}
	return row;
}

static size_t row_after(const struct editor *ed, size_t from, size_t rows)
{
	size_t row = from;
	for (size_t i = from + 1; rows > 0 && i < ed->work.count; i++)
		if (editor_shows(ed, i)) {
			row = i;
			rows--;
		}
	return row;
}

void editor_move(struct editor *ed, long rows)
{
	size_t to, booked;
	if (!editor_may_turn(ed))
		return;
	to = rows < 0 ? editor_row_before(ed, ed->at, (size_t)-rows)
	              : row_after(ed, ed->at, (size_t)rows);
	if (to == ed->at)
		return;
	booked = editor_booked(ed, to);
	if (booked == ed->run.run.count)
		editor_aim(ed, TARGET_NEW, 0);
	else
		editor_aim(ed, TARGET_CHANGE, booked);
	ed->message[0] = '\0';
}

void editor_go(struct editor *ed, int64_t sight, const char *said)
{
	if (!editor_may_turn(ed))
		return;
	for (size_t i = 0; i < ed->run.run.count; i++)
		if (ed->run.run.sight[i].id == sight) {
			editor_aim(ed, TARGET_CHANGE, i);
			editor_say(ed, "%s", said);
		}
}
