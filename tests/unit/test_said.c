/* Sentences that reports, the screen and its messages share: each as a reader reads it. */
#include <stdio.h>
#include <string.h>

#include "report/lines.h"
#include "report/page/leave_words.h"
#include "sights.h"
#include "suite.h"

static struct book_settings settings;

static void meters(void)
{
	settings = (struct book_settings){.style = level_style_default(LEVEL_M)};
	settings.tolerance = *level_tolerance_find("third-order", NULL);
}

START_TEST(test_warnings)
{
	static const char *const words[LEVEL_WARNINGS] = {
	    [LEVEL_WARN_HALF] = "half intervals differ by 0.004: read the wires again",
	    [LEVEL_WARN_SIGHT] = "a sight of 95.000: third order allows 90.000",
	    [LEVEL_WARN_IMBALANCE] =
	        "BS over 80.000, FS over 95.000: third order allows a difference of 10.000",
	    [LEVEL_WARN_CLEARANCE] =
	        "the line runs 0.123 above the ground at the rod: third order asks for 0.500",
	    [LEVEL_WARN_INTERVAL] = "the wires make 59.000, 95.000 is typed: which is wrong?",
	    [LEVEL_WARN_NAME] = "PEG was a mark of setup 3 already: is it the same?",
	    [LEVEL_WARN_SPREAD] = "the readings scatter by 0.0050, one by rod by 0.0010: read on, "
	                          "or put an x before one that is struck",
	    [LEVEL_WARN_STANDINGS] = "the rises of the standings differ by 0.005, 0.003 is allowed",
	    [LEVEL_WARN_STATION] = "PEG is 0.020 higher than given, may be 0.012 m: read it again",
	    [LEVEL_WARN_TIME_BACK] = "observed before the sight before it: which time is wrong?",
	    [LEVEL_WARN_TIME_AHEAD] =
	        "observed later than now: which is wrong, the time or the clock?",
	    [LEVEL_WARN_BELOW] = "0.123 is below zero: does PEG stand above the line of sight?",
	    [LEVEL_WARN_CURVATURE] = "water bent down by a radius of 51 km cannot be: look at the "
	                             "readings, the known marks, the distances (the longest is "
	                             "120.000 m) and their units",
	    [LEVEL_WARN_NEAR] = "a sight of 95.000 m: is that a reading?",
	    [LEVEL_WARN_ALIKE] = "PEG looks like Peg: is it the same?",
	    [LEVEL_WARN_DECIMALS] = "the readings before have 3 decimals: is this one whole?",
	    [LEVEL_WARN_DRY] =
	        "no water was read at PEG, but at SHORE, where no sight stands: which "
	        "name is wrong?",
	    [LEVEL_WARN_TAPE] = "a tape read over 95.000 m: was it a target?",
	    [LEVEL_WARN_NUMBER] = "a station named PEG? A distance goes into Distance",
	    [LEVEL_WARN_SEALS] = "this sight seals the allowance, and neither water nor air is "
	                         "booked yet",
	};
	struct level_sight at = sight(LEVEL_FS, "PEG", MM(123), METRES(95));
	struct level_warned warned = {.half = MM(4),
	                              .distance = METRES(95),
	                              .other = METRES(80),
	                              .interval = METRES(59),
	                              .standings = MM(5),
	                              .setup = 3,
	                              .radius = 51000,
	                              .farthest = METRES(120),
	                              .alike = "Peg",
	                              .decimals = 3,
	                              .dry = "SHORE"};
	struct work_compared compared = {.against = WORK_AGAINST_GIVEN,
	                                 .difference = MM(20),
	                                 .allowable = MM(12),
	                                 .has_allowable = true};
	struct report_warned about = {&warned, &compared, &at, 4, 0.001, &settings};
	char got[400], two[400], small[20];
	meters();
	at.set_sd = 0.005;
	report_warnings(&about, got, sizeof got);
	ck_assert_str_eq(got, "");
	for (int i = 0; i < LEVEL_WARNINGS; i++) {
		warned.set = 1u << i;
		report_warnings(&about, got, sizeof got);
		ck_assert_str_eq(got, words[i]);
		report_warnings(&about, small, sizeof small);
		ck_assert_uint_eq(strlen(small), sizeof small - 1);
	}
	/* one behind the other */
	warned.set = 1u << LEVEL_WARN_HALF | 1u << LEVEL_WARN_TIME_BACK;
	report_warnings(&about, got, sizeof got);
	snprintf(two, sizeof two, "%s; %s", words[LEVEL_WARN_HALF], words[LEVEL_WARN_TIME_BACK]);
	ck_assert_str_eq(got, two);
	warned.set = 1u << LEVEL_WARN_NAME;
	about.setup = 3;
	report_warnings(&about, got, sizeof got);
	ck_assert_str_eq(got, "PEG was read in this setup already: is it the same?");
	warned.set = 1u << LEVEL_WARN_CURVATURE;
	warned.radius = -51000;
	report_warnings(&about, got, sizeof got);
	ck_assert_ptr_nonnull(strstr(got, "water bent upward by a radius of 51 km"));
	/* no finer than 6 decimals */
	settings.style.decimals = 6;
	warned.set = 1u << LEVEL_WARN_SPREAD;
	report_warnings(&about, got, sizeof got);
	ck_assert_ptr_nonnull(strstr(got, "scatter by 0.005000, one by rod by 0.001000:"));
}
END_TEST

