/* From the texts as typed to the sight. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/along.h"
#include "rodbook/level/set.h"

/* fault_say() for one of the texts. */
static bool said_at(struct fault *why, const char *field, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static bool said_at(struct fault *why, const char *field, const char *format, ...)
{
	char words[sizeof why->text];
	va_list list;
	va_start(list, format);
	vsnprintf(words, sizeof words, format, list);
	va_end(list);
	fault_say(why, FAULT_INPUT, "%s", words);
	return fault_at(why, field);
}

static bool read_text(const char *text, const char *name, enum level_unit unit, level_nm *value,
                      struct fault *why)
{
	if (!*text)
		return said_at(why, name, "the %s is empty: write what the rod shows", name);
	if (!level_parse_length(text, unit, value, why))
		return fault_at(why, name);
	if (*value <= BOOK_READING_LIMIT && *value >= -BOOK_READING_LIMIT)
		return true;
	if (unit == LEVEL_M && !text[strspn(text, "0123456789")] &&
	    *value / 1000 <= BOOK_READING_LIMIT)
		return said_at(why, name, "the %s is over 100 m: for millimeters write %.20s mm",
		               name, text);
	return said_at(why, name, "the %s is over 100 m: read it again", name);
}

/* Beside three wires a reading may stand only if it is their mean, to 1 mm. */
static bool check_mean(const struct book_settings *settings, const struct book_note *note,
                       const struct level_sight *sight, struct fault *why)
{
	level_nm reading, off;
	char shown[LEVEL_LENGTH_BYTES];
	if (!*note->reading)
		return true;
	if (!read_text(note->reading, "reading", note->unit, &reading, why))
		return false;
	off = reading - sight->reading;
	if (off <= BOOK_MEAN_TOLERANCE && off >= -BOOK_MEAN_TOLERANCE)
		return true;
	return said_at(why, "reading",
	               "the reading is not the mean of the three wires (%s): leave it empty, or "
	               "write the mean",
	               level_format_exact(shown, sight->reading, &settings->style));
}

/* One reading, or the mean of several: the mean of a reading beyond the rod may lie on it. */
static bool read_set(const struct book_settings *settings, const struct book_note *note,
                     struct level_sight *sight, struct fault *why)
{
	struct level_set set;
	struct level_sight one = *sight;
	sight->set_count = 0;
	sight->set_sd = 0;
	if (!level_is_set(note->reading))
		return read_text(note->reading, "reading", note->unit, &sight->reading, why);
	if (!level_parse_set(note->reading, note->unit, &set, why))
		return fault_at(why, "reading");
	for (int i = 0; i < set.count; i++) {
		one.reading = set.reading[i];
		if (llabs(one.reading) > BOOK_READING_LIMIT)
			return said_at(why, "reading",
			               "reading %d of the set cannot be: read it again", i + 1);
		if (!level_check_sight(&one, settings->rod_length, &settings->style, why))
			return fault_at(why, "reading");
	}
	sight->reading = set.mean;
	sight->set_count = set.count;
	sight->set_sd = set.sd;
	return true;
}

bool book_distance_way(struct level_sight *sight, const struct book_note *note)
{
	sight->distance_by = LEVEL_STEPPED;
	if (sight->wires && !*note->distance)
		sight->distance_by = LEVEL_WIRED;
	else if (*note->distance_by)
		return level_distance_way_find(note->distance_by, &sight->distance_by);
	return true;
}

enum level_unit book_distance_unit(enum level_unit unit, const char *distance_unit)
{
	level_unit_find(distance_unit, &unit);
	return unit;
}

void book_split_distance(const char *typed, char *length, size_t size, char way[12])
{
	enum level_distance_way ignored;
	size_t end = strlen(typed), start;
	while (end && typed[end - 1] == ' ')
		end--;
	for (start = end; start && typed[start - 1] != ' ';)
		start--;
	way[0] = '\0';
	if (start && end - start < 12) {
		memcpy(way, typed + start, end - start);
		way[end - start] = '\0';
		if (level_distance_way_find(way, &ignored)) {
			end = start;
			while (end && typed[end - 1] == ' ')
				end--;
			snprintf(way, 12, "%s", level_distance_way_name(ignored));
		} else {
			way[0] = '\0';
		}
	}
	snprintf(length, size, "%.*s", (int)end, typed);
}

static bool read_wires(const struct book_settings *settings, const struct book_note *note,
                       struct level_sight *sight, struct fault *why)
{
	if (!read_text(note->upper, "upper", note->unit, &sight->upper, why) ||
	    !read_text(note->middle, "middle", note->unit, &sight->middle, why) ||
	    !read_text(note->lower, "lower", note->unit, &sight->lower, why))
		return false;
	sight->reading = level_wire_mean(sight->upper, sight->middle, sight->lower);
	sight->distance = level_wire_distance(
	    sight->upper, sight->lower, settings->stadia_multiplier, settings->stadia_constant);
	return check_mean(settings, note, sight, why);
}

static bool read_distance(const struct book_note *note, struct level_sight *sight,
                          struct fault *why)
{
	if (!*note->distance)
		return true;
	if (!level_parse_distance(note->distance,
	                          book_distance_unit(note->unit, note->distance_unit),
	                          &sight->distance, why))
		return fault_at(why, "distance");
	if (sight->distance == 0)
		return said_at(why, "distance",
		               "a distance of zero cannot be: write the distance from the "
		               "instrument, or leave it empty");
	if (sight->distance < 0 || sight->distance > LEVEL_DISTANCE_LIMIT)
		return said_at(why, "distance",
		               "a distance is a length above 0 and up to 100 km, or empty");
	return true;
}

/* What a reading may be off by, of its own. */
static bool read_own(const char *text, const char *field, enum level_unit unit, level_nm *out,
                     struct fault *why)
{
	*out = 0;
	if (!*text)
		return true;
	if (!level_parse_length(text, unit, out, why))
		return fault_at(why, field);
	if (*out > 0 && *out <= BOOK_READING_LIMIT)
		return true;
	return said_at(why, field,
	               "what a reading may be off by is a length above 0 and up to 100 m: write "
	               "1.432 +- 0.002");
}

bool book_read_sight(const struct book_settings *settings, const struct book_note *note,
                     struct level_sight *sight, struct fault *why)
{
	level_nm along;
	if (!level_check_station(sight->station, sight->kind, why))
		return fault_at(why, "station");
	sight->distance = 0;
	if (sight->kind == LEVEL_OFF && !read_offset(note, sight, why))
		return false;
	if (*note->limit && *note->u)
		return said_at(why, "limit", "give a limit or a u, not both");
	if (!(sight->wires ? read_wires(settings, note, sight, why)
	                   : read_set(settings, note, sight, why)) ||
	    !read_own(note->limit, "limit", note->unit, &sight->limit, why) ||
	    !read_own(note->u, "u", note->unit, &sight->u, why) || !read_distance(note, sight, why))
		return false;
	if (!ends_are_true(sight, note, why) || !scaled_is_true(sight, note, why))
		return false;
	if (!book_distance_way(sight, note))
		return said_at(why, "distance",
		               "a distance is got by tape, wires, map or step, not \"%.7s\"",
		               note->distance_by);
	if (*note->along && !level_parse_along(note->along, note->unit, &along, why))
		return fault_at(why, "along");
	if (!level_check_text(note->remark, LEVEL_REMARK_CHARS, "remark", why))
		return fault_at(why, "remark");
	if (!level_check_text(note->photo, LEVEL_REMARK_CHARS, "name of a photograph", why))
		return fault_at(why, "photo");
	return level_check_sight(sight, settings->rod_length, &settings->style, why) ||
	       fault_at(why, sight->wires ? "upper" : "reading");
}
