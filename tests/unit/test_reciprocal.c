/* Reciprocal leveling. Curvature and refraction at R = 6371 km: h(d) = (1 - k) d^2/12 742 000 m. */
#include "rodbook/level/reciprocal.h"

#include <math.h>
#include <string.h>

#include "chance.h"
#include "sights.h"
#include "suite.h"

static struct level_bank bank(double near, double far, double near_distance, double far_distance)
{
	return (struct level_bank){.near = level_from_meters(near),
	                           .far = level_from_meters(far),
	                           .near_sight = {.distance = near_distance},
	                           .far_sight = {.distance = far_distance}};
}

/* A level whose tilt is known without error. */
static struct level_terms with_tilt(double tilt)
{
	struct level_terms terms = usual_terms();
	terms.instrument[0].tested = true;
	terms.instrument[0].tilt = tilt;
	return terms;
}

/* Punmia, Surveying, vol. 1, reciprocal leveling (recalled): near A 2.645 and 3.230, near B 1.085
 * and 1.665: B lies 0.5825 lower. */
START_TEST(test_published)
{
	struct level_bank a = bank(2.645, 3.230, 0, 300), b = bank(1.665, 1.085, 0, 300);
	struct level_terms terms = usual_terms();
	struct level_reciprocal got;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_int_eq(got.rise, -582500000);
	/* (0.585 - 0.580)/2 */
	ck_assert_int_eq(got.combined, 2500000);
	ck_assert(!got.has_k);
	ck_assert(!got.two_levels);
	ck_assert_double_eq(got.unequal, 0);
	/* rods 0.5 + 0.01 d: near 0.5 mm, far 3.5 mm: sqrt(2 (0.25 + 12.25))/2 = 2.5 mm */
	ck_assert_double_eq_tol(got.u_rise, 0.0025, 1e-12);
}
END_TEST

/* The same book's other one (recalled): 1010 m across, near P 1.824 and 2.748, near Q 0.928 and
 * 1.606: Q lies 0.801 lower; of the 0.123 that each long sight reads too high, curvature and
 * refraction are 0.0686 (0.06728 K^2, which is 6/7 of the curvature), so that 0.0544 is the tilt.
 */
START_TEST(test_published_k)
{
	struct level_bank a = bank(1.824, 2.748, 0, 1010), b = bank(1.606, 0.928, 0, 1010);
	struct level_terms terms = with_tilt(0.0544 / 1010);
	struct level_reciprocal got;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_int_eq(got.rise, -801000000);
	ck_assert_int_eq(got.combined, 123000000);
	ck_assert(got.has_k);
	/* 0.0544 is rounded to 0.05 mm of 80 mm */
	ck_assert_double_eq_tol(got.k, 1.0 / 7, 0.0007);
	/* sqrt(2 (0.5^2 + 10.6^2))/2 = 7.50367 mm, over 1010^2/12 742 000 = 0.0800581 m */
	ck_assert_double_eq_tol(got.u_rise, 0.00750367, 1e-8);
	ck_assert_double_eq_tol(got.u_k, 0.0937278, 1e-6);
	ck_assert_double_eq_tol(got.bend, 0.0800581, 1e-7);
	ck_assert_double_eq(got.lever, 1010);
}
END_TEST

/* Over a flat surface light still bends by k/R0: over 800 m and k = 0.13 it falls by 0.13 x
 * 640 000/12 742 000 = 0.0065295872 m, which is what the long sights then read too low. */
START_TEST(test_light_over_a_flat_surface)
{
	struct level_bank a = bank(1.5, 1.5 - 0.006529587, 0, 800),
	                  b = bank(1.5, 1.5 - 0.006529587, 0, 800);
	struct level_terms terms = with_tilt(0);
	struct level_reciprocal got;
	terms.radius = 1e15;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_int_eq(got.rise, 0);
	ck_assert_double_eq_tol(got.k, 0.13, 1e-7);
}
END_TEST

/* At 10 km and R = 6371 km, sqrt(R^2 + d^2) - R is d^2/2R less d^4/8R^3 = 4.83 micrometers; light
 * that does not bend (k = 0) must come out as that, not as 6e-7. */