START_TEST(test_compared)
{
	static const struct {
		struct work_compared is;
		const char *sentence, *brief;
	} table[] = {
	    {{.against = WORK_AGAINST_NOTHING}, "", ""},
	    {{WORK_AGAINST_GIVEN, MM(4), MM(12), true, true, 0, ""},
	     "PEG is 0.004 higher than given, may be 0.012 m: read it again",
	     "holds: less given +0.004, may 0.012"},
	    {{WORK_AGAINST_GIVEN, -MM(20), MM(12), true, false, 0, ""},
	     "PEG is 0.020 lower than given, may be 0.012 m: read it again",
	     "DIFFERS: less given -0.020, may 0.012"},
	    {{WORK_AGAINST_EARLIER, MM(20), MM(12), true, false, 7, ""},
	     "PEG is 0.020 higher than in setup 7, may be 0.012 m: is it the same point?",
	     "DIFFERS: less setup 7 +0.020, may 0.012"},
	    {{WORK_AGAINST_RUN, MM(20), MM(12), true, false, 0, "spring"},
	     "PEG is 0.020 higher than in run spring, may be 0.012 m: is it the same point?",
	     "DIFFERS: less spring +0.020, may 0.012"},
	    {{WORK_AGAINST_GIVEN, MM(4), 0, false, true, 0, ""},
	     "",
	     "not judged: less given +0.004"},
	    /* as many decimals as tell the two apart */
	    {{WORK_AGAINST_GIVEN, 12400000, MM(12), true, false, 0, ""},
	     "PEG is 0.0124 higher than given, may be 0.0120 m: read it again",
	     "DIFFERS: less given +0.0124, may 0.0120"},
	};
	char text[300];
	meters();
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		report_compared(&table[i].is, "PEG", &settings.style, text, sizeof text);
		ck_assert_str_eq(text, table[i].sentence);
		report_compared_brief(&table[i].is, &settings.style, text, sizeof text);
		ck_assert_str_eq(text, table[i].brief);
	}
}
END_TEST

