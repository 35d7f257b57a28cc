/* What a station's reading found, less what was known of it. */
#include <stdio.h>
#include <string.h>

#include "report/lines.h"

/* What it is held against: "given", "setup 3", "run spring". */
static const char *name_of(const struct work_compared *c, char *text, size_t size)
{
	if (c->against == WORK_AGAINST_GIVEN)
		snprintf(text, size, "given");
	else if (c->against == WORK_AGAINST_EARLIER)
		snprintf(text, size, "setup %d", c->setup);
	else
		snprintf(text, size, "run %s", c->run);
	return text;
}

void report_compared(const struct work_compared *compared, const char *station,
                     const struct level_style *style, char *text, size_t size)
{
	level_nm by = compared->difference < 0 ? -compared->difference : compared->difference;
	const struct level_style finer = lines_telling(by, compared->allowable, style);
	bool given = compared->against == WORK_AGAINST_GIVEN;
	char differs[LEVEL_LENGTH_BYTES], most[LEVEL_LENGTH_BYTES], name[LEVEL_NAME_BYTES + 20];
	text[0] = '\0';
	if (compared->against == WORK_AGAINST_NOTHING || !compared->has_allowable)
		return;
	snprintf(text, size, "%.40s is %s %s than %s%.60s, may be %s%s: %s", station,
	         level_format_length(differs, by, &finer, false),
	         compared->difference < 0 ? "lower" : "higher", given ? "" : "in ",
	         name_of(compared, name, sizeof name),
	         level_format_length(most, compared->allowable, &finer, false),
	         level_unit_after(style->unit), given ? "read it again" : "is it the same point?");
}

void report_compared_brief(const struct work_compared *compared, const struct level_style *style,
                           char *text, size_t size)
{
	const struct level_style finer =
	    lines_telling(compared->difference, compared->allowable, style);
	char by[LEVEL_LENGTH_BYTES], most[LEVEL_LENGTH_BYTES], name[LEVEL_NAME_BYTES + 20];
	text[0] = '\0';
	if (compared->against == WORK_AGAINST_NOTHING)
		return;
	name_of(compared, name, sizeof name);
	level_format_length(by, compared->difference, &finer, true);
	level_format_length(most, compared->allowable, &finer, false);
	/* The answer stands first: there may be no room for all. */
	snprintf(text, size, "%s: less %.9s %s",
	         !compared->has_allowable ? "not judged"
	         : compared->holds        ? "holds"
	                                  : "DIFFERS",
	         compared->against == WORK_AGAINST_RUN ? compared->run : name, by);
	if (compared->has_allowable)
		snprintf(text + strlen(text), size - strlen(text), ", may %s", most);
}
