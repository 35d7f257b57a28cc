/* Tables of another book, taken whole: the rows get numbers of this book, and what cannot stand is
 * refused with its row, and nothing is taken. */
#include "book/store.h"
#include "books.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/tables.h"
#include "suite.h"

struct tables {
	struct book_table table[BOOK_TABLES_MOST];
	size_t count;
};

static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "title", "Otter pond", &s->why));
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	ck_assert(book_mark_set(s->book, "A", "11", NULL, NULL, &s->why));
	ck_assert(book_rod_set(s->book, &(struct book_rod){.name = "R1", .zero = "1 mm"}, &s->why));
	ck_assert(book_instrument_set(
	    s->book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s->why));
	shelf_begin(s, "first", LEVEL_OPEN);
	shelf_begin(s, "over", LEVEL_CROSSING);
	ck_assert(book_water_add(s->book, s->run.info.id, "A", "0.4", "", "", &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "4", "L1"));
	ck_assert(shelf_sight(s, LEVEL_FS, "W", "1.6", "30", "L1"));
	ck_assert(shelf_change(s, 1, LEVEL_FS, "W", "1.7"));
}

static void read_all(struct shelf *s, struct tables *t)
{
	t->count = book_table_count();
	for (size_t i = 0; i < t->count; i++)
		ck_assert_msg(book_table_read(s->book, i, &t->table[i], &s->why), "%s",
		              s->why.text);
}

static void free_all(struct tables *t)
{
	for (size_t i = 0; i < t->count; i++)
		book_table_free(&t->table[i]);
}

static struct book_table *named(struct tables *t, const char *name)
{
	for (size_t i = 0; i < t->count; i++)
		if (strcmp(t->table[i].name, name) == 0)
			return &t->table[i];
	ck_abort_msg("no table %s", name);
	return NULL;
}

static void put(struct book_table *table, size_t row, const char *column, const char *text)
{
	size_t at = book_table_column(table, column);
	char **cell = &table->cell[row * table->columns + at];
	ck_assert_uint_lt(at, table->columns);
	ck_assert_uint_lt(row, table->rows);
	free(*cell);
	*cell = text ? strdup(text) : NULL;
}

static bool take(struct shelf *to, const struct tables *t)
{
	to->why = (struct fault){0};
	return book_take_tables(to->book, t->table, t->count, "pond.csv", &to->why);
}

static int64_t entries(struct shelf *s)
{
	struct book_verified out;
	ck_assert_msg(book_verify(s->book, 0, &out, &s->why), "%s", s->why.text);
	ck_assert_str_eq(out.difference, "");
	return out.entries;
}

static bool is_import(const struct book_entry *entry, void *context)
{
	*(int *)context += strcmp(entry->act, "import from pond.csv") == 0;
	return true;
}

