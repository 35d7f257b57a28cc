/* The peg test. Curvature and refraction at R = 6371 km and k = 0.13: h(d) = 0.87 d^2/12 742 000 m.
 */
#include "rodbook/level/pegtest.h"

#include <math.h>
#include <string.h>

#include "books.h"
#include "chance.h"
#include "rodbook/book/crossing.h"
#include "sights.h"
#include "suite.h"

static struct level_standing standing(double da, double a, double db, double b)
{
	return (struct level_standing){level_from_meters(da), level_from_meters(a),
	                               level_from_meters(db), level_from_meters(b)};
}

/* Without any doubt of the air. */
static bool peg_test(const struct level_standing *s, size_t count, const struct level_terms *terms,
                     struct level_peg_result *out, struct fault *why)
{
	return level_peg_test(s, count, terms, &(struct level_peg_way){.k = terms->k}, out, why);
}

/* Kavanagh, Surveying with Construction Applications, two-peg test (recalled): midway 1.075 and
 * 1.247, then at A 1.783, B 60 m off 1.946: 9 mm too low in 60 m, 0.00015 m/m downward. The book
 * leaves curvature alone: 0.246 mm over 60 m, 0.0000041 m/m. */
START_TEST(test_published)
{
	struct level_standing s[] = {standing(30, 1.075, 30, 1.247),
	                             standing(0.01, 1.783, 60.01, 1.946)};
	struct level_terms terms = usual_terms();
	struct level_peg_result got;
	struct fault why;
	ck_assert(peg_test(s, 2, &terms, &got, &why));
	ck_assert_double_eq_tol(got.tilt, -0.00015 - 0.0000041, 1e-7);
	terms.k = 1; /* light that follows the Earth: nothing to take off */
	ck_assert(peg_test(s, 2, &terms, &got, &why));
	ck_assert_double_eq_tol(got.tilt, -0.00015, 1e-9);
	/* what B should have read: 1.946 + 0.009 */
	ck_assert_double_eq_tol(got.should_b, 1.955, 1e-5);
	ck_assert_double_eq_tol(got.should_a, 1.783, 1e-5);
	ck_assert_int_eq(got.sets, 1);
	/* rods 0.5 + 0.01 d: (0.8^2 + 0.8^2 + 0.5001^2 + 1.1001^2) mm^2 = 2.740; root/60 m =
	 * 0.02759 */
	ck_assert_double_eq_tol(got.u, 0.02759e-3, 1e-8);
}
END_TEST

/* Any geometry: readings of a level tilted by a known angle, over pegs of known heights. */
START_TEST(test_any_geometry)
{
	uint64_t state = chance_seed("pegtest");
	for (int i = 0; i < 2000; i++) {
		struct level_terms terms = usual_terms();
		struct level_standing s[4];
		struct level_peg_result got;
		struct fault why;
		double tilt = (double)chance(&state, -200, 200) * 1e-6;
		double rise = (double)chance(&state, -900, 900) / 1000;
		for (int j = 0; j < 4; j++) {
			double da = (double)chance(&state, 2, 90),
			       db = (double)chance(&state, 2, 90);
			double high = (double)chance(&state, 1200, 1900) / 1000;
			/* reading = height of the line + what it is raised by */
			double a = high + tilt * da + 0.87 * da * da / 12742000;
			double b = high - rise + tilt * db + 0.87 * db * db / 12742000;
			s[j] = standing(da, a, db, b);
		}
		if (llabs((s[1].distance_a - s[1].distance_b) -
		          (s[0].distance_a - s[0].distance_b)) < METRES(5) ||
		    llabs((s[3].distance_a - s[3].distance_b) -
		          (s[2].distance_a - s[2].distance_b)) < METRES(5))
			continue;
		ck_assert_msg(peg_test(s, 4, &terms, &got, &why), "%s", why.text);
		/* four readings rounded to 1 nm, over 5 m or more */
		ck_assert_double_eq_tol(got.tilt, tilt, 1e-9);
		ck_assert_int_eq(got.sets, 2);
	}
}
END_TEST

/* Three sets of 0.10, 0.12 and 0.14 mm/m: mean 0.12, standard deviation 0.02, of the mean 0.01155,
 * against 0.5 mm readings: root 4 x 0.5/40 m/root 3 = 0.01443: the larger one counts. */
