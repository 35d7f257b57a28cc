/* From row to row. */
#include "screen/editor.h"

void editor_move(struct editor *ed, long rows)
{
	long last = (long)ed->work.count - 1, to;
	size_t booked;
	if (!editor_may_turn(ed))
		return;
	to = (long)ed->at + rows;
	to = to < 0 ? 0 : to > last ? last : to;
	if (to == (long)ed->at)
		return;
	booked = editor_booked(ed, (size_t)to);
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
