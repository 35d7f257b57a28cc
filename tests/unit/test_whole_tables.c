/* Whole books and whole runs as tables: which rows go along, and which books may take settings. */
#include "work/tables.h"

#include "books.h"
#include "rodbook/book/gauge.h"
#include "suite.h"

struct tables {
	struct book_table table[BOOK_TABLES_MOST];
	size_t count;
};

static struct book_table *table_of(struct tables *t, const char *name)
{
	for (size_t i = 0; i < t->count; i++)
		if (strcmp(t->table[i].name, name) == 0)
			return &t->table[i];
	ck_abort_msg("no table %s", name);
	return NULL;
}

/* A column of a table, its rows parted by commas. */
static const char *column(struct tables *t, const char *table, const char *name)
{
	static char line[500];
	const struct book_table *of = table_of(t, table);
	size_t used = 0;
	line[0] = '\0';
	for (size_t r = 0; r < of->rows; r++) {
		const char *text = book_table_cell(of, r, name);
		used += (size_t)snprintf(line + used, sizeof line - used, "%s%s", r ? "," : "",
		                         text ? text : "-");
	}
	return line;
}

static void sight(struct shelf *s, enum level_kind kind, const char *station, const char *level,
                  const char *rod)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, kind, station, "1", &sight, &note));
	strcpy(note.instrument, level);
	strcpy(note.rod, rod);
	ck_assert_msg(book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why), "%s",
	              s->why.text);
	shelf_take(s, s->run.info.id);
}

/* Two runs that share a mark and nothing else. */
static void make(struct shelf *s)
{
	struct book_figures figures = {0};
	struct book_pegtest test = {.standings = "30,1.3995,30,1.1495; 5,1.4062,55,1.1551"};
	struct level_peg_result result;
	int64_t id;
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "title", "Otter pond", &s->why));
	ck_assert(book_tolerance_set(s->book, "canal", "section=9 mm", &s->why));
	ck_assert(book_mark_set(s->book, "A", "9", NULL, NULL, &s->why));
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	ck_assert(book_mark_set(s->book, "B", "11", NULL, NULL, &s->why));
	ck_assert(book_mark_set(s->book, "C", "12", NULL, NULL, &s->why));
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s->why));
	for (int i = 1; i < 4; i++) {
		struct book_rod r = {.zero = "1 mm"};
		char level[8], rod[8], plan[8];
		snprintf(level, sizeof level, "L%d", i);
		snprintf(rod, sizeof rod, "R%d", i);
		snprintf(plan, sizeof plan, "plan%d", i);
		ck_assert(book_plan_set(s->book, plan, &figures, &s->why));
		strcpy(r.name, rod);
		ck_assert(book_rod_set(s->book, &r, &s->why));
		strcpy(test.instrument, level);
		ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s",
		              s->why.text);
		ck_assert(book_fieldtest_begin(s->book, level, false, "", &id, &s->why));
	}
	shelf_begin(s, "one", LEVEL_CROSSING);
	ck_assert(book_run_set_plan(s->book, s->run.info.id, "plan1", &s->why));
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_LINK, &s->why));
	shelf_take(s, s->run.info.id);
	sight(s, LEVEL_BS, "A", "L1", "R1");
	sight(s, LEVEL_FS, "B", "L1", "R1");
	ck_assert(book_gauge_add(s->book, s->run.info.id, "G1", "2.4", "", "", &s->why));
	shelf_begin(s, "two", LEVEL_CROSSING);
	ck_assert(book_run_set_plan(s->book, s->run.info.id, "plan2", &s->why));
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_LINK, &s->why));
	shelf_take(s, s->run.info.id);
	sight(s, LEVEL_BS, "A", "L2", "R2");
	sight(s, LEVEL_FS, "C", "L2", "R2");
	ck_assert(book_gauge_add(s->book, s->run.info.id, "G2", "2.4", "", "", &s->why));
}

START_TEST(test_of_one_run)
{
	static const char *const expected[][3] = {
	    {"run", "name", "two"},          {"sight", "station", "A,C"},
	    {"gauge", "station", "G2"},      {"plan", "name", "plan2"},
	    {"rod", "name", "R2"},           {"instrument", "name", "L2"},
	    {"pegtest", "instrument", "L2"}, {"fieldtest", "instrument", "L2"},
	    {"tolerance", "name", "canal"},  {"setting", "name", "unit,title"},
	};
	struct shelf s;
	struct tables t = {0};
	make(&s);
	ck_assert_msg(work_read_run_tables(s.book, "two", t.table, &t.count, &s.why), "%s",
	              s.why.text);
	for (size_t i = 0; i < sizeof expected / sizeof *expected; i++)
		ck_assert_msg(strcmp(column(&t, expected[i][0], expected[i][1]), expected[i][2]) ==
		                  0,
		              "%s: %s", expected[i][0], column(&t, expected[i][0], expected[i][1]));
	/* the mark as it counts, not as it was */
	ck_assert_str_eq(column(&t, "mark", "typed"), "10,12");
	work_free_tables(t.table, t.count);
	ck_assert(!work_read_run_tables(s.book, "none", t.table, &t.count, &s.why));
	FAULT(&s, FAULT_INPUT, "no run none");
	work_free_tables(t.table, t.count);
	shelf_close(&s);
}
END_TEST

