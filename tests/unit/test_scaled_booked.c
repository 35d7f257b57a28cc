/* A reading scaled from a photograph, as it is booked and read again: 0 stands at 0 px and 1 m at
 * 100 px, the cross-hair at 50 px, so it is 0.5 m; 1 px, which is 10 mm, at each of the three is
 * 2 x 10 mm = 20 mm of it (scale.h: bounds add up with their weights 1/2, 1/2 and 1). */
#include "book/store.h"
#include "books.h"
#include "rodbook/work/sight.h"
#include "sights.h"
#include "suite.h"

#define SCALING "0@0; 1@100; hair 50; u 1"

static bool book(struct shelf *s, const char *sight, const char *reading, const char *scaled,
                 const char *limit, const char *u, struct work_booked *out)
{
	struct work_typed typed = {.text[WORK_SIGHT] = sight,
	                           .text[WORK_STATION] = "A",
	                           .text[WORK_READING] = reading,
	                           .text[WORK_SCALED] = scaled,
	                           .text[WORK_LIMIT] = limit,
	                           .text[WORK_U] = u};
	s->why = (struct fault){0};
	return work_book_sight(s->book, "up", &typed, out, &s->why);
}

START_TEST(test_booked)
{
	struct shelf s;
	struct work_booked out;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "up", LEVEL_OPEN);
	ck_assert_msg(book(&s, "BS", "scaled", SCALING, "", "", &out), "%s", s.why.text);
	ck_assert_int_eq(out.sight.reading, MM(500));
	ck_assert_int_eq(out.sight.limit, MM(20));
	shelf_take(&s, s.run.info.id);
	ck_assert_int_eq(s.run.run.sight[0].reading, MM(500));
	ck_assert_int_eq(s.run.run.sight[0].limit, MM(20));
	ck_assert_str_eq(s.run.note[0].scaled, SCALING);
	/* the same typed out */
	ck_assert_msg(book(&s, "FS", "0.5", SCALING, "0.02", "", &out), "%s", s.why.text);
	ck_assert_int_eq(out.sight.reading, MM(500));
	/* and with the limit alone left out */
	ck_assert_msg(book(&s, "BS", "0.5", SCALING, "", "", &out), "%s", s.why.text);
	ck_assert_int_eq(out.sight.limit, MM(20));
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *reading, *scaled, *limit, *u, *field, *words;
	} cases[] = {
	    {"0.6", SCALING, "0.02", "", "scaled", "are not what \"" SCALING "\" makes"},
	    {"0.5", SCALING, "0.01", "", "scaled", "are not what"},
	    {"0.5; 0.5", SCALING, "0.02", "", "scaled", ""},
	    {"0.5", SCALING, "", "1 mm", "", "a limit or a u, not both"},
	    {"scaled", "", "", "", "", ""},
	    {"0.5", "half", "", "", "scaled", ""},
	    {"scaled", "half", "", "", "scaled", ""},
	};
	struct shelf s;
	struct work_booked out;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "up", LEVEL_OPEN);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(!book(&s, "BS", cases[i].reading, cases[i].scaled, cases[i].limit,
		                    cases[i].u, &out),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
		if (*cases[i].field)
			ck_assert_str_eq(s.why.field, cases[i].field);
	}
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.run.count, 0);
	shelf_close(&s);
}
END_TEST

/* What stands in a book is held to the same, and can be nothing but one reading with a limit. */
START_TEST(test_read_again)
{
	static const struct {
		enum level_kind kind;
		bool wires;
		int reading, limit;
		const char *u, *typed, *scaled, *words;
	} cases[] = {
	    {LEVEL_BS, false, 500, 20, "", "0.5", SCALING, NULL},
	    {LEVEL_IS, false, 500, 20, "", "scaled", SCALING, NULL},
	    {LEVEL_FS, true, 600, 0, "1 mm", "", "", NULL},
	    {LEVEL_OFF, false, 500, 20, "", "0.5", SCALING, "only one reading"},
	    {LEVEL_BS, true, 500, 20, "", "0.5", SCALING, "only one reading"},
	    {LEVEL_BS, false, 500, 20, "1 mm", "0.5", SCALING, "only one reading"},
	    {LEVEL_BS, false, 501, 20, "", "0.501", SCALING, "are not what"},
	    {LEVEL_BS, false, 500, 21, "", "0.5", SCALING, "are not what"},
	    {LEVEL_BS, false, 500, 20, "", "0.5; 0.5", SCALING, "are not what"},
	    {LEVEL_BS, false, 500, 20, "", "0.5", "half", ""},
	    {LEVEL_BS, false, 500, 20, "", "0.5", SCALING "\x1b", "control"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct level_sight sight = {.kind = cases[i].kind,
		                            .wires = cases[i].wires,
		                            .reading = MM(cases[i].reading),
		                            .limit = MM(cases[i].limit)};
		struct book_note note = {.unit = LEVEL_M};
		struct shelf s = {0};
		strcpy(note.u, cases[i].u);
		strcpy(note.reading, cases[i].typed);
		strcpy(note.scaled, cases[i].scaled);
		ck_assert_msg(scaled_is_true(&sight, &note, &s.why) == !cases[i].words, "case %zu",
		              i);
		if (!cases[i].words)
			continue;
		FAULT(&s, FAULT_INPUT, cases[i].words);
		ck_assert_str_eq(s.why.field, "scaled");
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("scaled_booked", test_booked, test_refused, test_read_again);
}
