#include "level/run/met.h"

#include <string.h>

static bool is_check(const struct level_sight *sight)
{
	return sight->has_known && !sight->aside;
}

/* The way so far has one more station with a name: it may be coming back over those before. */
static void turn_to(const struct level_run *run, const struct level_page *page, size_t i,
                    struct level_line *line)
{
	const char *station = run->sight[i].station;
	size_t next =
	    line->mirror_row != SIZE_MAX ? page->row[line->mirror_row].line.named_before : SIZE_MAX;
	size_t before = line->named_before;
	if (next != SIZE_MAX && strcmp(run->sight[next].station, station) == 0) {
		line->mirror_row = next;
		line->mirrored++;
	} else if (before != SIZE_MAX && strcmp(run->sight[before].station, station) == 0) {
		line->turn_row = line->named_row;
		line->mirror_row = before;
		line->mirrored = 1;
	} else {
		line->turn_row = line->mirror_row = SIZE_MAX;
		line->mirrored = 0;
	}
}

void line_meets(const struct level_run *run, const struct level_page *page, size_t i, bool again,
                struct level_line *line)
{
	const struct level_sight *sight = &run->sight[i];
	bool start = line->start_row == i;
	if (is_check(sight)) {
		if (!again)
			line->known_before = line->known_row;
		line->known_row = i;
	}
	if (!start && level_is_passing(sight->station))
		return;
	if (!again) {
		turn_to(run, page, i, line);
		line->named_before = line->named_row;
	}
	line->named_row = i;
}
