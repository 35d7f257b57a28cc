/* Water readings, air, plans and instruments of a book. */
#include <math.h>

#include "books.h"
#include "rodbook/crossing.h"
#include "suite.h"

/* 0.412, 0.414, 0.410 m: mean 0.412, deviations 0, 2, -2 mm, standard deviation sqrt(8/2) = 2 mm.
 */
START_TEST(test_water)
{
	struct shelf s;
	struct book_water *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "PEG", "1.5", "20", ""));
	ck_assert(book_water_add(s.book, s.run.info.id, "PEG", "0.412", "", "", &s.why));
	ck_assert(book_water_add(s.book, s.run.info.id, "PEG", "414 mm", "", "", &s.why));
	ck_assert(book_water_add(s.book, s.run.info.id, "OTHER", "9", "", "", &s.why));
	ck_assert(book_water_add(s.book, s.run.info.id, "PEG", "0.410", "", "in a pipe", &s.why));
	ck_assert(book_water_add(s.book, s.run.info.id, "PEG", "0.999", "", "", &s.why));
	ck_assert(book_waters(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 5);
	ck_assert_str_eq(list[1].typed, "414 mm");
	ck_assert_int_eq(list[1].reading, 414000000);
	ck_assert(book_water_strike(s.book, s.run.info.id, list[4].id, "a slip", &s.why));
	free(list);
	shelf_take(&s, s.run.info.id);
	ck_assert_int_eq(s.run.run.sight[0].water_count, 3);
	ck_assert_int_eq(s.run.run.sight[0].water, 412000000);
	ck_assert_double_eq_tol(s.run.run.sight[0].water_sd, 0.002, 1e-12);
	/* taken back: the struck one counts again */
	ck_assert(shelf_undo(&s));
	ck_assert_int_eq(s.run.run.sight[0].water_count, 4);
	ck_assert(shelf_undo(&s));
	ck_assert_int_eq(s.run.run.sight[0].water_count, 3);
	/* below the water, one alone, and mean of two rounded half away from zero to 1 nm */
	ck_assert(book_water_add(s.book, s.run.info.id, "LOW", "-0.1", "", "", &s.why));
	ck_assert(!book_water_add(s.book, s.run.info.id, "PEG", "much", "", "", &s.why));
	FAULT(&s, FAULT_INPUT, "much");
	ck_assert(!book_water_add(s.book, s.run.info.id, "", "1", "", "", &s.why));
	ck_assert(!book_water_add(s.book, s.run.info.id, "PEG", "101", "", "", &s.why));
	FAULT(&s, FAULT_INPUT, "over 100 m");
	ck_assert(!book_water_add(s.book, 99, "PEG", "1", "", "", &s.why));
	shelf_close(&s);
}
END_TEST

static void set(char *out, const char *text)
{
	strcpy(out, text);
}

static struct book_air air_of(const char *pressure, const char *low, const char *high)
{
	struct book_air air = {0};
	set(air.pressure, pressure);
	set(air.low, low);
	set(air.high, high);
	if (*low)
		set(air.low_height, "1 m");
	if (*high)
		set(air.high_height, "11 m");
	return air;
}

/* P = 1013.25 hPa, 15.325 and 14.675 C over 10 m: T = 288.15 K, dT/dz = -0.065 K/m,
 * k = 503 x 1013.25/288.15^2 x (0.0343 - 0.065) = 6.138 289 x -0.0307 = -0.188 445; u with 0.1 K
 * each: 6.138 289 x sqrt 2 x 0.1/10 = 0.086 808. */