START_TEST(test_failing_and_moved)
{
	struct book_moved moved = {.mark = "BM2",
	                           .time = "2026-05-04T09:30",
	                           .has_then = true,
	                           .has_now = true,
	                           .then = MM(1500),
	                           .now = MM(1600)};
	char text[400];
	meters();
	report_failing("", "BM2", -MM(1000), MM(3), &settings.style, text, sizeof text);
	ck_assert_str_eq(text, "found less given at BM2 is -1.000, may be 0.003 m: this run, that "
	                       "mark or the known one before it is wrong");
	report_failing("BM1", "BM2", MM(5), MM(3), &settings.style, text, sizeof text);
	ck_assert_str_eq(text, "BM1 to BM2 and back differ by +0.005, may by 0.003 m: level that "
	                       "section again");
	report_moved(&moved, &settings.style, text, sizeof text);
	ck_assert_str_eq(text, "BM2 is 1.600 m since 2026-05-04T09:30; this run was closed with "
	                       "1.500 m");
	moved.has_now = false;
	moved.at_seal = true;
	report_moved(&moved, &settings.style, text, sizeof text);
	ck_assert_str_eq(text, "BM2 is not known since 2026-05-04T09:30; this run was sealed with "
	                       "1.500 m");
	moved.has_now = true;
	moved.has_then = false;
	report_moved(&moved, &settings.style, text, sizeof text);
	ck_assert_str_eq(text, "BM2 is 1.600 m since 2026-05-04T09:30; when this run was sealed it "
	                       "was not known");
}
END_TEST

START_TEST(test_times)
{
	struct work_times times = {.back_station = "PEG"}, none = {0};
	char text[200], typed[REPORT_TYPED_BYTES];
	strcpy(times.water_start, "2026-05-04T09:30:00+02:00");
	strcpy(times.water_end, "2026-05-04T11:05:00+02:00");
	strcpy(times.air_sight, "2026-05-04T09:30:00+02:00");
	strcpy(times.air, "2026-05-05T11:05:00+02:00");
	strcpy(times.back, "2026-05-04T09:30:00+02:00");
	strcpy(times.before, "2026-05-05");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_WATER, text, sizeof text),
	                 "the water was read at one end 2026-05-04 09:30, at the other 11:05: it "
	                 "may have risen or fallen");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_AIR, text, sizeof text),
	                 "the long sight was read 2026-05-04 09:30, air of the run "
	                 "2026-05-05 11:05");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "PEG was observed 2026-05-04 09:30, the sight before it 2026-05-05");
	times.ahead = true;
	strcpy(times.before, "2026-05-04T08:15:00+02:00");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "PEG was observed 2026-05-04 09:30 and typed 08:15, which is earlier");
	for (int i = REPORT_TIMES_WATER; i <= REPORT_TIMES_ORDER; i++)
		ck_assert_str_eq(report_times(&none, (enum report_times)i, text, sizeof text), "");
	ck_assert_str_eq(report_typed("", typed), "");
	ck_assert_str_eq(report_typed("2026-05-04T09:30:00+02:00", typed),
	                 ", typed 2026-05-04 09:30");
	ck_assert_str_eq(report_typed("2026-05-04", typed), ", typed 2026-05-04");
}
END_TEST

