#include "rodbook/level/set.h"
#include "level/wide.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool level_is_set(const char *text)
{
	return strchr(text, ';') != NULL;
}

/* The next reading of the text, trimmed; false at the end, or where it has no room. */
static bool next(const char **at, char one[LEVEL_SET_READING_BYTES])
{
	size_t size, left;
	*at += strspn(*at, " ");
	size = left = strcspn(*at, ";");
	while (left && (*at)[left - 1] == ' ')
		left--;
	if (left >= LEVEL_SET_READING_BYTES)
		return false;
	memcpy(one, *at, left);
	one[left] = '\0';
	*at += size;
	return true;
}

static void spread(struct level_set *set)
{
	level_wide sum = 0;
	double squares = 0;
	for (int i = 0; i < set->count; i++)
		sum += set->reading[i];
	set->mean = level_round_ratio(sum, set->count);
	for (int i = 0; i < set->count; i++) {
		level_nm off = set->reading[i] - set->mean;
		double meters = level_to_meters(off);
		squares += meters * meters;
		if (set->count > 1 &&
		    (set->farthest < 0 || fabs(meters) > fabs(level_to_meters(set->off_by)))) {
			set->farthest = i;
			set->off_by = off;
		}
	}
	if (set->count > 1)
		set->sd = sqrt(squares / (set->count - 1));
}

bool level_parse_set(const char *text, enum level_unit bare, struct level_set *out,
                     struct fault *why)
{
	const char *at = text;
	char one[64];
	*out = (struct level_set){.farthest = -1};
	for (;;) {
		bool struck;
		if (!next(&at, one))
			return fault_say(why, FAULT_INPUT, "a reading of the set is too long");
		struck = *one == 'x';
		if (out->count + out->struck == LEVEL_SET_MOST)
			return fault_say(why, FAULT_INPUT, "a set has at most %d readings",
			                 LEVEL_SET_MOST);
		/* A semicolon just typed waits for the next reading. */
		if (*one || out->count + out->struck == 0 || *at) {
			if (!level_parse_length(one + struck, bare, &out->reading[out->count], why))
				return false;
			if (struck)
				out->struck++;
			else
				out->count++;
		}
		if (*at == '\0')
			break;
		at++;
	}
	if (out->count == 0)
		return fault_say(why, FAULT_INPUT,
		                 "every reading of the set is struck: read it again");
	spread(out);
	return true;
}

bool level_next_reading(const char **at, char one[LEVEL_SET_READING_BYTES])
{
	if (**at == '\0' || !next(at, one))
		return false;
	*at += **at == ';';
	return true;
}

char *level_carry_set(char *buf, size_t size, const char *text, enum level_unit unit,
                      enum level_unit here)
{
	const char *at = text;
	char one[64], carried[72];
	size_t used = 0;
	if (!level_is_set(text))
		return level_carry_text(buf, size, text, unit, here);
	buf[0] = '\0';
	while (next(&at, one)) {
		bool struck = *one == 'x';
		level_carry_text(carried, sizeof carried, one + struck, unit, here);
		used += (size_t)snprintf(buf + used, size - used, "%s%s%s", used ? "; " : "",
		                         struck ? "x" : "", carried);
		if (used >= size || *at == '\0')
			break;
		at++;
	}
	return buf;
}
