/* What each rule says of a run, with its values: a loop of one setup, altered in one thing at a
 * time.
 */
#include "work/leave/leave_rules.h"

#include "kept.h"
#include "sights.h"
#include "suite.h"

struct bench {
	struct level_sight sights[4];
	struct book_note notes[4];
	struct book_kept kept[4];
	struct work_run run;
	struct book_mark mark;
	bool said[1];
	struct leave_about about;
	struct work_leave list;
};

/* A at 10 m is the start; B is where the FS stands. Read by instrument 1, tested, on one rod. */
static void begin(struct bench *b, enum level_run_kind kind)
{
	*b = (struct bench){
	    .sights = {known(sight(LEVEL_BS, "A", MM(1500), METRES(30)), METRES(10), 0),
	               sight(LEVEL_FS, "B", MM(1500), METRES(30))}};
	b->sights[0].instrument = b->sights[1].instrument = 1;
	b->run.book.run = RUN(kind, b->sights);
	b->run.book.run.count = 2;
	b->run.book.note = keep_notes(b->kept, b->notes, 4);
	strcpy(b->run.book.info.name, "a");
	b->run.settings.tolerance = *level_tolerance_find("third-order", NULL);
	b->run.settings.long_sight = METRES(100);
	b->run.terms.terms = usual_terms();
	b->run.closing = (struct level_closing){.setups = 1,
	                                        .page_holds = true,
	                                        .has_length = true,
	                                        .length = METRES(60),
	                                        .has_misclosure = true,
	                                        .has_allowable = true,
	                                        .allowable = MM(3),
	                                        .closes = LEVEL_YES,
	                                        .start_station = "A",
	                                        .end_station = kind == LEVEL_LOOP ? "A" : "B"};
	b->about = (struct leave_about){.run = &b->run,
	                                .has_air = true,
	                                .air_tells = true,
	                                .marks = &b->mark,
	                                .mark_said = b->said};
}

/* The only item of that code; NULL where there is none. */
static const struct work_leave_item *item(struct bench *b, enum work_leave_code code)
{
	const struct work_leave_item *found = NULL;
	free(b->list.item);
	b->list = (struct work_leave){0};
	b->said[0] = false;
	level_page_free(&b->run.page);
	b->run.page = (struct level_page){0};
	ck_assert(level_reduce(&b->run.book.run, 0, &b->run.terms.terms, &b->run.page));
	ck_assert(leave_add(&b->list, &b->about));
	for (size_t i = 0; i < b->list.count; i++)
		if (b->list.item[i].code == code) {
			ck_assert_ptr_null(found);
			found = &b->list.item[i];
			ck_assert_str_eq(found->run, "a");
		}
	return found;
}

static void end(struct bench *b)
{
	free(b->list.item);
	level_page_free(&b->run.page);
}

START_TEST(test_nothing_else)
{
	struct bench b;
	begin(&b, LEVEL_LOOP);
	ck_assert_ptr_nonnull(item(&b, WORK_RUN_NOT_CLOSED));
	ck_assert_uint_eq(b.list.count, 1);
	ck_assert_int_eq(b.list.item[0].rank, WORK_RANK_NOT_CLOSED);
	ck_assert(!b.list.item[0].blocks && !b.list.item[0].closed);
	/* of a closed run only what blocks */
	b.run.book.info.closed = true;
	ck_assert_ptr_null(item(&b, WORK_RUN_NOT_CLOSED));
	ck_assert_uint_eq(b.list.count, 0);
	/* without any sight it cannot be closed yet */
	b.run.book.info.closed = false;
	b.run.book.run.count = 0;
	b.run.closing = (struct level_closing){0};
	ck_assert_ptr_nonnull(item(&b, WORK_NOTHING_BOOKED));
	ck_assert_uint_eq(b.list.count, 1);
	end(&b);
}
END_TEST