/* A book that has rows already: numbers follow on, and what refers to them follows too. */
START_TEST(test_renumbered)
{
	struct shelf from, to;
	struct tables t;
	struct book_journal_order all = {0};
	struct book_settings settings;
	struct book_mark *marks;
	size_t count;
	int imports = 0;
	make(&from);
	read_all(&from, &t);
	shelf_open(&to, LEVEL_FT);
	ck_assert(book_mark_set(to.book, "Z", "1", NULL, NULL, &to.why));
	shelf_begin(&to, "own", LEVEL_OPEN);
	ck_assert(shelf_book(&to, LEVEL_BS, "Z", "1"));
	ck_assert_msg(take(&to, &t), "%s", to.why.text);
	shelf_take(&to, 3);
	ck_assert_str_eq(to.run.info.name, "over");
	ck_assert_int_eq(to.run.info.kind, LEVEL_CROSSING);
	ALL(&to, "BS A 1.5, [FS W 1.6], FS W 1.7");
	ck_assert_int_eq(to.run.run.sight[0].id, 2);
	ck_assert_int_eq(to.run.note[2].replaces, 3);
	ck_assert_str_eq(to.run.note[0].instrument, "L1");
	shelf_take(&to, 1);
	COUNTED(&to, "BS Z 1");
	/* settings go over those that were there */
	ck_assert(book_settings(to.book, &settings, &to.why));
	ck_assert_str_eq(settings.title, "Otter pond");
	ck_assert_int_eq(settings.style.unit, LEVEL_M);
	ck_assert(book_marks_struck(to.book, &marks, &count, &to.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(marks[0].id == 2 && marks[0].elevation == INT64_C(10000000000));
	free(marks);
	/* unit, title; two marks, rod, level; two runs; three sights; the water, the seal */
	ck_assert(book_journal(to.book, &all, is_import, &imports, &to.why));
	ck_assert_int_eq(imports, 13);
	ck_assert_int_eq(entries(&to), 17);
	free_all(&t);
	shelf_close(&from);
	shelf_close(&to);
}
END_TEST

/* What goes by a name and says the same is not taken twice; else it is refused. */
START_TEST(test_same_name)
{
	static const char *const left_out[] = {"run", "sight", "water", "seal"};
	static const bool none[3];
	static const struct {
		const char *table, *column, *value, *words;
	} cases[] = {
	    {"mark", "source", "bolt",
	     "the book has another mark named A: rename one of them first"},
	    {"mark", "time", "2026-05-05", NULL},
	    {"rod", "remark", "old", "the book has another rod named R1"},
	    {"instrument", "tolerance", "0.2 mm/m", "the book has another instrument named L1"},
	    {"run", "kind", "open", "the book has a run first already: rename it first"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct tables t;
		struct book_table *table;
		int64_t before;
		make(&s);
		before = entries(&s);
		read_all(&s, &t);
		for (size_t j = 0; j < sizeof left_out / sizeof *left_out; j++)
			if (strcmp(left_out[j], cases[i].table) != 0)
				book_table_keep(named(&t, left_out[j]), none);
		table = named(&t, cases[i].table);
		put(table, table->rows - 1, cases[i].column, cases[i].value);
		if (!cases[i].words) {
			ck_assert_msg(take(&s, &t), "%s", s.why.text);
			/* two settings again, and the struck mark once more */
			ck_assert_int_eq(entries(&s), before + 3);
		} else {
			ck_assert_msg(!take(&s, &t), "%s", cases[i].words);
			FAULT(&s, FAULT_INPUT, cases[i].words);
			ck_assert_int_eq(entries(&s), before);
		}
		shelf_close(&s);
		free_all(&t);
	}
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *table;
		size_t row;
		const char *column, *value, *words;
	} cases[] = {
	    {"setting", 0, "name", "colour",
	     "row 1 of the table setting: no such setting is known"},
	    {"setting", 1, "value", NULL, "row 2 of the table setting: no such setting is known"},
	    {"setting", 1, "name", NULL, "row 2 of the table setting: no such setting is known"},
	    {"setting", 1, "value", "a\x1b", "row 2 of the table setting: "},
	    {"mark", 0, "source", "a\x1b", "row 1 of the table mark: "},
	    {"mark", 0, "id", NULL, "row 1 of the table mark: it has no number"},
	    {"mark", 0, "id", "", "row 1 of the table mark: it has no number"},
	    {"mark", 0, "id", "0", "row 1 of the table mark: it has no number"},
	    {"mark", 0, "id", "-1", "row 1 of the table mark: it has no number"},
	    {"mark", 0, "id", "1x", "row 1 of the table mark: it has no number"},
	    {"mark", 1, "unit", "yd", "row 2 of the table mark: CHECK constraint failed"},
	    {"mark", 1, "elevation", "high", "row 2 of the table mark: "},
	    {"mark", 1, "elevation", "12000000000", "the mark A does not say what was typed"},
	    {"mark", 1, "typed", NULL, "row 2 of the table mark: NOT NULL constraint failed"},
	    {"sight", 1, "run", "7",
	     "row 2 of the table sight: it refers to a row that is not there"},
	    {"sight", 1, "run", "x",
	     "row 2 of the table sight: it refers to a row that is not there"},
	    {"sight", 2, "replaces", "9",
	     "row 3 of the table sight: it refers to a row that is not there"},
	    {"sight", 0, "reading", "7", "the sight on A does not say what was typed"},
	    {"sight", 0, "instrument", "L2", "L2"},
	    {"sight", 0, "rod", "R2", "R2"},
	    {"sight", 2, "kind", "BS", ""},
	    {"run", 1, "kind", "line", "row 2 of the table run: CHECK constraint failed"},
	    {"run", 1, "name", "first", ""},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf from, to;
		struct tables t;
		bool taken;
		make(&from);
		read_all(&from, &t);
		put(named(&t, cases[i].table), cases[i].row, cases[i].column, cases[i].value);
		shelf_open(&to, LEVEL_M);
		taken = take(&to, &t);
		if (*cases[i].words) {
			ck_assert_msg(!taken, "%s", cases[i].words);
			FAULT(&to, FAULT_INPUT, cases[i].words);
		}
		if (!taken)
			ck_assert_int_eq(entries(&to), 1);
		free_all(&t);
		shelf_close(&from);
		shelf_close(&to);
	}
}
END_TEST

/* Tables and columns that no book has. */
START_TEST(test_unknown)
{
	struct shelf s;
	struct tables t;
	make(&s);
	read_all(&s, &t);
	strcpy(t.table[0].name, "color");
	ck_assert(!take(&s, &t));
	FAULT(&s, FAULT_INPUT, "a book has no table \"color\"");
	free_all(&t);
	read_all(&s, &t);
	strcpy(named(&t, "mark")->column[2], "color");
	ck_assert(!take(&s, &t));
	FAULT(&s, FAULT_INPUT, "the table mark has no column \"color\"");
	ck_assert(!book_table_read(s.book, t.count, &t.table[BOOK_TABLES_MOST - 1], &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	free_all(&t);
	shelf_close(&s);
}
END_TEST

/* Each text of each row is looked at as it leaves the book, of struck rows too. */
START_TEST(test_each_cell)
{
	for (int id = 1; id < 3; id++) {
		struct shelf s;
		struct book_table table;
		char sql[120];
		bool read = false;
		make(&s);
		sqlite3_db_config(s.book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
		snprintf(sql, sizeof sql, "UPDATE mark SET reach = char(27) WHERE id = %d", id);
		ck_assert_int_eq(sqlite3_exec(s.book->db, sql, NULL, NULL, NULL), SQLITE_OK);
		for (size_t i = 0; i < book_table_count(); i++)
			if (strcmp(book_table_name(i), "mark") == 0) {
				read = book_table_read(s.book, i, &table, &s.why);
				book_table_free(&table);
			}
		ck_assert(!read);
		FAULT(&s, FAULT_SPOILED, "the reach holds a control or invisible character");
		shelf_close(&s);
	}
}
END_TEST

/* A sealed crossing comes with its seal, which says so; one without gets a late seal. */
START_TEST(test_seals)
{
	for (int kept = 0; kept < 2; kept++) {
		struct shelf from, to;
		struct tables t;
		struct book_seal *seals;
		struct book_table *seal;
		size_t count;
		make(&from);
		ck_assert(shelf_sight(&from, LEVEL_BS, "W", "1", "4", "L1"));
		ck_assert_msg(shelf_sight(&from, LEVEL_FS, "E", "1", "800", "L1"), "%s",
		              from.why.text);
		read_all(&from, &t);
		seal = named(&t, "seal");
		ck_assert_uint_eq(seal->rows, 1);
		if (!kept)
			book_table_keep(seal, (const bool[]){false});
		shelf_open(&to, LEVEL_M);
		ck_assert_msg(take(&to, &t), "%s", to.why.text);
		ck_assert(book_seals(to.book, 2, &seals, &count, &to.why));
		ck_assert_uint_eq(count, 1);
		ck_assert(seals[0].imported == (kept == 1));
		ck_assert(seals[0].late == (kept == 0));
		free(seals);
		entries(&to);
		free_all(&t);
		shelf_close(&from);
		shelf_close(&to);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("taken", test_renumbered, test_same_name, test_refused, test_unknown,
	                 test_each_cell, test_seals);
}