START_TEST(test_sets)
{
	struct level_standing s[6];
	struct level_terms terms = usual_terms();
	struct level_peg_result got;
	struct fault why;
	terms.k = 1;
	terms.reading_slope[LEVEL_ROD] = 0;
	for (int i = 0; i < 3; i++) {
		double tilt = 0.0001 + 0.00002 * i;
		s[2 * i] = standing(20, 1.5 + tilt * 20, 20, 1.4 + tilt * 20);
		s[2 * i + 1] = standing(5, 1.6 + tilt * 5, 45, 1.5 + tilt * 45);
	}
	ck_assert(peg_test(s, 6, &terms, &got, &why));
	ck_assert_double_eq_tol(got.tilt, 0.00012, 1e-9);
	ck_assert_double_eq_tol(got.spread, 0.00002, 1e-9);
	ck_assert_double_eq_tol(got.u, 0.01443e-3, 1e-8);
	terms.reading_fixed[LEVEL_ROD] = 0.0001;
	ck_assert(peg_test(s, 6, &terms, &got, &why));
	ck_assert_double_eq_tol(got.u, 0.011547e-3, 1e-9);
}
END_TEST

/* Bare distances in the unit of the readings. */
static bool parse(const char *text, enum level_unit unit, struct level_standing *out,
                  struct fault *why)
{
	const struct level_style bare = {.unit = unit, .distance = unit};
	return level_parse_standing(text, &bare, out, why);
}

/* 100 ft and 5 ft, 100 ft and 48 in. */
START_TEST(test_distances_in_feet_beside_inches)
{
	const struct level_style bare = {.unit = LEVEL_IN, .distance = LEVEL_FT};
	struct level_standing got;
	ck_assert(level_parse_standing("100,60,30.48 m,48", &bare, &got, NULL));
	ck_assert_int_eq(got.distance_a, 100 * LEVEL_NM_PER_FT);
	ck_assert_int_eq(got.reading_a, 5 * LEVEL_NM_PER_FT);
	ck_assert_int_eq(got.distance_b, 100 * LEVEL_NM_PER_FT);
	ck_assert_int_eq(got.reading_b, 4 * LEVEL_NM_PER_FT);
}
END_TEST

START_TEST(test_refusals)
{
	struct level_terms terms = usual_terms();
	struct level_peg_result got;
	struct fault why = {0};
	struct level_standing alike[] = {standing(30, 1, 30, 1), standing(20, 1, 20.5, 1)};
	struct level_standing zero[] = {standing(30, 1, 30, 1), standing(0, 1, 60, 1)};
	struct level_standing parsed;
	ck_assert(!peg_test(alike, 2, &terms, &got, &why));
	ck_assert_ptr_nonnull(strstr(why.text, "stand midway once"));
	ck_assert(!peg_test(zero, 2, &terms, &got, &why));
	ck_assert(!peg_test(zero, 1, &terms, &got, &why));
	ck_assert(!peg_test(zero, 0, &terms, &got, &why));
	ck_assert(!parse("1,2,3", LEVEL_M, &parsed, &why));
	ck_assert(!parse("1,2,3,4,5", LEVEL_M, &parsed, &why));
	ck_assert(!parse("1,2,3,x", LEVEL_M, &parsed, &why));
	ck_assert(parse("30 m, 4.7 ft,30,56 in", LEVEL_FT, &parsed, &why));
	ck_assert_int_eq(parsed.reading_a, 47 * LEVEL_NM_PER_FT / 10);
	ck_assert_int_eq(parsed.distance_b, 30 * LEVEL_NM_PER_FT);
}
END_TEST

/* The same test in meters, feet and inches gives the same tilt to 12 digits. */
START_TEST(test_units)
{
	static const struct {
		enum level_unit unit;
		const char *first, *second;
	} same[] = {
	    {LEVEL_M, "30.48,1.524,30.48,1.2192", "3.048,1.6002,57.912,1.3081"},
	    {LEVEL_FT, "100,5,100,4", "10,5.25,190,4.291666666666667"},
	    {LEVEL_IN, "1200,60,1200,48", "120,63,2280,51.5"},
	    {LEVEL_FTIN, "100,5,100,4", "10,5' 3\",190,4' 3 1/2\""},
	};
	double first = 0;
	for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
		struct level_standing s[2];
		struct level_terms terms = usual_terms();
		struct level_peg_result got;
		struct fault why;
		if (same[i].unit == LEVEL_FT)
			continue; /* 4.2916... ft is no whole nanometer */
		ck_assert(parse(same[i].first, same[i].unit, &s[0], &why));
		ck_assert_msg(parse(same[i].second, same[i].unit, &s[1], &why), "%s", why.text);
		ck_assert(peg_test(s, 2, &terms, &got, &why));
		if (i == 0)
			first = got.tilt;
		ck_assert_double_eq_tol(got.tilt, first, fabs(first) * 1e-12);
	}
}
END_TEST

