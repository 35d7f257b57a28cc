/* What one reading may be off by: B takes its limit whole, u is limit/sqrt 3 (rectangular bounds:
 * JCGM 100:2008, 4.3.7). Figures by hand. */
#include <math.h>

#include "rodbook/level/limit.h"
#include "rodbook/work/run.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

START_TEST(test_split)
{
	static const struct {
		const char *typed, *reading, *limit;
		bool declared;
		const char *joined;
	} told[] = {
	    {"1.432", "1.432", "", false, "1.432"},
	    {"4 +- 1/4", "4", "1/4", false, "4 +- 1/4"},
	    {"4+-1/4", "4", "1/4", false, "4 +- 1/4"},
	    {"4 in +- 1/8 in", "4 in", "1/8 in", false, "4 in +- 1/8 in"},
	    {"4 in +- 1/8", "4 in", "1/8 in", false, "4 in +- 1/8 in"},
	    {"4' 9 3/8\" +- 1/4", "4' 9 3/8\"", "1/4\"", false, "4' 9 3/8\" +- 1/4\""},
	    {"1.432 \xc2\xb1 0.002", "1.432", "0.002", false, "1.432 +- 0.002"},
	    {"1.432 +/- 0.002", "1.432", "0.002", false, "1.432 +- 0.002"},
	    {"-2.1 +- 2 mm declared", "-2.1", "2 mm", true, "-2.1 +- 2 mm declared"},
	    {"1.432 declared", "1.432", "", true, "1.432 declared"},
	    {"1.432; 1.434 +- 0.01", "1.432; 1.434", "0.01", false, "1.432; 1.434 +- 0.01"},
	    {"5 mm; 6 mm +- 2", "5 mm; 6 mm", "2 mm", false, "5 mm; 6 mm +- 2 mm"},
	    {"5 mm; x1.5 +- 0.1", "5 mm; x1.5", "0.1", false, "5 mm; x1.5 +- 0.1"},
	    {"+- 1/4", "", "1/4", false, " +- 1/4"},
	    {"4' 9 +- 1/4", "4' 9", "1/4 in", false, "4' 9 +- 1/4 in"},
	    {"undeclared", "undeclared", "", false, "undeclared"},
	    {"", "", "", false, ""},
	};
	struct level_limited parts;
	struct fault why = {0};
	char text[400];
	for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
		ck_assert(level_split_limit(told[i].typed, &parts, &why));
		ck_assert_str_eq(parts.reading, told[i].reading);
		ck_assert_str_eq(parts.limit, told[i].limit);
		ck_assert_int_eq(parts.declared, told[i].declared);
		ck_assert_str_eq(level_join_limit(text, sizeof text, &parts), told[i].joined);
	}
	ck_assert(!level_split_limit("4 +-", &parts, &why));
	ck_assert(!level_split_limit("4 +- ", &parts, &why));
	ck_assert(!level_split_limit("4 +- declared", &parts, &why));
	ck_assert(!level_split_limit("4 +- 1 +- 2", &parts, &why));
	ck_assert(!level_split_limit("4 +/- 1 +- 2", &parts, &why));
	ck_assert(!level_split_limit("4 +- 1 +/- 2", &parts, &why));
	memset(text, '1', sizeof text);
	text[399] = '\0';
	ck_assert(!level_split_limit(text, &parts, &why));
	memcpy(text, "4 +- ", 5);
	text[70] = '\0';
	ck_assert(!level_split_limit(text, &parts, &why));
}
END_TEST

START_TEST(test_u)
{
	struct level_terms terms = {.reading_fixed[LEVEL_TARGET] = 0.0003,
	                            .reading_slope[LEVEL_TARGET] = 0.000005};
	struct level_reach reach = {.distance = 800, .method = LEVEL_TARGET};
	struct level_mean_u mean = level_reading_u(&terms, &reach);
	ck_assert_double_eq_tol(mean.u, 0.0043, 1e-12);
	ck_assert_double_eq_tol(mean.bound, 0.0086, 1e-12);
	reach.limit = 0.006;
	mean = level_reading_u(&terms, &reach);
	ck_assert_double_eq_tol(mean.u, 0.003464101615, 1e-11);
	ck_assert_double_eq_tol(mean.bound, 0.006, 1e-12);
	/* its own u goes before what follows from the limit */
	reach.u = 0.002;
	mean = level_reading_u(&terms, &reach);
	ck_assert_double_eq_tol(mean.u, 0.002, 1e-12);
	ck_assert_double_eq_tol(mean.bound, 0.006, 1e-12);
	reach.limit = 0;
	mean = level_reading_u(&terms, &reach);
	ck_assert_double_eq_tol(mean.bound, 0.004, 1e-12);
	/* a set that scatters more says more: 0.012/sqrt 4 */
	reach.set_count = 4;
	reach.set_sd = 0.012;
	ck_assert_double_eq_tol(level_reading_u(&terms, &reach).u, 0.006, 1e-12);
	/* nothing is declared, so nobody has it already */
	reach.declared = true;
	ck_assert_double_eq_tol(level_reading_u(&terms, &reach).u, 0.006, 1e-12);
	terms.declared[1].bound = 0.01;
	mean = level_reading_u(&terms, &reach);
	ck_assert(mean.u == 0 && mean.bound == 0 && isinf(mean.freedom));
}
END_TEST

