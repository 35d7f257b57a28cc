/* What may stand where in a run, and what is likely to come next. Rules of the trade: common
 * practice, no source. */
#include "rodbook/level/sight.h"

#include <stdlib.h>
#include <string.h>

#include "sights.h"
#include "suite.h"

#define STRUCK(kind, station) as(sight(kind, station, MM(9), 0), LEVEL_STRUCK)
#define BLANK(kind, station) as(sight(kind, station, 0, 0), LEVEL_BLANK)
#define SIGHT(kind, station) sight(kind, station, MM(1500), 0)

static struct level_run run_of(struct level_sight *sights, size_t count)
{
	return (struct level_run){.kind = LEVEL_OPEN, .count = count, .sight = sights};
}

#define RUN_OF(sights) run_of(sights, sizeof(sights) / sizeof *(sights))

static void accept(struct level_run run, size_t at, bool replace, enum level_kind kind,
                   const char *station)
{
	struct level_sight draft = as(SIGHT(kind, station), LEVEL_DRAFT);
	struct fault why = {0};
	ck_assert_msg(level_check_place(&run, at, replace, &draft, &why), "%s %s at %zu: %s",
	              level_kind_name(kind), station, at, why.text);
}

static void refuse(struct level_run run, size_t at, bool replace, enum level_kind kind,
                   const char *station, const char *said)
{
	struct level_sight draft = as(SIGHT(kind, station), LEVEL_DRAFT);
	struct fault why = {0};
	ck_assert_msg(!level_check_place(&run, at, replace, &draft, &why), "%s %s accepted at %zu",
	              level_kind_name(kind), station, at);
	ck_assert_msg(strstr(why.text, said) != NULL, "%s %s at %zu: %s", level_kind_name(kind),
	              station, at, why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_check_place(&run, at, replace, &draft, NULL));
}

START_TEST(test_first)
{
	struct level_run empty = {.kind = LEVEL_OPEN};
	struct level_sight struck[] = {STRUCK(LEVEL_BS, "A"), BLANK(LEVEL_BS, "A")};
	accept(empty, 0, false, LEVEL_BS, "A");
	refuse(empty, 0, false, LEVEL_IS, "A", "no BS");
	refuse(empty, 0, false, LEVEL_FS, "A", "no BS");
	for (size_t at = 0; at <= 2; at++) {
		accept(RUN_OF(struck), at, false, LEVEL_BS, "B");
		refuse(RUN_OF(struck), at, false, LEVEL_IS, "B", "no BS");
		refuse(RUN_OF(struck), at, false, LEVEL_FS, "B", "no BS");
	}
}
END_TEST

/* At the end of the run, with struck rows after each sight. */
START_TEST(test_append)
{
	struct level_sight open[] = {SIGHT(LEVEL_BS, "A"), STRUCK(LEVEL_FS, "TP1")};
	struct level_sight side[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_IS, "P"),
	                             STRUCK(LEVEL_FS, "TP1")};
	struct level_sight full[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_FS, "TP1"),
	                             STRUCK(LEVEL_BS, "TP9")};
	accept(RUN_OF(open), 2, false, LEVEL_IS, "P");
	accept(RUN_OF(open), 2, false, LEVEL_FS, "TP1");
	refuse(RUN_OF(open), 2, false, LEVEL_BS, "TP1", "second BS");
	refuse(RUN_OF(open), 2, false, LEVEL_BS, "A", "second BS");
	accept(RUN_OF(side), 3, false, LEVEL_IS, "Q");
	accept(RUN_OF(side), 3, false, LEVEL_FS, "TP1");
	refuse(RUN_OF(side), 3, false, LEVEL_BS, "TP1", "second BS");
	accept(RUN_OF(full), 3, false, LEVEL_BS, "TP1");
	refuse(RUN_OF(full), 3, false, LEVEL_BS, "TP9", "stands on TP1");
	refuse(RUN_OF(full), 3, false, LEVEL_BS, "tp1", "stands on TP1");
	refuse(RUN_OF(full), 3, false, LEVEL_IS, "P", "no BS");
	refuse(RUN_OF(full), 3, false, LEVEL_FS, "TP2", "no BS");
}
END_TEST

/* A loop of two setups with struck and blank rows in between; the second BS was struck and read
 * again. */
