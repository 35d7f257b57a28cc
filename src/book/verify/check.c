/* Whether a sight is one that a book can hold: the same test on the way in and on the way out. */
#include "book/store.h"
#include "rodbook/level/set.h"

#include <stdlib.h>
#include <string.h>

/* Places are handed out in steps; beyond this a book is not ours. */
#define PLACE_LIMIT (INT64_C(1) << 61)

static bool is_clean(const struct level_sight *sight, const struct book_note *note,
                     struct fault *why)
{
	const char *typed[] = {note->upper,    note->middle, note->lower,
	                       note->distance, note->limit,  note->u};
	if (!level_check_text(note->reading, BOOK_SET_CHARS, "text of a reading", why))
		return false;
	for (size_t i = 0; i < sizeof typed / sizeof *typed; i++)
		if (!level_check_text(typed[i], BOOK_TYPED_CHARS, "text of a length", why))
			return false;
	if (sight->again && sight->kind != LEVEL_BS)
		return fault_say(why, FAULT_INPUT, "only a BS begins a second standing");
	return level_check_name(sight->station, "station", why) &&
	       (!*note->rod || level_check_name(note->rod, "rod", why)) &&
	       (!*note->instrument || level_check_name(note->instrument, "instrument", why)) &&
	       level_check_text(note->along, BOOK_ALONG_CHARS, "place along the line", why) &&
	       level_check_text(note->photo, LEVEL_REMARK_CHARS, "name of a photograph", why) &&
	       level_check_text(note->photo_digest, BOOK_DIGESTS_BYTES, "digest of a photograph",
	                        why) &&
	       level_check_text(note->scaled, BOOK_SCALED_BYTES, "scaling of a photograph", why) &&
	       level_check_text(note->ends, sizeof note->ends, "text of a tube's ends", why) &&
	       level_check_text(note->remark, LEVEL_REMARK_CHARS, "remark", why) &&
	       level_check_text(note->why, LEVEL_REMARK_CHARS, "reason", why) &&
	       level_check_text(note->overridden, LEVEL_REMARK_CHARS, "warning", why) &&
	       level_check_text(note->time, BOOK_TIME_BYTES, "time", why) &&
	       level_check_text(note->booked, BOOK_TIME_BYTES, "time of booking", why) &&
	       level_check_text(note->struck, BOOK_TIME_BYTES, "time of striking", why);
}

bool text_says(const char *text, enum level_unit unit, level_nm kept)
{
	level_nm value;
	return level_parse_length(text, unit, &value, NULL) && value == kept;
}

/* Whether a reading, or the mean of a set, is what its text says. */
static bool set_says(const char *text, enum level_unit unit, level_nm kept)
{
	struct level_set set;
	return level_parse_set(text, unit, &set, NULL) && set.mean == kept;
}

static bool distance_says(const struct book_note *note, level_nm kept)
{
	level_nm value;
	return level_parse_distance(note->distance,
	                            book_distance_unit(note->unit, note->distance_unit), &value,
	                            NULL) &&
	       value == kept;
}

/* The lengths are what their texts say: a reading altered behind the program's back must not pass
 * as the one that was typed. */
static bool is_true(const struct level_sight *sight, const struct book_note *note)
{
	level_nm mean = sight->reading;
	if (!sight->wires)
		return set_says(note->reading, note->unit, sight->reading) &&
		       (*note->distance ? distance_says(note, sight->distance) : !sight->distance);
	if (*note->reading && !level_parse_length(note->reading, note->unit, &mean, NULL))
		return false;
	return text_says(note->upper, note->unit, sight->upper) &&
	       text_says(note->middle, note->unit, sight->middle) &&
	       text_says(note->lower, note->unit, sight->lower) &&
	       sight->reading == level_wire_mean(sight->upper, sight->middle, sight->lower) &&
	       llabs(mean - sight->reading) <= BOOK_MEAN_TOLERANCE &&
	       (!*note->distance || distance_says(note, sight->distance));
}

/* Its own limit and its own u are what their texts say too. */
static bool errors_are_true(const struct level_sight *sight, const struct book_note *note)
{
	return (*note->limit ? text_says(note->limit, note->unit, sight->limit) : !sight->limit) &&
	       (*note->u ? text_says(note->u, note->unit, sight->u) : !sight->u);
}

static bool in_range(const struct level_sight *sight, const struct book_note *note)
{
	const level_nm readings[] = {sight->reading, sight->upper, sight->middle, sight->lower};
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++)
		if (llabs(readings[i]) > BOOK_READING_LIMIT)
			return false;
	return sight->distance >= 0 && sight->distance <= LEVEL_DISTANCE_LIMIT &&
	       sight->limit >= 0 && sight->limit <= BOOK_READING_LIMIT && sight->u >= 0 &&
	       sight->u <= BOOK_READING_LIMIT && note->place >= 0 && note->place <= PLACE_LIMIT &&
	       mark_in_range(sight->known, sight->known_u);
}

bool mark_in_range(level_nm elevation, level_nm u)
{
	return elevation >= -LEVEL_LENGTH_LIMIT && elevation <= LEVEL_LENGTH_LIMIT && u >= 0 &&
	       u <= LEVEL_LENGTH_LIMIT;
}

bool sight_is_sound(const struct level_sight *sight, const struct book_note *note,
                    struct fault *why)
{
	struct level_sight same = *sight;
	if (!is_clean(sight, note, why))
		return false;
	if (!offset_is_sound(sight, note, why))
		return false;
	if (!in_range(sight, note))
		return fault_say(why, FAULT_INPUT,
		                 "a length of the sight on %.160s is out of range", sight->station);
	if (sight->wires && (sight->upper < sight->middle || sight->middle < sight->lower))
		return fault_say(why, FAULT_INPUT,
		                 "the wires of the sight on %.160s are out of order: upper reads "
		                 "most, lower least",
		                 sight->station);
	if (!book_distance_way(&same, note) || same.distance_by != sight->distance_by)
		return fault_say(why, FAULT_INPUT,
		                 "the sight on %.160s does not say how its distance was got",
		                 sight->station);
	if (!is_true(sight, note) || !errors_are_true(sight, note) ||
	    !scaled_is_true(sight, note, NULL))
		return fault_say(why, FAULT_INPUT,
		                 "the sight on %.160s does not say what was typed", sight->station);
	return true;
}

bool book_spoiled(struct book *book, struct fault *why)
{
	char words[sizeof why->text];
	/* A text that memory was short for reads as an empty one. */
	if (sqlite3_errcode(book->db) == SQLITE_NOMEM)
		return fault_memory(why);
	if (!why || why->kind != FAULT_INPUT)
		return false;
	memcpy(words, why->text, sizeof words);
	if (book->reading_back)
		return fault_say(why, FAULT_INPUT, "this cannot stand in a book: %.560s", words);
	return fault_say(why, FAULT_SPOILED, "%.200s was altered outside rodbook: %.380s",
	                 book->path, words);
}

bool check_on_rod(level_nm reading, const struct book_settings *settings, struct fault *why)
{
	char shown[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	return reading <= settings->rod_length ||
	       fault_say(why, FAULT_INPUT,
	                 "the reading %s is longer than the rod (%s): read it again, or set "
	                 "rod_length",
	                 level_format_length(shown, reading, &settings->style, false),
	                 level_format_length(limit, settings->rod_length, &settings->style, false));
}
