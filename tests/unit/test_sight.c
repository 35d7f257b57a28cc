/* What a sight is: names, wires, and what cannot be one. */
#include "rodbook/level/sight.h"

#include <string.h>

#include "sights.h"
#include "suite.h"

#define FT_HUNDREDTHS(n) ((level_nm)(n)*3048000)

/* J. Mahun, Open Access Surveying Library, Elevations, chapter G: 4.31, 4.16 and 4.02 ft make
 * 4.163 ft, and an interval of 0.29 ft is 29 ft at 1:100. */
START_TEST(test_three_wires)
{
	struct level_style style = {LEVEL_FT, 3, 64, LEVEL_FT};
	char buf[LEVEL_LENGTH_BYTES];
	level_nm upper = FT_HUNDREDTHS(431), middle = FT_HUNDREDTHS(416),
	         lower = FT_HUNDREDTHS(402);
	level_nm mean = level_wire_mean(upper, middle, lower);
	ck_assert_str_eq(level_format_length(buf, mean, &style, false), "4.163");
	/* 12.49 x 304 800 000 / 3 */
	ck_assert_int_eq(mean, 1268984000);
	ck_assert_int_eq(upper - lower, FT_HUNDREDTHS(29));
	ck_assert_int_eq(level_wire_distance(upper, lower, 100, 0), FT_HUNDREDTHS(2900));
}
END_TEST

START_TEST(test_wire_mean_rounds_once)
{
	ck_assert_int_eq(level_wire_mean(1, 0, 0), 0);
	ck_assert_int_eq(level_wire_mean(1, 1, 0), 1);
	ck_assert_int_eq(level_wire_mean(-1, -1, 0), -1);
	/* (1.501 + 1.432 + 1.362)/3 m = 1.431 666 666 67 */
	ck_assert_int_eq(level_wire_mean(MM(1501), MM(1432), MM(1362)), 1431666667);
}
END_TEST

START_TEST(test_wire_distance)
{
	ck_assert_int_eq(level_wire_distance(MM(1501), MM(1362), 100, 0), MM(13900));
	/* an older instrument: 0.3 m more */
	ck_assert_int_eq(level_wire_distance(MM(1501), MM(1362), 100, MM(300)), MM(14200));
	ck_assert_int_eq(level_wire_distance(MM(1501), MM(1362), 333, 0), MM(46287));
	ck_assert_int_lt(level_wire_distance(MM(1362), MM(1501), 100, 0), 0);
}
END_TEST

START_TEST(test_names)
{
	static const char *const kinds[] = {"BS", "IS", "FS"};
	static const char *const methods[] = {"rod", "tape", "target"};
	static const char *const runs[] = {"loop", "link", "open", "crossing"};
	enum level_kind kind = LEVEL_FS;
	enum level_method method = LEVEL_TARGET;
	enum level_run_kind run = LEVEL_CROSSING;
	for (int i = 0; i < 3; i++) {
		ck_assert_str_eq(level_kind_name((enum level_kind)i), kinds[i]);
		ck_assert(level_kind_find(kinds[i], &kind));
		ck_assert_int_eq(kind, i);
		ck_assert_str_eq(level_method_name((enum level_method)i), methods[i]);
		ck_assert(level_method_find(methods[i], &method));
		ck_assert_int_eq(method, i);
	}
	for (int i = 0; i < 4; i++) {
		ck_assert_str_eq(level_run_kind_name((enum level_run_kind)i), runs[i]);
		ck_assert(level_run_kind_find(runs[i], &run));
		ck_assert_int_eq(run, i);
	}
	ck_assert(level_kind_find("is", &kind) && kind == LEVEL_IS);
	ck_assert(level_method_find("TAPE", &method) && method == LEVEL_TAPE);
	ck_assert(level_run_kind_find("Crossing", &run) && run == LEVEL_CROSSING);
	ck_assert(!level_kind_find("", &kind) && kind == LEVEL_IS);
	ck_assert(!level_kind_find("HI", &kind) && !level_kind_find("BS ", &kind));
	ck_assert(!level_method_find("pole", &method) && method == LEVEL_TAPE);
	ck_assert(!level_run_kind_find("traverse", &run) && run == LEVEL_CROSSING);
}
END_TEST

static void check_sight(struct level_sight at, const char *said)
{
	struct level_style style = {LEVEL_M, 3, 64, LEVEL_M};
	struct fault why = {0};
	bool good = level_check_sight(&at, METRES(5), &style, &why);
	ck_assert_msg(good == !said, "reading %lld: %s", (long long)at.reading, why.text);
	if (said)
		ck_assert_msg(strstr(why.text, said) != NULL, "%s", why.text);
	ck_assert(level_check_sight(&at, METRES(5), &style, NULL) == good);
}

static struct level_sight by(enum level_method method, struct level_sight at)
{
	at.method = method;
	return at;
}

