/* What goes along with runs that come from another book: what they name, and nothing else. By hand.
 */
#include "rodbook/work/copy.h"

#include "books.h"
#include "rodbook/book/journal.h"
#include "suite.h"

static void level(struct shelf *s, const char *name)
{
	struct book_instrument level = {.tolerance = "0.1 mm/m"};
	struct book_pegtest test = {.standings = "30,1.500,30,1.250; 5,1.500,55,1.250"};
	struct level_peg_result result;
	snprintf(level.name, sizeof level.name, "%s", name);
	snprintf(test.instrument, sizeof test.instrument, "%s", name);
	ck_assert_msg(book_instrument_set(s->book, &level, &s->why), "%s", s->why.text);
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
}

static void run(struct shelf *s, const char *name, const char *from, const char *to,
                const char *instrument)
{
	shelf_begin(s, name, LEVEL_OPEN);
	ck_assert_msg(shelf_sight(s, LEVEL_BS, from, "1.5", "30", instrument), "%s", s->why.text);
	ck_assert_msg(shelf_sight(s, LEVEL_FS, to, "1.4", "30", instrument), "%s", s->why.text);
}

/* Two runs that share no mark and no level, and a mark that neither names. */
static void source(struct shelf *s)
{
	struct book_figures figures = {0};
	static const char *const marks[] = {"GATE", "LONE", "OAK", "STONE"};
	shelf_open(s, LEVEL_M);
	for (size_t i = 0; i < 4; i++)
		ck_assert(book_mark_set(s->book, marks[i], "10", "1 mm", NULL, &s->why));
	/* given another elevation, so that there is a struck one too */
	ck_assert(book_mark_set(s->book, "LONE", "11", NULL, NULL, &s->why));
	level(s, "L1");
	level(s, "L2");
	run(s, "bank", "STONE", "TP1", "L1");
	run(s, "hill", "OAK", "GATE", "L2");
	ck_assert(book_figure_put(&figures, "hi", "1.6 m", &s->why));
	ck_assert(book_plan_set(s->book, "cut", &figures, &s->why));
	ck_assert(book_plan_set(s->book, "never", &figures, &s->why));
	/* a run keeps its plan while it is made another kind */
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_CROSSING, &s->why));
	ck_assert_msg(book_run_set_plan(s->book, s->run.info.id, "cut", &s->why), "%s",
	              s->why.text);
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_OPEN, &s->why));
}

static bool copied(struct shelf *to, struct shelf *from, const char *const *names, size_t count,
                   struct work_taken *counts)
{
	return work_copy_runs(to->book, from->book, from->path, names, count, counts, &to->why);
}

/* The names of what the book has, each with a blank behind it. */
static void holds(struct shelf *s, const char *runs, const char *marks, const char *levels)
{
	struct book_run_info *run;
	struct book_mark *mark;
	struct book_instrument *instrument;
	size_t count;
	char text[400] = "";
#define JOINED(list, wanted)                                                                       \
	do {                                                                                       \
		text[0] = '\0';                                                                    \
		for (size_t i = 0; i < count; i++) {                                               \
			strcat(text, list[i].name);                                                \
			strcat(text, " ");                                                         \
		}                                                                                  \
		ck_assert_str_eq(text, wanted);                                                    \
		free(list);                                                                        \
	} while (0)
	ck_assert(book_runs(s->book, &run, &count, &s->why));
	JOINED(run, runs);
	ck_assert(book_marks(s->book, &mark, &count, &s->why));
	JOINED(mark, marks);
	ck_assert(book_instruments(s->book, &instrument, &count, &s->why));
	JOINED(instrument, levels);
}

static size_t tests_of(struct shelf *s, const char *instrument)
{
	struct book_pegtest *tests;
	size_t count;
	ck_assert(book_pegtests(s->book, instrument, &tests, &count, &s->why));
	free(tests);
	return count;
}