START_TEST(test_pegs)
{
	static const struct {
		struct work_tested is;
		const char *words;
	} table[] = {
	    {{.state = WORK_TESTED, .instrument = "small level", .tilt = "0.02 mm/m", .days = 3},
	     ""},
	    {{.state = WORK_NO_TEST, .instrument = "small level"},
	     "small level: no peg test before this run is booked"},
	    {{.state = WORK_TEST_FAILED, .instrument = "small level", .tilt = "0.25 mm/m"},
	     "small level FAILED its last peg test: tilt 0.25 mm/m, third order allows 0.1 mm/m"},
	    {{.state = WORK_TEST_OLD, .instrument = "small level", .tilt = "0.02 mm/m", .days = 17},
	     "small level was tested by pegs 17 days before this run: third order asks for 1"},
	};
	struct level_tolerance silent = {.title = "by setups"};
	struct level_peg_result result = {.tilt = 0.0001};
	struct work_tested longest = {.late_time = "2026-05-04"};
	char text[REPORT_TESTED_BYTES];
	meters();
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_str_eq(report_tested(text, &table[i].is, &settings.tolerance),
		                 table[i].words);
	ck_assert_str_eq(report_late_test(text, &table[0].is), "");
	ck_assert_str_eq(
	    report_late_test(text, &(struct work_tested){.late = "small level",
	                                                 .late_time = "2026-05-04T05:06:00Z"}),
	    "small level: tested 2026-05-04 05:06, booked after the seal: not counted");
	/* a name of forty characters of four bytes is whole */
	for (int i = 0; i < LEVEL_NAME_CHARS; i++)
		strcat(longest.late, "\U00010348");
	strcpy(longest.instrument, longest.late);
	ck_assert_ptr_nonnull(strstr(report_late_test(text, &longest), ": tested 2026"));
	ck_assert_uint_eq(strspn(text, longest.late), strlen(longest.late));
	for (int state = WORK_NO_TEST; state <= WORK_TEST_OLD; state++) {
		longest.state = (enum work_test)state;
		report_tested(text, &longest, &settings.tolerance);
		ck_assert_uint_eq(strspn(text, longest.instrument), strlen(longest.instrument));
	}
	report_pegtest_words(&result, &settings.tolerance, text, sizeof text);
	ck_assert_str_eq(text, "passes: third order allows 0.1 mm/m");
	ck_assert(report_pegtest_passes(&result, &settings.tolerance));
	result.tilt = -0.000101;
	report_pegtest_words(&result, &settings.tolerance, text, sizeof text);
	ck_assert_str_eq(text, "FAILS: third order allows 0.1 mm/m; have it adjusted, or balance "
	                       "every sight");
	ck_assert(!report_pegtest_passes(&result, &settings.tolerance));
	report_pegtest_words(&result, &silent, text, sizeof text);
	ck_assert_str_eq(text, "by setups says nothing about the tilt");
	ck_assert(report_pegtest_passes(&result, &silent));
}
END_TEST

/* By hand, from the rule in level_test_counts(): 0.12/sqrt 3 = 0.0693 beside u; of three sets
 * t95(2)/2 = 4.303/2, which makes 0.03 to 0.0645. 1/16 in in 300 ft = 0.01736 mm/m, over sqrt 3
 * 0.0100; a tilt of 0.1 less 0.06 lies beyond it. */
START_TEST(test_what_a_drop_goes_by)
{
	static const struct {
		struct level_peg_result is;
		const char *tolerance, *words;
	} table[] = {
	    {{.u = 0.00003, .sets = 1},
	     "0.12 mm/m",
	     "drop: this tilt counts, u 0.030 mm/m; the tolerance is coarser, u 0.069"},
	    {{.u = 0.00003, .sets = 3, .by_spread = true},
	     "0.12 mm/m",
	     "drop: this tilt counts, u 0.065 mm/m; the tolerance is coarser, u 0.069"},
	    {{.u = 0.0001, .sets = 1},
	     "0.12 mm/m",
	     "drop: the tolerance counts, u 0.069 mm/m; this test is coarser, u 0.100"},
	    {{.u = 0.00003, .sets = 1},
	     "1/16 in in 300 ft",
	     "drop: the tolerance counts, u 0.010 mm/m; this test is coarser, u 0.030"},
	    {{.tilt = 0.0001, .u = 0.00003, .sets = 1},
	     "1/16 in in 300 ft",
	     "drop: this tilt counts, u 0.030 mm/m: it is beyond the tolerance 0.017"},
	    {{.u = 0.00003, .sets = 1}, "", ""},
	};
	char text[120];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		report_pegtest_counts(&table[i].is, table[i].tolerance, text, sizeof text);
		ck_assert_str_eq(text, table[i].words);
	}
}
END_TEST

static const char *left(struct work_leave_item item)
{
	static char text[LEAVE_WORDS_BYTES];
	struct work_leave list = {.style = settings.style, .set = settings.tolerance};
	leave_what(&list, &item, text);
	return text;
}

