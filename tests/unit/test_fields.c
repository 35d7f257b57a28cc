/* Which text a refusal is about: the forms put the cursor there. */
#include <stdio.h>
#include <string.h>

#include "unit/books.h"
#include "rodbook/book/crossing.h"
#include "unit/suite.h"

static void assert_at(bool refused, const struct fault *why, const char *field)
{
	ck_assert_msg(refused, "%s was taken", field);
	ck_assert_msg(why->field && strcmp(why->field, field) == 0, "%s, not %s: %s",
	              why->field ? why->field : "nothing", field, why->text);
}

START_TEST(test_instruments)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
#define REFUSED(field, ...)                                                                        \
	assert_at(!book_instrument_set(s.book,                                                     \
	                               &(struct book_instrument){                                  \
	                                   .name = "L1", .tolerance = "5 arcsec", __VA_ARGS__},    \
	                               &s.why),                                                    \
	          &s.why, field)
	assert_at(!book_instrument_set(s.book, &(struct book_instrument){.tolerance = "5 arcsec"},
	                               &s.why),
	          &s.why, "name");
	assert_at(
	    !book_instrument_set(
	        s.book, &(struct book_instrument){.name = "L1", .tolerance = "level"}, &s.why),
	    &s.why, "tolerance");
	REFUSED("tilt", .tilt = "up");
	REFUSED("tilt_u", .tilt = "0.02 mm/m");
	REFUSED("tilt", .tilt_u = "0.02 mm/m");
	REFUSED("tilt_u", .tilt = "0.02 mm/m", .tilt_u = "some");
	REFUSED("tilt_u", .tilt = "0.02 mm/m", .tilt_u = "0");
	REFUSED("remark", .remark = "a\tb");
#undef REFUSED
	shelf_close(&s);
}
END_TEST

START_TEST(test_rods)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
#define REFUSED(field, ...)                                                                        \
	assert_at(!book_rod_set(s.book, &(struct book_rod){.name = "R1", __VA_ARGS__}, &s.why),    \
	          &s.why, field)
	assert_at(!book_rod_set(s.book, &(struct book_rod){.zero = "0.3 mm"}, &s.why), &s.why,
	          "name");
	REFUSED("zero", .zero = "0.3");
	REFUSED("zero", .zero = "2 m");
	REFUSED("scale", .scale = "long");
	REFUSED("expansion", .expansion = "hot");
	REFUSED("reference", .expansion = "10");
	REFUSED("expansion", .reference = "20");
	REFUSED("length", .longest = "4");
	REFUSED("remark", .remark = "a\tb");
#undef REFUSED
	shelf_close(&s);
}
END_TEST

START_TEST(test_marks)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	assert_at(!book_mark_set(s.book, "", "1", "", "", &s.why), &s.why, "name");
	assert_at(!book_mark_set(s.book, "A", "high", "", "", &s.why), &s.why, "elevation");
	assert_at(!book_mark_set(s.book, "A", "1", "some", "", &s.why), &s.why, "u");
	assert_at(!book_mark_set(s.book, "A", "1", "-1", "", &s.why), &s.why, "u");
	assert_at(!book_mark_set(s.book, "A", "1", "", "a\tb", &s.why), &s.why, "source");
	shelf_close(&s);
}
END_TEST

START_TEST(test_water_and_air)
{
	struct shelf s;
	int64_t run;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_run_add(s.book, "across", LEVEL_CROSSING, &run, &s.why));
	assert_at(!book_water_add(s.book, run, "", "1", "", "", &s.why), &s.why, "station");
	assert_at(!book_water_add(s.book, run, "A", "low", "", "", &s.why), &s.why, "reading");
	assert_at(!book_water_add(s.book, run, "A", "101", "", "", &s.why), &s.why, "reading");
	assert_at(!book_water_add(s.book, run, "A", "1", "", "a\tb", &s.why), &s.why, "remark");
#define REFUSED(field, ...)                                                                        \
	assert_at(!book_air_add(s.book, run, &(struct book_air){__VA_ARGS__}, &s.why), &s.why,     \
	          field)
	REFUSED("pressure", .pressure = "2000");
	REFUSED("pressure", .pressure = "high");
	REFUSED("low", .low = "15", .low_height = "tall");
	REFUSED("low", .low = "99", .low_height = "1");
	REFUSED("high", .high = "15");
	REFUSED("high", .low = "15", .low_height = "1", .high = "15", .high_height = "1");
	REFUSED("low", .low = "15", .low_height = "2", .high = "15", .high_height = "1");
	REFUSED("at", .at = "15", .at_height = "2000");
	REFUSED("water", .water = "60");
	REFUSED("wind", .wind_speed = "300", .wind_height = "2");
	REFUSED("wind", .wind_speed = "3");
	REFUSED("wind_from", .wind_from = "north");
	REFUSED("sky", .sky = "a\tb");
#undef REFUSED
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("fields", test_instruments, test_rods, test_marks, test_water_and_air);
}
