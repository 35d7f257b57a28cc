/* Water readings, air, plans and instruments of a book. */
#include <math.h>

#include "books.h"
#include "rodbook/book/crossing.h"
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

/* A run whose line stands 0.4 + 2.0 = 2.4 m above the water, over 800 m. */
static void begin_long(struct shelf *s)
{
	shelf_begin(s, "a", LEVEL_CROSSING);
	ck_assert(book_water_add(s->book, s->run.info.id, "NEAR", "0.4 m", "", "", &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert_msg(shelf_sight(s, LEVEL_BS, "NEAR", "2.0 m", "10 m", ""), "%s", s->why.text);
}

static void take_long(struct shelf *s, struct book_terms *terms)
{
	struct level_sight far = {.kind = LEVEL_FS, .distance = 800 * LEVEL_NM_PER_M};
	struct level_sight sights[2];
	struct level_run run = {LEVEL_CROSSING, 2, sights, ""};
	shelf_take(s, s->run.info.id);
	sights[0] = s->run.run.sight[0];
	strcpy(far.station, "FAR");
	sights[1] = far;
	ck_assert_msg(book_run_terms(s->book, &s->run, terms, &s->why), "%s", s->why.text);
	/* a sight that is only typed counts */
	ck_assert_msg(book_terms_find_k(terms, &s->run, &run, &s->why), "%s", s->why.text);
}

/* 15 C at 1 m, 14.6 C at 6 m, 0.1 K each, over 800 m at 2.4 m: k = -0.3503 +- 0.4577, reckoned by
 * two programs that share nothing with this one. */
START_TEST(test_air)
{
	struct shelf s;
	struct book_air air = air_of("1013.25", "15", "14.6"), *list;
	struct book_terms terms;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "thermometer_u", "0.1", &s.why));
	begin_long(&s);
	take_long(&s, &terms);
	/* the default below 3 m: k 0.13, 2 less to 4 more */
	ck_assert_int_eq(terms.k_source, LEVEL_K_DEFAULT);
	ck_assert_double_eq(terms.terms.k, 0.13);
	ck_assert_double_eq(terms.terms.dk_low, 2);
	ck_assert_double_eq(terms.terms.dk_high, 4);
	set(air.high_height, "6 m");
	ck_assert_msg(book_air_add(s.book, s.run.info.id, &air, &s.why), "%s", s.why.text);
	take_long(&s, &terms);
	ck_assert_int_eq(terms.k_source, LEVEL_K_THERMOMETERS);
	ck_assert_double_eq_tol(terms.terms.k, -0.3503, 1e-9);
	ck_assert_double_eq_tol(terms.terms.dk_low, 0.4577, 1e-9);
	ck_assert_double_eq_tol(terms.terms.dk_high, 0.4577, 1e-9);
	ck_assert(book_airs(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_double_eq(list[0].reading.thermometer_u, 0.1);
	ck_assert(book_air_strike(s.book, s.run.info.id, list[0].id, "sun on it", &s.why));
	free(list);
	take_long(&s, &terms);
	ck_assert_int_eq(terms.k_source, LEVEL_K_DEFAULT);
	shelf_close(&s);
}
END_TEST

/* On the shore that the wind leaves no mast counts; what is set stands before a default, not before
 * measured air. */
START_TEST(test_which_air)
{
	struct shelf s;
	struct book_air air = air_of("1013.25", "15", "14.6");
	struct book_terms terms;
	shelf_open(&s, LEVEL_M);
	begin_long(&s);
	set(air.wind_from, "land");
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	take_long(&s, &terms);
	ck_assert_int_eq(terms.k_source, LEVEL_K_DEFAULT);
	ck_assert(terms.k.found.from_land);
	ck_assert(book_set(s.book, "dk", "0.7", &s.why));
	ck_assert(book_set(s.book, "dk_high", "0.9", &s.why));
	take_long(&s, &terms);
	ck_assert_int_eq(terms.k_source, LEVEL_K_SET);
	ck_assert_double_eq(terms.terms.dk_low, 0.7);
	ck_assert_double_eq(terms.terms.dk_high, 0.9);
	set(air.wind_from, "water");
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	take_long(&s, &terms);
	ck_assert_int_eq(terms.k_source, LEVEL_K_THERMOMETERS);
	set(air.wind_from, "there");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "water or from land");
	shelf_close(&s);
}
END_TEST

/* Water 18 C, air 15 C at 2 m, wind 3 m/s: k = -0.2179 +- 0.5219 over the same line, reckoned by
 * the same two programs; in F, mph and feet as well. */
START_TEST(test_water_way)
{
	static const struct {
		const char *temperature, *wind, *pressure; /* units of bare numbers */
		const char *water, *at, *at_height, *speed, *hpa;
	} table[] = {
	    {"C", "m/s", "hPa", "18", "15", "2 m", "3", "1013.25"},
	    {"F", "km/h", "inHg", "64.4", "59", "2 m", "10.8", "29.92125"},
	    {"F", "m/s", "hPa", "18 C", "59 F", "2 m", "3 m/s", ""},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct shelf s;
		struct book_air air = {0};
		struct book_terms terms;
		shelf_open(&s, LEVEL_M);
		ck_assert(book_set(s.book, "temperature_unit", table[i].temperature, &s.why));
		ck_assert(book_set(s.book, "wind_unit", table[i].wind, &s.why));
		ck_assert(book_set(s.book, "pressure_unit", table[i].pressure, &s.why));
		begin_long(&s);
		set(air.water, table[i].water);
		set(air.at, table[i].at);
		set(air.at_height, table[i].at_height);
		set(air.wind_speed, table[i].speed);
		set(air.wind_height, "2 m");
		set(air.pressure, table[i].hpa);
		ck_assert_msg(book_air_add(s.book, s.run.info.id, &air, &s.why), "%s", s.why.text);
		/* what is booked keeps its meaning when the settings change */
		ck_assert(book_set(s.book, "temperature_unit", "C", &s.why));
		ck_assert(book_set(s.book, "wind_unit", "m/s", &s.why));
		take_long(&s, &terms);
		ck_assert_int_eq(terms.k_source, LEVEL_K_WATER);
		ck_assert_double_eq_tol(terms.terms.k, -0.2179, 1.1e-4);
		ck_assert_double_eq_tol(terms.terms.dk_low, 0.5219, 1.1e-4);
		shelf_close(&s);
	}
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
	/* of an air that has nothing for the wind to bring */
	strcpy(air.wind_from, "water");
	ck_assert(!book_air_add(s.book, s.run.info.id, &air, &s.why));
	FAULT(&s, FAULT_INPUT, "where the wind comes from goes with");
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
	FAULT(&s, FAULT_INPUT, "go together");
	/* the sky alone is an observation */
	air = air_of("", "", "");
	set(air.sky, "overcast");
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
	struct book_air air = air_of("1013.25", "15", "14.6");
	shelf_open(&s, LEVEL_FT);
	ck_assert(book_set(s.book, "thermometer_u", "0.1", &s.why));
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s.why));
	ck_assert(book_figure_put(&figures, "instrument", "5 arcsec", &s.why));
	ck_assert(book_figure_put(&figures, "declared", "plumb=1 mm; marks=2 mm", &s.why));
	ck_assert(book_figure_put(&figures, "latitude", "45", &s.why));
	ck_assert(book_figure_put(&figures, "azimuth", "45", &s.why));
	ck_assert(book_figure_put(&figures, "air", "1013.25,15@1 m,15.8@6 m", &s.why));
	ck_assert(book_figure_put(&figures, "hi", "2.4 m", &s.why));
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
	ck_assert_double_eq_tol(terms.terms.declared[0].bound, 0.001, 1e-12);
	ck_assert_double_eq_tol(terms.terms.declared[1].bound, 0.002, 1e-12);
	/* 5 seconds of arc = 24.2407 um/m */
	ck_assert_double_eq_tol(terms.terms.instrument[0].tolerance, 24.2407e-6, 1e-10);
	/* the air planned with, over the plan's own line, by the two programs; R a little longer */
	ck_assert_int_eq(terms.k_source, LEVEL_K_PLAN_AIR);
	ck_assert_double_eq_tol(terms.terms.k, 1.3564, 1.1e-4);
	ck_assert_double_eq_tol(terms.terms.dk_high, 0.6570, 1.1e-4);
	set(air.high_height, "6 m");
	ck_assert_msg(book_air_add(s.book, s.run.info.id, &air, &s.why), "%s", s.why.text);
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_int_eq(terms.k_source, LEVEL_K_THERMOMETERS);
	ck_assert_double_eq_tol(terms.terms.k, -0.3503, 1.1e-4);
	/* the plan itself */
	ck_assert(book_settings_figures(s.book, &settings, &s.why));
	ck_assert(book_plan_of(&settings, 0, &figures, &plan, &merged, &s.why));
	ck_assert_double_eq(plan.distance, 800);
	ck_assert(plan.has_hi);
	/* taking the choice of the plan back */
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_undo(&s));
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(s.run.info.plan, "");
	shelf_close(&s);
}
END_TEST

