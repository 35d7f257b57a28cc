/* Where offsets and further standings may stand, and what comes next there. Rules of the trade:
 * common practice, no source. */
#include "rodbook/level/sight.h"

#include <string.h>

#include "rodbook/level/page.h"
#include "rodbook/level/ready.h"
#include "sights.h"
#include "suite.h"

#define S(kind, station) sight(LEVEL_##kind, station, MM(1500), METRES(20))

static struct level_run run_of(struct level_sight *sights, size_t count)
{
	return (struct level_run){.kind = LEVEL_OPEN, .count = count, .sight = sights};
}

static void place(struct level_run run, size_t at, bool replace, struct level_sight draft,
                  const char *refusal)
{
	struct fault why = {0};
	bool ok = level_check_place(&run, at, replace, &draft, &why);
	if (refusal)
		ck_assert_msg(!ok && strstr(why.text, refusal), "at %zu: %s", at,
		              ok ? "accepted" : why.text);
	else
		ck_assert_msg(ok, "at %zu: %s", at, why.text);
}

static struct level_sight again(struct level_sight on)
{
	on.again = true;
	return on;
}

START_TEST(test_offsets)
{
	struct level_sight sights[] = {S(BS, "A"), S(FS, "B"), S(OFF, "C"), S(BS, "C"), S(FS, "D")};
	place(run_of(sights, 0), 0, false, S(OFF, "C"), "sight to that mark first");
	place(run_of(sights, 1), 1, false, S(OFF, "C"), "stands between setups");
	place(run_of(sights, 2), 2, false, S(OFF, "C"), NULL);
	place(run_of(sights, 2), 2, false, S(OFF, "B"), "goes to another mark");
	place(run_of(sights, 3), 3, false, S(OFF, "X"), NULL);
	/* a changed one keeps off the mark before it, and may have another name */
	place(run_of(sights, 3), 2, true, S(OFF, "E"), NULL);
	place(run_of(sights, 3), 2, true, S(OFF, "B"), "goes to another mark");
	/* nothing comes between an offset and what it goes on from */
	place(run_of(sights, 5), 2, false, S(BS, "B"),
	      "the offset to C is measured from the mark before it");
	place(run_of(sights, 5), 1, true, S(FS, "X"), NULL);
	place(run_of(sights, 5), 1, true, S(FS, "C"),
	      "measured from this mark to C: give this mark another name");
	/* neither becomes the other */
	place(run_of(sights, 5), 2, true, S(FS, "C"), "an offset stays one");
	place(run_of(sights, 5), 4, true, S(OFF, "D"), "a sight stays one");
	/* an FS before an offset becomes no IS */
	place(run_of(sights, 3), 1, true, S(IS, "B"), "strike the later setups first");
	place(run_of(sights, 2), 1, true, S(IS, "B"), NULL);
}
END_TEST

START_TEST(test_second_bs)
{
	struct level_sight sights[] = {S(BS, "A"), S(IS, "P"), S(FS, "B")};
	place(run_of(sights, 1), 1, false, S(BS, "A"), "read the FS first");
	place(run_of(sights, 2), 2, false, S(BS, "A"), "read the FS first");
	/* before a setup that is whole, and before one whose BS is struck */
	place(run_of(sights, 3), 0, false, S(BS, "Z"), NULL);
	sights[0].state = LEVEL_STRUCK;
	place(run_of(sights, 3), 0, false, S(BS, "Z"), "it has one already");
	place(run_of(sights, 3), 1, false, S(BS, "Z"), "it has one already");
	sights[1].state = sights[2].state = LEVEL_STRUCK;
	place(run_of(sights, 3), 0, false, S(BS, "Z"), NULL);
}
END_TEST

/* A further standing begins and ends on the marks of the first, and follows a setup with its FS. */
START_TEST(test_standings)
{
	struct level_sight sights[] = {S(BS, "A"), S(FS, "B"), again(S(BS, "A")), S(FS, "B")};
	place(run_of(sights, 2), 2, false, again(S(BS, "A")), NULL);
	place(run_of(sights, 2), 2, false, again(S(BS, "C")),
	      "begins on the BS mark of the first, A");
	place(run_of(sights, 3), 3, false, S(FS, "B"), NULL);
	place(run_of(sights, 3), 3, false, S(IS, "P"), NULL);
	place(run_of(sights, 3), 3, false, S(FS, "C"), "ends on the FS mark of the first, B");
	place(run_of(sights, 0), 0, false, again(S(BS, "A")), "follows a setup that has its FS");
	place(run_of(sights, 4), 4, false, again(S(BS, "A")), NULL);
	place(run_of(sights, 4), 4, false, S(BS, "B"), NULL);
	/* the marks of the first stay while there is a later one */
	place(run_of(sights, 4), 1, true, S(FS, "C"), "strike the later standing first");
	place(run_of(sights, 4), 0, true, S(BS, "C"), "strike the later standing first");
	place(run_of(sights, 4), 1, true, S(FS, "B"), NULL);
	ck_assert_uint_eq(level_may_repeat(&(struct level_run){.count = 2, .sight = sights}, 2), 0);
	ck_assert_uint_eq(level_may_repeat(&(struct level_run){.count = 4, .sight = sights}, 4), 0);
	ck_assert_uint_eq(level_may_repeat(&(struct level_run){.count = 3, .sight = sights}, 3), 3);
	ck_assert_uint_eq(level_may_repeat(&(struct level_run){.count = 0}, 0), 0);
	/* not behind an offset */
	sights[2] = S(OFF, "C");
	ck_assert_uint_eq(level_may_repeat(&(struct level_run){.count = 3, .sight = sights}, 3), 3);
	place(run_of(sights, 3), 3, false, again(S(BS, "A")), "follows a setup that has its FS");
}
END_TEST

