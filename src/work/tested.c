/* Whether the instruments of a run were tested, and in time. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/run.h"
#include "rodbook/level/time.h"
#include "work/crossing/since.h"

/* When the instrument was first used in the run; NULL where it was not, or not known. */
static const char *first_use(const struct book_run *run, int instrument)
{
	for (size_t i = 0; i < run->run.count; i++)
		if (level_counted(&run->run.sight[i]) &&
		    run->run.sight[i].instrument == instrument && *run->note[i].time)
			return run->note[i].time;
	return NULL;
}

/* Struck sights do not use it, and an offset uses no level. */
static bool is_used(const struct level_run *run, int instrument)
{
	for (size_t i = 0; i < run->count; i++)
		if (level_counted(&run->sight[i]) && run->sight[i].kind != LEVEL_OFF &&
		    run->sight[i].instrument == instrument)
			return true;
	return false;
}

/* The last test up to the day of that time, whenever it was typed; NULL where there is none. One
 * that came with a whole book may have no time. */
static const struct book_pegtest *last_before(const struct book_pegtest *tests, size_t count,
                                              const char *time)
{
	const struct book_pegtest *last = NULL;
	for (size_t i = 0; i < count; i++)
		if (level_is_time(tests[i].time) &&
		    level_day_number(tests[i].time) <= level_day_number(time) &&
		    (!last || level_day_number(tests[i].time) >= level_day_number(last->time)))
			last = &tests[i];
	return last;
}

/* A set has two standings, and a ; stands between any two. */
static int sets_of(const struct book_pegtest *test)
{
	int standings = 1;
	for (const char *at = test->standings; *at; at++)
		standings += *at == ';';
	return standings / 2;
}

static void judge(const char *name, const struct book_pegtest *test, const char *time,
                  const struct level_tolerance *set, struct work_tested *out)
{
	double tilt;
	snprintf(out->instrument, sizeof out->instrument, "%s", name);
	if (!test) {
		out->state = WORK_NO_TEST;
		return;
	}
	snprintf(out->tilt, sizeof out->tilt, "%s", test->tilt);
	out->days = level_day_number(time) - level_day_number(test->time);
	out->of_day = out->of_day && out->days == 0;
	out->in_sets = out->in_sets && sets_of(test) >= WORK_SETS_SEVERAL;
	if (set->tilt > 0 && level_parse_tilt(test->tilt, &tilt, NULL) && fabs(tilt) > set->tilt)
		out->state = WORK_TEST_FAILED;
	else if (set->days > 0 && (double)out->days > set->days)
		out->state = WORK_TEST_OLD;
}

/* The first test booked after the seal, where the sealed figures know none. */
static void find_late(const char *name, const struct book_pegtest *tests, size_t count,
                      const struct book_terms *terms, struct work_tested *out)
{
	char figure[LEVEL_NAME_BYTES + 20], tilt[BOOK_VALUE_BYTES];
	snprintf(figure, sizeof figure, "tilt %s", name);
	if (*out->late || book_figure(&terms->figures, figure, tilt))
		return;
	for (size_t i = 0; i < count; i++)
		if (typed_since_seal(terms, tests[i].time, tests[i].booked)) {
			snprintf(out->late, sizeof out->late, "%s", name);
			snprintf(out->late_time, sizeof out->late_time, "%s", tests[i].time);
			return;
		}
}

bool work_tested(struct book *book, const struct book_run *run, const struct book_terms *terms,
                 const struct level_tolerance *set, struct work_tested *out, struct fault *why)
{
	bool used = false;
	*out = (struct work_tested){.state = WORK_TESTED, .of_day = !is_used(&run->run, 0)};
	out->in_sets = out->of_day;
	for (int i = 1; i < run->instruments && out->state == WORK_TESTED; i++) {
		const char *time = first_use(run, i);
		struct book_pegtest *tests;
		size_t count;
		if (!is_used(&run->run, i))
			continue;
		used = true;
		if (!time || !level_is_time(time)) {
			out->of_day = out->in_sets = false;
			continue;
		}
		if (!book_pegtests(book, run->instrument[i], &tests, &count, why))
			return false;
		judge(run->instrument[i], last_before(tests, count, time), time, set, out);
		find_late(run->instrument[i], tests, count, terms, out);
		free(tests);
	}
	used = used && out->state == WORK_TESTED && !*out->late;
	out->of_day = out->of_day && used;
	out->in_sets = out->in_sets && used;
	return true;
}