static struct level_sight wires(level_nm upper, level_nm middle, level_nm lower)
{
	struct level_sight at = sight(LEVEL_BS, "A", level_wire_mean(upper, middle, lower), 0);
	at.wires = true;
	at.upper = upper;
	at.middle = middle;
	at.lower = lower;
	return at;
}

START_TEST(test_check_reading)
{
	check_sight(sight(LEVEL_BS, "A", 0, 0), NULL);
	check_sight(sight(LEVEL_BS, "A", METRES(5), 0), NULL);
	check_sight(sight(LEVEL_BS, "A", METRES(5) + 1, 0), "longer than the rod (5.000)");
	/* a rod upside down reads below zero, and is no longer for that */
	check_sight(sight(LEVEL_BS, "A", -1, 0), NULL);
	check_sight(sight(LEVEL_BS, "A", -METRES(5), 0), NULL);
	check_sight(sight(LEVEL_BS, "A", -METRES(5) - MM(1), 0),
	            "the reading -5.001 is longer than the rod (5.000)");
	check_sight(by(LEVEL_TARGET, sight(LEVEL_FS, "A", METRES(5), 0)), NULL);
	check_sight(by(LEVEL_TARGET, sight(LEVEL_FS, "A", METRES(5) + 1, 0)),
	            "longer than the rod");
	/* a pole over water may be marked above the reach of a rod */
	check_sight(by(LEVEL_TAPE, sight(LEVEL_FS, "A", METRES(5) + 1, 0)), NULL);
	/* and so may a tape hang from a mark overhead */
	check_sight(by(LEVEL_TAPE, sight(LEVEL_FS, "A", -METRES(20), 0)), NULL);
	check_sight(by(LEVEL_TAPE, sight(LEVEL_FS, "A", -METRES(100) - 1, 0)), "over 100 m");
	check_sight(by(LEVEL_TARGET, sight(LEVEL_FS, "A", -METRES(5), 0)), NULL);
	check_sight(by(LEVEL_TARGET, sight(LEVEL_FS, "A", -METRES(5) - 1, 0)),
	            "longer than the rod");
}
END_TEST

/* A rod upside down, its foot on a ceiling 2.000 above the line: the upper wire meets it nearer to
 * the foot and shows 1.850, the lower one 2.150. Booked below zero, the upper one is the most. */
START_TEST(test_check_wires_upside_down)
{
	struct level_sight at = wires(-MM(1850), -MM(2000), -MM(2150));
	check_sight(at, NULL);
	ck_assert_int_eq(at.reading, -MM(2000));
	ck_assert_int_eq(level_wire_distance(at.upper, at.lower, 100, 0), METRES(30));
	check_sight(wires(-MM(2150), -MM(2000), -MM(1850)), "out of order");
	check_sight(wires(-MM(4862), -MM(4932), -MM(5001)), "lower wire -5.001");
	/* a line that passes below the top of something fixed */
	check_sight(wires(MM(20), -MM(5), -MM(30)), NULL);
}
END_TEST

START_TEST(test_check_wires)
{
	check_sight(wires(MM(1501), MM(1432), MM(1362)), NULL);
	check_sight(wires(MM(1432), MM(1432), MM(1432)), NULL);
	check_sight(wires(MM(1362), MM(1432), MM(1501)), "out of order");
	check_sight(wires(MM(1501), MM(1502), MM(1362)), "out of order");
	check_sight(wires(MM(1501), MM(1361), MM(1362)), "out of order");
	check_sight(wires(MM(5001), MM(4932), MM(4862)), "upper wire 5.001");
}
END_TEST

START_TEST(test_check_distance_and_station)
{
	char forty_one[42];
	memset(forty_one, 'x', 41);
	forty_one[41] = '\0';
	check_sight(sight(LEVEL_BS, "A", MM(1), 0), NULL);
	check_sight(sight(LEVEL_BS, "A", MM(1), 1), NULL);
	check_sight(sight(LEVEL_BS, "A", MM(1), METRES(100000)), NULL);
	check_sight(sight(LEVEL_BS, "A", MM(1), METRES(100000) + 1), "over 100 km");
	check_sight(sight(LEVEL_BS, "A", MM(1), -1), "distance is negative");
	check_sight(sight(LEVEL_BS, "", MM(1), 0), "has no name");
	check_sight(sight(LEVEL_BS, forty_one, MM(1), 0), "at most 40");
	check_sight(sight(LEVEL_BS, "A\x1b[2J", MM(1), 0), "control");
}
END_TEST

int main(void)
{
	return RUN_TESTS("sight", test_three_wires, test_wire_mean_rounds_once, test_wire_distance,
	                 test_names, test_check_reading, test_check_wires,
	                 test_check_wires_upside_down, test_check_distance_and_station);
}