START_TEST(test_closed_form)
{
	double high = 1e8 / 12742000 - 1e16 / (8 * pow(6371000, 3));
	struct level_bank a = bank(1, 1 + high, 0, 10000), b = bank(1, 1 + high, 0, 10000);
	struct level_terms terms = with_tilt(0);
	struct level_reciprocal got;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	/* readings to 1 nm of 7.848 m */
	ck_assert_double_eq_tol(got.k, 0, 2e-10);
}
END_TEST

/* What a level of that tilt reads, through light of that k, above a mark so far below its line. */
static double reading(double below, double distance, double tilt, double k)
{
	return below + tilt * distance + (1 - k) * distance * distance / 12742000;
}

/* Worlds whose rise, tilt and k are known; d^4/8R^3 is below 1 nm to 1.2 km. */
START_TEST(test_known_worlds)
{
	uint64_t state = chance_seed("reciprocal");
	for (int i = 0; i < 2000; i++) {
		double tilt = (double)chance(&state, -100, 100) * 1e-6;
		double k = (double)chance(&state, -1000, 1500) / 1000;
		double rise = (double)chance(&state, -900, 900) / 1000;
		double near = (double)chance(&state, 0, 20),
		       far = (double)chance(&state, 300, 1200);
		double line_a = (double)chance(&state, 1500, 2500) / 1000;
		double line_b = (double)chance(&state, 1500, 2500) / 1000;
		struct level_bank a = bank(reading(line_a, near, tilt, k),
		                           reading(line_a - rise, far, tilt, k), near, far);
		struct level_bank b = bank(reading(line_b - rise, near, tilt, k),
		                           reading(line_b, far, tilt, k), near, far);
		struct level_terms terms = with_tilt(tilt);
		struct level_reciprocal got;
		struct fault why;
		ck_assert_msg(level_reciprocal(&a, &b, &terms, &got, &why), "%s", why.text);
		/* four readings rounded to 1 nm */
		ck_assert_double_eq_tol(level_to_meters(got.rise), rise, 2e-9);
		/* and those over 300^2/12 742 000 = 7 mm */
		ck_assert_double_eq_tol(got.k, k, 4e-7);
		ck_assert_double_eq(got.unequal, 0);
	}
}
END_TEST

/* Banks with unequal sights leave (h(f2) - h(n2) - h(f1) + h(n1))/2 in the rise, and the tilt by as
 * much as the sights differ. */
START_TEST(test_unequal_banks)
{
	struct level_terms terms = with_tilt(0.00005);
	struct level_bank a =
	    bank(reading(1.5, 4, 0.00005, 0.13), reading(1.2, 500, 0.00005, 0.13), 4, 500);
	struct level_bank b =
	    bank(reading(1.6, 30, 0.00005, 0.13), reading(1.9, 520, 0.00005, 0.13), 30, 520);
	struct level_reciprocal got;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	/* 0.87 (270 400 - 900 - 250 000 + 16)/12 742 000 = 1.332516 mm; tilt x (490 - 496) =
	 * -0.3 mm; half of both */
	ck_assert_double_eq_tol(got.unequal, 0.000516258, 2e-9);
	ck_assert_double_eq_tol(level_to_meters(got.rise), 0.3 + 0.000516258, 3e-9);
	ck_assert_double_eq_tol(got.k, 0.13, 2e-7);
	ck_assert_double_eq(got.lever, 493);
}
END_TEST

/* Two levels, tilts +0.05 and -0.03 mm/m, 500 m: the rise is off by (-0.03 - 0.05) x 500/2 = -20
 * mm, k by nothing; untested, only that there are two is known. */