START_TEST(test_words)
{
	/* 0.1 mm/m: 20.6265 seconds of arc (206 265 seconds to the radian) */
	ck_assert_double_eq_tol(level_tilt_arcsec(0.0001), 20.6265, 1e-4);
}
END_TEST

static bool keep(struct shelf *s, const char *instrument, const char *standings,
                 enum level_method method, struct level_peg_result *got)
{
	struct book_pegtest test = {.dk = "0", .method = method};
	strcpy(test.instrument, instrument);
	strcpy(test.standings, standings);
	return book_pegtest_add(s->book, &test, got, &s->why);
}

/* Kept in a book: the test, and the instrument's tilt; the tolerance stays. */
START_TEST(test_kept)
{
	struct shelf s;
	struct book_pegtest *tests;
	struct book_instrument *instruments;
	struct level_peg_result got;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "5 arcsec"}, &s.why));
	ck_assert_msg(keep(&s, "L1", "30,1.075,30,1.247; 2,1.783,62,1.946", LEVEL_ROD, &got), "%s",
	              s.why.text);
	ck_assert(keep(&s, "L2", "30,1.075,30,1.247; 2,1.783,62,1.955", LEVEL_TARGET, &got));
	ck_assert(!keep(&s, "L1", "30,1,30,1; 30,1,30,1", LEVEL_ROD, &got));
	FAULT(&s, FAULT_INPUT, "stand midway once");
	ck_assert(book_pegtests(s.book, "L1", &tests, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(tests[0].standings, "30,1.075,30,1.247; 2,1.783,62,1.946");
	free(tests);
	ck_assert(book_pegtests(s.book, NULL, &tests, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_int_eq(tests[0].method, LEVEL_ROD);
	ck_assert_int_eq(tests[1].method, LEVEL_TARGET);
	free(tests);
	ck_assert(book_instruments(s.book, &instruments, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	for (size_t i = 0; i < count; i++) {
		bool first = strcmp(instruments[i].name, "L1") == 0;
		ck_assert_str_eq(instruments[i].tolerance, first ? "5 arcsec" : "0.1 mm/m");
		ck_assert_str_eq(instruments[i].remark, "peg test of 2026-05-04, 1 set");
		ck_assert_msg(strncmp(instruments[i].tilt, "-0.", 3) == 0, "%s",
		              instruments[i].tilt);
	}
	free(instruments);
	shelf_close(&s);
}
END_TEST

/* Pegs 60 m apart, midway and 5 m from A: g = (25 - 3025 - 900 + 900)/(-50 - 0) = 60 m; the air of
 * the test, dk 1 and 4: 60 x dk/25 484 000 = 0.002354 and 0.009418 mm/m, beside the readings' own.
 * What curvature adds is g/2R: with a round surface's light taken off, the tilt comes out alike
 * from readings over a flat and a round one but for it. */
START_TEST(test_geometry_and_air)
{
	struct level_standing s[] = {standing(30, 1.5, 30, 1.25), standing(5, 1.5124, 55, 1.2629)};
	struct level_terms terms = usual_terms();
	struct level_peg_result cloud, sun, none, target;
	ck_assert(level_peg_test(s, 2, &terms, &(struct level_peg_way){0.13, 1, LEVEL_ROD}, &cloud,
	                         NULL));
	ck_assert(
	    level_peg_test(s, 2, &terms, &(struct level_peg_way){0.13, 4, LEVEL_ROD}, &sun, NULL));
	ck_assert(
	    level_peg_test(s, 2, &terms, &(struct level_peg_way){0.13, 0, LEVEL_ROD}, &none, NULL));
	ck_assert_double_eq_tol(cloud.g, 60, 1e-12);
	ck_assert_double_eq_tol(cloud.air, 2.3544e-6, 1e-10);
	ck_assert_double_eq_tol(sun.air, 9.4177e-6, 1e-10);
	ck_assert_double_eq_tol(cloud.u, hypot(none.u, cloud.air), 1e-15);
	/* By target, 0.3 mm + 0.005 mm/m: sqrt(2 x 0.45^2 + 0.325^2 + 0.575^2)/50 mm/m. */
	ck_assert(level_peg_test(s, 2, &terms, &(struct level_peg_way){0.13, 0, LEVEL_TARGET},
	                         &target, NULL));
	ck_assert_double_eq_tol(target.own, 1.83439e-5, 1e-9);
	ck_assert(!cloud.by_spread);
	/* light put back: (-0.0005 + 0.13 (25 - 3025)/12 742 000)/-50 */
	ck_assert_double_eq_tol(cloud.tilt + cloud.g / (2 * 6371000.0), 0.00001 + 0.0000006121,
	                        1e-9);
}
END_TEST

/* A distance in the place of a reading: 30 m less 1.48 m over some 1.5 m. */
START_TEST(test_likely)
{
	struct level_peg_result result = {.tilt = LEVEL_TILT_MOST};
	struct fault why = {0};
	ck_assert(level_peg_is_likely(&result, &why));
	result.tilt = -LEVEL_TILT_MOST;
	ck_assert(level_peg_is_likely(&result, &why));
	result.tilt = 0.0501;
	ck_assert(!level_peg_is_likely(&result, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_ptr_nonnull(strstr(why.text, "a tilt of 50 mm/m, which no level has"));
	result.tilt = -0.997;
	ck_assert(!level_peg_is_likely(&result, &why));
	ck_assert_ptr_nonnull(strstr(why.text, "a tilt of -997 mm/m"));
}
END_TEST

/* Sets whose tilts are 0, 0.05 and 2 mm/m: 50 m more apart at the second standing. A reading of 0.5
 * mm each: sqrt(4) x 0.5/50 = 0.02 mm/m a set. The third is 2 - 0.025 = 1.975 off the others, where
 * readings make 0.02 sqrt 1.5 = 0.0245. Source: written out by hand. */
START_TEST(test_odd_set)
{
	const struct level_terms terms = {.radius = 6371000,
	                                  .reading_fixed = {[LEVEL_ROD] = 0.0005}};
	const struct level_peg_way way = {0, 0, LEVEL_ROD};
	struct level_standing s[6];
	struct level_peg_result out;
	const double tilts[] = {0, 0.05, 2};
	/* without curvature the readings on B at 55 m and on A at 5 m differ by 50 m of tilt */
	for (int i = 0; i < 3; i++) {
		double sphere = (55.0 * 55 - 5.0 * 5) / (2 * 6371000);
		s[2 * i] = (struct level_standing){MM(30000), MM(1400), MM(30000), MM(1400)};
		s[2 * i + 1] =
		    (struct level_standing){MM(5000), MM(1400), MM(55000),
		                            level_from_meters(1.4 + tilts[i] * 0.05 + sphere)};
	}
	ck_assert(level_peg_test(s, 2, &terms, &way, &out, NULL));
	ck_assert_int_eq(out.odd, 0);
	ck_assert(level_peg_test(s, 4, &terms, &way, &out, NULL));
	ck_assert_int_eq(out.odd, 0);
	ck_assert(level_peg_test(s, 6, &terms, &way, &out, NULL));
	ck_assert_int_eq(out.odd, 3);
	ck_assert_double_eq_tol(out.odd_off, 0.001975, 1e-7);
	ck_assert_double_eq_tol(out.odd_u, 0.0000245, 1e-7);
	/* of two nobody can say which */
	ck_assert(level_peg_test(s + 2, 4, &terms, &way, &out, NULL));
	ck_assert_int_eq(out.odd, LEVEL_PEG_EITHER);
	ck_assert_double_eq_tol(fabs(out.odd_off), 0.00195, 1e-7);
}
END_TEST

int main(void)
{
	return RUN_TESTS("pegtest", test_likely, test_geometry_and_air, test_published,
	                 test_any_geometry, test_sets, test_refusals,
	                 test_distances_in_feet_beside_inches, test_units, test_words, test_kept,
	                 test_odd_set);
}
