/* Times as ISO 8601 writes them. */
#ifndef RODBOOK_LEVEL_TIME_H
#define RODBOOK_LEVEL_TIME_H

#include <stdbool.h>
#include <stdint.h>

/* Whether text is a time: 2026-05-04, 2026-05-04T09:30, with :00, with Z or +02:00. */
bool level_is_time(const char *text);
/* Whether text is a time as a user types one: also 09:30, of today, and up to 26 characters. */
bool level_is_typed_time(const char *text);
/* The number of the day of such a time: from one day to the next it grows by 1. */
long level_day_number(const char *time);
/* Seconds of such a time, to be compared with those of another one; one without a zone is taken as
 * it stands. False for a day alone, and for what is no time. */
bool level_time_seconds(const char *time, int64_t *out);
/* Seconds from one time to another; whole days where one of them is a day alone. False where one is
 * no time.
 */
bool level_time_between(const char *from, const char *to, int64_t *seconds);

#endif
