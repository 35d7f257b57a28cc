/* Tallies of answers whose truth is known, and the table that they are printed in. */
#ifndef ORACLE_COVERAGE_TABLE_H
#define ORACLE_COVERAGE_TABLE_H

#include <stdio.h>
#include <stdlib.h>

#include "rodbook/level/drop/finding.h"
#include "unit/suite.h"

/* What U has to hold, and what it may call shown that is flat, and opposite that is round; percent
 * (what the interval at 95 % is claimed to do). */
#define COVERAGE_LEAST 93
#define COVERAGE_FALSE 5
#define COVERAGE_OPPOSITE 3
#define COVERAGE_ANSWERS 5

static inline bool is_long(void)
{
	return getenv("RODBOOK_LONG") != NULL;
}

/* By U and by if all add up. */
struct tally {
	int days, answered[2], held[2];
	int answer[COVERAGE_ANSWERS]; /* by U */
};

static inline void tally_add(struct tally *tally, const struct level_finding by[2], double truth)
{
	tally->days++;
	for (int i = 0; i < 2; i++) {
		if (by[i].none)
			continue;
		tally->answered[i]++;
		tally->held[i] += by[i].low <= truth && truth <= by[i].high;
	}
	if (!by[0].none)
		tally->answer[by[0].answer]++;
}

/* By U alone. */
static inline void tally_add_one(struct tally *tally, const struct level_finding *by, double truth)
{
	struct level_finding both[2] = {*by, *by};
	tally_add(tally, both, truth);
}

static inline double percent(int part, int of)
{
	return of ? 100.0 * part / of : 0;
}

static inline double held_by_u(const struct tally *tally)
{
	return percent(tally->held[0], tally->answered[0]);
}

static inline int shown(const struct tally *tally)
{
	return tally->answer[LEVEL_SHOWN_COMPATIBLE] + tally->answer[LEVEL_SHOWN_INCOMPATIBLE];
}

/* Three standard deviations of the percentage that `percents` come true of so many draws. */
static inline double margin(double percents, int draws)
{
	return 3 * sqrt(percents * (100 - percents) / fmax(1, draws));
}

static inline void print_legend(void)
{
	printf(
	    "\nPercent of simulated days. U, all: days on which the interval of 1/R by U, and by "
	    "all "
	    "at once, holds the truth. Shown: more drop than a flat surface, by U, on a round one. "
	    "Answers by U: compatible / not compatible / not separated / none shown / opposite / "
	    "no "
	    "answer. *: beyond what is claimed.\n");
}

static inline void print_head(const char *what)
{
	printf("\n| %s | U, round | U, flat | all, round | all, flat | shown | answers, round | "
	       "answers, flat |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n",
	       what);
}

static inline void print_answers(const struct tally *tally)
{
	printf(" |");
	for (int i = 0; i < COVERAGE_ANSWERS; i++)
		printf(" %.0f /", percent(tally->answer[i], tally->days));
	printf(" %.0f", percent(tally->days - tally->answered[0], tally->days));
}

/* One line: a round surface, and a flat one. */
static inline void print_tallies(const char *name, const struct tally by[2])
{
	printf("| %s", name);
	for (int i = 0; i < 4; i++)
		printf(" | %.1f", percent(by[i % 2].held[i / 2], by[i % 2].answered[i / 2]));
	printf(" | %.0f", percent(shown(&by[0]), by[0].days));
	print_answers(&by[0]);
	print_answers(&by[1]);
	printf(" |\n");
	fflush(stdout);
}

/* What did not hold; said at the end, so that one row does not hide the others. */
struct broken {
	int count;
	char text[2000];
};

static inline void check_percent(struct broken *broken, const char *name, const char *what,
                                 double is, double limit, int draws, bool at_least)
{
	size_t used = strlen(broken->text);
	double spare = margin(limit, draws);
	if (at_least ? is >= limit - spare : is <= limit + spare)
		return;
	broken->count++;
	snprintf(broken->text + used, sizeof broken->text - used, "%s: %s %.1f, limit %g\n", name,
	         what, is, limit);
}

/* Whether what was promised came true within `miss`, all in percent. */
static inline void check_near(struct broken *broken, const char *name, double promised, double is,
                              int draws, double miss)
{
	check_percent(broken, name, "told", is, fmax(0, promised - miss), draws, true);
	check_percent(broken, name, "told", is, fmin(100, promised + miss), draws, false);
}

/* Holds a row to what is claimed. */
static inline void check_tallies(struct broken *broken, const char *name, const struct tally by[2],
                                 double power)
{
	static const char *const held[] = {"round, U holds", "flat, U holds"};
	const struct tally *round = &by[0], *flat = &by[1];
	for (int i = 0; i < 2; i++)
		if (by[i].answered[0])
			check_percent(broken, name, held[i],
			              percent(by[i].held[0], by[i].answered[0]), COVERAGE_LEAST,
			              by[i].answered[0], true);
	check_percent(broken, name, "flat, shown", percent(shown(flat), flat->days), COVERAGE_FALSE,
	              flat->days, false);
	check_percent(broken, name, "round, opposite",
	              percent(round->answer[LEVEL_OPPOSITE], round->days), COVERAGE_OPPOSITE,
	              round->days, false);
	if (power > 0)
		check_percent(broken, name, "round, shown", percent(shown(round), round->days),
		              power, round->days, true);
}

static inline void check_broken(const struct broken *broken)
{
	ck_assert_msg(broken->count == 0, "%d broken:\n%s", broken->count, broken->text);
}

#endif