START_TEST(test_two_levels)
{
	struct level_terms terms = with_tilt(0.00005);
	struct level_bank a = bank(1.5, reading(1.2, 500, 0.00005, 0.2), 0, 500);
	struct level_bank b = bank(1.6, reading(1.9, 500, -0.00003, 0.2), 0, 500);
	struct level_reciprocal got;
	b.near_sight.instrument = b.far_sight.instrument = 1;
	terms.instrument[0].u = 0.000003;
	terms.instrument[1] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .tilt = -0.00003, .u = 0.000004};
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert(got.two_levels);
	ck_assert_double_eq_tol(level_to_meters(got.rise), 0.3 - 0.02, 2e-9);
	ck_assert_double_eq_tol(got.unequal, -0.02, 1e-12);
	ck_assert(got.has_k);
	ck_assert_double_eq_tol(got.k, 0.2, 2e-7);
	/* readings 0.5 and 5.5 mm: 2 (0.25 + 30.25)/4 = 15.25 mm^2; tilts 250 m x 3e-6 =
	 * 0.75 mm and 250 m x 4e-6 = 1 mm: 15.25 + 1.5625 = 16.8125; root 4.100305 mm, over
	 * 250 000/12 742 000 = 19.620154 mm */
	ck_assert_double_eq_tol(got.u_k, 0.208984, 1e-6);
	terms.instrument[1].tested = false;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert(got.two_levels);
	ck_assert(!got.has_k);
}
END_TEST

/* One level's error is one and the same on both banks: 500 m x 3e-6 = 1.5 mm, 15.25 + 2.25 = 17.5,
 * root 4.183300 mm. A set of 4 readings with a standard deviation of 20 mm has 10 mm of its own in
 * place of 5.5: (0.25 + 100 + 0.25 + 30.25)/4 = 32.6875, root 5.717298 mm. */
START_TEST(test_uncertainty)
{
	struct level_terms terms = with_tilt(0);
	struct level_bank a = bank(1.5, 1.2, 0, 500), b = bank(1.6, 1.9, 0, 500);
	struct level_reciprocal got;
	terms.instrument[0].u = 0.000003;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_double_eq_tol(got.u_k * got.bend, 0.004183300, 1e-9);
	a.far_sight.set_count = 4;
	a.far_sight.set_sd = 0.02;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_double_eq_tol(got.u_rise, 0.005717298, 1e-9);
	/* by target 0.3 + 0.005 x 500 = 2.8 mm: (0.25 + 7.84 + 0.25 + 30.25)/4 = 9.6475 */
	a.far_sight = (struct level_reach){.distance = 500, .method = LEVEL_TARGET};
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_double_eq_tol(got.u_rise * got.u_rise, 9.6475e-6, 1e-12);
}
END_TEST

/* Halves of 1 nm are rounded away from zero, as everywhere. */
START_TEST(test_rounding)
{
	struct level_bank a = {.near = 3, .far_sight = {.distance = 100}}, b = a;
	struct level_terms terms = usual_terms();
	struct level_reciprocal got;
	b.near = 0;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert_int_eq(got.rise, 2);
	ck_assert_int_eq(got.combined, -2);
}
END_TEST

START_TEST(test_refusals)
{
	struct level_terms terms = usual_terms();
	struct level_bank good = bank(1, 1, 5, 100), bad;
	struct level_reciprocal got;
	struct fault why = {0};
	static const double sights[][2] = {{5, 0},   {0, 0},   {100, 100},    {101, 100},
	                                   {-1, 10}, {0, -10}, {0, 100000.1}, {0, NAN}};
	static const double readings[][2] = {{-0.001, 1}, {1, -0.001}, {100.001, 1}, {1, 100.001}};
	for (size_t i = 0; i < sizeof sights / sizeof *sights; i++) {
		bad = bank(1, 1, sights[i][0], sights[i][1]);
		ck_assert(!level_reciprocal(&bad, &good, &terms, &got, &why));
		ck_assert(!level_reciprocal(&good, &bad, &terms, &got, &why));
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
		bad = bank(readings[i][0], readings[i][1], 5, 100);
		ck_assert(!level_reciprocal(&bad, &good, &terms, &got, &why));
		ck_assert(!level_reciprocal(&good, &bad, &terms, &got, &why));
	}
	ck_assert(level_reciprocal(&good, &good, &terms, &got, &why));
}
END_TEST

