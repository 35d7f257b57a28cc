#include "rodbook/work/offers.h"

#include <string.h>
#include <strings.h>

static size_t offer(const char *name, const char *typed, const char **out, size_t count)
{
	size_t size = strlen(typed);
	if (count == WORK_OFFERS_MOST || strncasecmp(name, typed, size) != 0 || !name[size])
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
	for (size_t i = 0; i < mark_count; i++)
		count = offer(marks[i].name, typed, out, count);
	for (size_t i = 0; i < run->count; i++)
		if (level_counted(&run->sight[i]))
			count = offer(run->sight[i].station, typed, out, count);
	return count;
}
