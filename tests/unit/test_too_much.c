/* A crossing whose far sight shows more curvature than water has is warned of as that sight is
 * booked: not at any other sight, in no other run, and not where the drop is hidden. */
#include "books.h"
#include "rodbook/work/sight.h"
#include "suite.h"

static unsigned booked(struct shelf *s, const char *run, const char *kind, const char *station,
                       const char *reading, const char *distance)
{
	struct work_typed typed = {.text[WORK_SIGHT] = kind,
	                           .text[WORK_STATION] = station,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_DISTANCE] = distance};
	struct work_booked out;
	ck_assert_msg(work_book_sight(s->book, run, &typed, &out, &s->why), "%s", s->why.text);
	return out.warned.set >> LEVEL_WARN_CURVATURE & 1;
}

/* Over 800 m a surface of 500 km radius, the least that water is taken to have (warnings.h), falls
 * 640000/2/500000 = 0.64 m: 1.3 m is far more than that and any allowance here, 0.04 m far less. */
START_TEST(test_booked)
{
	static const struct {
		enum level_run_kind kind;
		bool blind;
		const char *fs;
		unsigned warned;
	} cases[] = {
	    {LEVEL_CROSSING, false, "2.8", 1},
	    {LEVEL_CROSSING, false, "1.54", 0},
	    {LEVEL_CROSSING, true, "2.8", 0},
	    {LEVEL_LINK, false, "2.8", 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		shelf_open(&s, LEVEL_M);
		ck_assert(book_mark_set(s.book, "E", "10", "1 mm", NULL, &s.why));
		ck_assert(book_mark_set(s.book, "W", "10", "1 mm", NULL, &s.why));
		if (cases[i].blind)
			ck_assert_msg(book_set(s.book, "blind", "yes", &s.why), "%s", s.why.text);
		shelf_begin(&s, "a", cases[i].kind);
		ck_assert_uint_eq(booked(&s, "a", "BS", "E", "1.5", "5"), 0);
		ck_assert_uint_eq(booked(&s, "a", "IS", "P", "1.5", "5"), 0);
		ck_assert_msg(booked(&s, "a", "FS", "W", cases[i].fs, "800") == cases[i].warned,
		              "case %zu", i);
		/* what stands there is not said again of the sight behind it */
		ck_assert_uint_eq(booked(&s, "a", "BS", "W", "1.5", "5"), 0);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("too_much", test_booked);
}