START_TEST(test_parse)
{
	static const char *const bad[] = {"",
	                                  "1.432",
	                                  "1.432,",
	                                  ",1.318",
	                                  "1,2,3",
	                                  "1.4;.3",
	                                  "1.432,b",
	                                  "a,1.318",
	                                  ",",
	                                  "1.43200000000000000000000000000000000000000000000000000"
	                                  "00000000000000000000000000,1.318"};
	struct level_bank got = {.far_sight = {.distance = 7}};
	struct fault why = {0};
	ck_assert(level_parse_bank("1.432,1318 mm", LEVEL_M, true, &got, &why));
	ck_assert_int_eq(got.near, MM(1432));
	ck_assert_int_eq(got.far, MM(1318));
	ck_assert(level_parse_bank("4' 6\", 50", LEVEL_IN, false, &got, &why));
	ck_assert_int_eq(got.far, 54 * LEVEL_NM_PER_IN);
	ck_assert_int_eq(got.near, 50 * LEVEL_NM_PER_IN);
	ck_assert_double_eq(got.far_sight.distance, 7);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		why.kind = FAULT_NONE;
		ck_assert_msg(!level_parse_bank(bad[i], LEVEL_M, true, &got, &why), "%s", bad[i]);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

/* The same sights in meters, feet, feet and inches, and inches: the same k to 12 digits. */
START_TEST(test_units)
{
	static const struct {
		enum level_unit unit;
		const char *a, *b, *distance, *near;
	} same[] = {
	    {LEVEL_M, "1.524,1.3716", "1.93675,1.6764", "804.672", "6.096"},
	    {LEVEL_FT, "5,4.5", "1.93675 m,5.5", "2640", "20"},
	    {LEVEL_FTIN, "5,4' 6\"", "6' 4 1/4\",5' 6\"", "2640", "20"},
	    {LEVEL_IN, "60,54", "76.25,66", "31680", "240"},
	};
	struct level_reciprocal first = {0};
	for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
		struct level_bank a = {0}, b;
		struct level_terms terms = with_tilt(0.00002);
		struct level_reciprocal got;
		level_nm distance, near;
		ck_assert(level_parse_length(same[i].distance, same[i].unit, &distance, NULL));
		ck_assert(level_parse_length(same[i].near, same[i].unit, &near, NULL));
		a.far_sight.distance = level_to_meters(distance);
		a.near_sight.distance = level_to_meters(near);
		b = a;
		ck_assert(level_parse_bank(same[i].a, same[i].unit, true, &a, NULL));
		ck_assert(level_parse_bank(same[i].b, same[i].unit, false, &b, NULL));
		ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
		if (i == 0)
			first = got;
		ck_assert_int_eq(got.rise, first.rise);
		ck_assert_int_eq(got.combined, first.combined);
		ck_assert_double_eq_tol(got.k, first.k, fabs(first.k) * 1e-12);
		ck_assert_double_eq_tol(got.u_rise, first.u_rise, first.u_rise * 1e-12);
	}
	/* k by hand: combined = ((1.3716 - 1.524) - (1.6764 - 1.93675))/2 = 0.053975; tilt 0.00002
	 * x 798.576 = 0.01597152; bend = (804.672^2 - 6.096^2)/12 742 000 = (647 497.027584
	 * - 37.161216)/12 742 000 = 0.0508130486; 1 - (0.053975 - 0.01597152)/0.0508130486 =
	 * 0.25209 */
	ck_assert_int_eq(first.combined, 53975000);
	ck_assert_double_eq_tol(first.k, 0.25209, 0.00001);
}
END_TEST

static bool pair_at(const struct level_run *run, size_t at, const struct level_terms *terms,
                    struct level_reciprocal_pair *out)
{
	struct level_page page = {0};
	bool found;
	ck_assert(level_reduce(run, 0, terms, &page));
	found = level_reciprocal_in(run, &page, at, terms, out);
	level_page_free(&page);
	return found;
}

/* Forth and back, the level beside the BS mark both times, over the published figures: the second
 * setup has its BS on B. The pair is found from any of its rows, and says what the banks say. */
