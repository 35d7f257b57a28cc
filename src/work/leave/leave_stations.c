/* Stations that a run finds apart from what is known of them. */
#include <stdlib.h>
#include <string.h>

#include "work/leave/leave_rules.h"

struct place {
	const char *station;
	size_t row;
};

static int by_station(const void *a, const void *b)
{
	const struct place *x = a, *y = b;
	int order = strcmp(x->station, y->station);
	return order ? order : x->row < y->row ? -1 : 1;
}

static bool say_apart(struct work_leave *list, const struct work_run *run, size_t row)
{
	const struct level_rule rule = {run->closing.set, run->settings.setup_figure};
	const struct level_sight *sight = &run->book.run.sight[row];
	struct work_leave_item item = {.code = WORK_STATION_APART};
	item.compared =
	    work_compare(&run->book.run, &run->page, &run->terms.terms, &rule, row, NULL);
	/* A known mark that carries the line has a section of its own. */
	if (item.compared.holds ||
	    (item.compared.against == WORK_AGAINST_GIVEN && sight->kind != LEVEL_IS))
		return true;
	return leave_say(list, run, item, sight->station, "");
}

bool leave_stations(struct work_leave *list, const struct work_run *run)
{
	const struct level_run *sights = &run->book.run;
	struct place *place = malloc((sights->count + 1) * sizeof *place);
	size_t count = 0;
	bool ok = place != NULL;
	for (size_t i = 0; ok && i < sights->count; i++)
		if (level_counted(&sights->sight[i]) && sights->sight[i].kind != LEVEL_BS)
			place[count++] = (struct place){sights->sight[i].station, i};
	if (count)
		qsort(place, count, sizeof *place, by_station);
	for (size_t i = 0; ok && i < count; i++)
		if (sights->sight[place[i].row].has_known ||
		    (i > 0 && strcmp(place[i - 1].station, place[i].station) == 0))
			ok = say_apart(list, run, place[i].row);
	free(place);
	return ok;
}
