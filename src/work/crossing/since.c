#include "work/crossing/since.h"

#include "rodbook/level/time.h"

bool since_seal(const struct book_terms *terms, const char *time)
{
	int64_t sealed, typed;
	return terms->sealed && level_time_seconds(terms->sealed_time, &sealed) &&
	       level_time_seconds(time, &typed) && typed > sealed;
}

bool typed_since_seal(const struct book_terms *terms, const char *time, const char *booked)
{
	return since_seal(terms, *booked ? booked : time);
}

bool air_counts(const struct book_terms *terms, const struct book_air *air)
{
	return (!*air->struck || since_seal(terms, air->struck)) &&
	       !typed_since_seal(terms, air->time, air->booked);
}
