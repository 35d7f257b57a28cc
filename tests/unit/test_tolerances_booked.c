/* Tolerance sets of a book's own. */
#include "books.h"
#include "suite.h"

static void give(struct shelf *s, const char *name, const char *figures)
{
	ck_assert_msg(book_tolerance_set(s->book, name, figures, &s->why), "%s", s->why.text);
}

START_TEST(test_kept)
{
	struct shelf s;
	struct book_tolerance *list;
	struct level_tolerance set;
	struct book_settings settings;
	size_t count;
	shelf_open(&s, LEVEL_M);
	give(&s, "canal", "section=7 mm");
	give(&s, "steps", "setups=2 mm");
	give(&s, "canal", "section=9 mm");
	ck_assert(book_tolerances(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(list[0].set.name, "steps");
	ck_assert_str_eq(list[0].figures, "setups=2 mm");
	ck_assert_str_eq(list[1].set.name, "canal");
	ck_assert_str_eq(list[1].figures, "section=9 mm");
	free(list);
	ck_assert(book_tolerance_find(s.book, "canal", &set, &s.why));
	ck_assert_str_eq(set.name, "canal");
	/* 9 mm per root of km, of sections; 2 mm per root of setups */
	ck_assert_double_eq_tol(set.per_km[0], 0.009, 1e-12);
	ck_assert(book_tolerance_find(s.book, "steps", &set, &s.why));
	ck_assert_double_eq_tol(set.per_setup, 0.002, 1e-12);
	ck_assert_double_eq(set.per_km[0], 0);
	/* one of the program's: 12 mm (FGCC 1984, recalled) */
	ck_assert(book_tolerance_find(s.book, "third-order", &set, &s.why));
	ck_assert_str_eq(set.name, "third-order");
	ck_assert_double_eq_tol(set.per_km[0], 0.012, 1e-12);
	/* the book is held to its own set */
	ck_assert(book_set(s.book, "tolerance", "canal", &s.why));
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert_double_eq_tol(settings.tolerance.per_km[0], 0.009, 1e-12);
	ck_assert(!book_tolerance_find(s.book, "river", &set, &s.why));
	FAULT(&s, FAULT_INPUT, "third-order");
	FAULT(&s, FAULT_INPUT, ", steps, canal");
	ck_assert(!book_set(s.book, "tolerance", "river", &s.why));
	FAULT(&s, FAULT_INPUT, ", steps, canal");
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *name, *figures, *words;
	} cases[] = {
	    {"third-order", "section=9 mm", "one of the program's own sets"},
	    {"setups", "setups=2 mm", "one of the program's own sets"},
	    {"canal", "", ""},
	    {"canal", "sight=80 m", "allows a misclosure"},
	    {"canal", "section=far", ""},
	    {"canal", "section=9 mm\x1b", "control"},
	    {"", "section=9 mm", "the tolerance set has no name"},
	    {" canal", "section=9 mm", "blank"},
	};
	struct shelf s;
	struct book_tolerance *list;
	char text[420];
	size_t count;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		s.why = (struct fault){0};
		ck_assert_msg(!book_tolerance_set(s.book, cases[i].name, cases[i].figures, &s.why),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	/* 400 characters are a set, 401 are none */
	snprintf(text, sizeof text, "%-400s", "section=9 mm");
	s.why = (struct fault){0};
	if (!book_tolerance_set(s.book, "canal", text, &s.why))
		ck_assert_ptr_null(strstr(s.why.text, "long"));
	snprintf(text, sizeof text, "%-401s", "section=9 mm");
	ck_assert(!book_tolerance_set(s.book, "pond", text, &s.why));
	ck_assert(book_tolerances(s.book, &list, &count, &s.why));
	for (size_t i = 0; i < count; i++)
		ck_assert_str_eq(list[i].set.name, "canal");
	free(list);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("tolerances_booked", test_kept, test_refused);
}