START_TEST(test_forth_and_back)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(2645), METRES(5)), sight(LEVEL_FS, "B", MM(3230), METRES(300)),
	    sight(LEVEL_BS, "B", MM(1665), METRES(5)), sight(LEVEL_FS, "A", MM(1085), METRES(300))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_terms terms = usual_terms();
	struct level_reciprocal_pair got;
	for (size_t at = 0; at < 4; at++) {
		ck_assert(pair_at(&run, at, &terms, &got));
		ck_assert_uint_eq(got.first, 0);
		ck_assert_uint_eq(got.last, 3);
		ck_assert_str_eq(got.a, "A");
		ck_assert_str_eq(got.b, "B");
		ck_assert_int_eq(got.got.rise, -582500000);
		ck_assert_int_eq(got.got.combined, 2500000);
		ck_assert_double_eq(got.bank_b.far_sight.distance, 300);
	}
	ck_assert(!pair_at(&run, 4, &terms, &got));
	ck_assert(!pair_at(&run, 99, &terms, &got));
}
END_TEST

/* Forth twice: the line does not go on, but the pair is one. And begun from the far bank. */
START_TEST(test_forth_twice)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(2645), METRES(5)), sight(LEVEL_FS, "B", MM(3230), METRES(300)),
	    sight(LEVEL_BS, "A", MM(1085), METRES(300)), sight(LEVEL_FS, "B", MM(1665), METRES(5))};
	struct level_sight turned[] = {sights[2], sights[3], sights[0], sights[1]};
	struct level_run run = RUN(LEVEL_OPEN, sights), other = RUN(LEVEL_OPEN, turned);
	struct level_terms terms = usual_terms();
	struct level_reciprocal_pair got;
	ck_assert(pair_at(&run, 3, &terms, &got));
	ck_assert_int_eq(got.got.rise, -582500000);
	ck_assert_int_eq(got.got.combined, 2500000);
	ck_assert(pair_at(&other, 0, &terms, &got));
	ck_assert_int_eq(got.got.rise, -582500000);
	ck_assert_int_eq(got.got.combined, 2500000);
	ck_assert_int_eq(got.bank_a.near, MM(2645));
}
END_TEST

/* In a longer run, with an IS, and with struck and blank rows in between; tested tilts, methods and
 * sets go along. */
START_TEST(test_in_a_run)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "M", MM(1500), METRES(30)),
	    sight(LEVEL_FS, "A", MM(1400), METRES(30)),
	    as(sight(LEVEL_BS, "A", MM(9999), METRES(5)), LEVEL_STRUCK),
	    sight(LEVEL_BS, "A", MM(1500), METRES(5)),
	    sight(LEVEL_IS, "edge", MM(1900), METRES(9)),
	    as(sight(LEVEL_FS, "B", 0, 0), LEVEL_BLANK),
	    sight(LEVEL_FS, "B", MM(1700), METRES(500)),
	    as(sight(LEVEL_FS, "C", MM(1), METRES(5)), LEVEL_STRUCK),
	    sight(LEVEL_BS, "B", MM(1600), METRES(5)),
	    as(sight(LEVEL_FS, "A", MM(1450), METRES(500)), LEVEL_DRAFT),
	    sight(LEVEL_BS, "A", MM(1400), METRES(30)),
	    sight(LEVEL_FS, "M", MM(1500), METRES(30)),
	};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_terms terms = usual_terms();
	struct level_reciprocal_pair got;
	terms.instrument[1] =
	    (struct level_instrument){.tolerance = 0.0001, .tested = true, .u = 0.00001};
	for (size_t i = 3; i < 10; i++)
		sights[i].instrument = 1;
	sights[6].method = LEVEL_TARGET;
	sights[9].set_count = 4;
	sights[9].set_sd = 0.02;
	for (size_t at = 0; at < run.count; at++) {
		bool inside = at >= 3 && at <= 9 && at != 7;
		ck_assert_msg(pair_at(&run, at, &terms, &got) == inside, "row %zu", at);
	}
	ck_assert(pair_at(&run, 6, &terms, &got));
	ck_assert_uint_eq(got.first, 3);
	ck_assert_uint_eq(got.last, 9);
	/* ((1.5 - 1.7) + (1.45 - 1.6))/2 and ((1.7 - 1.5) - (1.6 - 1.45))/2 */
	ck_assert_int_eq(got.got.rise, -MM(175));
	ck_assert_int_eq(got.got.combined, MM(25));
	ck_assert(got.got.has_k);
	ck_assert(!got.got.two_levels);
	/* near twice 0.55 mm, target 2.8 mm, set 20/2 = 10 mm: (0.605 + 7.84 + 100)/4 mm^2 */
	ck_assert_double_eq_tol(got.got.u_rise * got.got.u_rise, 27.11125e-6, 1e-12);
}
END_TEST