START_TEST(test_left_open)
{
	static const struct {
		struct work_leave_item item;
		const char *words;
	} table[] = {
	    {{.code = WORK_NOTHING_BOOKED}, "no sight is booked in it"},
	    {{.code = WORK_SETUP_OPEN, .setup = 4, .station = "PEG"},
	     "setup 4, with its BS on PEG, has no FS"},
	    {{.code = WORK_LINE_GAP}, "the page check fails: the line has a gap"},
	    {{.code = WORK_NOT_BACK, .station = "PEG", .other = "A"},
	     "the loop stands on PEG and is not back on A"},
	    {{.code = WORK_OPEN_RUN}, "an open run: it closes on nothing, so no check exists"},
	    {{.code = WORK_END_UNKNOWN, .station = "PEG"},
	     "no check exists: the elevation of PEG is not known"},
	    {{.code = WORK_NOT_JUDGED, .figure = MM(4)},
	     "misclosure +0.004 m, not judged: third order needs its figure: set setups, or choose "
	     "another set"},
	    {{.code = WORK_NOT_JUDGED, .figure = MM(4), .limit = MM(10), .count = 1},
	     "closes by setups, provisional: misclosure +0.004, 0.010 x root of the setups allows "
	     "0.010 "
	     "m; 1 distance is not known"},
	    {{.code = WORK_OVER_ALLOWABLE, .figure = MM(14), .limit = MM(10), .corrected = true},
	     "does not close: misclosure +0.014 less curvature and refraction, allowable 0.010 m "
	     "(third order)"},
	    {{.code = WORK_OVER_ALLOWABLE,
	      .figure = MM(14),
	      .limit = MM(10),
	      .provisional = true,
	      .count = 2},
	     "does not close: misclosure +0.014, where 0.010 x root of the setups allows 0.010 m: "
	     "look "
	     "for the slip; 2 distances are not known"},
	    {{.code = WORK_OVER_ALLOWABLE,
	      .figure = -MM(34),
	      .limit = MM(10),
	      .provisional = true,
	      .count = 2},
	     "does not close: misclosure -0.034, where 0.010 x root of the setups allows 0.010 m: "
	     "a "
	     "gross error, not many small ones; 2 distances are not known"},
	    {{.code = WORK_SETUP_UNEQUAL, .figure = METRES(12), .limit = METRES(10)},
	     "BS and FS distances of a setup differ by 12.000 m: third order allows 10.000"},
	    {{.code = WORK_RUN_UNEQUAL, .figure = METRES(12), .limit = METRES(10)},
	     "BS and FS distances of the run differ by 12.000 m: third order allows 10.000"},
	    {{.code = WORK_LEVEL_UNTESTED, .tested = {WORK_NO_TEST, "small level", "", 0}},
	     "small level: no peg test before this run is booked"},
	    {{.code = WORK_LEVEL_UNNAMED},
	     "read with a level without a name, so no peg test counts for it"},
	    {{.code = WORK_ONE_SHORE}, "its long sight was taken from one shore only"},
	    {{.code = WORK_WATER_ONE_END}, "the water was read at one end only"},
	    {{.code = WORK_NO_WATER}, "the water was read at neither end"},
	    {{.code = WORK_WATER_FEW, .station = "PEG", .count = 1},
	     "the water at PEG was read 1 time only: that is weak evidence"},
	    {{.code = WORK_WATER_FEW, .station = "PEG", .count = 9},
	     "the water at PEG was read 9 times only: that is weak evidence"},
	    {{.code = WORK_WATER_FEW,
	      .station = "PEG",
	      .count = 5,
	      .other = "HUB",
	      .other_count = 1},
	     "the water was read 5 times only at PEG and 1 at HUB: that is weak evidence"},
	    {{.code = WORK_NO_AIR}, "no air was booked that gives a k"},
	    {{.code = WORK_WIND_UNSAID},
	     "where the wind came from is not said: from land, k is not measured"},
	    {{.code = WORK_SEALED_LATE}, "its figures were sealed after a drop was seen or booked"},
	    {{.code = WORK_NOT_SEALED},
	     "its figures are not sealed: they could still be changed to suit the drop that is "
	     "seen"},
	    {{.code = WORK_MARK_UNSAID, .station = "PEG"}, "the mark PEG has no description"},
	    {{.code = WORK_DRAFT_WAITS}, "a half-typed sight waits in it"},
	    {{.code = WORK_BOOKED_AGAINST,
	      .count = 1,
	      .sight = LEVEL_FS,
	      .station = "PEG",
	      .text = "long sight"},
	     "1 sight was booked against a warning: FS on PEG (long sight)"},
	    {{.code = WORK_BOOKED_AGAINST,
	      .count = 2,
	      .sight = LEVEL_BS,
	      .station = "PEG",
	      .text = "long sight"},
	     "2 sights were booked against a warning: BS on PEG (long sight) first"},
	    {{.code = WORK_RODS_ODD},
	     "two rods over an odd number of setups: the difference of their zeros does not "
	     "cancel"},
	    {{.code = WORK_RUN_NOT_CLOSED}, "it has not been closed: a slip could still change it"},
	    {{.code = WORK_RUN_UNREADABLE, .text = "a row is spoiled"},
	     "the run cannot be read: a row is spoiled"},
	    {{.code = WORK_CHECK_FAILS,
	      .station = "PEG",
	      .other = "A",
	      .figure = MM(5),
	      .limit = MM(3)},
	     "A to PEG and back differ by +0.005, may by 0.003 m: level that section again"},
	    {{.code = WORK_MARK_MOVED,
	      .moved = {"PEG", false, true, true, MM(1500), MM(1600), "May"}},
	     "PEG is 1.600 m since May; this run was closed with 1.500 m"},
	    {{.code = WORK_MARK_MOVED, .moved = {"PEG", true, true, false, MM(1500), 0, "May"}},
	     "PEG is not known since May; this run was sealed with 1.500 m"},
	    {{.code = WORK_STATION_APART,
	      .station = "PEG",
	      .compared = {WORK_AGAINST_EARLIER, MM(20), MM(12), true, false, 7, ""}},
	     "PEG is 0.020 higher than in setup 7, may be 0.012 m: is it the same point?"},
	    {{.code = WORK_WATER_APART,
	      .times = {.water_start = "2026-05-04T09:30", .water_end = "2026-05-04T11:05"}},
	     "the water was read at one end 2026-05-04 09:30, at the other 11:05: it may have "
	     "risen "
	     "or fallen"},
	    {{.code = WORK_WATER_UNUSED, .station = "PEG"},
	     "water was read at PEG, which is no end of this run: it counts for nothing"},
	    {{.code = WORK_AIR_APART,
	      .times = {.air_sight = "2026-05-04T09:30", .air = "2026-05-04T11:05"}},
	     "the long sight was read 2026-05-04 09:30, air of the run 11:05"},
	    {{.code = WORK_TIME_ODD,
	      .times = {.back = "2026-05-04T09:30",
	                .before = "2026-05-04T11:05",
	                .back_station = "PEG"}},
	     "PEG was observed 2026-05-04 09:30, the sight before it 11:05"},
	    {{.code = WORK_NOT_SEPARATED}, "its drop decides nothing: flat and round both fit"},
	    {{.code = WORK_NOT_PREDICTED},
	     "its drop is not as predicted: look for an error before anything else"},
	    {{.code = WORK_TEST_LATE,
	      .tested = {.late = "L1", .late_time = "2026-05-04T05:06:00Z"}},
	     "L1: tested 2026-05-04 05:06, booked after the seal: not counted"},
	};
	bool seen[WORK_LEAVE_CODES] = {false};
	meters();
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert_str_eq(left(table[i].item), table[i].words);
		seen[table[i].item.code] = true;
	}
	for (int i = 0; i < WORK_LEAVE_CODES; i++)
		ck_assert_msg(seen[i], "code %d", i);
}
END_TEST

