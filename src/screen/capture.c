/* What is typed where the cursor stands when a sight begins, in the station: a reading, or a name
 * that is offered. */
#include <string.h>

#include "rodbook/work/offers.h"
#include "rodbook/work/wires.h"
#include "screen/editor.h"

/* Whether a text is a reading so plainly that it need not be whole: 1., 57 3/, 4', 4;, but not 12,
 * which may be a point's name, nor 12/ where readings have no fractions. */
static bool is_reading_begun(const struct editor *ed, const char *text)
{
	enum level_unit unit = ed->settings.style.unit;
	bool fractions = unit == LEVEL_FTIN || unit == LEVEL_IN;
	if (level_is_like_reading(text) && (fractions || !strchr(text, '/')))
		return true;
	return *text >= '0' && *text <= '9' && strpbrk(text, "'\";") &&
	       text[strspn(text, "0123456789./ '\";")] == '\0';
}

/* Whether the new BS stands on a mark already, and the text is not the name of it, nor begins it as
 * 12 does 12+50. */
static bool is_no_name(const struct editor *ed, const char *text)
{
	const struct book_draft *slot = &ed->slot[ed->target != TARGET_NEW];
	return ed->target != TARGET_CHANGE && strcmp(slot->kind, "BS") == 0 && *ed->named &&
	       strncmp(ed->named, text, strlen(text)) != 0 &&
	       level_counted_from(&ed->run.run, 0) < ed->run.run.count;
}

/* Whether a whole number over the proposed station of a new sight may be its reading. */
static bool is_number(const struct editor *ed, const char *text)
{
	const struct book_draft *slot = &ed->slot[0];
	return ed->target == TARGET_NEW && level_is_bare(text) &&
	       !*(slot->wires ? slot->upper : slot->reading) &&
	       work_number_is_reading(ed->marks, ed->mark_count, &ed->run.run, ed->named,
	                              ed->settings.style.unit);
}

/* Whether a whole text is a reading: also one that names its unit, and whole numbers that can be no
 * name. */
static bool is_reading(const struct editor *ed, const char *text)
{
	level_nm ignored;
	if (!level_parse_length(text, ed->settings.style.unit, &ignored, NULL))
		return false;
	return !level_is_bare(text) || is_reading_begun(ed, text) || is_no_name(ed, text);
}

bool capture_was_asked(const struct editor *ed)
{
	return ed->target == TARGET_NEW && *ed->number_asked &&
	       strcmp(ed->slot[0].station, ed->number_asked) == 0;
}

void capture_begin(struct editor *ed)
{
	if (entry_focus(ed->entry) == WORK_STATION && entry_is_fresh(ed->entry) &&
	    !capture_was_asked(ed))
		strcpy(ed->named, editor_slot(ed)->station);
	if (entry_focus(ed->entry) == WORK_READING && entry_is_fresh(ed->entry))
		strcpy(ed->was_read, editor_slot(ed)->reading);
}

bool capture_name(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	char name[BOOK_TYPED_BYTES];
	/* A new sight begins at its station: a name behind it is a mistake of another kind. */
	if (ed->target != TARGET_CHANGE || entry_focus(ed->entry) != WORK_READING ||
	    entry_is_fresh(ed->entry))
		return false;
	entry_read(ed->entry, slot);
	if (!work_begins_as_name(slot->reading))
		return false;
	strcpy(name, slot->reading);
	entry_move_name(ed->entry, name, ed->was_read);
	return true;
}

bool capture_reading(struct editor *ed, bool whole)
{
	struct book_draft *slot = editor_slot(ed);
	char text[LEVEL_STATION_BYTES];
	if (entry_focus(ed->entry) != WORK_STATION || entry_is_fresh(ed->entry))
		return false;
	entry_read(ed->entry, slot);
	strcpy(text, slot->station);
	if (whole ? !is_reading(ed, text) && !is_number(ed, text) : !is_reading_begun(ed, text))
		return false;
	entry_move_reading(ed->entry, text, ed->named);
	entry_read(ed->entry, slot);
	return true;
}

bool capture_asks(struct editor *ed)
{
	const char *text = ed->slot[0].station;
	/* the draft of the new sight is not the form's while a booked row is changed */
	if (ed->target != TARGET_NEW || entry_focus(ed->entry) != WORK_STATION ||
	    entry_is_fresh(ed->entry))
		return false;
	entry_read(ed->entry, &ed->slot[0]);
	if (is_reading(ed, text) || !is_number(ed, text))
		return false;
	snprintf(ed->number_asked, sizeof ed->number_asked, "%s", text);
	/* what is typed next replaces it */
	entry_set_focus(ed->entry, WORK_STATION);
	editor_say(ed, "a station named %.40s? Enter takes it; Down: it is the reading", text);
	return true;
}