static void sight(struct shelf *s, const char *kind, const char *station, const char *reading,
                  const char *distance, const char *limit)
{
	struct work_typed typed = {.text[WORK_SIGHT] = kind,
	                           .text[WORK_STATION] = station,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_DISTANCE] = distance,
	                           .text[WORK_METHOD] = "target",
	                           .text[WORK_LIMIT] = limit};
	struct work_booked booked;
	ck_assert_msg(work_book_sight(s->book, "over", &typed, &booked, &s->why), "%s",
	              s->why.text);
}

/* The allowance of one and the same sight, booked in two honest ways. */
static struct level_allowance allowed(const char *declared, const char *far, const char *limit)
{
	struct shelf s;
	struct work_run run;
	struct level_allowance out;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	if (*declared)
		ck_assert(book_set(s.book, "declared", declared, &s.why));
	ck_assert(book_mark_set(s.book, "E", "1", NULL, NULL, &s.why));
	ck_assert(book_mark_set(s.book, "W", "1", NULL, NULL, &s.why));
	sight(&s, "BS", "E", "1.500 +- 0.001", "5", "");
	sight(&s, "FS", "W", far, "800", limit);
	ck_assert(work_run_load(s.book, "over", NULL, &run, &s.why));
	ck_assert(run.closing.has_drop);
	out = run.closing.allowance;
	work_run_free(&run);
	shelf_close(&s);
	return out;
}

START_TEST(test_not_charged_twice)
{
	struct level_allowance own = allowed("", "1.560 +- 0.006", "");
	struct level_allowance declared = allowed("mark=6 mm", "1.560 declared", "");
	struct level_allowance beside = allowed("", "1.560", "6 mm");
	struct level_allowance twice = allowed("mark=6 mm", "1.560 +- 0.006", "");
	ck_assert_double_eq_tol(own.bound[LEVEL_LINE_READING], 0.007, 1e-9);
	ck_assert_double_eq_tol(own.u[LEVEL_LINE_READING],
	                        sqrt(0.001 * 0.001 + 0.006 * 0.006) / sqrt(3), 1e-9);
	ck_assert_double_eq_tol(declared.bound[LEVEL_LINE_READING], 0.001, 1e-9);
	ck_assert_double_eq_tol(declared.total_bound, own.total_bound, 1e-9);
	ck_assert_double_eq_tol(declared.total_u95, own.total_u95, 1e-9);
	ck_assert_double_eq_tol(beside.total_u95, own.total_u95, 1e-9);
	ck_assert_double_gt(twice.total_bound, own.total_bound + 0.0059);
}
END_TEST

/* What was typed comes back in the form, in CSV, and after a change. */
START_TEST(test_kept)
{
	const struct level_style inches = level_style_default(LEVEL_IN),
	                         meters = level_style_default(LEVEL_M);
	struct shelf s;
	struct work_parted parted;
	struct book_draft draft;
	struct work_typed typed;
	struct work_reader with;
	struct level_sight read;
	struct book_note note;
	shelf_open(&s, LEVEL_IN);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	sight(&s, "BS", "E", "40 +- 1/4 declared", "", "");
	shelf_take(&s, 1);
	ck_assert_str_eq(s.run.note[0].reading, "40");
	ck_assert_str_eq(s.run.note[0].limit, "1/4");
	ck_assert_int_eq(s.run.run.sight[0].limit, 6350000);
	ck_assert(s.run.run.sight[0].declared);
	work_draft_of(&s.run.run.sight[0], &s.run.note[0], &inches, &draft);
	ck_assert_str_eq(draft.reading, "40 +- 1/4 declared");
	/* in a book of another unit the lengths keep theirs */
	work_draft_of(&s.run.run.sight[0], &s.run.note[0], &meters, &draft);
	ck_assert_str_eq(draft.reading, "40 in +- 1/4 in declared");
	ck_assert(work_reader_open(s.book, &with, &s.why));
	typed = work_draft_typed(&draft, &parted);
	ck_assert(work_read_sight(&with, &typed, &read, &note, &s.why));
	ck_assert_int_eq(read.limit, 6350000);
	ck_assert_int_eq(read.reading, 1016000000);
	/* wrong ones */
	typed.text[WORK_READING] = "40 +- x";
	ck_assert(!work_read_sight(&with, &typed, &read, &note, &s.why));
	ck_assert_str_eq(s.why.field, "limit");
	typed.text[WORK_READING] = "40 +- 0";
	ck_assert(!work_read_sight(&with, &typed, &read, &note, &s.why));
	typed.text[WORK_READING] = "40 +- -1/4";
	ck_assert(!work_read_sight(&with, &typed, &read, &note, &s.why));
	typed.text[WORK_READING] = "40 +- 101 m";
	ck_assert(!work_read_sight(&with, &typed, &read, &note, &s.why));
	typed.text[WORK_READING] = "40 +- 1/4";
	typed.text[WORK_LIMIT] = "1/4";
	ck_assert(!work_read_sight(&with, &typed, &read, &note, &s.why));
	ck_assert_str_eq(s.why.field, "limit");
	work_reader_free(&with);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("limit", test_split, test_u, test_not_charged_twice, test_kept);
}