START_TEST(test_cures)
{
	for (int i = 0; i < WORK_LEAVE_CODES; i++) {
		struct work_leave_item item = {.code = (enum work_leave_code)i};
		char cure[LEAVE_WORDS_BYTES], other[LEAVE_WORDS_BYTES];
		ck_assert_uint_gt(strlen(leave_cure(&item, cure)), 8);
		item.closed = true;
		if (i == WORK_MARK_MOVED)
			ck_assert_str_eq(leave_cure(&item, other), cure);
		else if (i != WORK_NOT_SEPARATED)
			ck_assert_str_eq(leave_cure(&item, other),
			                 "reopen the run, with a reason, and mend it");
		item.closed = false;
		item.ready = true;
		if (i == WORK_RUN_NOT_CLOSED)
			ck_assert_str_eq(leave_cure(&item, other), "close it (F2, c)");
		else
			ck_assert_str_eq(leave_cure(&item, other), cure);
	}
}
END_TEST

/* What helps is said as of the largest line of the allowance. */
START_TEST(test_cure_of_a_drop)
{
	struct work_leave_item item = {.code = WORK_NOT_SEPARATED,
	                               .largest = LEVEL_LINE_REFRACTION,
	                               .done = {.air = LEVEL_K_DEFAULT}};
	char cure[LEAVE_WORDS_BYTES];
	ck_assert_str_eq(leave_cure(&item, cure),
	                 "helps most: refraction: measure the air, warmer water, a higher line");
	item.largest = LEVEL_LINE_DISTANCE;
	ck_assert_str_eq(leave_cure(&item, cure), "helps most: distance: measure the distances");
}
END_TEST