START_TEST(test_line)
{
	struct bench b;
	const struct work_leave_item *got;
	begin(&b, LEVEL_LOOP);
	b.sights[2] = sight(LEVEL_BS, "B", MM(1500), METRES(30));
	b.sights[2].instrument = 1;
	b.run.book.run.count = 3;
	got = item(&b, WORK_SETUP_OPEN);
	ck_assert_ptr_nonnull(got);
	ck_assert_int_eq(got->setup, 2);
	ck_assert_str_eq(got->station, "B");
	ck_assert(got->blocks && got->rank == WORK_RANK_INCOMPLETE);
	/* a gap, by a BS elsewhere or by a page that does not hold */
	ck_assert_ptr_null(item(&b, WORK_LINE_GAP));
	strcpy(b.sights[2].station, "C");
	ck_assert_ptr_nonnull(item(&b, WORK_LINE_GAP));
	b.run.book.run.count = 2;
	ck_assert_ptr_null(item(&b, WORK_LINE_GAP));
	b.run.closing.page_holds = false;
	got = item(&b, WORK_LINE_GAP);
	ck_assert(got && got->blocks && got->rank == WORK_RANK_PAGE);
	b.run.closing.setups = 0;
	ck_assert_ptr_null(item(&b, WORK_LINE_GAP));
	/* a loop that stands elsewhere */
	end(&b);
	begin(&b, LEVEL_LOOP);
	b.run.closing.end_station = "B";
	got = item(&b, WORK_NOT_BACK);
	ck_assert_ptr_nonnull(got);
	ck_assert_str_eq(got->station, "B");
	ck_assert_str_eq(got->other, "A");
	b.run.book.run.kind = LEVEL_LINK;
	ck_assert_ptr_null(item(&b, WORK_NOT_BACK));
	end(&b);
}
END_TEST

START_TEST(test_misclosure)
{
	struct bench b;
	const struct work_leave_item *got;
	begin(&b, LEVEL_LOOP);
	b.run.closing.closes = LEVEL_NO;
	b.run.closing.judged = MM(-4);
	b.run.closing.unknown_distances = 2;
	b.run.closing.provisional = true;
	b.run.closing.judged_corrected = true;
	got = item(&b, WORK_OVER_ALLOWABLE);
	ck_assert_ptr_nonnull(got);
	ck_assert_int_eq(got->figure, MM(-4));
	ck_assert_int_eq(got->limit, MM(3));
	ck_assert_uint_eq(got->count, 2);
	ck_assert(got->provisional && got->corrected && got->blocks);
	ck_assert_int_eq(got->rank, WORK_RANK_OVER);
	/* it does not close for another reason than the misclosure */
	b.run.closing.judged = MM(3);
	ck_assert_ptr_null(item(&b, WORK_OVER_ALLOWABLE));
	/* a check on the way */
	b.run.closing.failing = 1;
	b.run.closing.failing_by = MM(7);
	b.run.closing.failing_allowable = MM(2);
	b.run.closing.failing_mark = "M";
	got = item(&b, WORK_CHECK_FAILS);
	ck_assert_ptr_nonnull(got);
	ck_assert_str_eq(got->station, "M");
	ck_assert_str_eq(got->other, "");
	ck_assert_int_eq(got->figure, MM(7));
	ck_assert_int_eq(got->limit, MM(2));
	ck_assert(got->blocks && got->rank == WORK_RANK_CHECK);
	b.run.closing.failing_from = "L";
	ck_assert_str_eq(item(&b, WORK_CHECK_FAILS)->other, "L");
	b.run.closing.setups = 0;
	ck_assert_ptr_null(item(&b, WORK_CHECK_FAILS));
	end(&b);
}
END_TEST

START_TEST(test_unchecked)
{
	struct bench b;
	const struct work_leave_item *got;
	begin(&b, LEVEL_OPEN);
	ck_assert_ptr_nonnull(item(&b, WORK_OPEN_RUN));
	end(&b);
	begin(&b, LEVEL_LINK);
	ck_assert_ptr_null(item(&b, WORK_OPEN_RUN));
	ck_assert_ptr_null(item(&b, WORK_END_UNKNOWN));
	b.run.closing.has_misclosure = false;
	ck_assert_str_eq(item(&b, WORK_END_UNKNOWN)->station, "B");
	b.run.closing.start_assumed = true;
	ck_assert_str_eq(item(&b, WORK_END_UNKNOWN)->station, "A");
	/* by setups at most */
	end(&b);
	begin(&b, LEVEL_LOOP);
	b.run.closing.provisional = true;
	b.run.closing.judged = MM(2);
	b.run.closing.unknown_distances = 1;
	got = item(&b, WORK_NOT_JUDGED);
	ck_assert_ptr_nonnull(got);
	ck_assert_int_eq(got->figure, MM(2));
	ck_assert_int_eq(got->limit, MM(3));
	ck_assert_uint_eq(got->count, 1);
	ck_assert(!got->blocks && got->rank == WORK_RANK_UNCHECKED);
	/* which says how it is closed */
	ck_assert_ptr_null(item(&b, WORK_RUN_NOT_CLOSED));
	b.run.closing.has_allowable = false;
	b.run.closing.closes = LEVEL_UNKNOWN;
	got = item(&b, WORK_NOT_JUDGED);
	ck_assert(got && got->limit == 0);
	end(&b);
}
END_TEST

