/* What an offset says beside its height: its own uncertainty, and both ends of a tube. */
#include "book/store.h"
#include "rodbook/level/offset.h"

static bool refuse(struct fault *why, const char *field, const char *words)
{
	fault_say(why, FAULT_INPUT, "%s", words);
	return fault_at(why, field);
}

static bool ends_hold(const struct book_note *note, level_nm height)
{
	level_nm ends[2];
	return level_parse_ends(note->ends, note->unit, ends, NULL) && ends[0] - ends[1] == height;
}

bool read_offset(const struct book_note *note, struct level_sight *sight, struct fault *why)
{
	level_nm ends[2];
	if (sight->wires)
		return refuse(why, "upper", "an offset is one height: it has no wires");
	if (*note->distance || *note->distance_by || *note->distance_unit)
		return refuse(why, "distance", "an offset has no distance: leave it empty");
	if (*note->ends && sight->method != LEVEL_TUBE)
		return refuse(why, "ends", "only a tube is read at both ends: say method tube");
	return !*note->ends || level_parse_ends(note->ends, note->unit, ends, why) ||
	       fault_at(why, "ends");
}

bool ends_are_true(const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	return !*note->ends || ends_hold(note, sight->reading) ||
	       refuse(why, "ends",
	              "the height is not the first end less the second: leave it out, or write "
	              "what they make");
}

/* What a sight, or an offset, has and cannot have; NULL where there is nothing. */
static const char *too_much(const struct level_sight *sight, const struct book_note *note)
{
	bool off = sight->kind == LEVEL_OFF;
	if (!level_method_suits(sight->kind, sight->method))
		return "this method";
	if (*note->ends && sight->method != LEVEL_TUBE)
		return "two ends";
	if (!off)
		return NULL;
	return sight->wires                         ? "wires"
	       : sight->distance || *note->distance ? "a distance"
	       : *note->distance_by                 ? "a way to get a distance"
	       : *note->instrument                  ? "an instrument"
	       : *note->rod                         ? "a rod"
	       : sight->limit && sight->u           ? "a limit and a u"
	                                            : NULL;
}

bool offset_is_sound(const struct level_sight *sight, const struct book_note *note,
                     struct fault *why)
{
	bool off = sight->kind == LEVEL_OFF;
	const char *much = too_much(sight, note);
	if (off && *note->ends && !ends_hold(note, sight->reading))
		return fault_say(why, FAULT_INPUT,
		                 "the ends of the offset to %.160s do not make its height",
		                 sight->station);
	return !much || fault_say(why, FAULT_INPUT, "the %s to %.160s cannot have %s",
	                          off ? "offset" : "sight", sight->station, much);
}
