/* Whether the instruments of a run were tested, and in time. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/report/paper.h"

/* The number of a day; dates as paper_is_time() takes them. (Days from a civil date in the
 * Gregorian calendar: years begin in March, so that the leap day is the last.) */
static long day_number(const char *date)
{
	long year = strtol(date, NULL, 10), month = strtol(date + 5, NULL, 10),
	     day = strtol(date + 8, NULL, 10);
	if (month < 3) {
		year--;
		month += 12;
	}
	return 365 * year + year / 4 - year / 100 + year / 400 + (153 * (month - 3) + 2) / 5 + day;
}

/* When the instrument was first used in the run; NULL where it was not, or not known. */
static const char *first_use(const struct book_run *run, int instrument)
{
	for (size_t i = 0; i < run->run.count; i++)
		if (level_counted(&run->run.sight[i]) &&
		    run->run.sight[i].instrument == instrument && *run->note[i].time)
			return run->note[i].time;
	return NULL;
}

/* The last test before that time; NULL where there is none. */
static const struct book_pegtest *last_before(const struct book_pegtest *tests, size_t count,
                                              const char *time)
{
	const struct book_pegtest *last = NULL;
	for (size_t i = 0; i < count; i++)
		if (day_number(tests[i].time) <= day_number(time))
			last = &tests[i];
	return last;
}

static void judge(const char *name, const struct book_pegtest *test, const char *time,
                  const struct level_tolerance *set, char *text, size_t size)
{
	double tilt;
	long days;
	if (!test) {
		snprintf(text, size, "%.40s: no peg test before this run is booked", name);
		return;
	}
	days = day_number(time) - day_number(test->time);
	if (set->tilt > 0 && level_parse_tilt(test->tilt, &tilt, NULL) && fabs(tilt) > set->tilt)
		snprintf(text, size,
		         "%.40s FAILED its last peg test: tilt %.30s, %s allows %.3g mm/m", name,
		         test->tilt, set->title, set->tilt * 1000);
	else if (set->days > 0 && (double)days > set->days)
		snprintf(text, size,
		         "%.40s was tested by pegs %ld days before this run: %s asks for %g", name,
		         days, set->title, set->days);
}

bool paper_test_warning(struct book *book, const struct book_run *run,
                        const struct level_tolerance *set, char *text, size_t size,
                        struct fault *why)
{
	text[0] = '\0';
	for (int i = 1; i < run->instruments && !*text; i++) {
		const char *time = first_use(run, i);
		struct book_pegtest *tests;
		size_t count;
		if (!time || !paper_is_time(time))
			continue;
		if (!book_pegtests(book, run->instrument[i], &tests, &count, why))
			return false;
		judge(run->instrument[i], last_before(tests, count, time), time, set, text, size);
		free(tests);
	}
	return true;
}