/* A set that allows 5 m a setup and 7 m the run. */
START_TEST(test_unequal)
{
	struct bench b;
	const struct work_leave_item *got;
	begin(&b, LEVEL_LOOP);
	b.run.settings.tolerance.setup_imbalance = 5;
	b.run.settings.tolerance.imbalance = 7;
	b.sights[1].distance = METRES(25);
	b.run.closing.imbalance = METRES(7);
	ck_assert_ptr_null(item(&b, WORK_SETUP_UNEQUAL));
	ck_assert_ptr_null(item(&b, WORK_RUN_UNEQUAL));
	b.sights[1].distance = METRES(25) - 1;
	got = item(&b, WORK_SETUP_UNEQUAL);
	ck_assert_ptr_nonnull(got);
	ck_assert_int_eq(got->figure, METRES(5) + 1);
	ck_assert_int_eq(got->limit, METRES(5));
	b.run.closing.imbalance = -METRES(7) - 1;
	got = item(&b, WORK_RUN_UNEQUAL);
	ck_assert_ptr_nonnull(got);
	ck_assert_int_eq(got->figure, METRES(7) + 1);
	ck_assert_int_eq(got->limit, METRES(7));
	b.run.closing.has_length = false;
	ck_assert_ptr_null(item(&b, WORK_RUN_UNEQUAL));
	b.run.closing.has_length = true;
	b.run.settings.tolerance.imbalance = b.run.settings.tolerance.setup_imbalance = 0;
	ck_assert_ptr_null(item(&b, WORK_RUN_UNEQUAL));
	ck_assert_ptr_null(item(&b, WORK_SETUP_UNEQUAL));
	/* a crossing is unequal on purpose */
	b.run.settings.tolerance.imbalance = b.run.settings.tolerance.setup_imbalance = 1;
	ck_assert_ptr_nonnull(item(&b, WORK_SETUP_UNEQUAL));
	b.run.book.run.kind = LEVEL_CROSSING;
	ck_assert_ptr_null(item(&b, WORK_RUN_UNEQUAL));
	ck_assert_ptr_null(item(&b, WORK_SETUP_UNEQUAL));
	end(&b);
}
END_TEST

START_TEST(test_level)
{
	struct bench b;
	const struct work_leave_item *got;
	begin(&b, LEVEL_LOOP);
	b.run.tested = (struct work_tested){.state = WORK_TEST_OLD, .instrument = "L1", .days = 9};
	got = item(&b, WORK_LEVEL_UNTESTED);
	ck_assert_ptr_nonnull(got);
	ck_assert_str_eq(got->tested.instrument, "L1");
	ck_assert_int_eq(got->tested.days, 9);
	ck_assert_ptr_null(item(&b, WORK_LEVEL_UNNAMED));
	b.sights[1].instrument = 0;
	ck_assert_ptr_nonnull(item(&b, WORK_LEVEL_UNNAMED));
	/* a struck sight does not count */
	b.sights[1].instrument = 1;
	b.sights[2] = as(sight(LEVEL_IS, "P", MM(1), 0), LEVEL_STRUCK);
	b.run.book.run.count = 3;
	ck_assert_ptr_null(item(&b, WORK_LEVEL_UNNAMED));
	end(&b);
}
END_TEST

