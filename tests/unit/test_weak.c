/* What a leveled run cannot show by itself: expected by eye. */
#include <string.h>

#include "rodbook/work/weak.h"
#include "kept.h"
#include "sights.h"
#include "suite.h"

static struct level_sight sights[2];
static struct book_note notes[2];
static struct book_kept kept[2];

/* A loop that closes within 8 mm, its imbalance 10 m. */
static struct work_run loop(void)
{
	struct work_run run = {.tested.state = WORK_TESTED};
	sights[0] = sight(LEVEL_BS, "A", MM(1000), 30);
	sights[1] = sight(LEVEL_FS, "A", MM(1000), 20);
	memset(notes, 0, sizeof notes);
	strcpy(notes[0].rod, "R1");
	strcpy(notes[1].rod, "R1");
	run.book.run = (struct level_run){LEVEL_LOOP, 2, sights, ""};
	run.book.note = keep_notes(kept, notes, 2);
	run.closing = (struct level_closing){.setups = 1,
	                                     .page_holds = true,
	                                     .has_length = true,
	                                     .imbalance = level_from_meters(10),
	                                     .has_end = true,
	                                     .has_misclosure = true,
	                                     .has_allowable = true,
	                                     .allowable = MM(8)};
	return run;
}

static bool has(const struct work_run *run, enum work_weak_point point)
{
	struct work_weak weak = work_weak_of(run);
	for (size_t i = 0; i < weak.count; i++)
		if (weak.point[i] == point)
			return true;
	return false;
}

START_TEST(test_loop)
{
	struct work_run run = loop();
	struct work_weak weak = work_weak_of(&run);
	/* 0.1 mm/m over 10 m is 1 mm, an eighth of 8 mm */
	ck_assert_int_eq(weak.tilt, MM(1));
	ck_assert_uint_eq(weak.count, 3);
	ck_assert_int_eq(weak.point[0], WORK_WEAK_LEVEL);
	ck_assert_int_eq(weak.point[1], WORK_WEAK_START);
	ck_assert_int_eq(weak.point[2], WORK_WEAK_PAIRS);
	run.closing.setups = 0;
	ck_assert_uint_eq(work_weak_of(&run).count, 0);
	run = loop();
	run.book.run.kind = LEVEL_CROSSING;
	ck_assert_uint_eq(work_weak_of(&run).count, 0);
}
END_TEST

START_TEST(test_tilt)
{
	struct work_run run = loop();
	run.closing.allowable = MM(10);
	ck_assert(has(&run, WORK_WEAK_LEVEL));
	run.closing.allowable = MM(11);
	ck_assert(!has(&run, WORK_WEAK_LEVEL));
	run.closing.imbalance = -level_from_meters(11);
	ck_assert(has(&run, WORK_WEAK_LEVEL));
	run.closing.tilt_taken_off = true;
	ck_assert(!has(&run, WORK_WEAK_LEVEL));
	run = loop();
	run.closing.has_length = false;
	ck_assert(!has(&run, WORK_WEAK_LEVEL));
	ck_assert(has(&run, WORK_WEAK_SETUPS));
	run = loop();
	run.closing.has_allowable = false;
	run.closing.imbalance = level_from_meters(0.5);
	ck_assert(has(&run, WORK_WEAK_LEVEL));
	run.closing.imbalance = 0;
	ck_assert(!has(&run, WORK_WEAK_LEVEL));
}
END_TEST

START_TEST(test_others)
{
	struct work_run run = loop();
	run.closing.page_holds = false;
	ck_assert(has(&run, WORK_WEAK_LINE));
	run = loop();
	run.tested.state = WORK_TEST_OLD;
	ck_assert(has(&run, WORK_WEAK_UNTESTED));
	run = loop();
	notes[1].rod[0] = '\0';
	ck_assert(has(&run, WORK_WEAK_ROD));
	sights[1].state = LEVEL_STRUCK;
	ck_assert(!has(&run, WORK_WEAK_ROD));
	run = loop();
	notes[1].rod[0] = '\0';
	sights[1].method = LEVEL_TARGET;
	ck_assert(!has(&run, WORK_WEAK_ROD));
	run = loop();
	run.book.run.kind = LEVEL_OPEN;
	ck_assert(has(&run, WORK_WEAK_UNCLOSED));
	run = loop();
	run.closing.has_misclosure = false;
	ck_assert(has(&run, WORK_WEAK_UNCLOSED));
	ck_assert(!has(&run, WORK_WEAK_PAIRS));
	/* a second known mark: at the end, or on the way */
	run = loop();
	run.book.run.kind = LEVEL_LINK;
	ck_assert(!has(&run, WORK_WEAK_START));
	run = loop();
	run.section_count = 2;
	ck_assert(!has(&run, WORK_WEAK_START));
	run = loop();
	run.closing.start_assumed = true;
	ck_assert(!has(&run, WORK_WEAK_START));
}
END_TEST

int main(void)
{
	return RUN_TESTS("weak", test_loop, test_tilt, test_others);
}