/* Two figures of u, as JCGM 100:2008, 7.2.6 has it. */
START_TEST(test_tilt)
{
	char text[REPORT_TILT_BYTES];
	ck_assert_str_eq(report_tilt(text, 0.010903e-3, 0.016554e-3), "tilt +0.011 mm/m, u 0.017");
	ck_assert_str_eq(report_tilt(text, -0.1541e-3, 0.0029e-3), "tilt -0.1541 mm/m, u 0.0029");
	ck_assert_str_eq(report_tilt(text, 0.02e-3, 0.14e-3), "tilt +0.02 mm/m, u 0.14");
	ck_assert_str_eq(report_tilt(text, 0.02e-3, 1e-12), "tilt +0.020000 mm/m, u 0.000000");
}
END_TEST

/* A distance by wires is known by them, whatever the plan says. */
START_TEST(test_way)
{
	static struct work_run run;
	struct fault why;
	struct level_sight sight = {.distance = 20 * LEVEL_NM_PER_M};
	struct book_kept note = {.distance_by = ""};
	char text[LINES_WAY_BYTES];
	run.book.run.sight = &sight;
	run.book.note = &note;
	sight.distance_by = LEVEL_STEPPED;
	ck_assert_str_eq(lines_way(&run, 0, text), "");
	ck_assert(book_figure_put(&run.terms.figures, "distance_by", "map", &why));
	ck_assert_str_eq(lines_way(&run, 0, text), ", by map in the plan");
	sight.distance_by = LEVEL_WIRED;
	ck_assert_str_eq(lines_way(&run, 0, text), ", by wires");
	sight.distance_by = LEVEL_TAPED;
	note.distance_by = "tape";
	ck_assert_str_eq(lines_way(&run, 0, text), ", by tape");
	sight.distance = 0;
	ck_assert_str_eq(lines_way(&run, 0, text), "");
}
END_TEST

/* 719.44 m and 2360 ft 4.5 in; 800 ft are 243.84 m. */
START_TEST(test_whole_up)
{
	struct level_style style = level_style_default(LEVEL_M);
	char text[LEVEL_LENGTH_BYTES];
	ck_assert_str_eq(lines_whole_up(text, 719.44, &style), "720");
	ck_assert_str_eq(lines_whole_up(text, 720, &style), "720");
	style = level_style_default(LEVEL_IN);
	ck_assert_str_eq(lines_whole_up(text, 719.44, &style), "2361");
	ck_assert_str_eq(lines_whole_up(text, 243.84, &style), "800");
}
END_TEST

int main(void)
{
	return RUN_TESTS("said", test_warnings, test_compared, test_failing_and_moved, test_times,
	                 test_pegs, test_what_a_drop_goes_by, test_left_open, test_cures,
	                 test_cure_of_a_drop, test_tilt, test_way, test_whole_up);
}
