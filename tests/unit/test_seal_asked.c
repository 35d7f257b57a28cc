/* Figures sealed on being asked, and a drop that is hidden until then. */
#include "rodbook/book/journal.h"
#include "rodbook/work/run.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static void assert_verified(struct shelf *s)
{
	struct book_verified verified;
	ck_assert_msg(book_verify(s->book, 0, &verified, &s->why), "%s", s->why.text);
	ck_assert_str_eq(verified.difference, "");
}

static void sight(struct shelf *s, const char *kind, const char *station, const char *reading,
                  const char *distance)
{
	struct work_typed typed = {.text[WORK_SIGHT] = kind,
	                           .text[WORK_STATION] = station,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_DISTANCE] = distance};
	struct work_booked booked;
	ck_assert_msg(work_book_sight(s->book, "over", &typed, &booked, &s->why), "%s",
	              s->why.text);
	shelf_take(s, s->run.info.id);
}

static void begin(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "over", LEVEL_CROSSING);
	ck_assert(book_water_add(s->book, 1, "E", "0.4", "", "", &s->why));
	ck_assert(book_water_add(s->book, 1, "W", "0.4", "", "", &s->why));
	sight(s, "BS", "E", "1.500", "5");
}

START_TEST(test_asked)
{
	struct shelf s;
	struct book_seal *seals;
	size_t count;
	begin(&s);
	ck_assert_msg(book_seal(s.book, &s.run, &s.why), "%s", s.why.text);
	shelf_take(&s, 1);
	ck_assert(!book_seal(s.book, &s.run, &s.why));
	FAULT(&s, FAULT_INPUT, "sealed already");
	/* a setting that is chosen after that changes nothing of it */
	ck_assert(book_set(s.book, "k", "2", &s.why));
	shelf_take(&s, 1);
	sight(&s, "FS", "W", "1.560", "800");
	ck_assert(book_seals(s.book, 1, &seals, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(seals[0].asked && !seals[0].late && !seals[0].imported);
	free(seals);
	assert_verified(&s);
	shelf_begin(&s, "ring", LEVEL_LOOP);
	ck_assert(!book_seal(s.book, &s.run, &s.why));
	FAULT(&s, FAULT_INPUT, "crossing");
	shelf_close(&s);
}
END_TEST

/* With a long sight booked before, which seals it, nothing is left to ask for; with one that seals
 * nothing, an unequal setup whose distances were not long, the seal says that it is late. */
START_TEST(test_late)
{
	struct shelf s;
	struct book_seal *seals;
	size_t count;
	begin(&s);
	sight(&s, "FS", "W", "1.560", "800");
	ck_assert(!book_seal(s.book, &s.run, &s.why));
	shelf_close(&s);
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_OPEN);
	sight(&s, "BS", "E", "1.500", "5");
	sight(&s, "FS", "W", "1.560", "800");
	ck_assert(book_run_set_kind(s.book, 1, LEVEL_CROSSING, &s.why));
	shelf_take(&s, 1);
	if (book_seals(s.book, 1, &seals, &count, &s.why) && count == 0) {
		ck_assert(book_seal(s.book, &s.run, &s.why));
		free(seals);
		ck_assert(book_seals(s.book, 1, &seals, &count, &s.why));
	}
	ck_assert(seals[0].late);
	free(seals);
	assert_verified(&s);
	shelf_close(&s);
}
END_TEST

START_TEST(test_blind)
{
	struct shelf s;
	struct work_run run;
	struct book_terms terms;
	struct level_run with;
	struct level_page page = {0};
	struct level_closing c;
	char text[200];
	begin(&s);
	ck_assert(!book_set(s.book, "blind", "perhaps", &s.why));
	ck_assert(book_set(s.book, "blind", "yes", &s.why));
	shelf_take(&s, 1);
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	/* a draft that would show a drop */
	with = s.run.run;
	with.sight = malloc(2 * sizeof *with.sight);
	ck_assert_ptr_nonnull(with.sight);
	with.sight[0] = s.run.run.sight[0];
	with.sight[1] = s.run.run.sight[0];
	with.sight[1].kind = LEVEL_FS;
	with.sight[1].reading = 1560000000;
	with.sight[1].distance = 800 * LEVEL_NM_PER_M;
	strcpy(with.sight[1].station, "W");
	with.sight[1].water_count = 1;
	with.sight[1].water = 400000000;
	with.sight[0].water_count = 1;
	with.sight[0].water = 400000000;
	with.count = 2;
	ck_assert(level_reduce(&with, 0, &terms.terms, &page));
	ck_assert(work_run_load(s.book, "over", NULL, &run, &s.why));
	c = level_close(&with, &page, &terms.terms, &run.settings.tolerance, 0);
	ck_assert(c.has_observed && c.has_misclosure);
	ck_assert_double_eq_tol(c.observed, 0.06, 1e-9);
	work_hide(&run.settings, &terms, LEVEL_CROSSING, &c);
	ck_assert(!c.has_observed && !c.has_misclosure && c.observed == 0 && c.misclosure == 0);
	ck_assert_str_eq(level_no_answer_code(c.finding.none), "hidden");
	ck_assert_double_eq_tol(c.margin, c.separation - c.allowance.decides, 1e-12);
	report_no_answer(&c, text, sizeof text);
	ck_assert(strstr(text, "hidden") != NULL);
	/* not where it is sealed, nor of another run, nor where nobody asked */
	c.has_observed = true;
	terms.sealed = true;
	work_hide(&run.settings, &terms, LEVEL_CROSSING, &c);
	ck_assert(c.has_observed);
	terms.sealed = false;
	work_hide(&run.settings, &terms, LEVEL_LOOP, &c);
	ck_assert(c.has_observed);
	run.settings.blind = false;
	work_hide(&run.settings, &terms, LEVEL_CROSSING, &c);
	ck_assert(c.has_observed);
	work_run_free(&run);
	level_page_free(&page);
	free(with.sight);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("seal_asked", test_asked, test_late, test_blind);
}
