/* Water readings held against their own spread, and against those of the other shore. Four standard
 * deviations, 2.5 mm at least; 0.25 m of fewer than three (common practice, no source). */
#include "rodbook/level/observed.h"
#include "rodbook/work/water.h"
#include "unit/books.h"
#include "unit/suite.h"

#define MM(n) ((level_nm)(n)*1000000)

START_TEST(test_tally)
{
	struct level_tally still = {0}, waves = {0};
	/* mean 0.4 m, sd 2 mm by hand: (2^2 + 2^2)/2 = 4 mm^2; four are 8, and 10 is the least */
	ck_assert(!level_tally_doubts(&still, MM(9000)));
	level_tally_add(&still, MM(398));
	ck_assert(!level_tally_doubts(&still, MM(648)));
	ck_assert(level_tally_doubts(&still, MM(649)));
	level_tally_add(&still, MM(402));
	/* two, 4 mm apart: 0.05 m are the least */
	ck_assert(!level_tally_doubts(&still, MM(350)));
	ck_assert(level_tally_doubts(&still, MM(349)));
	level_tally_add(&still, MM(400));
	ck_assert(!level_tally_doubts(&still, MM(410)));
	ck_assert(level_tally_doubts(&still, MM(411)));
	ck_assert(level_tally_doubts(&still, MM(389)));
	/* sd 30 mm: (30^2 + 30^2)/2; four are 120 */
	level_tally_add(&waves, MM(370));
	level_tally_add(&waves, MM(380));
	/* 10 mm apart: ten times that are 0.1 m */
	ck_assert(!level_tally_doubts(&waves, MM(474)));
	ck_assert(level_tally_doubts(&waves, MM(476)));
	waves = (struct level_tally){0};
	level_tally_add(&waves, MM(370));
	level_tally_add(&waves, MM(430));
	/* 60 mm apart: no more than waves */
	ck_assert(!level_tally_doubts(&waves, MM(649)));
	ck_assert(level_tally_doubts(&waves, MM(651)));
	level_tally_add(&waves, MM(400));
	ck_assert(!level_tally_doubts(&waves, MM(520)));
	ck_assert(level_tally_doubts(&waves, MM(521)));
}
END_TEST

START_TEST(test_other_shore)
{
	struct shelf s;
	struct book_water *list;
	struct work_water_doubt got;
	char one[LEVEL_SET_READING_BYTES];
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	for (int i = 0; i < 3; i++) {
		ck_assert(book_water_add(s.book, 1, "E", "0.400", "", "", &s.why));
		ck_assert(book_water_add(s.book, 1, "W", "0.460", "", "", &s.why));
	}
	ck_assert(book_water_add(s.book, 1, "E", "5", "", "", &s.why));
	ck_assert(book_water_strike(s.book, 1, 7, "misread", &s.why));
	ck_assert(book_waters(s.book, 1, &list, &count, &s.why));
	got = work_doubt_water(list, count, "E", MM(405));
	ck_assert(!got.doubted && got.off == MM(5) && !*got.other);
	got = work_doubt_water(list, count, "E", MM(461));
	ck_assert(got.doubted && got.off == MM(61));
	ck_assert_str_eq(got.other, "W");
	got = work_doubt_water(list, count, "W", MM(300));
	ck_assert(got.doubted && got.off == -MM(160) && !*got.other);
	/* the first of a station is like no other */
	/* of a set the first that is off is named */
	got = work_doubt_waters(list, count, "E", "0.401; 0.4611; 0.7", LEVEL_M, one);
	ck_assert(got.doubted);
	ck_assert_str_eq(one, "0.4611");
	ck_assert_str_eq(got.other, "W");
	ck_assert(!work_doubt_waters(list, count, "E", "0.401; odd; 0.399", LEVEL_M, one).doubted);
	got = work_doubt_water(list, count, "X", MM(461));
	ck_assert(!got.doubted && got.off == 0);
	free(list);
	shelf_close(&s);
}
END_TEST

/* Of four readings or more each is held against the others of its set, also where nothing is
 * booked: 0.400, 0.402, 0.398 and 0.400 have a mean of 0.400 and 2.5 mm at least, four times which
 * are 10. */
