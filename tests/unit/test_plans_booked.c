/* Plans of a book: what their figures say, each alone, and what no plan may say. */
#include <math.h>

#include "books.h"
#include "rodbook/book/crossing.h"
#include "suite.h"

static bool put(struct shelf *s, struct book_figures *figures, const char *name, const char *value)
{
	return book_figure_put(figures, name, value, &s->why);
}

static bool plan_of(struct shelf *s, const struct book_figures *figures, level_nm rod,
                    struct level_plan *out, struct book_figures *merged)
{
	struct book_figures settings;
	s->why = (struct fault){0};
	ck_assert_msg(book_settings_figures(s->book, &settings, &s->why), "%s", s->why.text);
	return book_plan_of(&settings, rod, figures, out, merged, &s->why);
}

/* One figure beside a distance of 800 m. */
static bool plan_with(struct shelf *s, const char *name, const char *value, struct level_plan *out)
{
	struct book_figures figures = {0}, merged;
	ck_assert(put(s, &figures, "distance", "800 m"));
	ck_assert_msg(put(s, &figures, name, value), "%s", s->why.text);
	return plan_of(s, &figures, 0, out, &merged);
}

START_TEST(test_each_figure)
{
	static const char *const figures[][2] = {
	    {"distance", "800 m"},
	    {"near", "0.01 km"},
	    {"hi", "2.4 m"},
	    {"target", "50 cm"},
	    {"pole", "3 m"},
	    {"near_method", "tape"},
	    {"far_method", "target"},
	    {"distance_by", "map"},
	    {"water_readings", "25"},
	    {"over", "land"},
	    {"air", ""},
	    {"pressure", "1010 hPa"},
	    {"low", "15.2 C@1 m"},
	    {"high", "14.8 C@6 m"},
	    {"water_temperature", "16 C"},
	    {"at", "15 C@2 m"},
	    {"wind", "3 m/s@2.5 m"},
	    {"wind_from", "land"},
	    {"thermometer_u", "0.3"},
	    {"place", "0.25"},
	};
	struct shelf s;
	struct book_figures plan = {0}, merged;
	struct level_plan got;
	shelf_open(&s, LEVEL_FT);
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		ck_assert_msg(put(&s, &plan, figures[i][0], figures[i][1]), "%s", s.why.text);
	ck_assert_msg(plan_of(&s, &plan, 7, &got, &merged), "%s", s.why.text);
	ck_assert_double_eq_tol(got.distance, 800, 1e-9);
	ck_assert_double_eq_tol(got.near, 10, 1e-9);
	ck_assert(got.has_hi && got.has_target);
	ck_assert_double_eq_tol(got.hi, 2.4, 1e-9);
	ck_assert_double_eq_tol(got.target, 0.5, 1e-9);
	ck_assert_double_eq_tol(got.pole, 3, 1e-9);
	ck_assert_int_eq(got.near_method, LEVEL_TAPE);
	ck_assert_int_eq(got.far_method, LEVEL_TARGET);
	ck_assert_int_eq(got.distance_by, LEVEL_MAPPED);
	ck_assert_int_eq(got.waters, 25);
	ck_assert_int_eq(got.over, LEVEL_OVER_LAND);
	/* in hPa, C and m/s */
	ck_assert_double_eq_tol(got.air.pressure, 1010, 1e-9);
	ck_assert_double_eq_tol(got.air.low, 15.2, 1e-9);
	ck_assert_double_eq_tol(got.air.low_height, 1, 1e-9);
	ck_assert_double_eq_tol(got.air.high, 14.8, 1e-9);
	ck_assert_double_eq_tol(got.air.high_height, 6, 1e-9);
	ck_assert_double_eq_tol(got.air.water, 16, 1e-9);
	ck_assert_double_eq_tol(got.air.at, 15, 1e-9);
	ck_assert_double_eq_tol(got.air.at_height, 2, 1e-9);
	ck_assert_double_eq_tol(got.air.wind, 3, 1e-9);
	ck_assert_double_eq_tol(got.air.wind_height, 2.5, 1e-9);
	ck_assert_double_eq_tol(got.air.thermometer_u, 0.3, 1e-12);
	ck_assert_double_eq_tol(got.air.place, 0.25, 1e-12);
	ck_assert_double_eq_tol(got.terms.wind, 3, 1e-9);
	ck_assert(got.by_air);
	shelf_close(&s);
}
END_TEST

