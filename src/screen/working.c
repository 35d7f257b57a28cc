/* The working run: the booked sights with the draft among them. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/sight.h"
#include "screen/editor.h"

void editor_find_known(const struct editor *ed, struct level_sight *sight)
{
	work_find_known(ed->marks, ed->mark_count, sight);
	book_water_mean(ed->waters, ed->water_count, sight);
}

bool editor_same_bytes(const void *a, const void *b, size_t size)
{
	return memcmp(a, b, size) == 0;
}

/* The page stands as far as the rows of work are what they were. */
static void stands_to(struct editor *ed, size_t row)
{
	if (ed->page.count > row)
		ed->page.count = row;
}

static void put_row(struct editor *ed, size_t i, const struct level_sight *sight)
{
	if (editor_same_bytes(&ed->work.sight[i], sight, sizeof *sight))
		return;
	ed->work.sight[i] = *sight;
	stands_to(ed, i);
}

static bool work_has_room(struct editor *ed, size_t rows)
{
	struct level_sight *more;
	if (rows <= ed->work_room)
		return true;
	more = realloc(ed->work.sight, (rows + 64) * sizeof *more);
	if (!more)
		return false;
	ed->work.sight = more;
	ed->work_room = rows + 64;
	return true;
}

/* How many rows at the beginning of work stay, when all that the draft altered is the run's again.
 */
static size_t keep_work(struct editor *ed, bool inserts)
{
	size_t keep = ed->filled < ed->run.run.count ? ed->filled : ed->run.run.count;
	keep = ed->inserted < keep ? ed->inserted : keep;
	keep = inserts && ed->at < keep ? ed->at : keep;
	for (int i = 0; i < 2; i++)
		if (ed->altered[i] < keep)
			put_row(ed, ed->altered[i], &ed->run.run.sight[ed->altered[i]]);
	stands_to(ed, keep);
	return keep;
}

bool working_fill(struct editor *ed)
{
	size_t count = ed->run.run.count, keep, to;
	bool inserts = ed->target == TARGET_INSERT;
	struct level_sight blank = {.state = LEVEL_BLANK};

	if (!work_has_room(ed, count + 1 + inserts))
		return false;
	keep = keep_work(ed, inserts);
	to = inserts ? ed->at : count;
	ed->work.kind = ed->run.info.kind;
	strcpy(ed->work.turn, ed->run.info.turn);
	ed->work.count = count + 1 + inserts;
	if (keep < to)
		memcpy(&ed->work.sight[keep], &ed->run.run.sight[keep], (to - keep) * sizeof blank);
	if (to < count)
		memcpy(&ed->work.sight[to + 1], &ed->run.run.sight[to],
		       (count - to) * sizeof blank);
	if (inserts)
		ed->work.sight[to] = blank;
	ed->work.sight[ed->work.count - 1] = blank;
	ed->filled = count;
	ed->altered[0] = ed->altered[1] = SIZE_MAX;
	ed->inserted = inserts ? ed->at : SIZE_MAX;
	return true;
}

/* A turning point has two sights: when its name changes on one, the other goes along. */
static void follow(struct editor *ed, size_t other)
{
	const struct level_sight *draft = &ed->work.sight[ed->at];
	struct level_sight partner = ed->run.run.sight[other];
	if (draft->state == LEVEL_DRAFT && draft->kind == ed->run.run.sight[ed->at].kind) {
		strcpy(partner.station, draft->station);
		editor_find_known(ed, &partner);
	}
	put_row(ed, other, &partner);
	ed->altered[1] = other;
}

void working_put(struct editor *ed, const struct level_sight *draft)
{
	const struct level_sight *booked = &ed->run.run.sight[ed->at];
	size_t other;
	if (ed->target != TARGET_CHANGE) {
		put_row(ed, ed->at, draft);
		return;
	}
	/* A booked row stays what it is until the draft says something else. */
	put_row(ed, ed->at, !editor_touched(ed) || draft->state == LEVEL_BLANK ? booked : draft);
	ed->altered[0] = ed->at;
	other = level_partner(&ed->run.run, ed->at);
	if (other < ed->run.run.count)
		follow(ed, other);
}
