/* Times of observation, in words. */
#include <stdio.h>
#include <string.h>

#include "rodbook/report/report.h"

/* To the minute, as far as it is known. */
static void put(const char *time, char out[24])
{
	snprintf(out, 24, "%.10s%s%.5s", time, time[10] ? " " : "", time[10] ? time + 11 : "");
}

/* Of two times the second one has its day only where that is another. */
static void pair(const char *one, const char *other, char a[24], char b[24])
{
	put(one, a);
	put(other, b);
	if (strncmp(one, other, 10) == 0 && other[10])
		snprintf(b, 24, "%.5s", other + 11);
}

const char *report_typed(const char *booked, char text[REPORT_TYPED_BYTES])
{
	char minute[24];
	text[0] = '\0';
	if (!*booked)
		return text;
	put(booked, minute);
	snprintf(text, REPORT_TYPED_BYTES, ", typed %s", minute);
	return text;
}

const char *report_times(const struct work_times *times, enum report_times which, char *text,
                         size_t size)
{
	static const char *const observed[] = {
	    [WORK_OBSERVED_SIGHT] = "",
	    [WORK_OBSERVED_WATER] = "the water at ",
	    [WORK_OBSERVED_AIR] = "the air",
	    [WORK_OBSERVED_GAUGE] = "the gauge ",
	};
	char a[24], b[24];
	text[0] = '\0';
	switch (which) {
	case REPORT_TIMES_WATER:
		if (!*times->water_start)
			break;
		pair(times->water_start, times->water_end, a, b);
		snprintf(text, size,
		         "the water was read at one end %s, at the other %s: it may have risen or "
		         "fallen",
		         a, b);
		break;
	case REPORT_TIMES_AIR:
		if (!*times->air)
			break;
		pair(times->air_sight, times->air, a, b);
		snprintf(text, size, "the long sight was read %s, air of the run %s", a, b);
		break;
	case REPORT_TIMES_ORDER:
		if (!*times->back)
			break;
		pair(times->back, times->before, a, b);
		snprintf(text, size,
		         times->ahead ? "%s%.60s was observed %s and typed %s, which is earlier"
		                      : "%s%.60s was observed %s, the sight before it %s",
		         observed[times->observed], times->back_station, a, b);
		break;
	}
	return text;
}