START_TEST(test_left_open)
{
	struct shelf s;
	struct book_figures plan = {0}, merged;
	struct level_plan got;
	shelf_open(&s, LEVEL_M);
	ck_assert(put(&s, &plan, "distance", "800 m"));
	ck_assert_msg(plan_of(&s, &plan, INT64_C(4000000000), &got, &merged), "%s", s.why.text);
	ck_assert_double_eq(got.near, 0);
	ck_assert(!got.has_hi && !got.has_target);
	/* the far pole is the rod, 4 m */
	ck_assert_double_eq_tol(got.pole, 4, 1e-9);
	ck_assert(got.near_method == LEVEL_ROD && got.far_method == LEVEL_ROD);
	ck_assert_int_eq(got.distance_by, LEVEL_STEPPED);
	ck_assert_int_eq(got.waters, 10);
	ck_assert_int_eq(got.over, LEVEL_OVER_WATER);
	ck_assert_int_eq(got.k_source, LEVEL_K_DEFAULT);
	ck_assert(got.by_air && !got.terms.no_k);
	ck_assert_double_eq(got.terms.wind, 0);
	/* a k of its own */
	ck_assert(put(&s, &plan, "k", "0.2"));
	ck_assert(put(&s, &plan, "dk", "0.1"));
	ck_assert_msg(plan_of(&s, &plan, 0, &got, &merged), "%s", s.why.text);
	ck_assert_int_eq(got.k_source, LEVEL_K_PLAN);
	ck_assert(!got.by_air && !got.terms.no_k);
	ck_assert_double_eq_tol(got.terms.k, 0.2, 1e-12);
	ck_assert_double_eq_tol(got.terms.dk_low, 0.1, 1e-12);
	ck_assert_double_eq_tol(got.terms.dk_high, 0.1, 1e-12);
	ck_assert_double_eq(got.pole, 0);
	shelf_close(&s);
}
END_TEST

/* dk of a plan is both sides, though the settings have one of their own; one side of a plan leaves
 * the other. */
START_TEST(test_both_sides)
{
	struct shelf s;
	struct level_plan got;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "k", "0.15", &s.why));
	ck_assert(book_set(s.book, "dk_low", "0.4", &s.why));
	ck_assert(book_set(s.book, "dk_high", "0.6", &s.why));
	ck_assert_msg(plan_with(&s, "dk", "0.1", &got), "%s", s.why.text);
	ck_assert_double_eq_tol(got.terms.dk_low, 0.1, 1e-12);
	ck_assert_double_eq_tol(got.terms.dk_high, 0.1, 1e-12);
	ck_assert_int_eq(got.k_source, LEVEL_K_PLAN);
	ck_assert(plan_with(&s, "dk_low", "0.1", &got));
	ck_assert_double_eq_tol(got.terms.dk_low, 0.1, 1e-12);
	ck_assert_double_eq_tol(got.terms.dk_high, 0.6, 1e-12);
	ck_assert_int_eq(got.k_source, LEVEL_K_PLAN);
	ck_assert(plan_with(&s, "radius", "6400 km", &got));
	ck_assert_double_eq_tol(got.terms.radius, 6400000, 1e-3);
	ck_assert_int_ne(got.k_source, LEVEL_K_PLAN);
	shelf_close(&s);
}
END_TEST

/* Over land a line below 3 m has no k of its own. */
START_TEST(test_no_k)
{
	struct shelf s;
	struct level_plan got;
	struct book_figures plan = {0}, merged;
	shelf_open(&s, LEVEL_M);
	for (int low = 0; low < 2; low++) {
		ck_assert(put(&s, &plan, "distance", "800 m"));
		ck_assert(put(&s, &plan, "over", "land"));
		ck_assert(put(&s, &plan, "hi", low ? "2.9 m" : "3.1 m"));
		ck_assert_msg(plan_of(&s, &plan, 0, &got, &merged), "%s", s.why.text);
		ck_assert(got.terms.no_k == (low == 1));
		ck_assert(put(&s, &plan, "k", "0.2"));
		ck_assert(plan_of(&s, &plan, 0, &got, &merged));
		ck_assert(!got.terms.no_k);
		ck_assert(put(&s, &plan, "k", ""));
	}
	shelf_close(&s);
}
END_TEST