START_TEST(test_one_run)
{
	struct book_plan plan;
	static const char *const hill[] = {"hill"}, *const bank[] = {"bank"};
	struct shelf from, to;
	struct work_taken counts;
	source(&from);
	shelf_open(&to, LEVEL_M);
	ck_assert_msg(copied(&to, &from, hill, 1, &counts), "%s", to.why.text);
	ck_assert_uint_eq(counts.runs, 1);
	ck_assert_uint_eq(counts.sights, 2);
	ck_assert_uint_eq(counts.marks, 2);
	holds(&to, "hill ", "GATE OAK ", "L2 ");
	ck_assert_uint_eq(tests_of(&to, "L2"), 1);
	ck_assert_uint_eq(tests_of(&to, "L1"), 0);
	ck_assert(book_plan_find(to.book, "cut", &plan, &to.why));
	ck_assert(!book_plan_find(to.book, "never", &plan, &to.why));
	shelf_take(&to, 1);
	COUNTED(&to, "BS OAK 1.5, FS GATE 1.4");
	/* the other one comes after it */
	ck_assert_msg(copied(&to, &from, bank, 1, &counts), "%s", to.why.text);
	ck_assert_uint_eq(counts.marks, 1);
	holds(&to, "hill bank ", "GATE OAK STONE ", "L2 L1 ");
	shelf_close(&to);
	shelf_close(&from);
}
END_TEST

START_TEST(test_all_at_once)
{
	static const char *const both[] = {"bank", "hill"};
	struct shelf from, to;
	struct work_taken counts;
	source(&from);
	shelf_open(&to, LEVEL_M);
	ck_assert_msg(copied(&to, &from, both, 2, &counts), "%s", to.why.text);
	ck_assert_uint_eq(counts.runs, 2);
	ck_assert_uint_eq(counts.sights, 4);
	holds(&to, "bank hill ", "GATE OAK STONE ", "L1 L2 ");
	shelf_close(&to);
	shelf_close(&from);
}
END_TEST

static bool take_act(const struct book_entry *entry, void *act)
{
	strcpy(act, entry->act);
	return true;
}

/* The journal names the file that they came from, without its folder; "-" is no file. */
static void came_from(const char *path, const char *act)
{
	static const char *const hill[] = {"hill"};
	const struct book_journal_order all = {0};
	char last[400] = "";
	struct shelf from, to;
	struct work_taken counts;
	source(&from);
	shelf_open(&to, LEVEL_M);
	ck_assert_msg(work_copy_runs(to.book, from.book, path, hill, 1, &counts, &to.why), "%s",
	              to.why.text);
	ck_assert(book_journal(to.book, &all, take_act, last, &to.why));
	ck_assert_str_eq(last, act);
	shelf_close(&to);
	shelf_close(&from);
}

START_TEST(test_origin)
{
	came_from("/far/off/north.rodbook", "import from north.rodbook");
	came_from("north.rodbook", "import from north.rodbook");
	came_from("-", "import");
}
END_TEST

/* Without names, the marks that count. */
START_TEST(test_marks)
{
	struct shelf from, to;
	struct work_taken counts;
	source(&from);
	shelf_open(&to, LEVEL_M);
	ck_assert_msg(copied(&to, &from, NULL, 0, &counts), "%s", to.why.text);
	ck_assert_uint_eq(counts.runs, 0);
	ck_assert_uint_eq(counts.marks, 4);
	/* the same ones again are there already */
	ck_assert_msg(copied(&to, &from, NULL, 0, &counts), "%s", to.why.text);
	ck_assert_uint_eq(counts.marks, 0);
	holds(&to, "", "GATE LONE OAK STONE ", "");
	shelf_close(&to);
	shelf_close(&from);
}
END_TEST

START_TEST(test_refused)
{
	static const char *const none[] = {"none"}, *const bank[] = {"bank"};
	struct shelf from, to;
	struct work_taken counts;
	source(&from);
	shelf_open(&to, LEVEL_M);
	ck_assert(!copied(&to, &from, none, 1, &counts));
	FAULT(&to, FAULT_INPUT, "none");
	holds(&to, "", "", "");
	ck_assert(copied(&to, &from, bank, 1, &counts));
	/* a run of that name is there already */
	ck_assert(!copied(&to, &from, bank, 1, &counts));
	FAULT(&to, FAULT_INPUT, "bank");
	holds(&to, "bank ", "STONE ", "L1 ");
	shelf_close(&to);
	shelf_close(&from);
}
END_TEST

int main(void)
{
	return RUN_TESTS("copy", test_one_run, test_all_at_once, test_origin, test_marks,
	                 test_refused);
}
