/* Rods: what they read too high by, and what that does to elevations and drops. */
#include <math.h>

#include "books.h"
#include "rodbook/book/crossing.h"
#include "sights.h"
#include "suite.h"

static struct book_rod rod(const char *name, const char *zero, const char *scale,
                           const char *expansion, const char *reference)
{
	struct book_rod out = {0};
	strcpy(out.name, name);
	strcpy(out.zero, zero);
	strcpy(out.scale, scale);
	strcpy(out.expansion, expansion);
	strcpy(out.reference, reference);
	return out;
}

/* Zero 0.3 mm too high: 0.3 mm everywhere. Units 100 ppm too long: at 2 m it reads 0.2 mm too
 * little. 10 ppm/K from 20 C, at 5 C: 150 ppm too short, at 2 m 0.3 mm too much. */
START_TEST(test_error)
{
	const struct book_rod list[] = {
	    rod("zero", "0.3 mm", "", "", ""), rod("scale", "", "100", "", ""),
	    rod("warm", "", "", "10", "20"), rod("all", "-1 mm", "100", "10", "20")};
	ck_assert_double_eq_tol(book_rod_error(list, 4, "zero", METRES(2), false, 0), 0.0003,
	                        1e-12);
	ck_assert_double_eq_tol(book_rod_error(list, 4, "scale", METRES(2), false, 0), -0.0002,
	                        1e-12);
	ck_assert_double_eq_tol(book_rod_error(list, 4, "warm", METRES(2), true, 5), 0.0003, 1e-12);
	/* the temperature is not known: nothing to take off */
	ck_assert_double_eq(book_rod_error(list, 4, "warm", METRES(2), false, 0), 0);
	/* -1 mm - 2.001 m x (100 + 50) ppm */
	ck_assert_double_eq_tol(book_rod_error(list, 4, "all", METRES(2), true, 25),
	                        -0.001 - 2.001 * 150e-6, 1e-12);
	ck_assert_double_eq(book_rod_error(list, 4, "none", METRES(2), true, 25), 0);
}
END_TEST

/* Upside down the zero of a rod stands on the mark overhead: what it shows too much lies farther
 * below zero. 0.3 mm of zero: -0.3 mm. Units 100 ppm too long: 2 m is shown 0.2 mm too short, so -2
 * m stands 0.2 mm too high. */
START_TEST(test_upside_down)
{
	const struct book_rod list[] = {rod("zero", "0.3 mm", "", "", ""),
	                                rod("scale", "", "100", "", "")};
	ck_assert_double_eq_tol(book_rod_error(list, 2, "zero", -METRES(2), false, 0), -0.0003,
	                        1e-12);
	ck_assert_double_eq_tol(book_rod_error(list, 2, "scale", -METRES(2), false, 0), 0.0002,
	                        1e-12);
	ck_assert_double_eq_tol(book_rod_error(list, 2, "zero", 0, false, 0), 0.0003, 1e-12);
}
END_TEST

START_TEST(test_refusals)
{
	struct shelf s;
	const struct book_rod bad[] = {
	    rod("", "", "", "", ""),       rod("a", "0.3", "", "", ""), rod("a", "2 m", "", "", ""),
	    rod("a", "", "many", "", ""),  rod("a", "", "", "10", ""),  rod("a", "", "", "", "20"),
	    rod("a", "", "20000", "", ""),
	};
	struct book_rod *list, good = rod("a", "0.3 mm", "-20", "0.8", "20");
	size_t count;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		ck_assert_msg(!book_rod_set(s.book, &bad[i], &s.why), "%zu", i);
	ck_assert(book_rod_set(s.book, &good, &s.why));
	strcpy(good.zero, "0.4 mm");
	ck_assert(book_rod_set(s.book, &good, &s.why));
	ck_assert(book_rods(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(list[0].zero, "0.4 mm");
	free(list);
	shelf_close(&s);
}
END_TEST

/* BS 1.5 on a rod 2 mm too high, FS 1.4 on a true one, 20 m each: the line rises 0.098, not 0.1. */
START_TEST(test_elevation)
{
	struct shelf s;
	struct book_rod high = rod("R1", "2 mm", "", "", "");
	struct work_run run;
	struct level_sight sight = {.kind = LEVEL_BS};
	struct book_note note = {.unit = LEVEL_M};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_rod_set(s.book, &high, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	strcpy(sight.station, "A");
	strcpy(note.reading, "1.5");
	strcpy(note.distance, "20");
	strcpy(note.rod, "R1");
	struct book_settings settings;
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert(book_read_sight(&settings, &note, &sight, &s.why));
	ck_assert(book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.4", "20", ""));
	ck_assert(work_run_load(s.book, "a", NULL, &run, &s.why));
	ck_assert_int_eq(run.page.row[1].elevation, MM(100));
	ck_assert_int_eq(run.page.row[1].corrected, MM(98));
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* A rod that reads too high makes a drop of its own, which is taken off. */
START_TEST(test_drop)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "B", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	/* the far rod reads 5 mm too high: D = 45 - 5 mm */
	sights[1].rod_error = 0.005;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	struct level_closing got =
	    level_close(&run, &page, &terms, level_tolerance_find("setups", NULL), 0.002);
	ck_assert_double_eq_tol(got.observed, 0.040, 1e-12);
	level_page_free(&page);
}
END_TEST

/* The lower thermometer is read with its unit: 68 F are 20 C, exactly; 50 F and 86 F are 10 C and
 * 30 C. A rod of 100 ppm/K from 10 C is 1000 ppm too long at 20 C: at 2 m it reads 2 mm too little.
 */
START_TEST(test_celsius)
{
	static const char *const low[] = {"50 F", "20", "86 F"};
	struct shelf s;
	struct book_rod warm = rod("R1", "", "", "100", "10");
	struct level_sight sight = {.kind = LEVEL_BS};
	struct book_note note = {.unit = LEVEL_M};
	struct book_settings settings;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_rod_set(s.book, &warm, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	strcpy(sight.station, "A");
	strcpy(note.reading, "2");
	strcpy(note.distance, "20");
	strcpy(note.rod, "R1");
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert(book_read_sight(&settings, &note, &sight, &s.why));
	ck_assert(book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	for (size_t i = 0; i < sizeof low / sizeof *low; i++) {
		struct book_air air = {.unit = LEVEL_M};
		strcpy(air.low, low[i]);
		strcpy(air.low_height, "1");
		ck_assert_msg(book_air_add(s.book, s.run.info.id, &air, &s.why), "%s", s.why.text);
	}
	shelf_take(&s, s.run.info.id);
	ck_assert(s.run.has_celsius);
	ck_assert_double_eq_tol(s.run.celsius, 20, 1e-9);
	ck_assert_double_eq_tol(s.run.run.sight[0].rod_error, -0.002, 1e-9);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("rods", test_error, test_upside_down, test_refusals, test_elevation,
	                 test_drop, test_celsius);
}