/* Latitude and azimuth give the radius: at 45 degrees N 6388838.290 m, M 6367381.816 m (GRS 80
 * formulas, trade sheet, 10). */
START_TEST(test_direction)
{
	struct shelf s;
	struct book_figures plan = {0}, merged;
	struct level_plan got;
	shelf_open(&s, LEVEL_M);
	ck_assert(put(&s, &plan, "latitude", "45"));
	ck_assert(!plan_of(&s, &plan, 0, &got, &merged));
	FAULT(&s, FAULT_INPUT, "latitude and azimuth come together");
	ck_assert(put(&s, &plan, "azimuth", "0"));
	ck_assert_msg(plan_of(&s, &plan, 0, &got, &merged), "%s", s.why.text);
	ck_assert_double_eq_tol(got.terms.radius, 6367381.816, 0.001);
	ck_assert(put(&s, &plan, "azimuth", "90"));
	ck_assert(plan_of(&s, &plan, 0, &got, &merged));
	ck_assert_double_eq_tol(got.terms.radius, 6388838.290, 0.001);
	ck_assert(put(&s, &plan, "latitude", ""));
	ck_assert(!plan_of(&s, &plan, 0, &got, &merged));
	FAULT(&s, FAULT_INPUT, "latitude and azimuth come together");
	for (int i = 0; i < 6; i++) {
		static const char *const bad[][2] = {{"90.1", "0"},   {"-90.1", "0"},
		                                     {"45", "360.1"}, {"45", "-361"},
		                                     {"45 N", "0"},   {"45", "east"}};
		ck_assert(put(&s, &plan, "latitude", bad[i][0]) &&
		          put(&s, &plan, "azimuth", bad[i][1]));
		ck_assert(!plan_of(&s, &plan, 0, &got, &merged));
		FAULT(&s, FAULT_INPUT,
		      i == 2 || i == 3 || i == 5
		          ? "azimuth is a number of degrees from -360 to 360"
		          : "latitude is a number of degrees from -90 to 90");
	}
	ck_assert(put(&s, &plan, "latitude", "-90") && put(&s, &plan, "azimuth", "-360"));
	ck_assert(plan_of(&s, &plan, 0, &got, &merged));
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *name, *value, *words;
	} cases[] = {
	    {"near_method", "eye", "a method is rod, tape or target, not \"eye\""},
	    {"far_method", "eye", "a method is"},
	    {"distance_by", "eye", "tape, wires, map or step, not \"eye\""},
	    {"water_readings", "0", "from 1 to 1000 times"},
	    {"water_readings", "1001", "from 1 to 1000 times"},
	    {"water_readings", "5x", "from 1 to 1000 times"},
	    {"water_readings", "-5", "from 1 to 1000 times"},
	    {"over", "ice", "over water or over land, not \"ice\""},
	    {"near", "far", "far"},
	    {"hi", "high", "high"},
	    {"target", "high", "high"},
	    {"pole", "high", "high"},
	    {"pressure", "low", "low"},
	    {"low", "15.2 C", "low is written value@height, as in 15.2 C@1 m, not \"15.2 C\""},
	    {"high", "15.2 C", "high is written value@height"},
	    {"at", "15.2 C", "at is written value@height, as in 15.2 C@1 m"},
	    {"wind", "3 m/s", "wind is written value@height, as in 3 m/s@2 m"},
	    {"low", "warm@1 m", "warm"},
	    {"low", "15.2 C@high", "high"},
	    {"water_temperature", "warm", "warm"},
	    {"wind_from", "above", ""},
	    {"k", "red", "k"},
	    {"level", "L9", "there is no instrument L9 in this book"},
	    {"thermometer_u", "red", ""},
	};
	struct shelf s;
	struct level_plan got;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(!plan_with(&s, cases[i].name, cases[i].value, &got), "%s %s",
		              cases[i].name, cases[i].value);
		FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	ck_assert(plan_with(&s, "water_readings", "1", &got) && got.waters == 1);
	ck_assert(plan_with(&s, "water_readings", "1000", &got) && got.waters == 1000);
	ck_assert(plan_with(&s, "over", "water", &got) && got.over == LEVEL_OVER_WATER);
	shelf_close(&s);
}
END_TEST