START_TEST(test_air)
{
	struct shelf s;
	struct book_air air = air_of("1013.25", "15.325", "14.675"), *list;
	struct book_terms terms;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert_msg(book_air_add(s.book, s.run.info.id, &air, &s.why), "%s", s.why.text);
	ck_assert(book_airs(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(list[0].has_k);
	ck_assert_double_eq_tol(list[0].k, -0.188445, 1e-6);
	ck_assert_double_eq_tol(list[0].u, 0.086808, 1e-6);
	/* better than the default 0.13 +- 0.5: it is taken, dk = 2 u */
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq_tol(terms.terms.k, -0.1884, 1e-9);
	ck_assert_double_eq_tol(terms.terms.dk, 0.1736, 1e-9);
	ck_assert_str_eq(terms.k_source, "the air, booked 1 time");
	ck_assert(book_air_strike(s.book, s.run.info.id, list[0].id, "sun on it", &s.why));
	free(list);
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq(terms.terms.k, 0.13);
	ck_assert_str_eq(terms.k_source, "a default");
	shelf_close(&s);
}
END_TEST

/* Thermometers 1 m apart (u(k) = 0.868, dk = 1.736) tell less than the default and change nothing,
 * unless they refute it: |k - 0.13| - 1.736 > 0.5. */
START_TEST(test_poor_air)
{
	struct shelf s;
	struct book_air air = air_of("1013.25", "15.2", "15.1");
	struct book_terms terms;
	char text[BOOK_VALUE_BYTES];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	set(air.high_height, "2 m");
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq(terms.terms.k, 0.13);
	ck_assert_double_eq(terms.terms.dk, 0.5);
	ck_assert(book_figure(&terms.figures, "k_air", text));
	/* 2.5 K over 1 m: k = 6.096 x (0.0343 - 2.5) = -15 */
	shelf_begin(&s, "b", LEVEL_CROSSING);
	set(air.low, "17.5");
	set(air.high, "15");
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_lt(terms.terms.k, -14.5);
	/* 15 K over 1 m is a misread thermometer: no light bends so */
	set(air.low, "30");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "read the thermometers again");
	shelf_close(&s);
}
END_TEST

START_TEST(test_bad_air)
{
	struct shelf s;
	struct book_air air;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	air = air_of("", "", "");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "nothing of the air");
	air = air_of("200", "", "");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "300 to 1100");
	air = air_of("1000", "99", "12");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "-90 to 60");
	air = air_of("1000", "12", "12");
	set(air.high_height, "1 m");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "one height");
	air = air_of("1000", "12", "");
	set(air.low_height, "");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "a temperature and a height");
	/* wind alone is an observation */
	air = air_of("", "", "");
	set(air.wind, "calm");
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	shelf_close(&s);
}
END_TEST