/* dk where nothing better is known goes by the height of the line: 2 and 4 below 3 m, 1 and 3 from
 * there, 0.5 and 2.5 from 6 m (common practice, no source); a dk is both sides. */
START_TEST(test_default_dk)
{
	static const struct {
		const char *hi, *dk;
		double low, high;
	} cases[] = {{"", "", 2, 4},
	             {"2.99 m", "", 2, 4},
	             {"3 m", "", 1, 3},
	             {"6 m", "", 0.5, 2.5},
	             {"3 m", "0.3", 0.3, 0.3}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_figures defaults, typed = {0}, merged;
		struct level_plan plan;
		struct fault why = {0};
		book_default_figures(&defaults);
		ck_assert(book_figure_put(&typed, "distance", "800 m", &why));
		ck_assert(book_figure_put(&typed, "hi", cases[i].hi, &why));
		ck_assert(book_figure_put(&typed, "dk", cases[i].dk, &why));
		ck_assert_msg(book_plan_of(&defaults, 0, &typed, &plan, &merged, &why), "%s",
		              why.text);
		ck_assert_double_eq(plan.terms.dk_low, cases[i].low);
		ck_assert_double_eq(plan.terms.dk_high, cases[i].high);
	}
}
END_TEST

START_TEST(test_bad_plans)
{
	static const struct {
		const char *name, *value, *words;
	} cases[] = {
	    {"latitude", "91", "latitude"},
	    {"latitude", "45", "come together"},
	    {"k", "soft", "k is a number"},
	    {"distance", "far", "far"},
	    {"near_method", "laser", "method"},
	    {"air", "1013,15", "is no air"},
	    {"instrument", "0", "tolerance"},
	    {"declared", "a=b", "declares"},
	    {"wind_from", "shore", "from water or from land"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_figures defaults, typed = {0}, merged;
		struct level_plan plan;
		struct fault why = {0};
		book_default_figures(&defaults);
		ck_assert(book_figure_put(&typed, cases[i].name, cases[i].value, &why));
		if (strcmp(cases[i].value, "91") == 0)
			ck_assert(book_figure_put(&typed, "azimuth", "0", &why));
		ck_assert(!book_plan_of(&defaults, 0, &typed, &plan, &merged, &why) ||
		          !book_plan_check(&typed, &why));
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
	return RUN_TESTS("observed", test_water, test_air, test_which_air, test_water_way,
	                 test_bad_air, test_plan, test_default_dk, test_bad_plans,
	                 test_instruments);
}