/* The level that a plan names, and a tolerance that it states. */
START_TEST(test_level)
{
	struct shelf s;
	struct level_plan got;
	struct book_figures plan = {0}, merged;
	char value[BOOK_VALUE_BYTES];
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(
	    s.book,
	    &(struct book_instrument){
	        .name = "L1", .tolerance = "0.1 mm/m", .tilt = "0.02 mm/m", .tilt_u = "0.01 mm/m"},
	    &s.why));
	ck_assert_msg(plan_with(&s, "level", "L1", &got), "%s", s.why.text);
	ck_assert(got.terms.instrument[0].tested);
	ck_assert_double_eq_tol(got.terms.instrument[0].tolerance, 0.0001, 1e-12);
	ck_assert_double_eq_tol(got.terms.instrument[0].tilt, 0.00002, 1e-12);
	ck_assert_double_eq_tol(got.terms.instrument[0].u, 0.00001, 1e-12);
	ck_assert(put(&s, &plan, "instrument", "0.3 mm/m"));
	ck_assert_msg(plan_of(&s, &plan, 0, &got, &merged), "%s", s.why.text);
	ck_assert(!got.terms.instrument[0].tested);
	ck_assert_double_eq_tol(got.terms.instrument[0].tolerance, 0.0003, 1e-12);
	ck_assert(book_figure(&merged, "instrument_source", value));
	ck_assert_str_eq(value, "a maker's word");
	shelf_close(&s);
}
END_TEST

START_TEST(test_kept)
{
	struct shelf s;
	struct book_plan *list, got;
	struct book_figures one = {0}, two = {0}, bad = {0};
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(put(&s, &one, "distance", "800 m"));
	ck_assert(put(&s, &two, "distance", "900 m"));
	ck_assert_msg(book_plan_set(s.book, "far", &one, &s.why), "%s", s.why.text);
	ck_assert(book_plan_set(s.book, "near", &one, &s.why));
	ck_assert(book_plan_set(s.book, "far", &two, &s.why));
	ck_assert(book_plans(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(list[0].name, "near");
	ck_assert_str_eq(list[1].name, "far");
	ck_assert_str_eq(list[1].figures.text, "distance\t900 m\n");
	ck_assert_str_eq(list[1].time, "2026-05-04T09:30:00+02:00");
	ck_assert_int_eq(list[1].id, 3);
	free(list);
	ck_assert(book_plan_find(s.book, "near", &got, &s.why));
	ck_assert_str_eq(got.figures.text, "distance\t800 m\n");
	ck_assert(!book_plan_find(s.book, "mid", &got, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no plan mid in this book");
	/* a run goes by it: another of that name would change it under the run */
	shelf_begin(&s, "over", LEVEL_CROSSING);
	ck_assert(book_run_set_plan(s.book, s.run.info.id, "far", &s.why));
	ck_assert(!book_plan_set(s.book, "far", &one, &s.why));
	/* a loop has no long sight to plan */
	ck_assert(book_run_set_plan(s.book, s.run.info.id, "", &s.why));
	ck_assert(book_run_set_kind(s.book, s.run.info.id, LEVEL_LOOP, &s.why));
	ck_assert(!book_run_set_plan(s.book, s.run.info.id, "far", &s.why));
	ck_assert_msg(strstr(s.why.text, "only a crossing goes by a plan"), "%s", s.why.text);
	ck_assert(book_run_set_plan(s.book, s.run.info.id, "", &s.why));
	ck_assert(book_run_set_kind(s.book, s.run.info.id, LEVEL_CROSSING, &s.why));
	ck_assert(book_run_set_plan(s.book, s.run.info.id, "far", &s.why));
	ck_assert(!book_plan_set(s.book, "far", &one, &s.why));
	FAULT(&s, FAULT_INPUT, "the run over goes by the plan far");
	ck_assert(book_plan_set(s.book, "near", &two, &s.why));
	ck_assert(!book_plan_set(s.book, "", &one, &s.why));
	ck_assert(put(&s, &bad, "k", "red"));
	ck_assert(!book_plan_set(s.book, "mid", &bad, &s.why));
	bad = (struct book_figures){0};
	ck_assert(put(&s, &bad, "low", "15 C@0 m") && put(&s, &bad, "high", "15 C@0 m"));
	ck_assert(!book_plan_set(s.book, "mid", &bad, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	ck_assert(!book_plan_find(s.book, "mid", &got, &s.why));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("plans_booked", test_each_figure, test_left_open, test_both_sides,
	                 test_no_k, test_direction, test_refused, test_level, test_kept);
}
