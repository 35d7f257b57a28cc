/* The air of a run as it is booked: each text, its figure, its field and its length. */
#include <math.h>
#include <stddef.h>

#include "book/store.h"
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/work/wind.h"
#include "suite.h"

static bool add(struct shelf *s, const struct book_air *air)
{
	s->why = (struct fault){0};
	return book_air_add(s->book, s->run.info.id, air, &s->why);
}

static struct book_air last(struct shelf *s, size_t *count)
{
	struct book_air *list, out;
	ck_assert_msg(book_airs(s->book, s->run.info.id, &list, count, &s->why), "%s", s->why.text);
	ck_assert_uint_gt(*count, 0);
	out = list[*count - 1];
	free(list);
	return out;
}

/* Figures in hPa, C, m and m/s: 59 F is (59 - 32)/1.8 = 15 C, 3 ft is 0.9144 m, 10 mph is 4.4704
 * m/s, 30 inHg is 30 x 33.86389 = 1015.9167 hPa. */
START_TEST(test_figures)
{
	struct shelf s;
	struct book_air got;
	size_t count;
	shelf_open(&s, LEVEL_FT);
	ck_assert(book_set(s.book, "thermometer_u", "0.3", &s.why));
	ck_assert(book_set(s.book, "place", "0.4", &s.why));
	ck_assert(book_set(s.book, "temperature_unit", "F", &s.why));
	ck_assert(book_set(s.book, "wind_unit", "mph", &s.why));
	ck_assert(book_set(s.book, "pressure_unit", "inHg", &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert_msg(add(&s, &(struct book_air){.pressure = "30",
	                                         .low = "59",
	                                         .low_height = "3",
	                                         .high = "14 C",
	                                         .high_height = "6 m",
	                                         .water = "68",
	                                         .at = "59",
	                                         .at_height = "6",
	                                         .wind_speed = "10",
	                                         .wind_height = "2 m",
	                                         .wind_from = "land",
	                                         .wind = "gusts",
	                                         .sky = "clear"}),
	              "%s", s.why.text);
	got = last(&s, &count);
	ck_assert_str_eq(got.pressure, "30 inHg");
	ck_assert_str_eq(got.low, "59 F");
	ck_assert_str_eq(got.wind_speed, "10 mph");
	ck_assert_str_eq(got.wind, "gusts");
	ck_assert_str_eq(got.sky, "clear");
	ck_assert_str_eq(got.wind_from, "land");
	ck_assert_str_eq(got.time, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(got.booked, "");
	ck_assert_str_eq(got.struck, "");
	ck_assert_int_eq(got.unit, LEVEL_FT);
	ck_assert_double_eq_tol(got.reading.pressure, 1015.9167, 1e-4);
	ck_assert_double_eq_tol(got.reading.low, 15, 1e-9);
	ck_assert_double_eq_tol(got.reading.low_height, 0.9144, 1e-9);
	ck_assert_double_eq_tol(got.reading.high, 14, 1e-9);
	ck_assert_double_eq_tol(got.reading.high_height, 6, 1e-9);
	ck_assert_double_eq_tol(got.reading.water, 20, 1e-9);
	ck_assert_double_eq_tol(got.reading.at, 15, 1e-9);
	ck_assert_double_eq_tol(got.reading.at_height, 1.8288, 1e-9);
	ck_assert_double_eq_tol(got.reading.wind, 4.4704, 1e-9);
	ck_assert_double_eq_tol(got.reading.wind_height, 2, 1e-9);
	ck_assert_double_eq(got.reading.thermometer_u, 0.3);
	ck_assert_double_eq(got.reading.place, 0.4);
	shelf_close(&s);
}
END_TEST

/* Any one of these alone is air that is known; a height alone, a time or words for the wind are
 * none. */
START_TEST(test_alone)
{
	static const struct {
		size_t at;
		const char *text;
		bool taken;
	} cases[] = {
	    {offsetof(struct book_air, pressure), "1010", true},
	    {offsetof(struct book_air, sky), "clear", true},
	    {offsetof(struct book_air, time), "2026-05-04T09:00", false},
	    {offsetof(struct book_air, wind), "gusts", false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_air air = {.unit = LEVEL_M};
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_CROSSING);
		strcpy((char *)&air + cases[i].at, cases[i].text);
		ck_assert_msg(add(&s, &air) == cases[i].taken, "%s: %s", cases[i].text, s.why.text);
		if (!cases[i].taken)
			FAULT(&s, FAULT_INPUT, "nothing of the air is given");
		shelf_close(&s);
	}
}
END_TEST

/* One text altered beside an air that is whole. */
START_TEST(test_fields)
{
	static const struct {
		size_t at;
		const char *text, *field;
	} cases[] = {
	    {offsetof(struct book_air, pressure), "low", "pressure"},
	    {offsetof(struct book_air, low), "warm", "low"},
	    {offsetof(struct book_air, high), "warm", "high"},
	    {offsetof(struct book_air, water), "warm", "water"},
	    {offsetof(struct book_air, at), "warm", "at"},
	    {offsetof(struct book_air, wind_speed), "fast", "wind"},
	    {offsetof(struct book_air, low_height), "high", "low"},
	    {offsetof(struct book_air, high_height), "high", "high"},
	    {offsetof(struct book_air, at_height), "high", "at"},
	    {offsetof(struct book_air, wind_height), "high", "wind"},
	    {offsetof(struct book_air, wind_from), "above", "wind_from"},
	    {offsetof(struct book_air, sky), "\x1b", "sky"},
	    /* With a height it is another one's figure. */
	    {offsetof(struct book_air, pressure), "12.4 at 1 m", "pressure"},
	    {offsetof(struct book_air, water), "12.4@1", "water"},
	    {offsetof(struct book_air, sky), "12.4 C at 1 m", "sky"},
	    {offsetof(struct book_air, wind), "\x1b", "wind"},
	    {offsetof(struct book_air, time), "\x1b", "time"},
	    /* 21 characters, of 20 */
	    {offsetof(struct book_air, pressure), "1010.0000000000000000", "pressure"},
	    {offsetof(struct book_air, low), "15.000000000000000000", "low"},
	    {offsetof(struct book_air, high), "15.000000000000000000", "high"},
	    {offsetof(struct book_air, at), "15.000000000000000000", "at"},
	    {offsetof(struct book_air, water), "15.000000000000000000", "water"},
	    {offsetof(struct book_air, wind_speed), "3.0000000000000000000", "wind"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		for (int shorter = 0; shorter < 2; shorter++) {
			struct book_air air = {.pressure = "1010",
			                       .low = "15",
			                       .low_height = "1",
			                       .high = "14",
			                       .high_height = "6",
			                       .water = "20",
			                       .at = "15",
			                       .at_height = "2",
			                       .wind_speed = "3",
			                       .wind_height = "2"};
			char *text = (char *)&air + cases[i].at;
			strcpy(text, cases[i].text);
			if (shorter && strlen(text) != 21)
				continue;
			if (shorter)
				text[20] = '\0';
			ck_assert_msg(add(&s, &air) == (shorter == 1), "%s: %s", text, s.why.text);
			if (!shorter) {
				ck_assert_int_eq(s.why.kind, FAULT_INPUT);
				ck_assert_str_eq(s.why.field, cases[i].field);
			}
		}
	shelf_close(&s);
}
END_TEST

/* Of more air than k is found from the last counts: 67 times, of which the first is struck, leave
 * 66, and the first two of these are one too many each. */
START_TEST(test_most)
{
	struct shelf s;
	static struct book_k k;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(book_begin(s.book, &s.why));
	for (int i = 0; i < BOOK_AIRS_MOST + 3; i++) {
		struct book_air air = {0};
		snprintf(air.pressure, sizeof air.pressure, "%d", 900 + i);
		ck_assert_msg(add(&s, &air), "%s", s.why.text);
		if (i == BOOK_AIRS_MOST - 1) {
			ck_assert(terms_take_airs(s.book, s.run.info.id, &k, &s.why));
			ck_assert_uint_eq(k.readings, BOOK_AIRS_MOST);
			ck_assert_double_eq(k.reading[0].pressure, 900);
		}
	}
	ck_assert(book_air_strike(s.book, s.run.info.id, 1, "wet", &s.why));
	ck_assert(book_finish(s.book, true, &s.why));
	ck_assert(terms_take_airs(s.book, s.run.info.id, &k, &s.why));
	ck_assert_uint_eq(k.readings, BOOK_AIRS_MOST);
	for (size_t i = 0; i < k.readings; i++)
		ck_assert_double_eq(k.reading[i].pressure, 903 + (double)i);
	shelf_close(&s);
}
END_TEST

/* The old one stays, struck, and the new one stands behind it; what is refused strikes nothing. */
START_TEST(test_change)
{
	struct shelf s;
	struct book_air air = {.pressure = "1010", .sky = "sun at times"}, *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert_msg(add(&s, &air), "%s", s.why.text);
	strcpy(air.pressure, "12.4 at 1 m");
	ck_assert(!book_air_change(s.book, s.run.info.id, 1, &air, "", &s.why));
	ck_assert_str_eq(s.why.field, "pressure");
	strcpy(air.pressure, "1006");
	ck_assert_msg(book_air_change(s.book, s.run.info.id, 1, &air, "", &s.why), "%s",
	              s.why.text);
	ck_assert(book_airs(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert(*list[0].struck && !*list[1].struck);
	ck_assert_str_eq(list[0].pressure, "1010");
	ck_assert_str_eq(list[0].why, "changed");
	ck_assert_str_eq(list[1].pressure, "1006");
	free(list);
	/* What is struck is not struck again. */
	ck_assert(!book_air_change(s.book, s.run.info.id, 1, &air, "", &s.why));
	shelf_close(&s);
}
END_TEST

/* Once the figures are sealed a change has a reason, which stays with what is struck. */
START_TEST(test_change_of_a_sealed_run)
{
	struct shelf s;
	struct book_air air = {.pressure = "1010"}, *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert_msg(add(&s, &air), "%s", s.why.text);
	shelf_take(&s, s.run.info.id);
	ck_assert_msg(book_seal(s.book, &s.run, &s.why), "%s", s.why.text);
	strcpy(air.pressure, "1006");
	ck_assert(!book_air_change(s.book, s.run.info.id, 1, &air, "", &s.why));
	ck_assert_str_eq(s.why.field, "reason");
	ck_assert(book_airs(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(!*list[0].struck);
	free(list);
	ck_assert_msg(book_air_change(s.book, s.run.info.id, 1, &air, "misread", &s.why), "%s",
	              s.why.text);
	ck_assert(book_airs(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(list[0].why, "misread");
	free(list);
	shelf_close(&s);
}
END_TEST

/* What was typed in C and m means the same where F, inHg and feet are typed today. */
START_TEST(test_typed)
{
	struct shelf s;
	struct book_air air = {.pressure = "1010",
	                       .low = "15",
	                       .low_height = "1",
	                       .high = "14 C",
	                       .high_height = "6",
	                       .wind_speed = "3",
	                       .wind_height = "2 m"},
	                out, got;
	struct book_settings settings;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert_msg(add(&s, &air), "%s", s.why.text);
	got = last(&s, &count);
	ck_assert(book_settings(s.book, &settings, &s.why));
	out = book_air_typed(&got, &settings);
	ck_assert_str_eq(out.pressure, "1010");
	ck_assert_str_eq(out.low, "15");
	ck_assert_str_eq(out.low_height, "1");
	ck_assert(book_set(s.book, "unit", "ft", &s.why));
	ck_assert(book_set(s.book, "temperature_unit", "F", &s.why));
	ck_assert(book_set(s.book, "pressure_unit", "inHg", &s.why));
	ck_assert(book_set(s.book, "wind_unit", "mph", &s.why));
	ck_assert(book_settings(s.book, &settings, &s.why));
	out = book_air_typed(&got, &settings);
	ck_assert_str_eq(out.pressure, "1010 hPa");
	ck_assert_str_eq(out.low, "15 C");
	ck_assert_str_eq(out.low_height, "1 m");
	ck_assert_str_eq(out.high, "14 C");
	ck_assert_str_eq(out.high_height, "6 m");
	ck_assert_str_eq(out.wind_speed, "3 m/s");
	ck_assert_str_eq(out.wind_height, "2 m");
	ck_assert_str_eq(out.water, "");
	shelf_close(&s);
}
END_TEST

static enum book_air_wait waits(struct shelf *s)
{
	struct book_run run;
	struct book_terms terms;
	ck_assert(book_load(s->book, s->run.info.id, &run, &s->why));
	ck_assert(book_run_terms(s->book, &run, &terms, &s->why));
	book_run_free(&run);
	return book_terms_air_waits(&terms);
}

/* A pressure alone gives no k. Two thermometers wait for a sight, then for the height of its line
 * above the water; a plan gives both. */
START_TEST(test_waits)
{
	struct shelf s;
	struct book_air air = {.pressure = "1010"};
	struct book_figures plan = {0};
	for (int by_plan = 0; by_plan < 2; by_plan++) {
		air = (struct book_air){.pressure = "1010"};
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_CROSSING);
		ck_assert_int_eq(waits(&s), BOOK_AIR_WAITS_NOT);
		ck_assert(add(&s, &air));
		ck_assert_int_eq(waits(&s), BOOK_AIR_WAITS_NOT);
		air = (struct book_air){
		    .low = "15", .low_height = "1", .high = "14", .high_height = "6"};
		ck_assert(add(&s, &air));
		ck_assert_int_eq(waits(&s), BOOK_AIR_WAITS_FOR_SIGHT);
		if (by_plan) {
			ck_assert(book_figure_put(&plan, "distance", "800 m", &s.why));
			ck_assert(book_figure_put(&plan, "hi", "2 m", &s.why));
			ck_assert(book_plan_set(s.book, "p", &plan, &s.why));
			ck_assert(book_run_set_plan(s.book, s.run.info.id, "p", &s.why));
		} else {
			shelf_take(&s, s.run.info.id);
			ck_assert(shelf_sight(&s, LEVEL_BS, "W", "1.5", "5", ""));
			ck_assert_int_eq(waits(&s), BOOK_AIR_WAITS_FOR_WATER);
			ck_assert(
			    book_water_add(s.book, s.run.info.id, "W", "0.4", "", "", &s.why));
		}
		ck_assert_int_eq(waits(&s), BOOK_AIR_WAITS_NOT);
		shelf_close(&s);
	}
}
END_TEST

/* A strong breeze begins at 10.8 m/s (Beaufort 6, World Meteorological Organization,
 * recalled); 10.8 m/s is 24.16 mph. */
START_TEST(test_wind)
{
	struct book_settings metric = {0}, miles = {.units = {{0, 0, 1}}};
	ck_assert(!work_doubt_wind("", &metric));
	ck_assert(!work_doubt_wind("fast", &metric));
	ck_assert(!work_doubt_wind("10.7", &metric));
	ck_assert(work_doubt_wind("10.8", &metric));
	ck_assert(work_doubt_wind("12.4", &metric));
	ck_assert(!work_doubt_wind("12.4", &miles));
	ck_assert(!work_doubt_wind("24.1", &miles));
	ck_assert(work_doubt_wind("24.2 mph", &metric));
}
END_TEST

START_TEST(test_height)
{
	ck_assert(work_doubt_height("3", LEVEL_IN));
	ck_assert(!work_doubt_height("3 in", LEVEL_IN));
	ck_assert(!work_doubt_height("3 ft", LEVEL_IN));
	ck_assert(!work_doubt_height("12", LEVEL_IN));
	ck_assert(!work_doubt_height("0", LEVEL_IN));
	ck_assert(!work_doubt_height("", LEVEL_IN));
	ck_assert(!work_doubt_height("3", LEVEL_FT));
	ck_assert(!work_doubt_height("1", LEVEL_M));
}
END_TEST

int main(void)
{
	return RUN_TESTS("airs_booked", test_figures, test_alone, test_fields, test_most,
	                 test_change, test_change_of_a_sealed_run, test_typed, test_wind,
	                 test_height, test_waits);
}