START_TEST(test_of_a_book)
{
	struct shelf s, to;
	struct tables t = {0};
	struct work_taken counts = {0};
	struct book_run_info *runs;
	size_t count;
	make(&s);
	ck_assert(work_read_tables(s.book, t.table, &t.count, &s.why));
	ck_assert_uint_eq(t.count, book_table_count());
	ck_assert_str_eq(column(&t, "run", "name"), "one,two");
	ck_assert_str_eq(column(&t, "mark", "typed"), "9,10,11,12");
	shelf_open(&to, LEVEL_M);
	ck_assert(book_mark_set(to.book, "C", "12", NULL, NULL, &to.why));
	ck_assert_msg(work_take_tables(to.book, t.table, t.count, "/x/pond.csv", &counts, &to.why),
	              "%s", to.why.text);
	ck_assert_uint_eq(counts.runs, 2);
	ck_assert_uint_eq(counts.sights, 4);
	/* A and B: C was there, and the A that was struck is none */
	ck_assert_uint_eq(counts.marks, 2);
	ck_assert(book_runs(to.book, &runs, &count, &to.why));
	ck_assert_uint_eq(count, 2);
	free(runs);
	/* a second time their names are taken, and nothing is */
	counts = (struct work_taken){.runs = 7};
	ck_assert(!work_take_tables(to.book, t.table, t.count, "-", &counts, &to.why));
	FAULT(&to, FAULT_INPUT, "has a run one already");
	ck_assert_uint_eq(counts.runs, 7);
	work_free_tables(t.table, t.count);
	shelf_close(&s);
	shelf_close(&to);
}
END_TEST

/* Settings of a file and of the book that is to take it, "" for a default. */
START_TEST(test_may_take)
{
	static const struct {
		const char *unit, *title, *k, *file_title, *file_k;
		bool mark;
		const char *refused; /* the setting, or NULL */
		const char *kept;    /* settings that are taken */
	} cases[] = {
	    /* a new book takes them all */
	    {"m", "", "", "Otter", "0.2", false, NULL, "unit,title,k"},
	    {"ft", "Heron", "", "Otter", "0.2", false, NULL, "unit,title,k"},
	    /* one with rows or other settings must have the same, and keeps its title */
	    {"m", "Heron", "0.2", "Otter", "0.2", true, NULL, "unit,k"},
	    {"m", "", "", "", "", true, NULL, "unit"},
	    {"m", "", "0.2", "Otter", "0.2", false, NULL, "unit,k"},
	    {"ft", "", "", "", "", true, "unit", NULL},
	    {"m", "", "", "", "0.2", true, "k", NULL},
	    {"m", "", "0.2", "", "", false, "k", NULL},
	    {"m", "", "0.3", "", "0.2", true, "k", NULL},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf from, to;
		struct tables t = {0};
		bool may;
		shelf_open(&from, LEVEL_M);
		if (*cases[i].file_title)
			ck_assert(book_set(from.book, "title", cases[i].file_title, &from.why));
		if (*cases[i].file_k)
			ck_assert(book_set(from.book, "k", cases[i].file_k, &from.why));
		ck_assert(work_read_tables(from.book, t.table, &t.count, &from.why));
		shelf_open(&to, strcmp(cases[i].unit, "ft") == 0 ? LEVEL_FT : LEVEL_M);
		if (*cases[i].title)
			ck_assert(book_set(to.book, "title", cases[i].title, &to.why));
		if (*cases[i].k)
			ck_assert(book_set(to.book, "k", cases[i].k, &to.why));
		if (cases[i].mark)
			ck_assert(book_mark_set(to.book, "A", "10", NULL, NULL, &to.why));
		may = work_may_take(to.book, t.table, t.count, &to.why);
		ck_assert_msg(may == !cases[i].refused, "case %zu: %s", i, to.why.text);
		if (may) {
			ck_assert_str_eq(column(&t, "setting", "name"), cases[i].kept);
		} else {
			char words[80];
			snprintf(words, sizeof words, "the setting %s is not the same",
			         cases[i].refused);
			FAULT(&to, FAULT_INPUT, words);
		}
		work_free_tables(t.table, t.count);
		shelf_close(&from);
		shelf_close(&to);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("whole_tables", test_of_one_run, test_of_a_book, test_may_take);
}
