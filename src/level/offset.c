#include "rodbook/level/offset.h"

#include <string.h>

#include "rodbook/level/page.h"

bool level_method_suits(enum level_kind kind, enum level_method method)
{
	return kind == LEVEL_OFF
	           ? method == LEVEL_TAPE || method == LEVEL_RULER || method == LEVEL_TUBE
	           : method < LEVEL_METHODS;
}

bool level_carries_on(enum level_kind kind)
{
	return kind == LEVEL_FS || kind == LEVEL_OFF;
}

struct level_mean_u level_sight_u(const struct level_terms *terms, const struct level_sight *sight)
{
	struct level_reach reach = level_reach_of(sight);
	return level_reading_u(terms, &reach);
}

bool level_parse_ends(const char *text, enum level_unit bare, level_nm ends[2], struct fault *why)
{
	const char *second = strchr(text, ';');
	char first[64];
	size_t size = second ? (size_t)(second - text) : 0;
	if (!second || strchr(second + 1, ';') || size >= sizeof first)
		return fault_say(why, FAULT_INPUT,
		                 "the ends of a tube are two readings, the first at the mark that "
		                 "the line stands on: 1.432; 0.987");
	memcpy(first, text, size);
	first[size] = '\0';
	second += 1 + strspn(second + 1, " ");
	return level_parse_length(first, bare, &ends[0], why) &&
	       level_parse_length(second, bare, &ends[1], why);
}