/* What is no pair: balanced sights, other marks, the level beside the same mark twice, an unknown
 * distance, a setup in between, one without its FS, a loop of one mark. */
START_TEST(test_no_pair)
{
	static const struct {
		const char *stations[4];
		int distances[4];
	} none[] = {
	    {{"A", "B", "B", "A"}, {30, 32, 30, 32}}, {{"A", "B", "B", "A"}, {160, 300, 5, 300}},
	    {{"A", "B", "B", "C"}, {5, 300, 5, 300}}, {{"A", "B", "C", "A"}, {5, 300, 5, 300}},
	    {{"A", "B", "B", "A"}, {5, 300, 300, 5}}, {{"A", "B", "A", "B"}, {5, 300, 5, 300}},
	    {{"A", "B", "B", "A"}, {5, 300, 0, 300}}, {{"A", "B", "B", "A"}, {5, 0, 5, 300}},
	    {{"A", "A", "A", "A"}, {5, 300, 300, 5}}, {{"A", "B", "B", "A"}, {150, 150, 5, 300}},
	};
	struct level_terms terms = usual_terms();
	struct level_reciprocal_pair got;
	struct level_sight sights[6];
	struct level_run run = {.kind = LEVEL_OPEN, .sight = sights};
	for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
		run.count = 4;
		for (int j = 0; j < 4; j++)
			sights[j] = sight(j % 2 ? LEVEL_FS : LEVEL_BS, none[i].stations[j],
			                  MM(1500), METRES(none[i].distances[j]));
		for (size_t at = 0; at < 4; at++)
			ck_assert_msg(!pair_at(&run, at, &terms, &got), "case %zu, row %zu", i, at);
	}
	/* the second setup lacks its FS */
	run.count = 3;
	for (int j = 0; j < 3; j++)
		sights[j] = sight(j % 2 ? LEVEL_FS : LEVEL_BS, j % 3 ? "B" : "A", MM(1500),
		                  METRES(j % 2 ? 300 : 5));
	for (size_t at = 0; at < 3; at++)
		ck_assert(!pair_at(&run, at, &terms, &got));
	/* another BS in between, whose FS was struck */
	sights[3] = sights[2];
	sights[4] = sight(LEVEL_FS, "A", MM(1500), METRES(300));
	run.count = 5;
	ck_assert(!pair_at(&run, 0, &terms, &got));
	ck_assert(!pair_at(&run, 2, &terms, &got));
	ck_assert(!pair_at(&run, 4, &terms, &got));
	run.count = 0;
	ck_assert(!pair_at(&run, 0, &terms, &got));
	/* an FS without a BS */
	sights[0] = sights[1];
	run.count = 1;
	ck_assert(!pair_at(&run, 0, &terms, &got));
}
END_TEST

/* Of three setups over the same marks the middle one goes with the one before it. */
START_TEST(test_three_setups)
{
	struct level_sight sights[6];
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = usual_terms();
	struct level_reciprocal_pair got;
	for (int j = 0; j < 6; j++)
		sights[j] = sight(j % 2 ? LEVEL_FS : LEVEL_BS, (j + 1) / 2 % 2 ? "B" : "A",
		                  MM(1500 + j), METRES(j % 2 ? 300 : 5));
	ck_assert(pair_at(&run, 2, &terms, &got));
	ck_assert_uint_eq(got.first, 0);
	ck_assert(pair_at(&run, 4, &terms, &got));
	ck_assert_uint_eq(got.first, 2);
	ck_assert_uint_eq(got.last, 5);
	ck_assert_str_eq(got.a, "B");
}
END_TEST

int main(void)
{
	return RUN_TESTS("reciprocal", test_published, test_published_k,
	                 test_light_over_a_flat_surface, test_closed_form, test_known_worlds,
	                 test_unequal_banks, test_two_levels, test_uncertainty, test_rounding,
	                 test_refusals, test_parse, test_units, test_forth_and_back,
	                 test_forth_twice, test_in_a_run, test_no_pair, test_three_setups);
}
