/* Warnings about the draft while they can still be cured. */
#include <string.h>

#include "rodbook/work/sight.h"
#include "screen/editor.h"

/* The doubts about the text in focus, which the next key may settle. */
static unsigned unsettled(enum work_text focus)
{
	switch (focus) {
	case WORK_STATION:
		return 1u << LEVEL_WARN_ALIKE | 1u << LEVEL_WARN_DRY | 1u << LEVEL_WARN_NUMBER;
	case WORK_READING:
		return 1u << LEVEL_WARN_DECIMALS;
	case WORK_DISTANCE:
		return 1u << LEVEL_WARN_NEAR | 1u << LEVEL_WARN_SEALS;
	default:
		return 0;
	}
}

static bool is_found(const struct editor *ed)
{
	return ed->alike.found && ed->alike.at == ed->at && ed->alike.target == ed->target &&
	       strcmp(ed->alike.station, ed->work.sight[ed->at].station) == 0;
}

void editor_find_alike(struct editor *ed)
{
	const struct level_sight *sight = &ed->work.sight[ed->at];
	if (sight->state != LEVEL_DRAFT || entry_focus(ed->entry) == WORK_STATION || is_found(ed))
		return;
	ed->alike.found = true;
	ed->alike.at = ed->at;
	ed->alike.target = ed->target;
	strcpy(ed->alike.station, sight->station);
	work_find_alike(&ed->run, ed->at, ed->target == TARGET_CHANGE, ed->marks, ed->mark_count,
	                sight->station, ed->alike.name);
}

/* A name that is being typed looks like nothing yet; one that is booked is looked for. */
static const char *alike_of(const struct editor *ed, bool whole)
{
	if (is_found(ed))
		return ed->alike.name;
	return whole ? NULL : "";
}

unsigned editor_warnings(const struct editor *ed, bool whole, char *words, size_t size,
                         char brief[LEVEL_REMARK_BYTES])
{
	const struct level_sight *sight = &ed->work.sight[ed->at];
	struct level_warned warned;
	struct work_doubts doubts;
	struct report_warned about = {.warned = &warned,
	                              .compared = &ed->compared,
	                              .sight = sight,
	                              .setup = ed->page.row[ed->at].setup,
	                              .reading_u = work_reading_u(&ed->terms.terms, sight),
	                              .settings = &ed->settings};
	words[0] = brief[0] = '\0';
	if (sight->state != LEVEL_DRAFT)
		return 0;
	doubts = work_doubt(ed->book, &ed->run, ed->at, ed->target == TARGET_CHANGE, ed->marks,
	                    ed->mark_count, ed->waters, ed->water_count, alike_of(ed, whole), sight,
	                    &ed->draft_note);
	warned = work_warn(&ed->work, &ed->page, ed->at, &ed->settings, &ed->terms.terms,
	                   &ed->compared, &doubts);
	if (work_doubt_seal(&ed->work, ed->at, &ed->terms, ed->settings.long_sight, ed->waters,
	                    ed->water_count))
		warned.set |= 1u << LEVEL_WARN_SEALS;
	if (capture_was_asked(ed))
		warned.set &= ~(1u << LEVEL_WARN_NUMBER);
	if (!whole)
		warned.set &= ~unsettled(entry_focus(ed->entry));
	report_warnings(&about, words, size);
	/* the last of them */
	if (warned.set & 1u << LEVEL_WARN_SEALS)
		snprintf(words + strlen(words), size - strlen(words), " (F11)");
	level_warned_names(&warned, brief);
	return warned.set;
}