/* A run goes by its plan until it is sealed; air that is booked stands in place of the plan's. */
START_TEST(test_plan)
{
	struct shelf s;
	struct book_figures figures = {0}, settings, merged;
	struct level_plan plan;
	struct book_terms terms;
	struct book_air air = air_of("1013.25", "15.325", "14.675");
	shelf_open(&s, LEVEL_FT);
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s.why));
	ck_assert(book_figure_put(&figures, "instrument", "5 arcsec", &s.why));
	ck_assert(book_figure_put(&figures, "declared", "plumb=1 mm; 2 mm", &s.why));
	ck_assert(book_figure_put(&figures, "latitude", "45", &s.why));
	ck_assert(book_figure_put(&figures, "azimuth", "45", &s.why));
	ck_assert(book_figure_put(&figures, "air", "1013.25,15.2@1 m,14.8@11 m", &s.why));
	ck_assert(book_plan_set(s.book, "p", &figures, &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(!book_run_set_plan(s.book, s.run.info.id, "q", &s.why));
	FAULT(&s, FAULT_INPUT, "no plan q");
	ck_assert(book_run_set_plan(s.book, s.run.info.id, "p", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_str_eq(s.run.info.plan, "p");
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	/* GRS 80 at 45 degrees, azimuth 45: 6 378 092.008 m */
	ck_assert_double_eq_tol(terms.terms.radius, 6378092.008, 0.001);
	ck_assert_double_eq_tol(level_declared_bound(&terms.terms), 0.003, 1e-12);
	/* 5 seconds of arc = 24.2407 um/m */
	ck_assert_double_eq_tol(terms.terms.instrument[0].tolerance, 24.2407e-6, 1e-10);
	/* -0.04 K/m at 288.15 K: 6.138 289 x (0.0343 - 0.04) = -0.0350 */
	ck_assert_double_eq_tol(terms.terms.k, -0.0350, 1e-9);
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq_tol(terms.terms.k, -0.1884, 1e-9);
	/* the plan itself */
	ck_assert(book_settings_figures(s.book, &settings, &s.why));
	ck_assert(book_plan_of(&settings, &figures, &plan, &merged, &s.why));
	ck_assert_double_eq(plan.distance, 800);
	ck_assert(!plan.has_hi);
	/* taking the choice of the plan back */
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_undo(&s));
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(s.run.info.plan, "");
	shelf_close(&s);
}
END_TEST

/* dk where nothing better is known goes by how low the line runs: 0.5, and 0.15 from 3 m on (common
 * practice, no source). */
START_TEST(test_default_dk)
{
	static const struct {
		const char *hi, *dk;
		double expected;
	} cases[] = {{"", "", 0.5}, {"2.99 m", "", 0.5}, {"3 m", "", 0.15}, {"3 m", "0.3", 0.3}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_figures defaults, typed = {0}, merged;
		struct level_plan plan;
		struct fault why = {0};
		book_default_figures(&defaults);
		ck_assert(book_figure_put(&typed, "distance", "800 m", &why));
		ck_assert(book_figure_put(&typed, "hi", cases[i].hi, &why));
		ck_assert(book_figure_put(&typed, "dk", cases[i].dk, &why));
		ck_assert_msg(book_plan_of(&defaults, &typed, &plan, &merged, &why), "%s",
		              why.text);
		ck_assert_double_eq(plan.terms.dk, cases[i].expected);
	}
}
END_TEST

START_TEST(test_bad_plans)
{
	static const struct {
		const char *name, *value, *words;
	} cases[] = {
	    {"latitude", "91", "latitude"},     {"latitude", "45", "come together"},
	    {"k", "soft", "k is a number"},     {"distance", "far", "far"},
	    {"near_method", "laser", "method"}, {"air", "1013,15", "is no air"},
	    {"instrument", "0", "tolerance"},   {"declared", "a=b", "declares"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_figures defaults, typed = {0}, merged;
		struct level_plan plan;
		struct fault why = {0};
		book_default_figures(&defaults);
		ck_assert(book_figure_put(&typed, cases[i].name, cases[i].value, &why));
		if (strcmp(cases[i].value, "91") == 0)
			ck_assert(book_figure_put(&typed, "azimuth", "0", &why));
		ck_assert(!book_plan_of(&defaults, &typed, &plan, &merged, &why));
		ck_assert_msg(strstr(why.text, cases[i].words) != NULL, "%s: %s", cases[i].name,
		              why.text);
	}
}
END_TEST

START_TEST(test_instruments)
{
	struct shelf s;
	struct book_instrument *list, bad = {.name = "L1", .tolerance = "0.1 mm/m"};
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(s.book, &bad, &s.why));
	strcpy(bad.tilt, "0.02 mm/m");
	ck_assert(!book_instrument_set(s.book, &bad, &s.why));
	FAULT(&s, FAULT_INPUT, "come together");
	strcpy(bad.tilt_u, "0");
	ck_assert(!book_instrument_set(s.book, &bad, &s.why));
	FAULT(&s, FAULT_INPUT, "above 0");
	strcpy(bad.tilt_u, "0.001 mm/m");
	ck_assert(book_instrument_set(s.book, &bad, &s.why));
	strcpy(bad.tolerance, "level");
	ck_assert(!book_instrument_set(s.book, &bad, &s.why));
	ck_assert(book_instruments(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(list[0].tilt, "0.02 mm/m");
	free(list);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("observed", test_water, test_air, test_poor_air, test_bad_air, test_plan,
	                 test_default_dk, test_bad_plans, test_instruments);
}