/* BS and FS on one mark belong together where nothing stands between. */
START_TEST(test_partners)
{
	struct level_sight sights[] = {
	    S(BS, "A"),  S(IS, "A"), S(FS, "B"), as(S(IS, "Q"), LEVEL_STRUCK),
	    S(BS, "B"),  S(FS, "C"), S(BS, "X"), S(FS, "D"),
	    S(OFF, "E"), S(BS, "E")};
	static const size_t partner[] = {10, 10, 4, 10, 2, 10, 10, 10, 9, 8};
	struct level_run run = run_of(sights, 10);
	for (size_t i = 0; i < 10; i++)
		if (i != 3)
			ck_assert_uint_eq(level_partner(&run, i), partner[i]);
	/* an offset to the mark that the line stands on is no partner of it */
	strcpy(sights[8].station, "D");
	ck_assert_uint_eq(level_partner(&run, 7), 10);
	run.count = 1;
	ck_assert_uint_eq(level_partner(&run, 0), 1);
}
END_TEST

static void next_is(struct level_run run, size_t at, enum level_kind kind, const char *station)
{
	enum level_kind got;
	char name[LEVEL_STATION_BYTES];
	level_suggest(&run, at, &got, name);
	ck_assert_int_eq(got, kind);
	ck_assert_str_eq(name, station);
}

START_TEST(test_suggested)
{
	struct level_sight sights[] = {
	    S(BS, "A"),  S(FS, "B"), again(S(BS, "A")), S(IS, "P"),  S(FS, "B"),
	    S(OFF, "C"), S(BS, "C"), S(IS, "TP9"),      S(IS, "TP"), S(IS, "TP1234567890123")};
	/* a further standing ends where the first one did, an IS between or not */
	next_is(run_of(sights, 3), 3, LEVEL_FS, "B");
	next_is(run_of(sights, 4), 4, LEVEL_FS, "B");
	/* an offset leads on from its mark */
	next_is(run_of(sights, 6), 6, LEVEL_BS, "C");
	next_is(run_of(sights, 8), 8, LEVEL_FS, "TP10");
	/* 13 digits are no number of a turning point; 12 are */
	next_is(run_of(sights, 10), 10, LEVEL_FS, "TP10");
	strcpy(sights[9].station, "TP123456789012");
	next_is(run_of(sights, 10), 10, LEVEL_FS, "TP123456789013");
	ck_assert(level_is_passing("TP1"));
	ck_assert(level_is_passing("TP1234567890123"));
	ck_assert(!level_is_passing("TP"));
	ck_assert(!level_is_passing("TP1a"));
	ck_assert(!level_is_passing("XTP1"));
}
END_TEST

/* Shores: what is found does not hang on what stood there, and an FS with no BS tells nothing. */
START_TEST(test_shores)
{
	struct level_sight sights[] = {sight(LEVEL_FS, "X", MM(1500), METRES(900)),
	                               sight(LEVEL_BS, "A", MM(1500), METRES(10)),
	                               sight(LEVEL_FS, "B", MM(1500), METRES(10))};
	struct level_run run = run_of(sights, 3);
	struct level_shores got = {true, true};
	ck_assert(level_shores(&run, METRES(100), &got));
	ck_assert(!got.first && !got.second);
	sights[2].distance = METRES(800);
	ck_assert(level_shores(&run, METRES(100), &got));
	ck_assert(got.first && !got.second);
	run.count = 0;
	ck_assert(level_shores(&run, METRES(100), &got));
	ck_assert(!got.first && !got.second);
}
END_TEST

int main(void)
{
	return RUN_TESTS("sequence_marks", test_offsets, test_second_bs, test_standings,
	                 test_partners, test_suggested, test_shores);
}
