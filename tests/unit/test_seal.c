/* The seal on a crossing's figures: when it comes, what it holds, and what amends it. */
#include <math.h>

#include "books.h"
#include "rodbook/book/crossing.h"
#include "suite.h"

static size_t seals(struct shelf *s, struct book_seal *first, struct book_seal *last)
{
	struct book_seal *list;
	size_t count;
	ck_assert_msg(book_seals(s->book, s->run.info.id, &list, &count, &s->why), "%s",
	              s->why.text);
	if (count && first)
		*first = list[0];
	if (count && last)
		*last = list[count - 1];
	free(list);
	return count;
}

static struct book_terms terms_of(struct shelf *s)
{
	struct book_terms out;
	ck_assert_msg(book_run_terms(s->book, &s->run, &out, &s->why), "%s", s->why.text);
	return out;
}

/* Settings count until the first long sight; from then on what they were then. */
START_TEST(test_first_long_sight_seals)
{
	struct shelf s;
	struct book_seal seal;
	char value[BOOK_VALUE_BYTES];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert_uint_eq(seals(&s, NULL, NULL), 0);
	ck_assert_double_eq(terms_of(&s).terms.k, 0.2);
	ck_assert(book_set(s.book, "k", "0.25", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_double_eq(terms_of(&s).terms.k, 0.25);
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert_uint_eq(seals(&s, &seal, NULL), 1);
	ck_assert(!seal.late);
	ck_assert_str_eq(seal.why, "");
	ck_assert_str_eq(seal.time, "2026-05-04T09:30:00+02:00");
	ck_assert(book_figure(&seal.figures, "k", value));
	ck_assert_str_eq(value, "0.25");
	ck_assert(book_figure(&seal.figures, "strike_rule", value));
	ck_assert(book_set(s.book, "k", "0.9", &s.why));
	ck_assert(book_set(s.book, "instrument", "1 mm/m", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(terms_of(&s).sealed);
	ck_assert_double_eq(terms_of(&s).terms.k, 0.25);
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[0].tolerance, 0.0001, 1e-12);
	shelf_close(&s);
}
END_TEST

/* The long sight may be the BS; a short canal is sealed by its first unequal setup; balanced setups
 * on the way to the shore seal nothing, nor does any other kind of run. */
START_TEST(test_what_seals)
{
	static const struct {
		enum level_run_kind kind;
		const char *bs, *fs;
		size_t after_bs, after_fs;
	} cases[] = {
	    {LEVEL_CROSSING, "100", "5", 1, 1}, {LEVEL_CROSSING, "99", "90", 0, 0},
	    {LEVEL_CROSSING, "5", "15", 0, 0},  {LEVEL_CROSSING, "5", "15.1", 0, 1},
	    {LEVEL_CROSSING, "", "20", 0, 1},   {LEVEL_CROSSING, "30", "30", 0, 0},
	    {LEVEL_LOOP, "5", "800", 0, 0},     {LEVEL_OPEN, "900", "5", 0, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", cases[i].kind);
		ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", cases[i].bs, ""));
		ck_assert_uint_eq(seals(&s, NULL, NULL), cases[i].after_bs);
		ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", cases[i].fs, ""));
		ck_assert_uint_eq(seals(&s, NULL, NULL), cases[i].after_fs);
		shelf_close(&s);
	}
}
END_TEST

/* What was typed in afterwards, or became a crossing afterwards, is sealed late, and says so. */
START_TEST(test_late)
{
	struct shelf s;
	struct work_taken counts;
	struct book_run_info info;
	struct book_seal seal;
	shelf_open(&s, LEVEL_M);
	ck_assert(shelf_import(&s,
	                       "run,kind,sight,station,reading,distance\n"
	                       "x,crossing,BS,A,1.5,20\nx,crossing,FS,B,1.6,800\n",
	                       &counts));
	ck_assert(book_run_find(s.book, "x", &info, &s.why));
	shelf_take(&s, info.id);
	ck_assert_uint_eq(seals(&s, &seal, NULL), 1);
	ck_assert(seal.late);
	ck_assert(terms_of(&s).late);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert(book_run_set_kind(s.book, s.run.info.id, LEVEL_CROSSING, &s.why));
	ck_assert_uint_eq(seals(&s, &seal, NULL), 1);
	ck_assert(seal.late);
	shelf_close(&s);
}
END_TEST

/* Figures that were changed once a drop had been shown are sealed late; others are not. */
START_TEST(test_late_by_what_was_seen)
{
	for (int changed = 0; changed < 2; changed++) {
		struct shelf s;
		struct book_seal seal;
		struct book_terms terms;
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_CROSSING);
		ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
		terms = terms_of(&s);
		book_drop_seen(s.book, s.run.info.id, &terms.k);
		if (changed) { /* it stays seen as it was at first */
			ck_assert(book_set(s.book, "dk", "0.1", &s.why));
			shelf_take(&s, s.run.info.id);
			terms = terms_of(&s);
			book_drop_seen(s.book, s.run.info.id, &terms.k);
		}
		ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
		ck_assert_uint_eq(seals(&s, &seal, NULL), 1);
		ck_assert_int_eq(seal.late, changed);
		shelf_close(&s);
	}
}
END_TEST

/* A long sight that was there without a seal, as in a book of an older program: what seals the run
 * then is late. */
START_TEST(test_late_by_a_later_sight)
{
	struct shelf s;
	struct book_seal seal;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(book_set(s.book, "long_sight", "900 m", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "800", ""));
	ck_assert_uint_eq(seals(&s, NULL, NULL), 0);
	ck_assert(book_set(s.book, "long_sight", "100 m", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "20", ""));
	ck_assert_uint_eq(seals(&s, &seal, NULL), 1);
	ck_assert(seal.late);
	shelf_close(&s);
}
END_TEST

/* Taking the long sight back does not unseal: it was looked at. */
START_TEST(test_undo_keeps_the_seal)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1.5");
	ck_assert_uint_eq(seals(&s, NULL, NULL), 1);
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "");
	ck_assert_uint_eq(seals(&s, NULL, NULL), 1);
	ck_assert(!shelf_undo(&s));
	FAULT(&s, FAULT_INPUT, "nothing is left");
	shelf_close(&s);
}
END_TEST

START_TEST(test_amend)
{
	struct shelf s;
	struct book_seal first, last;
	char value[BOOK_VALUE_BYTES];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(!book_amend(s.book, &s.run, "k", "0.2", "why", &s.why));
	FAULT(&s, FAULT_INPUT, "not sealed yet");
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "800", ""));
	ck_assert(!book_amend(s.book, &s.run, "k", "0.2", "", &s.why));
	FAULT(&s, FAULT_INPUT, "needs a reason");
	ck_assert(!book_amend(s.book, &s.run, "k", "many", "why", &s.why));
	FAULT(&s, FAULT_INPUT, "k is a number");
	ck_assert(!book_amend(s.book, &s.run, "color", "red", "why", &s.why));
	FAULT(&s, FAULT_INPUT, "is no figure that");
	ck_assert(!book_amend(s.book, &s.run, "k_source", "the air", "label", &s.why));
	FAULT(&s, FAULT_INPUT, "is no figure that");
	ck_assert(book_amend(s.book, &s.run, "k", "0.2", "a colder morning", &s.why));
	shelf_take(&s, s.run.info.id);
	/* a bare length keeps the unit that it was typed in */
	ck_assert(book_amend(s.book, &s.run, "water", "0.006", "a wind came up", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(seals(&s, &first, &last), 3);
	ck_assert(book_figure(&first.figures, "k", value));
	ck_assert_str_eq(value, "0.13");
	ck_assert(book_figure(&last.figures, "k", value));
	ck_assert_str_eq(value, "0.2");
	ck_assert(book_figure(&last.figures, "water", value));
	ck_assert_str_eq(value, "0.006 m");
	ck_assert_str_eq(last.why, "a wind came up");
	ck_assert_uint_eq(terms_of(&s).amendments, 2);
	ck_assert_double_eq(terms_of(&s).terms.k, 0.2);
	ck_assert_double_eq(terms_of(&s).terms.water, 0.006);
	/* and no plan can be slipped under what is sealed */
	ck_assert(!book_run_set_plan(s.book, s.run.info.id, "", &s.why));
	FAULT(&s, FAULT_INPUT, "sealed");
	shelf_close(&s);
}
END_TEST

/* The k that makes prediction and drop meet is a result of the drop, not its prediction. Here
 * D = 1.6 - 1.5 = 0.1 over S = 800^2 - 20^2 = 639 600 m^2: k = (S/2R - D) 2R/S
 * = 1 - 0.1 x 12 742 000/639 600 = -0.992 183. */
START_TEST(test_own_k)
{
	struct shelf s;
	struct work_run run;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert(work_run_load(s.book, "a", NULL, &run, &s.why));
	ck_assert_double_eq_tol(run.closing.finding.k_needed, -0.992183, 1e-6);
	ck_assert(!book_amend(s.book, &run.book, "k", "-0.992", "it fits", &s.why));
	FAULT(&s, FAULT_INPUT, "cannot be its prediction");
	ck_assert(book_amend(s.book, &run.book, "k", "-0.5", "warm water", &s.why));
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* An instrument that comes into use after the seal brings its figures as an amendment. */
START_TEST(test_instruments)
{
	struct shelf s;
	struct book_seal last;
	struct book_instrument first = {.name = "L1", .tolerance = "0.05 mm/m"};
	struct book_instrument second = {
	    .name = "L2", .tolerance = "0.2 mm/m", .tilt = "-0.010 mm/m", .tilt_u = "0.002 mm/m"};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(s.book, &first, &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", "L1"));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", "L1"));
	ck_assert_uint_eq(seals(&s, NULL, NULL), 1);
	ck_assert_int_eq(s.run.run.sight[0].instrument, 1);
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[1].tolerance, 0.00005, 1e-12);
	/* another tolerance given later changes nothing here */
	strcpy(first.tolerance, "1 mm/m");
	ck_assert(book_instrument_set(s.book, &first, &s.why));
	ck_assert(book_instrument_set(s.book, &second, &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[1].tolerance, 0.00005, 1e-12);
	ck_assert(shelf_sight(&s, LEVEL_BS, "B", "1.5", "800", "L2"));
	ck_assert_uint_eq(seals(&s, NULL, &last), 2);
	ck_assert_str_eq(last.why, "an instrument came into use");
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[1].tolerance, 0.00005, 1e-12);
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[2].tolerance, 0.0002, 1e-12);
	ck_assert(terms_of(&s).terms.instrument[2].tested);
	ck_assert_double_eq_tol(terms_of(&s).terms.instrument[2].tilt, -0.00001, 1e-12);
	shelf_close(&s);
}
END_TEST

