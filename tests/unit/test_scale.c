/* Readings scaled from photographs. Figures by hand, and the limit against all eight corners of
 * what the three places may be off by. */
#include "rodbook/level/scale.h"

#include <math.h>
#include <string.h>

#include "chance.h"
#include "suite.h"

static struct level_scaled scaled(const char *text)
{
	struct level_scaling scaling;
	struct level_scaled out;
	struct fault why = {0};
	ck_assert_msg(level_parse_scaling(text, LEVEL_M, &scaling, &why), "%s", why.text);
	ck_assert_msg(level_scale(&scaling, &out, &why), "%s", why.text);
	return out;
}

static void assert_scaled(const char *text, level_nm reading, level_nm limit, bool far)
{
	struct level_scaled got = scaled(text);
	ck_assert_int_eq(got.reading, reading);
	ck_assert_int_eq(got.limit, limit);
	ck_assert_int_eq(got.far, far);
}

START_TEST(test_by_hand)
{
	/* 0.5 + 0.5 x 446/1106 = 0.701627486438; 2 x 2 x 0.5/1106 = 0.001808318264 */
	assert_scaled("0.5@1204; 1.0@2310; hair 1650; u 2", 701627486, 1808319, false);
	/* without u 1 px: 0.000904159132 */
	assert_scaled("0.5@1204; 1.0@2310; hair 1650", 701627486, 904160, false);
	/* on a mark: 2 x 1/98 = 0.020408163 */
	assert_scaled("0@0; 1@100; hair 100; u 1", 1000000000, 20408164, false);
	assert_scaled("0@0; 1@100; hair 0; u 1", 0, 20408164, false);
	/* beyond a mark: 2 x 1.75/98 = 0.035714286 */
	assert_scaled("0@0; 1@100; hair 175; u 1", 1750000000, 35714286, true);
	assert_scaled("0@0; 1@100; hair -75; u 1", -750000000, 35714286, true);
	assert_scaled("0@0; 1@100; hair 150; u 1", 1500000000, 30612245, false);
	assert_scaled("0@0; 1@100; hair -50; u 1", -500000000, 30612245, false);
	/* places counted from the other end, and a rod that reads downward */
	assert_scaled("0@100; 1@0; hair 25; u 1", 750000000, 20000000, false);
	assert_scaled("1@0; 0@100; hair 25; u 1", 750000000, 20000000, false);
	/* a ruler on a print, in mm: 2 + 18.6/62 = 2.3; 2 x 0.25/62 = 0.008064516 */
	assert_scaled("2@11.4; 3@73.4; hair 30; u 0.25", 2300000000, 8064517, false);
	/* half a nanometer goes away from zero, and a limit up */
	assert_scaled("0@0; 0.000000001@2; hair 1; u 0.5", 1, 1, false);
	assert_scaled("0@0; -0.000000001@2; hair 1; u 0.5", -1, 1, false);
	/* the largest there are */
	assert_scaled("-100@-1000000; 100@1000000; hair 1000000; u 1", 100000000000, 200001, false);
}
END_TEST

static long double moved(const struct level_scaling *s, int corner)
{
	long double hair = (long double)(s->hair_px + (corner & 1 ? s->u_px : -s->u_px));
	long double low = (long double)(s->low_px + (corner & 2 ? s->u_px : -s->u_px));
	long double high = (long double)(s->high_px + (corner & 4 ? s->u_px : -s->u_px));
	return (long double)s->low + (hair - low) / (high - low) * (long double)(s->high - s->low);
}