static struct level_sight *loop(void)
{
	static struct level_sight sights[8];
	struct level_sight fresh[] = {
	    SIGHT(LEVEL_BS, "A"),    SIGHT(LEVEL_IS, "P"),   SIGHT(LEVEL_FS, "TP1"),
	    STRUCK(LEVEL_BS, "TP1"), SIGHT(LEVEL_BS, "TP1"), BLANK(LEVEL_IS, "Q"),
	    SIGHT(LEVEL_FS, "A"),    STRUCK(LEVEL_IS, "R"),
	};
	memcpy(sights, fresh, sizeof sights);
	return sights;
}

START_TEST(test_insert)
{
	struct level_run run = run_of(loop(), 8);
	/* into a complete setup: only an IS fits, and it must stand before the FS */
	for (size_t at = 1; at <= 2; at++) {
		accept(run, at, false, LEVEL_IS, "Q");
		refuse(run, at, false, LEVEL_BS, "A", "second BS");
	}
	refuse(run, 1, false, LEVEL_FS, "TP1", "comes last");
	refuse(run, 2, false, LEVEL_FS, "TP1", "comes last");
	refuse(run, 5, false, LEVEL_FS, "TP2", "comes last");
	accept(run, 6, false, LEVEL_IS, "Q");
	/* between two setups that join, before or after the struck row, only a forgotten setup */
	for (size_t at = 3; at <= 4; at++) {
		accept(run, at, false, LEVEL_BS, "TP1");
		refuse(run, at, false, LEVEL_BS, "X", "stands on TP1");
		refuse(run, at, false, LEVEL_IS, "Q", "no BS");
		refuse(run, at, false, LEVEL_FS, "Q", "no BS");
	}
	/* after the last, struck row or not */
	for (size_t at = 7; at <= 8; at++) {
		accept(run, at, false, LEVEL_BS, "A");
		refuse(run, at, false, LEVEL_BS, "TP1", "stands on A");
	}
}
END_TEST

START_TEST(test_replace)
{
	struct level_run run = run_of(loop(), 8);
	/* each by its like, and the start on any mark */
	accept(run, 0, true, LEVEL_BS, "A");
	accept(run, 0, true, LEVEL_BS, "B");
	accept(run, 1, true, LEVEL_IS, "X");
	accept(run, 2, true, LEVEL_FS, "TP1");
	accept(run, 4, true, LEVEL_BS, "TP1");
	accept(run, 6, true, LEVEL_FS, "B");
	/* a BS by another kind leaves its setup without one */
	refuse(run, 0, true, LEVEL_IS, "A", "no BS");
	refuse(run, 0, true, LEVEL_FS, "A", "no BS");
	refuse(run, 4, true, LEVEL_IS, "TP1", "no BS");
	refuse(run, 4, true, LEVEL_FS, "TP1", "no BS");
	/* an IS, or an FS, by a BS makes a second */
	refuse(run, 1, true, LEVEL_BS, "P", "second BS");
	refuse(run, 2, true, LEVEL_BS, "TP1", "second BS");
	refuse(run, 6, true, LEVEL_BS, "A", "second BS");
	/* an IS by an FS, before the FS */
	refuse(run, 1, true, LEVEL_FS, "P", "comes last");
	/* an FS by an IS: at the end it opens the setup again, within the line it would cut it */
	accept(run, 6, true, LEVEL_IS, "A");
	refuse(run, 2, true, LEVEL_IS, "TP1", "line goes on");
}
END_TEST

/* A turning point is renamed at its BS, and its FS goes along: the line stays joined. */
START_TEST(test_rename_turning_point)
{
	accept(run_of(loop(), 8), 4, true, LEVEL_BS, "TP7");
}
END_TEST

/* Behind a break (an FS on one mark, the next BS on another). */
START_TEST(test_break)
{
	struct level_sight broken[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_FS, "TP1"),
	                               STRUCK(LEVEL_IS, "P"), SIGHT(LEVEL_BS, "TP2"),
	                               SIGHT(LEVEL_FS, "B")};
	struct level_run run = RUN_OF(broken);
	/* the BS keeps its mark, or goes where the line stands, but nowhere else */
	accept(run, 3, true, LEVEL_BS, "TP2");
	accept(run, 3, true, LEVEL_BS, "TP1");
	refuse(run, 3, true, LEVEL_BS, "TP3", "stands on TP1");
	/* a setup fits into the gap, from the mark where the line stands */
	for (size_t at = 2; at <= 3; at++) {
		accept(run, at, false, LEVEL_BS, "TP1");
		refuse(run, at, false, LEVEL_BS, "TP2", "stands on TP1");
	}
}
END_TEST

