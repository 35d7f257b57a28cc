/* Seals are worked out anew from the journal: one that was altered, or came too late and does not
 * say so, is found; and what no amendment is. */
#include "books.h"
#include "fault/forge.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/journal.h"
#include "suite.h"

/* Entries: 1 unit, 2 k, 3 dk_low, 4 dk_high, 5 run a, 6 BS, 7 FS of 800 m and 8 the seal that comes
 * with it; 9 run b, a loop, 10 BS, 11 FS of 800 m, 12 made a crossing and 13 its late
 * seal, 14 BS. */
static void make(struct shelf *s)
{
	struct book_seal *seals;
	size_t count;
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "k", "0.2", &s->why));
	ck_assert(book_set(s->book, "dk_low", "0.4", &s->why));
	ck_assert(book_set(s->book, "dk_high", "0.6", &s->why));
	shelf_begin(s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "B", "1.6", "800", ""));
	shelf_begin(s, "b", LEVEL_OPEN);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "20", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_CROSSING, &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(shelf_sight(s, LEVEL_BS, "B", "1.6", "20", ""));
	ck_assert(book_seals(s->book, s->run.info.id, &seals, &count, &s->why));
	ck_assert(count == 1 && seals[0].late);
	free(seals);
}

#define BOTH(set, json, row)                                                                       \
	"UPDATE seal SET " set " WHERE id = " row "; UPDATE journal SET after = json_set(after, "  \
	"'$." json "', (SELECT " json " FROM seal WHERE id = " row                                 \
	")) WHERE tbl = 'seal' AND row "                                                           \
	"= '" row "'"

START_TEST(test_altered)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {"SELECT 1", ""},
	    {BOTH("figures = replace(figures, 'k' || char(9) || '0.2', 'k' || char(9) || '0.3')",
	          "figures", "1"),
	     "entry 8: the seal of run a differs from the figures that settings, plan, instruments "
	     "and air gave "
	     "at that entry, first at \"3\""},
	    {BOTH("figures = figures || 'more' || char(9) || '1' || char(10)", "figures", "1"),
	     "entry 8: the seal of run a differs from the figures that settings, plan, instruments "
	     "and air gave "
	     "at that entry, first at \"more<U+0009>1\""},
	    {BOTH("late = 0", "late", "2"),
	     "entry 13: the seal of run b came after a sight that could show a drop, and does not "
	     "say so"},
	    /* late without need is said too early, and harms nobody */
	    {BOTH("late = 1", "late", "1"), ""},
	    {"UPDATE journal SET act = 'amend' WHERE seq = 8",
	     "entry 8, of seal: rodbook seals a run once; each later change is an amendment with a "
	     "reason"},
	    {"UPDATE journal SET act = 'seals' WHERE seq = 8",
	     "entry 8, of seal: rodbook seals a run once; each later change is an amendment with a "
	     "reason"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(s.book != NULL, "%s", s.why.text);
		ck_assert_msg(book_verify(s.book, 0, &out, &s.why), "%s: %s", cases[i].sql,
		              s.why.text);
		ck_assert_msg(strcmp(out.difference, cases[i].says) == 0, "%s\nsays \"%s\"",
		              cases[i].sql, out.difference);
		shelf_close(&s);
	}
}
END_TEST

START_TEST(test_amended)
{
	struct shelf s;
	struct book_terms terms;
	struct book_seal *seals;
	size_t count;
	make(&s);
	shelf_take(&s, 1);
	/* dk is both of its sides, where the seal has them */
	ck_assert_msg(book_amend(s.book, &s.run, "dk", "0.9", "haze", &s.why), "%s", s.why.text);
	shelf_take(&s, 1);
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq_tol(terms.terms.dk_low, 0.9, 1e-12);
	ck_assert_double_eq_tol(terms.terms.dk_high, 0.9, 1e-12);
	ck_assert_uint_eq(terms.amendments, 1);
	ck_assert(book_amend(s.book, &s.run, "dk_low", "0.7", "less", &s.why));
	shelf_take(&s, 1);
	ck_assert(book_run_terms(s.book, &s.run, &terms, &s.why));
	ck_assert_double_eq_tol(terms.terms.dk_low, 0.7, 1e-12);
	ck_assert_double_eq_tol(terms.terms.dk_high, 0.9, 1e-12);
	ck_assert_uint_eq(terms.amendments, 2);
	ck_assert(book_seals(s.book, 1, &seals, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_str_eq(seals[0].why, "");
	ck_assert_str_eq(seals[1].why, "haze");
	ck_assert_str_eq(seals[2].why, "less");
	ck_assert(!seals[2].late && !seals[2].asked && !seals[2].imported);
	free(seals);
	shelf_close(&s);
}
END_TEST

START_TEST(test_no_amendment)
{
	static const struct {
		const char *name, *value, *reason, *words;
	} cases[] = {
	    {"k", "0.3", "", "an amendment needs a reason: say why"},
	    {"k", "0.3", "a\x1b", "control"},
	    {"k", "", "haze", "an amendment gives a value"},
	    {"k", "red", "haze", "red"},
	    {"color", "0.3", "haze", "color is no figure that was sealed"},
	    {"title", "0.3", "haze", "title is no figure that was sealed"},
	    {"instrument L9", "0.3 mm/m", "haze", "is no figure that was sealed"},
	};
	struct shelf s;
	char reason[LEVEL_REMARK_BYTES + 4];
	make(&s);
	shelf_take(&s, 1);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(!book_amend(s.book, &s.run, cases[i].name, cases[i].value,
		                          cases[i].reason, &s.why),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	/* a reason of 110 characters has room behind "amended: ", one of 111 has none */
	memset(reason, 'a', sizeof reason);
	reason[111] = '\0';
	ck_assert(!book_amend(s.book, &s.run, "k", "0.3", reason, &s.why));
	ck_assert_str_eq(s.why.field, "reason");
	reason[110] = '\0';
	ck_assert_msg(book_amend(s.book, &s.run, "k", "0.3", reason, &s.why), "%s", s.why.text);
	/* and of the run as it was before */
	ck_assert(!book_amend(s.book, &s.run, "k", "0.4", "haze", &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_STALE);
	shelf_begin(&s, "c", LEVEL_CROSSING);
	ck_assert(!book_amend(s.book, &s.run, "k", "0.4", "haze", &s.why));
	FAULT(&s, FAULT_INPUT, "this run is not sealed yet");
	shelf_begin(&s, "d", LEVEL_LOOP);
	ck_assert(!book_amend(s.book, &s.run, "k", "0.4", "haze", &s.why));
	FAULT(&s, FAULT_INPUT, "only the figures of a crossing are sealed");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("resealed", test_altered, test_amended, test_no_amendment);
}
