/* Values of settings, from text to number. */
#include "book/setting/setting_parse.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/book/book.h"

bool setting_parse_number(const char *text, double least, double most, const char *name,
                          double *value, struct fault *why)
{
	char *end = NULL;
	bool digits = *text && text[strspn(text, "0123456789.+-eE")] == '\0';
	*value = digits ? strtod(text, &end) : 0;
	if (!digits || *end || !(*value >= least && *value <= most))
		return fault_say(why, FAULT_INPUT, "%s is a number from %g to %g, not \"%.60s\"",
		                 name, least, most, text);
	return true;
}

bool setting_parse_whole(const char *text, double least, double most, const char *name,
                         int64_t *value, struct fault *why)
{
	double number;
	if (!setting_parse_number(text, least, most, name, &number, why))
		return false;
	*value = (int64_t)number;
	if ((double)*value != number)
		return fault_say(why, FAULT_INPUT, "%s is a whole number, not \"%.60s\"", name,
		                 text);
	return true;
}

bool setting_parse_positive(const char *text, enum level_unit unit, bool zero, const char *name,
                            level_nm *value, struct fault *why)
{
	if (!level_parse_length(text, unit, value, why))
		return false;
	if (*value < 0 || (*value == 0 && !zero))
		return fault_say(why, FAULT_INPUT, "%s is a length %s, not \"%.60s\"", name,
		                 zero ? "of 0 or more" : "above 0", text);
	return true;
}

bool setting_parse_meters(const char *text, enum level_unit unit, const char *name, double *meters,
                          struct fault *why)
{
	level_nm value;
	if (!setting_parse_positive(text, unit, true, name, &value, why))
		return false;
	*meters = level_to_meters(value);
	return true;
}

bool setting_parse_reading(const char *text, enum level_unit unit, const char *name, double *fixed,
                           double *slope, struct fault *why)
{
	char head[BOOK_VALUE_BYTES];
	const char *plus = strchr(text, '+');
	size_t size = plus ? (size_t)(plus - text) : strlen(text);
	if (size >= sizeof head)
		return fault_say(why, FAULT_INPUT, "%s is too long", name);
	memcpy(head, text, size);
	head[size] = '\0';
	while (size && head[size - 1] == ' ')
		head[--size] = '\0';
	*slope = 0;
	/* A bare length would change its meaning with the book's unit. */
	if ((level_is_bare(head) && strcmp(head, "0") != 0) ||
	    !setting_parse_meters(head, unit, name, fixed, NULL) ||
	    (plus && !level_parse_slope(plus + 1 + strspn(plus + 1, " "), slope, NULL)))
		return fault_say(
		    why, FAULT_INPUT,
		    "%s is a length, or a length and a slope such as 0.5 mm + 0.010 mm/m, "
		    "not \"%.60s\"",
		    name, text);
	return true;
}

bool setting_parse_flow(const char *text, double *flow, struct fault *why)
{
	*flow = 0;
	if (strcmp(text, "still") == 0)
		return true;
	*flow = -1;
	return strcmp(text, "flowing") == 0 || level_parse_slope(text, flow, NULL) ||
	       fault_say(why, FAULT_INPUT,
	                 "flow is still, flowing, or a slope such as 0.1 mm/m, not \"%.60s\"",
	                 text);
}