/* Figures are known by their whole names: an instrument may be called like what says where a figure
 * is from. */
START_TEST(test_an_instrument_called_source)
{
	struct shelf s;
	struct book_instrument one = {.name = "L", .tolerance = "0.2 mm/m"};
	struct book_instrument other = {.name = "L_source", .tolerance = "0.1 mm/m"};
	struct book_seal last;
	struct work_run run;
	char value[BOOK_VALUE_BYTES], *text = NULL;
	size_t size;
	FILE *out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(s.book, &one, &s.why));
	ck_assert(book_instrument_set(s.book, &other, &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", "L"));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", "L"));
	ck_assert(book_amend(s.book, &s.run, "instrument L", "0.3 mm/m", "read anew", &s.why));
	seals(&s, NULL, &last);
	ck_assert(book_figure(&last.figures, "instrument L_source", value));
	ck_assert_str_eq(value, "0.1 mm/m");
	shelf_take(&s, s.run.info.id);
	ck_assert(book_amend(s.book, &s.run, "instrument L_source", "0.5 mm/m", "so too", &s.why));
	ck_assert_msg(work_run_load(s.book, "a", NULL, &run, &s.why), "%s", s.why.text);
	out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(report_drop(out, s.book, &run, false, &s.why), "%s", s.why.text);
	fclose(out);
	ck_assert_msg(strstr(text, "instrument L_source: 0.5 mm/m, before 0.1 mm/m") != NULL, "%s",
	              text);
	free(text);
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* Figures are lines of name and value. */
START_TEST(test_figures)
{
	struct book_figures figures = {0};
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	struct fault why = {0};
	ck_assert(!book_figure(&figures, "k", value));
	ck_assert_str_eq(value, "");
	ck_assert(book_figure_put(&figures, "k", "0.13", &why));
	ck_assert(book_figure_put(&figures, "dk", "0.5", &why));
	ck_assert(book_figure_put(&figures, "tilt A B", "0.1 mm/m", &why));
	ck_assert(book_figure_put(&figures, "k", "-0.2", &why));
	ck_assert_str_eq(figures.text, "k\t-0.2\ndk\t0.5\ntilt A B\t0.1 mm/m\n");
	ck_assert(book_figure(&figures, "tilt A B", value));
	ck_assert_str_eq(value, "0.1 mm/m");
	ck_assert(!book_figure(&figures, "tilt A", value));
	ck_assert(book_figure_put(&figures, "dk", "", &why));
	ck_assert_str_eq(figures.text, "k\t-0.2\ntilt A B\t0.1 mm/m\n");
	ck_assert(book_figure_at(&figures, 1, name, value));
	ck_assert_str_eq(name, "tilt A B");
	ck_assert(!book_figure_at(&figures, 2, name, value));
	/* no line can be smuggled in, and there is an end to the room */
	ck_assert(!book_figure_put(&figures, "k", "0\nflow\tstill", &why));
	for (int i = 0; i < 200; i++) {
		snprintf(name, sizeof name, "declared_%d", i);
		if (!book_figure_put(&figures, name, "0123456789012345678901234567890123456789",
		                     &why))
			break;
	}
	ck_assert_ptr_nonnull(strstr(why.text, "no room"));
	ck_assert_uint_lt(strlen(figures.text), BOOK_FIGURES_BYTES);
}
END_TEST

