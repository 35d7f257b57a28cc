#include "rodbook/level/limit.h"

#include <stdio.h>
#include <string.h>

#include "rodbook/level/length.h"
#include "rodbook/level/sight.h"

#define PLUS_MINUS "\xc2\xb1"
#define DECLARED "declared"

/* The sign between a reading and its limit, of *length bytes; NULL where there is none. */
static const char *find_sign(const char *text, size_t *length)
{
	static const char *const signs[] = {"+-", "+/-", PLUS_MINUS};
	const char *first = NULL;
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		const char *at = strstr(text, signs[i]);
		if (!at || (first && at > first))
			continue;
		first = at;
		*length = strlen(signs[i]);
	}
	return first;
}

/* Takes the word off the end of a text, in place. */
static bool take_declared(char *text)
{
	size_t length = strlen(text), word = strlen(DECLARED);
	if (length < word || strcmp(text + length - word, DECLARED) != 0 ||
	    (length > word && text[length - word - 1] != ' '))
		return false;
	text[length - word] = '\0';
	level_trim(text);
	return true;
}

/* The unit that a reading names, of a set its last one: what stands behind the last figure, which
 * are inches where feet stand before them, as in 4' 9. Empty for a bare one. */
static const char *unit_of(const char *reading)
{
	const char *last = strrchr(reading, ';'), *after = reading + strlen(reading);
	last = last ? last + 1 : reading;
	while (after > last && (after[-1] < '0' || after[-1] > '9'))
		after--;
	if (after == last)
		return "";
	return *after || level_is_bare(last + strspn(last, " x")) ? after : " in";
}

bool level_split_limit(const char *typed, struct level_limited *out, struct fault *why)
{
	size_t length;
	const char *sign = find_sign(typed, &length), *limit = sign ? sign + length : "";
	size_t ignored, before = sign ? (size_t)(sign - typed) : strlen(typed);
	*out = (struct level_limited){0};
	if (before >= sizeof out->reading || strlen(limit) >= sizeof out->limit - 12)
		return fault_say(why, FAULT_INPUT, "too long for a reading and its limit");
	memcpy(out->reading, typed, before);
	strcpy(out->limit, limit);
	level_trim(out->limit);
	out->declared = take_declared(sign ? out->limit : out->reading);
	level_trim(out->reading);
	if (sign && !*out->limit)
		return fault_say(why, FAULT_INPUT,
		                 "the limit is missing behind +-: write 1.432 +- 0.002");
	if (find_sign(out->limit, &ignored))
		return fault_say(why, FAULT_INPUT, "a reading has one limit: write 1.432 +- 0.002");
	if (*out->limit && level_is_bare(out->limit))
		strncat(out->limit, unit_of(out->reading), 11);
	return true;
}

char *level_join_limit(char *buf, size_t size, const struct level_limited *parts)
{
	snprintf(buf, size, "%s%s%s%s", parts->reading, *parts->limit ? " +- " : "", parts->limit,
	         parts->declared ? " " DECLARED : "");
	return buf;
}