START_TEST(test_within_a_set)
{
	struct shelf s;
	struct book_water *list;
	struct work_water_doubt got;
	char one[LEVEL_SET_READING_BYTES];
	size_t count;
	got = work_doubt_waters(NULL, 0, "E", "0.400; 0.402; 0.911; 0.398; 0.400", LEVEL_M, one);
	ck_assert(got.doubted && got.in_set && got.off == MM(511) && !*got.other);
	ck_assert_str_eq(one, "0.911");
	/* also where it is the first one, from which a tally counts */
	got = work_doubt_waters(NULL, 0, "E", "-3; 0.400; 0.402; 0.398; 0.400", LEVEL_M, one);
	ck_assert(got.doubted && got.in_set && got.off == -MM(3400));
	ck_assert_str_eq(one, "-3");
	ck_assert(!work_doubt_waters(NULL, 0, "E", "0.400;0.402;0.410;0.398;0.400", LEVEL_M, one)
	               .doubted);
	got = work_doubt_waters(NULL, 0, "E", "0.400;0.402;0.411;0.398;0.400", LEVEL_M, one);
	ck_assert(got.doubted && got.off == MM(11));
	/* three are too few to say which; what is no length is none of them */
	ck_assert(!work_doubt_waters(NULL, 0, "E", "0.4;0.9;0.4", LEVEL_M, one).doubted);
	ck_assert(!work_doubt_waters(NULL, 0, "E", "0.4;0.9;odd;0.4;", LEVEL_M, one).doubted);
	ck_assert(work_doubt_waters(NULL, 0, "E", "0.4;0.9;0.4;0.4", LEVEL_M, one).doubted);
	/* swell stands apart as widely as that: sd 50 mm of the others */
	ck_assert(!work_doubt_waters(NULL, 0, "E", "0.35;0.40;0.45;0.59", LEVEL_M, one).doubted);

	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	for (int i = 0; i < 3; i++)
		ck_assert(book_water_add(s.book, 1, "W", "0.911", "", "", &s.why));
	ck_assert(book_waters(s.book, 1, &list, &count, &s.why));
	got = work_doubt_waters(list, count, "E", "0.4; 0.911; 0.4; 0.4", LEVEL_M, one);
	ck_assert(got.doubted && got.in_set);
	ck_assert_str_eq(got.other, "W");
	/* what is booked comes first: of these all are off by it, and none by its set */
	got = work_doubt_waters(list, count, "W", "0.4; 0.4; 0.4; 0.4", LEVEL_M, one);
	ck_assert(got.doubted && !got.in_set && got.off == -MM(511));
	free(list);
	shelf_close(&s);
}
END_TEST

/* Several readings in one text, as a set of a sight is written: each is one, all of them or none.
 */
START_TEST(test_set_of_readings)
{
	struct shelf s;
	struct book_water *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	ck_assert(book_water_add_set(s.book, 1, "E", "0.400; 0.409 ;0.414;", "", "calm", &s.why));
	ck_assert(!book_water_add_set(s.book, 1, "E", "0.401; x; 0.402", "", "", &s.why));
	ck_assert(!book_water_add_set(s.book, 1, "E", "0.401;; 0.402", "", "", &s.why));
	ck_assert(!book_water_add_set(s.book, 1, "E", ";", "", "", &s.why));
	ck_assert(!book_water_add_set(s.book, 1, "E", " ; ", "", "", &s.why));
	ck_assert(book_water_add_set(s.book, 1, "E", "0.405", "", "", &s.why));
	ck_assert(book_waters(s.book, 1, &list, &count, &s.why));
	ck_assert_uint_eq(count, 4);
	ck_assert_int_eq(list[0].reading, MM(400));
	ck_assert_int_eq(list[1].reading, MM(409));
	ck_assert_int_eq(list[2].reading, MM(414));
	ck_assert_str_eq(list[1].typed, "0.409");
	ck_assert_str_eq(list[2].remark, "calm");
	ck_assert_int_eq(list[3].reading, MM(405));
	free(list);
	shelf_close(&s);
}
END_TEST

/* Water counts at the two ends of a run that is complete; in one that is back at its start nowhere.
 */
START_TEST(test_water_unused)
{
	struct work_run run = {
	    .book.run.kind = LEVEL_CROSSING,
	    .closing = {.has_end = true, .start_station = "E", .end_station = "W"}};
	ck_assert(!work_water_unused(&run, "E"));
	ck_assert(!work_water_unused(&run, "W"));
	ck_assert(work_water_unused(&run, "w"));
	run.closing.end_station = "E";
	run.closing.back = true;
	ck_assert(work_water_unused(&run, "E"));
	run.closing.has_end = false;
	ck_assert(!work_water_unused(&run, "E"));
	run.closing.has_end = true;
	run.book.run.kind = LEVEL_LOOP;
	ck_assert(!work_water_unused(&run, "E"));
}
END_TEST

int main(void)
{
	return RUN_TESTS("water doubt", test_tally, test_other_shore, test_within_a_set,
	                 test_set_of_readings, test_water_unused);
}
