/* The first page of a statement: its figures are those of worked_crossing.h, read out of the table
 * of the two other programs and rounded by hand to the millimeter, for the allowance is 0.032 m. */
#include <string.h>

#include "kept.h"
#include "report/front/ruler.h"
#include "suite.h"
#include "worked_crossing.h"

/* A run that has no more than its first page needs. */
static void make(struct work_run *run, struct level_sight sights[2], bool round, double fs,
                 enum level_decides decides)
{
	static struct book_note notes[2] = {{.time = "2026-05-09T07:50:00+02:00"},
	                                    {.time = "2026-05-09T08:05:00+02:00"}};
	static struct book_kept kept[2];
	struct level_peg_result pegs;
	sights[0] = (struct level_sight){
	    .kind = LEVEL_BS, .station = "A", .distance = level_from_meters(10)};
	sights[1] = (struct level_sight){
	    .kind = LEVEL_FS, .station = "B", .distance = level_from_meters(800)};
	*run = (struct work_run){.settings.style = level_style_default(LEVEL_M)};
	run->book.run = (struct level_run){LEVEL_CROSSING, 2, sights, ""};
	run->book.note = keep_notes(kept, notes, 2);
	run->terms.terms = worked_terms();
	run->terms.terms.k = 0.13;
	run->terms.terms.decides = decides;
	run->closing = worked_closing(round, 0.13, round ? 1500.11 : 1500.10, fs, decides, &pegs);
	run->closing.start_station = "A";
	run->closing.end_station = "B";
}

static const char *row(const struct front *front, const char *name, const char **note)
{
	for (size_t i = 0; i < front->rows; i++)
		if (strcmp(front->row[i].name, name) == 0) {
			*note = front->row[i].note;
			return front->row[i].value;
		}
	*note = "";
	return "";
}

static void check_row(const struct front *front, const char *name, const char *value)
{
	const char *note;
	ck_assert_str_eq(row(front, name, &note), value);
}

START_TEST(test_shown)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	const char *note;
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	front_of(&run, &front);
	ck_assert_str_eq(front.when, "2026-05-09, 07:50 to 08:05");
	ck_assert(strstr(front.question, "800 m from A to B"));
	/* one such sight in 20 errs by more than U (trade sheet, section 4) */
	ck_assert(strstr(front.answer, "beyond the allowance for errors. A round"));
	ck_assert(!strstr(front.answer, "errors can make"));
	ck_assert(strstr(front.answer, "A drop is seen"));
	/* D 42.89, F -6.53, P 39.97; 0.3748 and 1.9094 of 46.50 above F: 10.90 and 82.26 mm */
	ck_assert(strstr(front.answer, "Seen: 0.043 m, with the errors from 0.011 m to 0.082 m."));
	ck_assert(strstr(front.answer, "Flat would show -0.007 m, round 0.040 m."));
	check_row(&front, "distance", "800 m");
	check_row(&front, "drop seen", "0.043 m");
	check_row(&front, "allowance", "0.032 m");
	check_row(&front, "margin", "+0.017 m");
	row(&front, "radius that fits", &note);
	ck_assert_str_eq(note, "from 3337 km to 16999 km, with the errors");
	/* u 10.05, 8.12, 7.90 mm, each times t 2.016: 0.020, 0.016, 0.016 */
	ck_assert_str_eq(front.doubt[0].what, "the air bends the light otherwise");
	ck_assert_str_eq(front.doubt[0].size, "0.020 m");
	ck_assert_str_eq(front.doubt[1].what, "the level's line of sight is tilted");
	ck_assert_str_eq(front.doubt[1].size, "0.016 m");
	ck_assert_str_eq(front.doubt[2].size, "0.016 m");
	/* the last one is in no allowance; known marks are in this one under another name */
	ck_assert_uint_eq(front.doubts, 8);
	ck_assert_str_eq(front.doubt[7].size, "");
}
END_TEST

START_TEST(test_flat_world)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	const char *note;
	make(&run, sights, false, 1504.47, LEVEL_BY_U95);
	front_of(&run, &front);
	ck_assert(strstr(front.answer, "No more drop is seen"));
	/* D -3.54; -0.6241 and 0.9077 of 46.50 above -6.53: -35.55 and 35.68 mm */
	ck_assert(
	    strstr(front.answer, "Seen: -0.004 m, with the errors from -0.036 m to 0.036 m."));
	check_row(&front, "margin", "-0.029 m");
	row(&front, "radius that fits", &note);
	ck_assert_str_eq(note, "from 7019 km, no upper limit, with the errors");
}
END_TEST

START_TEST(test_all_errors_one_way)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	const char *note;
	make(&run, sights, true, 1554.70, LEVEL_BY_ALL);
	front_of(&run, &front);
	ck_assert(strstr(front.answer, "This sight does not decide"));
	check_row(&front, "allowance", "0.080 m");
	row(&front, "allowance", &note);
	ck_assert_str_eq(note, "if all errors add up");
	/* by limits the level comes first, 25.83 mm */
	ck_assert_str_eq(front.doubt[0].what, "the level's line of sight is tilted");
	ck_assert_str_eq(front.doubt[0].size, "0.026 m");
}
END_TEST

