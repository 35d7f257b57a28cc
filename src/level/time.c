/* Times as ISO 8601 writes them. */
#include "rodbook/level/time.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* Matches text against a pattern in which 0 stands for any digit; NULL, or where the text goes
 * on. */
static const char *match(const char *text, const char *pattern)
{
	for (; *pattern; text++, pattern++)
		if (*pattern == '0' ? !isdigit((unsigned char)*text) : *text != *pattern)
			return NULL;
	return text;
}

static int number(const char *text)
{
	return (text[0] - '0') * 10 + (text[1] - '0');
}

/* Days of the month in a date whose digits were matched. */
static int days_of(const char *date)
{
	static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	int year = number(date) * 100 + number(date + 2), month = number(date + 5);
	bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
	return days[month - 1] + (month == 2 && leap);
}

static bool is_zone(const char *text)
{
	const char *end;
	if (*text == '\0')
		return true;
	if (*text == 'Z')
		return text[1] == '\0';
	if (*text != '+' && *text != '-')
		return false;
	end = match(text + 1, "00:00");
	return end && !*end && number(text + 1) < 24 && number(text + 4) < 60;
}

bool level_is_time(const char *text)
{
	const char *at = match(text, "0000-00-00"), *end;
	if (!at || number(text + 5) < 1 || number(text + 5) > 12 || number(text + 8) < 1 ||
	    number(text + 8) > days_of(text))
		return false;
	if (!*at)
		return true;
	if (*at != 'T' && *at != ' ')
		return false;
	end = match(++at, "00:00");
	if (!end || number(at) > 23 || number(at + 3) > 59)
		return false;
	at = end;
	end = match(at, ":00");
	if (end) {
		if (number(at + 1) > 60)
			return false;
		at = end;
	}
	return is_zone(at);
}

bool level_is_typed_time(const char *text)
{
	const char *end = match(text, "00:00");
	if (end && !*end)
		return number(text) < 24 && number(text + 3) < 60;
	return level_is_time(text) && strlen(text) <= 26;
}

/* Days from a civil date in the Gregorian calendar: years begin in March, so that the leap day is
 * the last. */
long level_day_number(const char *time)
{
	long year = strtol(time, NULL, 10), month = strtol(time + 5, NULL, 10),
	     day = strtol(time + 8, NULL, 10);
	if (month < 3) {
		year--;
		month += 12;
	}
	return 365 * year + year / 4 - year / 100 + year / 400 + (153 * (month - 3) + 2) / 5 + day;
}

bool level_time_seconds(const char *time, int64_t *out)
{
	const char *zone;
	if (!level_is_time(time) || !time[10])
		return false;
	zone = time + 16;
	*out = (int64_t)level_day_number(time) * 86400 + number(time + 11) * 3600 +
	       number(time + 14) * 60;
	if (*zone == ':') {
		*out += number(zone + 1);
		zone += 3;
	}
	if (*zone == '+' || *zone == '-')
		*out -= (*zone == '+' ? 1 : -1) * (number(zone + 1) * 3600 + number(zone + 4) * 60);
	return true;
}

bool level_time_between(const char *from, const char *to, int64_t *seconds)
{
	int64_t a, b;
	if (!level_is_time(from) || !level_is_time(to))
		return false;
	if (level_time_seconds(from, &a) && level_time_seconds(to, &b))
		*seconds = b - a;
	else
		*seconds = (int64_t)(level_day_number(to) - level_day_number(from)) * 86400;
	return true;
}