/* A seal has the figures of all instruments: one more than it has room for would leave no page of
 * the book to be shown, and cannot be taken away again. */
START_TEST(test_room_for_instruments)
{
	struct shelf s;
	struct book_terms terms;
	struct work_taken counts = {0};
	char rows[20000] = "book,3\ncolumns,instrument,id,name,tolerance,time\n";
	int given = 0;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	for (bool ok = true; ok && given < 400; given += ok) {
		struct book_instrument level = {
		    .tolerance = "0.1 mm/m", .tilt = "+0.012345 mm/m", .tilt_u = "0.001234 mm/m"};
		snprintf(level.name, sizeof level.name, "level number %d", given);
		ok = book_instrument_set(s.book, &level, &s.why);
	}
	ck_assert_int_gt(given, 15);
	ck_assert_int_lt(given, 400);
	FAULT(&s, FAULT_INPUT, "no room for another instrument");
	shelf_take(&s, s.run.info.id);
	ck_assert_msg(book_run_terms(s.book, &s.run, &terms, &s.why), "%s", s.why.text);
	shelf_close(&s);
	for (int i = 0; i < 400; i++)
		sprintf(rows + strlen(rows), "row,instrument,%d,level %d,0.1 mm/m,\n", i + 1, i);
	shelf_open(&s, LEVEL_M);
	ck_assert(!shelf_import(&s, rows, &counts));
	FAULT(&s, FAULT_INPUT, "no room for another instrument");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("seal", test_first_long_sight_seals, test_what_seals, test_late,
	                 test_late_by_what_was_seen, test_late_by_a_later_sight,
	                 test_undo_keeps_the_seal, test_amend, test_own_k, test_instruments,
	                 test_an_instrument_called_source, test_figures, test_room_for_instruments);
}