START_TEST(test_no_distance)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	sights[0].distance = sights[1].distance = 0;
	front_of(&run, &front);
	ck_assert_str_eq(front.question, "No sight with a distance is booked yet.");
}
END_TEST

/* A way back in the same run: its drops are summed, and nobody may take them for those of one
 * sight. */
START_TEST(test_several_setups)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	const char *note;
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	run.closing.setups = 2;
	run.closing.end_station = "A";
	front_of(&run, &front);
	ck_assert(strstr(front.question, "Do the sights of up to 800 m from A to A show a drop, "
	                                 "the far mark below the level line"));
	row(&front, "drop seen", &note);
	ck_assert_str_eq(note, "over all 2 setups, their drops summed");
}
END_TEST

/* The long sight as the BS turns the signs of D, F and P, and nothing else (trade sheet, section
 * 4): the page says the same, and draws it. */
START_TEST(test_long_sight_behind)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front ahead, behind;
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	front_of(&run, &ahead);
	run.closing.flat = -run.closing.flat;
	run.closing.predicted = -run.closing.predicted;
	run.closing.observed = -run.closing.observed;
	front_of(&run, &behind);
	ck_assert_str_eq(behind.answer, ahead.answer);
	check_row(&behind, "drop seen", "0.043 m");
	check_row(&behind, "flat would show", "-0.007 m");
	check_row(&behind, "round would show", "0.040 m");
	front_text(out, &behind, 78);
	ck_assert_int_eq(fclose(out), 0);
	ck_assert(strstr(text, "[===="));
	free(text);
}
END_TEST

/* In inches, to the fraction of the page: U 32.04 mm is 1.2614 in, 80.73 of its 64ths; D 42.89 mm
 * is 108.07 of them. */
START_TEST(test_inches)
{
	struct level_sight sights[2];
	struct work_run run;
	struct front front;
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	run.settings.style = level_style_default(LEVEL_IN);
	front_of(&run, &front);
	check_row(&front, "drop seen", "1 11/16 in");
	check_row(&front, "allowance", "1 17/64 in");
}
END_TEST

/* Names of 40 letters, as many as a station may have, two bytes each: none is cut. */
START_TEST(test_long_names)
{
	static struct level_sight sights[2];
	static struct work_run run;
	static struct front front;
	char name[81] = "";
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	for (int i = 0; i < 40; i++)
		strcat(name, "\xc3\xa9");
	make(&run, sights, true, 1554.70, LEVEL_BY_U95);
	run.closing.start_station = run.closing.end_station = name;
	front_of(&run, &front);
	ck_assert(strstr(strstr(front.question, name) + 1, name));
	front_add(&front, name, "1.000 m", "as given");
	ck_assert_str_eq(front.row[front.rows - 1].name, name);
	front_text(out, &front, 78);
	ck_assert_int_eq(fclose(out), 0);
	ck_assert(strstr(text, "\n                          1.000 m   as given\n"));
	free(text);
}
END_TEST

/* The scale: from 0 to 82.26 mm and a twentieth, in 40 columns; the steps are 20 mm. */
START_TEST(test_scale)
{
	struct front front = {.style = level_style_default(LEVEL_M),
	                      .scale = {true, 0.010, 0.040, 0.050, 0.020, 0.080}};
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	front_scale(out, &front, 53);
	ck_assert_int_eq(fclose(out), 0);
	/* 41 columns for 0 to 0.084: F at 4.8, [ at 9.5, R at 19.0, o at 23.8, ] at 38.1; numbers
	 * at 0, 9.5, 19.0, 28.6 and 38.1 */
	ck_assert_str_eq(text, "       F    [========R====o=============]  \n"
	                       "  '         '        '         '        '  \n"
	                       "  0.00    0.02     0.04      0.06     0.08 m\n");
	free(text);
}
END_TEST

/* Feet and inches over more than four feet stand at whole feet: 18 ft in six steps are 3 ft, the
 * next of 1, 2 and 5 is 5 ft. */
START_TEST(test_whole_feet)
{
	const struct ruler ruler = {-0.3048, 17 * 0.3048};
	struct level_style style = level_style_default(LEVEL_FTIN);
	struct ruler_numbers numbers = ruler_numbers_of(&ruler, &style);
	ck_assert_int_eq(numbers.count, 4);
	for (int i = 0; i < numbers.count; i++)
		ck_assert_double_eq_tol(numbers.at[i], 5 * i * 0.3048, 1e-12);
	ck_assert_str_eq(numbers.text[1], "5' 0\"");
}
END_TEST

int main(void)
{
	return RUN_TESTS("front", test_shown, test_flat_world, test_all_errors_one_way,
	                 test_several_setups, test_no_distance, test_long_sight_behind, test_inches,
	                 test_long_names, test_scale, test_whole_feet);
}