START_TEST(test_corners)
{
	uint64_t state = chance_seed("scale corners");
	for (int i = 0; i < 20000; i++) {
		struct level_scaling s = {.low = chance(&state, -2000000000, 2000000000),
		                          .low_px = chance(&state, 0, 4000) * LEVEL_PX,
		                          .u_px = chance(&state, 1, 40) * LEVEL_PX / 4};
		struct level_scaled got;
		long double most = 0, true_reading;
		s.high = s.low + chance(&state, 1, 2000000000);
		s.high_px = s.low_px + (chance(&state, 0, 1) ? 1 : -1) *
		                           (2 * s.u_px + chance(&state, 1, 4000) * LEVEL_PX);
		s.hair_px = chance(&state, -1000, 5000) * LEVEL_PX;
		true_reading = (long double)s.low + (long double)(s.hair_px - s.low_px) /
		                                        (long double)(s.high_px - s.low_px) *
		                                        (long double)(s.high - s.low);
		for (int corner = 0; corner < 8; corner++)
			most = fmaxl(most, fabsl(moved(&s, corner) - true_reading));
		if (!level_scale(&s, &got, NULL)) {
			ck_assert(most > 99e9L || fabsl(true_reading) > 99e9L);
			continue;
		}
		ck_assert(fabsl((long double)got.reading - true_reading) < 0.51L);
		ck_assert((long double)got.limit - most > -0.01L);
		ck_assert((long double)got.limit - most < 1.01L);
	}
}
END_TEST

static void assert_refused(const char *text, const char *words)
{
	struct level_scaling scaling;
	struct level_scaled out;
	struct fault why = {0};
	ck_assert(!level_parse_scaling(text, LEVEL_M, &scaling, &why) ||
	          !level_scale(&scaling, &out, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_msg(strstr(why.text, words), "%s", why.text);
}

START_TEST(test_refused)
{
	assert_refused("1@0; 1@100; hair 50", "one reading");
	assert_refused("1@100; 2@100; hair 50", "one place");
	assert_refused("1@100; 2@102; hair 101", "no further apart");
	assert_refused("1@100; 2@200; hair 101; u 0", "above 0");
	assert_refused("1@100; 2@200; hair 101; u -1", "above 0");
	assert_refused("1@100; 101@200; hair 101", "100 m");
	assert_refused("1@100; 99@200; hair 250", "over 100 m");
	/* 2 x 98 x 1.5/0.000001 */
	assert_refused("1@100; 99@102.000001; hair 103", "over 100 m");
	assert_refused("", "two marks and the hair");
	assert_refused("1@100; 2@200", "two marks and the hair");
	assert_refused("1@100; 2@200; hair 150; u 1; u 2", "two marks and the hair");
	assert_refused("1@100; 2; hair 150", "no mark");
	assert_refused("x@100; 2@200; hair 150", "no length");
	assert_refused("1@; 2@200; hair 150", "no place");
	assert_refused("1@1,5; 2@200; hair 150", "no place");
	assert_refused("1@1.1234567; 2@200; hair 150", "no place");
	assert_refused("1@1000001; 2@200; hair 150", "no place");
	assert_refused("1@99999999999999999999; 2@200; hair 150", "no place");
	assert_refused("1@1 px; 2@200; hair 150", "no place");
	assert_refused("1@1; 2@200; hare 150", "\"hair\" is wanted");
	assert_refused("1@1; 2@200; hair150", "\"hair\" is wanted");
	assert_refused("1@1; 2@200; hair 150; 2", "\"u\" is wanted");
}
END_TEST

START_TEST(test_carried)
{
	char text[204];
	ck_assert_str_eq(level_carry_scaling(text, sizeof text, "4@1204; 5' 2\"@2310;hair 1650",
	                                     LEVEL_FT, LEVEL_M),
	                 "4 ft@1204; 5' 2\"@2310; hair 1650");
	ck_assert_str_eq(level_carry_scaling(text, sizeof text, "4@1; 5@2310; hair 1650; u 2",
	                                     LEVEL_IN, LEVEL_IN),
	                 "4@1; 5@2310; hair 1650; u 2");
	ck_assert_str_eq(level_carry_scaling(text, sizeof text, "4@1; 5@2310; hair 1650; u 2",
	                                     LEVEL_IN, LEVEL_M),
	                 "4 in@1; 5 in@2310; hair 1650; u 2");
	ck_assert_str_eq(level_carry_scaling(text, sizeof text, "half", LEVEL_IN, LEVEL_M), "half");
	ck_assert_str_eq(level_carry_scaling(text, sizeof text, "", LEVEL_IN, LEVEL_M), "");
}
END_TEST

int main(void)
{
	return RUN_TESTS("scale", test_by_hand, test_corners, test_refused, test_carried);
}
