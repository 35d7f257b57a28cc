/* A station, or a word of a remark, looked for in all runs of a book: expected by eye. */
#include "rodbook/work/find.h"
#include "unit/books.h"
#include "unit/suite.h"

/* Pairs of small and capital letters are those of Unicode's CaseFolding.txt, recalled. */
START_TEST(test_words)
{
	static const struct {
		const char *text, *part;
		bool holds;
	} cases[] = {
	    {"STONE", "stone", true},
	    {"by the Oak root", "oak", true},
	    {"by the oak root", "OAK R", true},
	    {"TP12", "tp1", true},
	    {"TP12", "TP2", false},
	    {"", "a", false},
	    {"abab", "aba", true},
	    {"aab", "ab", true},
	    {"Mühle", "MÜHLE", true},
	    {"ČERNÝ MOST", "černý", true},
	    {"Źródło", "źRÓD", true},
	    {"ΑΒΓ", "αβγ", true},
	    {"ДОМ", "дом", true},
	    {"ЁЛКА", "ёлка", true},
	    {"3 × 5", "3 ÷ 5", false},
	    {"3 µm", "μM", true},
	    {"ſand", "SAND", true},
	    {"stone", "stones", false},
	    {"a[b", "a{b", false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		ck_assert_msg(level_holds_text(cases[i].text, cases[i].part) == cases[i].holds,
		              "%s in %s", cases[i].part, cases[i].text);
}
END_TEST

static bool remarked(struct shelf *s, enum level_kind kind, const char *station, const char *remark)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, kind, station, "1.5", &sight, &note));
	strcpy(note.remark, remark);
	if (!book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static void two_runs(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "north", LEVEL_OPEN);
	ck_assert(remarked(s, LEVEL_BS, "GATE", "south post"));
	ck_assert(remarked(s, LEVEL_FS, "TP1", "by the Oak"));
	ck_assert(remarked(s, LEVEL_BS, "TP1", ""));
	ck_assert(remarked(s, LEVEL_IS, "oak root", ""));
	ck_assert(remarked(s, LEVEL_FS, "SILL", ""));
	shelf_begin(s, "south", LEVEL_OPEN);
	ck_assert(remarked(s, LEVEL_BS, "SILL", ""));
	ck_assert(remarked(s, LEVEL_IS, "OAK", ""));
	ck_assert(shelf_strike(s, 1));
}

START_TEST(test_find)
{
	struct shelf s;
	struct work_finds f;
	two_runs(&s);
	ck_assert(work_find(s.book, "oak", 10, &f, &s.why));
	ck_assert_uint_eq(f.count, 3);
	ck_assert_uint_eq(f.left, 0);
	ck_assert_uint_eq(f.unreadable, 0);
	ck_assert_str_eq(f.find[0].run, "north");
	ck_assert_str_eq(f.find[0].station, "TP1");
	ck_assert_str_eq(f.find[0].remark, "by the Oak");
	ck_assert_int_eq(f.find[0].kind, LEVEL_FS);
	ck_assert_int_eq(f.find[0].setup, 1);
	ck_assert_uint_eq(f.find[0].row, 1);
	ck_assert_int_eq(f.find[0].state, WORK_COUNTS);
	ck_assert_str_eq(f.find[1].station, "oak root");
	ck_assert_int_eq(f.find[1].setup, 2);
	/* a struck sight is found, and said to be struck */
	ck_assert_str_eq(f.find[2].run, "south");
	ck_assert_str_eq(f.find[2].station, "OAK");
	ck_assert_int_eq(f.find[2].state, WORK_STRUCK);
	ck_assert_int_eq(f.find[2].setup, 0);
	ck_assert_int_eq(f.find[2].run_id, s.run.info.id);
	ck_assert_int_eq(f.find[2].sight, s.run.run.sight[1].id);
	work_finds_free(&f);
	/* blanks at its ends do not count */
	ck_assert(work_find(s.book, " sill ", 10, &f, &s.why));
	ck_assert_uint_eq(f.count, 2);
	work_finds_free(&f);
	ck_assert(work_find(s.book, "barn", 10, &f, &s.why));
	ck_assert_uint_eq(f.count, 0);
	work_finds_free(&f);
	/* no more than are asked for */
	ck_assert(work_find(s.book, "oak", 2, &f, &s.why));
	ck_assert_uint_eq(f.count, 2);
	ck_assert_uint_eq(f.left, 1);
	work_finds_free(&f);
	shelf_close(&s);
}
END_TEST

/* A changed sight keeps its row, which says that another one stands for it. */
START_TEST(test_changed)
{
	struct shelf s;
	struct work_finds f;
	two_runs(&s);
	ck_assert(shelf_change(&s, 0, LEVEL_BS, "STEP", "1.5"));
	ck_assert(work_find(s.book, "sill", 10, &f, &s.why));
	ck_assert_uint_eq(f.count, 2);
	ck_assert_int_eq(f.find[1].state, WORK_CHANGED);
	work_finds_free(&f);
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	struct shelf s;
	struct work_finds f;
	two_runs(&s);
	ck_assert(!work_find(s.book, "  ", 10, &f, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	ck_assert_str_eq(s.why.field, "text");
	ck_assert(!work_find(s.book, "a\x1b[2J", 10, &f, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("find", test_words, test_find, test_changed, test_refused);
}
