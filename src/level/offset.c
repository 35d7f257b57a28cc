#include "rodbook/level/offset.h"

#include <math.h>
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

struct level_mean_u level_offset_u(const struct level_terms *terms, const struct level_sight *sight)
{
	double u = sight->method == LEVEL_RULER  ? LEVEL_RULER_U
	           : sight->method == LEVEL_TUBE ? LEVEL_TUBE_U
	                                         : terms->reading_fixed[LEVEL_TAPE];
	double limit = level_to_meters(sight->limit), own = level_to_meters(sight->u);
	if (sight->declared)
		return (struct level_mean_u){0, (double)INFINITY, 0};
	if (sight->limit)
		return (struct level_mean_u){limit / sqrt(3.0), (double)INFINITY, limit};
	if (sight->u)
		return (struct level_mean_u){own, (double)INFINITY, 2 * own};
	if (sight->set_count > 1) {
		struct level_mean_u set = level_mean_of(sight->set_count, sight->set_sd,
		                                        u * sqrt((double)sight->set_count));
		if (!isinf(set.freedom))
			return set;
	}
	return (struct level_mean_u){u, (double)INFINITY, 2 * u};
}

struct level_mean_u level_sight_u(const struct level_terms *terms, const struct level_sight *sight)
{
	struct level_reach reach = level_reach_of(sight);
	return sight->kind == LEVEL_OFF ? level_offset_u(terms, sight)
	                                : level_reading_u(terms, &reach);
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
