#include "rodbook/work/offers.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

/* Whether a name goes on from what is typed; its first letter is looked at first, for most differ
 * there. */
static bool goes_on(const char *name, const char *typed)
{
	size_t size;
	if (*typed && tolower((unsigned char)*name) != tolower((unsigned char)*typed))
		return false;
	size = strlen(typed);
	return strncasecmp(name, typed, size) == 0 && name[size];
}

static size_t offer(const char *name, const char *typed, const char **out, size_t count)
{
	if (count == WORK_OFFERS_MOST || !goes_on(name, typed))
		return count;
	for (size_t i = 0; i < count; i++)
		if (strcmp(out[i], name) == 0)
			return count;
	out[count] = name;
	return count + 1;
}

size_t work_offers(const struct book_mark *marks, size_t mark_count, const struct level_run *run,
                   const char *typed, const char *out[WORK_OFFERS_MOST])
{
	size_t count = 0;
	if (!*typed)
		return 0;
	for (size_t i = 0; i < mark_count && count < WORK_OFFERS_MOST; i++)
		count = offer(marks[i].name, typed, out, count);
	for (size_t i = 0; i < run->count && count < WORK_OFFERS_MOST; i++)
		if (goes_on(run->sight[i].station, typed) && level_counted(&run->sight[i]))
			count = offer(run->sight[i].station, typed, out, count);
	return count;
}

static bool has_been_at(const struct level_run *run, const char *station)
{
	for (size_t i = 0; i < run->count; i++)
		if (level_counted(&run->sight[i]) && strcmp(run->sight[i].station, station) == 0)
			return true;
	return false;
}

size_t work_offers_ahead(const struct book_mark *marks, size_t mark_count,
                         const struct level_run *run, enum level_kind kind,
                         const char *out[WORK_OFFERS_MOST])
{
	size_t count = 0, start = level_counted_from(run, 0), bs = run->count;
	const char *left_out = "", *first = NULL, *last = NULL;
	for (size_t i = level_counted_before(run, run->count); i < run->count && bs == run->count;
	     i = level_counted_before(run, i))
		if (run->sight[i].kind == LEVEL_BS)
			bs = i;
	if (bs < run->count)
		left_out = run->sight[bs].station;
	if (kind == LEVEL_BS && start < run->count)
		return 0;
	if (start < run->count && run->kind == LEVEL_LINK)
		last = run->sight[start].station;
	else if (start < run->count)
		first = run->sight[start].station;
	if (*run->turn && !has_been_at(run, run->turn))
		count = offer(run->turn, "", out, count);
	if (first && strcmp(first, left_out) != 0)
		count = offer(first, "", out, count);
	for (size_t i = 0; i < mark_count; i++)
		if (strcmp(marks[i].name, left_out) != 0 &&
		    !(last && strcmp(marks[i].name, last) == 0))
			count = offer(marks[i].name, "", out, count);
	if (last && strcmp(last, left_out) != 0)
		count = offer(last, "", out, count);
	return count;
}

bool work_number_is_reading(const struct book_mark *marks, size_t mark_count,
                            const struct level_run *run, const char *proposed, enum level_unit unit)
{
	if ((unit != LEVEL_IN && unit != LEVEL_FTIN) || !*proposed || level_is_bare(proposed))
		return false;
	for (size_t i = 0; i < mark_count; i++)
		if (level_is_bare(marks[i].name))
			return false;
	for (size_t i = 0; i < run->count; i++)
		if (run->sight[i].state == LEVEL_BOOKED && level_is_bare(run->sight[i].station))
			return false;
	return true;
}