START_TEST(test_full_run)
{
	struct level_sight *sights = calloc(LEVEL_SIGHTS_LIMIT, sizeof *sights);
	struct level_run run = {.kind = LEVEL_OPEN, .count = LEVEL_SIGHTS_LIMIT, .sight = sights};
	ck_assert_ptr_nonnull(sights);
	for (size_t i = 0; i < run.count; i++)
		sights[i] = SIGHT(i ? LEVEL_IS : LEVEL_BS, "A");
	refuse(run, run.count, false, LEVEL_FS, "B", "at most 50000 sights");
	accept(run, run.count - 1, true, LEVEL_FS, "B");
	run.count--;
	accept(run, run.count, false, LEVEL_FS, "B");
	free(sights);
}
END_TEST

static void check_suggestion(struct level_run run, size_t at, enum level_kind kind,
                             const char *station)
{
	enum level_kind got = LEVEL_IS;
	char buf[LEVEL_STATION_BYTES] = "before";
	level_suggest(&run, at, &got, buf);
	ck_assert_msg(got == kind && strcmp(buf, station) == 0, "at %zu: %s \"%s\", not %s \"%s\"",
	              at, level_kind_name(got), buf, level_kind_name(kind), station);
}

START_TEST(test_suggest)
{
	struct level_run empty = {.kind = LEVEL_OPEN};
	struct level_sight sights[] = {
	    STRUCK(LEVEL_BS, "Z"), SIGHT(LEVEL_BS, "A"),    SIGHT(LEVEL_IS, "P"),
	    SIGHT(LEVEL_FS, "B"),  STRUCK(LEVEL_FS, "TP1"), BLANK(LEVEL_BS, "C"),
	};
	check_suggestion(empty, 0, LEVEL_BS, "");
	check_suggestion(run_of(sights, 1), 0, LEVEL_BS, "");
	check_suggestion(run_of(sights, 1), 1, LEVEL_BS, "");
	check_suggestion(run_of(sights, 2), 2, LEVEL_FS, "TP1");
	check_suggestion(run_of(sights, 3), 3, LEVEL_FS, "TP1");
	check_suggestion(run_of(sights, 4), 4, LEVEL_BS, "B");
	/* struck and blank rows carry no line; a struck name still is taken */
	check_suggestion(run_of(sights, 6), 6, LEVEL_BS, "B");
}
END_TEST

/* The next free turning point is one above the highest, wherever that stands. */
START_TEST(test_suggest_next_free)
{
	struct level_sight sights[] = {
	    SIGHT(LEVEL_BS, "A"),     SIGHT(LEVEL_FS, "TP12"),  SIGHT(LEVEL_BS, "TP12"),
	    SIGHT(LEVEL_IS, "TP77x"), STRUCK(LEVEL_IS, "TP40"), SIGHT(LEVEL_IS, "XTP99"),
	};
	check_suggestion(run_of(sights, 4), 4, LEVEL_FS, "TP13");
	check_suggestion(RUN_OF(sights), 6, LEVEL_FS, "TP41");
	sights[1] = SIGHT(LEVEL_FS, "TP007");
	sights[2] = SIGHT(LEVEL_BS, "TP007");
	check_suggestion(run_of(sights, 3), 3, LEVEL_FS, "TP8");
}
END_TEST

/* After an FS was struck, the same mark is read again. */
START_TEST(test_suggest_struck)
{
	struct level_sight sights[] = {SIGHT(LEVEL_BS, "A"), STRUCK(LEVEL_FS, "B"),
	                               STRUCK(LEVEL_FS, "SILL"), STRUCK(LEVEL_IS, "P")};
	struct level_sight again[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_FS, "TP1"),
	                              STRUCK(LEVEL_BS, "TP1"), STRUCK(LEVEL_FS, "TP2"),
	                              SIGHT(LEVEL_BS, "TP1")};
	check_suggestion(run_of(sights, 2), 2, LEVEL_FS, "B");
	check_suggestion(RUN_OF(sights), 4, LEVEL_FS, "SILL");
	/* its whole setup was struck, and begun again */
	check_suggestion(RUN_OF(again), 5, LEVEL_FS, "TP2");
	/* not the mark that the setup began on */
	sights[1] = STRUCK(LEVEL_FS, "A");
	check_suggestion(run_of(sights, 2), 2, LEVEL_FS, "TP1");
	/* nor one of a setup before */
	again[1] = STRUCK(LEVEL_FS, "TP1");
	again[2] = SIGHT(LEVEL_FS, "TP2");
	again[3] = SIGHT(LEVEL_BS, "TP2");
	check_suggestion(run_of(again, 4), 4, LEVEL_FS, "TP3");
}
END_TEST