START_TEST(test_marks_and_warnings)
{
	struct bench b;
	const struct work_leave_item *got;
	struct book_moved moved[2] = {{.mark = "A",
	                               .has_then = true,
	                               .has_now = true,
	                               .then = METRES(10),
	                               .now = METRES(11),
	                               .time = "then"},
	                              {.mark = "B"}};
	begin(&b, LEVEL_LOOP);
	strcpy(b.mark.name, "A");
	b.about.mark_count = 1;
	ck_assert_str_eq(item(&b, WORK_MARK_UNSAID)->station, "A");
	ck_assert(b.said[0]);
	strcpy(b.mark.source, "list");
	ck_assert_ptr_null(item(&b, WORK_MARK_UNSAID));
	b.mark.source[0] = '\0';
	strcpy(b.mark.name, "B");
	ck_assert_ptr_null(item(&b, WORK_MARK_UNSAID));
	/* warnings are counted, and the first is told */
	strcpy(b.notes[0].overridden, "far");
	strcpy(b.notes[1].overridden, "odd");
	got = item(&b, WORK_BOOKED_AGAINST);
	ck_assert_ptr_nonnull(got);
	ck_assert_uint_eq(got->count, 2);
	ck_assert_int_eq(got->sight, LEVEL_BS);
	ck_assert_str_eq(got->station, "A");
	ck_assert_str_eq(got->text, "far");
	b.notes[0].overridden[0] = '\0';
	got = item(&b, WORK_BOOKED_AGAINST);
	ck_assert(got && got->count == 1 && got->sight == LEVEL_FS);
	ck_assert_str_eq(got->text, "odd");
	b.about.draft_waits = true;
	ck_assert(item(&b, WORK_DRAFT_WAITS)->blocks);
	/* a closed run whose marks moved */
	b.run.book.info.closed = true;
	b.run.book.moved = moved;
	b.run.book.moved_count = 1;
	got = item(&b, WORK_MARK_MOVED);
	ck_assert_ptr_nonnull(got);
	ck_assert(got->closed && !got->blocks);
	ck_assert_int_eq(got->moved.then, METRES(10));
	ck_assert_int_eq(got->moved.now, METRES(11));
	ck_assert_str_eq(got->moved.mark, "A");
	ck_assert_str_eq(got->moved.time, "then");
	end(&b);
}
END_TEST

START_TEST(test_times)
{
	static const struct {
		size_t at;
		enum work_leave_code code;
		enum work_leave_rank rank;
	} cases[] = {
	    {offsetof(struct work_times, water_start), WORK_WATER_APART, WORK_RANK_CROSSING},
	    {offsetof(struct work_times, air), WORK_AIR_APART, WORK_RANK_CROSSING},
	    {offsetof(struct work_times, back), WORK_TIME_ODD, WORK_RANK_OVERRIDDEN},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct bench b;
		const struct work_leave_item *got;
		begin(&b, LEVEL_LOOP);
		ck_assert_ptr_null(item(&b, cases[i].code));
		strcpy((char *)&b.run.times + cases[i].at, "2026-05-04T09:30");
		got = item(&b, cases[i].code);
		ck_assert_ptr_nonnull(got);
		ck_assert_int_eq(got->rank, cases[i].rank);
		ck_assert(memcmp(&got->times, &b.run.times, sizeof got->times) == 0);
		ck_assert_uint_eq(b.list.count, 2);
		end(&b);
	}
}
END_TEST

/* A crossing of 800 m with water at neither end, without air, not sealed. */
START_TEST(test_crossing)
{
	static const enum work_leave_code codes[] = {WORK_ONE_SHORE, WORK_NO_WATER, WORK_NO_AIR,
	                                             WORK_NOT_SEALED};
	struct bench b;
	begin(&b, LEVEL_CROSSING);
	b.sights[1].distance = METRES(800);
	b.about.air_tells = false;
	for (size_t i = 0; i < 4; i++)
		ck_assert_msg(item(&b, codes[i]) != NULL, "code %zu", i);
	b.about.air_tells = b.about.other_shore = b.run.terms.sealed = true;
	b.run.closing.by_water = true;
	for (size_t i = 0; i < 4; i++)
		ck_assert_msg(item(&b, codes[i]) == NULL, "code %zu", i);
	ck_assert_ptr_null(item(&b, WORK_SEALED_LATE));
	b.run.terms.late = true;
	ck_assert_ptr_nonnull(item(&b, WORK_SEALED_LATE));
	b.run.closing.by_water = false;
	b.run.closing.end_station = "A";
	ck_assert_ptr_null(item(&b, WORK_NO_WATER));
	b.run.closing.water_missing = true;
	ck_assert_ptr_nonnull(item(&b, WORK_WATER_ONE_END));
	ck_assert_ptr_null(item(&b, WORK_NO_WATER));
	/* short sights seal nothing by themselves, and then the observer can */
	b.run.terms.sealed = false;
	b.sights[1].distance = METRES(30);
	ck_assert_ptr_nonnull(item(&b, WORK_NOT_SEALED));
	ck_assert_ptr_null(item(&b, WORK_ONE_SHORE));
	ck_assert_ptr_null(item(&b, WORK_SEALED_LATE));
	end(&b);
}
END_TEST

int main(void)
{
	return RUN_TESTS("leave_items", test_nothing_else, test_line, test_misclosure,
	                 test_unchecked, test_unequal, test_level, test_marks_and_warnings,
	                 test_times, test_crossing);
}