/* The number that was asked about becomes the reading. */
static bool take_number(struct editor *ed)
{
	if (!capture_was_asked(ed) || entry_focus(ed->entry) != WORK_STATION ||
	    !is_number(ed, ed->number_asked))
		return false;
	entry_move_reading(ed->entry, ed->number_asked, ed->named);
	return true;
}

bool capture_wire(struct editor *ed)
{
	enum work_text focus = entry_focus(ed->entry);
	struct book_draft *slot = editor_slot(ed);
	char wire[BOOK_TYPED_BYTES], rest[BOOK_TYPED_BYTES];
	const char *typed = work_draft_text(slot, focus, NULL);
	size_t before = ed->target == TARGET_CHANGE ? ed->at : ed->run.run.count;
	if (focus != WORK_UPPER && focus != WORK_MIDDLE)
		return false;
	entry_read(ed->entry, slot);
	if (work_part_wires(typed,
	                    focus == WORK_MIDDLE ? level_decimals(slot->upper)
	                                         : work_wire_decimals(&ed->run, before),
	                    ed->settings.style.unit, wire, rest)) {
		entry_part_wire(ed->entry, wire, rest);
		return true;
	}
	if (*typed && typed[strlen(typed) - 1] == '.' && strchr(typed, '.')[1])
		editor_refuse(ed, "two points in the %s wire: Enter goes to the next wire",
		              work_text_name(focus));
	return false;
}

/* None where nothing may be typed: in a closed run, and on a struck sight. */
static size_t offers(const struct editor *ed, const char *out[WORK_OFFERS_MOST])
{
	if (entry_focus(ed->entry) != WORK_STATION || entry_is_fresh(ed->entry) ||
	    ed->run.info.closed ||
	    (ed->target == TARGET_CHANGE && !level_counted(&ed->run.run.sight[ed->at])))
		return 0;
	return work_offers(ed->marks, ed->mark_count, &ed->run.run,
	                   ed->slot[ed->target != TARGET_NEW].station, out);
}

void offers_text(const struct editor *ed, char *text, size_t size)
{
	const char *names[WORK_OFFERS_MOST];
	size_t count = offers(ed, names), used = 0;
	text[0] = '\0';
	for (size_t i = 0; i < count && used < size; i++)
		used += (size_t)snprintf(text + used, size - used, "%s%s", i ? ", " : "", names[i]);
	if (count && used < size)
		snprintf(text + used, size - used,
		         count == 1 ? "? Down takes it" : "? Down takes %s", names[0]);
}

/* On the station of a new sight that was just come to, or is empty, what the line may go to: each
 * Down takes the next, where an FS was taken back also the next TP, and the last one what was
 * proposed. */
static bool take_ahead(struct editor *ed)
{
	const char *names[WORK_OFFERS_MOST + 1], *now = ed->slot[0].station;
	char proposed[LEVEL_STATION_BYTES], passing[LEVEL_STATION_BYTES];
	enum level_kind kind;
	size_t count, next = 0;
	if (ed->target != TARGET_NEW || ed->run.info.closed || ed->came_down ||
	    entry_focus(ed->entry) != WORK_STATION || !(entry_is_fresh(ed->entry) || !*now) ||
	    ed->slot[0].again || !level_kind_find(ed->slot[0].kind, &kind))
		return false;
	count = work_offers_ahead(ed->marks, ed->mark_count, &ed->run.run, kind, names);
	editor_suggest_station(ed, kind, proposed);
	level_next_turning_point(&ed->run.run, passing);
	if (kind == LEVEL_FS && strcmp(proposed, passing) != 0)
		names[count++] = passing;
	for (size_t i = 0; i < count; i++)
		if (strcmp(names[i], now) == 0)
			next = i + 1;
	/* A name that somebody typed stays. */
	if (count == 0 || (next == 0 && *now && strcmp(now, proposed) != 0))
		return false;
	entry_choose(ed->entry, WORK_STATION, next < count ? names[next] : proposed);
	return true;
}

bool offers_take(struct editor *ed)
{
	const char *names[WORK_OFFERS_MOST];
	if (take_number(ed))
		return true;
	if (!offers(ed, names))
		return take_ahead(ed);
	entry_choose(ed->entry, WORK_STATION, names[0]);
	return true;
}