/* A setup before another leads to where that one begins. */
START_TEST(test_suggest_into_gap)
{
	struct level_sight sights[] = {SIGHT(LEVEL_BS, "A"), STRUCK(LEVEL_FS, "TP1"),
	                               SIGHT(LEVEL_BS, "TP5"), SIGHT(LEVEL_FS, "B")};
	check_suggestion(RUN_OF(sights), 1, LEVEL_FS, "TP5");
	check_suggestion(RUN_OF(sights), 2, LEVEL_FS, "TP5");
}
END_TEST

/* A setup put in where the line is whole leads to a new mark, not back to where it began. */
START_TEST(test_suggest_forgotten_setup)
{
	struct level_sight sights[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_FS, "TP1"),
	                               SIGHT(LEVEL_BS, "TP1"), SIGHT(LEVEL_BS, "TP1"),
	                               SIGHT(LEVEL_FS, "TP2")};
	check_suggestion(RUN_OF(sights), 2, LEVEL_BS, "TP1");
	check_suggestion(RUN_OF(sights), 3, LEVEL_FS, "TP3");
}
END_TEST

/* What is suggested at the end of a run may be booked there, and leads on without a break. */
START_TEST(test_suggestions_can_be_booked)
{
	struct level_sight sights[41];
	struct level_run run = {.kind = LEVEL_OPEN, .count = 1, .sight = sights};
	sights[0] = SIGHT(LEVEL_BS, "A");
	while (run.count < 41) {
		struct level_sight *next = &sights[run.count];
		enum level_kind kind;
		char station[LEVEL_STATION_BYTES];
		level_suggest(&run, run.count, &kind, station);
		ck_assert_int_eq(kind, run.count % 2 ? LEVEL_FS : LEVEL_BS);
		*next = SIGHT(kind, station);
		ck_assert(level_check_place(&run, run.count, false, next, NULL));
		run.count++;
	}
	ck_assert_str_eq(sights[39].station, "TP20");
}
END_TEST

/* Between the BS and the FS of a whole setup only an IS can stand. */
START_TEST(test_suggest_inside_setup)
{
	struct level_sight sights[] = {SIGHT(LEVEL_BS, "A"), SIGHT(LEVEL_FS, "TP1")};
	struct level_run run = {.kind = LEVEL_OPEN, .count = 2, .sight = sights};
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];
	level_suggest(&run, 1, &kind, station);
	ck_assert_int_eq(kind, LEVEL_IS);
	ck_assert_str_eq(station, "");
}
END_TEST

START_TEST(test_counted)
{
	struct level_run run = run_of(loop(), 8);
	struct level_sight draft = as(SIGHT(LEVEL_BS, "A"), LEVEL_DRAFT);
	static const size_t before[] = {8, 0, 1, 2, 2, 4, 4, 6, 6};
	static const size_t from[] = {0, 1, 2, 4, 4, 6, 6, 8, 8};
	for (size_t at = 0; at <= 8; at++) {
		ck_assert_uint_eq(level_counted_before(&run, at), before[at]);
		ck_assert_uint_eq(level_counted_from(&run, at), from[at]);
	}
	ck_assert(level_counted(&run.sight[0]));
	ck_assert(!level_counted(&run.sight[3]));
	ck_assert(!level_counted(&run.sight[5]));
	ck_assert(level_counted(&draft));
}
END_TEST

/* A forged run may begin with the BS of a further standing: there is no first one to end on. */
START_TEST(test_suggest_forged)
{
	struct level_sight *alone = malloc(sizeof *alone);
	struct level_run run = {LEVEL_OPEN, 1, alone, ""};
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];
	ck_assert_ptr_nonnull(alone);
	*alone = sight(LEVEL_BS, "A", MM(1000), 0);
	alone->again = true;
	level_suggest(&run, 1, &kind, station);
	ck_assert_int_eq(kind, LEVEL_FS);
	ck_assert_str_eq(station, "TP1");
	free(alone);
}
END_TEST

int main(void)
{
	return RUN_TESTS("sequence", test_first, test_append, test_insert, test_replace,
	                 test_rename_turning_point, test_break, test_full_run, test_suggest,
	                 test_suggest_next_free, test_suggest_struck, test_suggest_into_gap,
	                 test_suggestions_can_be_booked, test_suggest_inside_setup,
	                 test_suggest_forgotten_setup, test_counted, test_suggest_forged);
}
