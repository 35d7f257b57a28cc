/* When something was observed, and when it was typed. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "book/store.h"
#include "rodbook/level/time.h"

/* Seconds by which the machine's zone is before UTC at a local time. */
static long zone_at(struct tm local)
{
	struct tm utc;
	time_t moment;
	local.tm_isdst = -1;
	moment = mktime(&local);
	if (moment == (time_t)-1 || !gmtime_r(&moment, &utc))
		return 0;
	utc.tm_isdst = local.tm_isdst;
	return (long)difftime(moment, mktime(&utc));
}

static struct tm parts(const char *time)
{
	struct tm out = {0};
	sscanf(time, "%4d-%2d-%2d%*c%2d:%2d", &out.tm_year, &out.tm_mon, &out.tm_mday, &out.tm_hour,
	       &out.tm_min);
	out.tm_year -= 1900;
	out.tm_mon--;
	return out;
}

/* The offset that the machine's zone had at a local time: that of the clock now, and what summer
 * time makes of it. */
static void put_zone(const char *now, const char *time, char zone[8])
{
	const char *of_now = strlen(now) > 19 ? now + 19 : "";
	long offset = 0;
	if (*of_now == '+' || *of_now == '-')
		offset = (*of_now == '-' ? -60 : 60) *
		         (60 * strtol(of_now + 1, NULL, 10) + strtol(of_now + 4, NULL, 10));
	offset += zone_at(parts(time)) - zone_at(parts(now));
	snprintf(zone, 8, "%c%02ld:%02ld", offset < 0 ? '-' : '+', labs(offset) / 3600 % 24,
	         labs(offset) / 60 % 60);
}

bool book_check_time(const char *typed, struct fault *why)
{
	if (!*typed || level_is_typed_time(typed))
		return true;
	fault_say(why, FAULT_INPUT, "a time is written " BOOK_TIME_FORMS ", not \"%.40s\"", typed);
	return fault_at(why, "time");
}

static bool complete(const char *now, const char *typed, char out[BOOK_TIME_BYTES],
                     struct fault *why)
{
	if (!*typed) {
		strcpy(out, now);
		return true;
	}
	if (!book_check_time(typed, why))
		return false;
	snprintf(out, BOOK_TIME_BYTES, "%.11s%.26s", strlen(typed) == 5 ? now : "", typed);
	if (out[10]) {
		out[10] = 'T';
		if (!strpbrk(out + 11, "Z+-"))
			put_zone(now, out, out + strlen(out));
	}
	return true;
}

bool book_complete_time(const struct book *book, const char *typed, char out[BOOK_TIME_BYTES],
                        char now[BOOK_TIME_BYTES], struct fault *why)
{
	book->clock(now);
	return complete(now, typed, out, why);
}

bool observed_at(const struct book *book, char time[BOOK_TIME_BYTES], char booked[BOOK_TIME_BYTES],
                 struct fault *why)
{
	char full[BOOK_TIME_BYTES];
	booked[0] = '\0';
	if (!complete(book->now, time, full, why))
		return false;
	strcpy(time, full);
	if (strcmp(time, book->now) != 0)
		strcpy(booked, book->now);
	return true;
}
