/* What the program says of tables in C, held against what SQLite says of data/schema.sql. */
#include "book/file/schema.h"
#include "book/journal/entries.h"
#include "book/members.h"
#include "csv/csv.h"
#include "rodbook/book/tables.h"
#include "unit/books.h"
#include "unit/suite.h"

static const struct table *table_in(struct shelf *s, const char *name)
{
	const struct table *of = table_of(s->book, name, &s->why);
	ck_assert_msg(of != NULL, "%s", s->why.text);
	return of;
}

/* Each column once, but for those that the callers give. */
static void check_members(const struct table *of, const struct members *members,
                          const char *const *given, size_t count)
{
	ck_assert_uint_eq(members->count + count, of->columns);
	for (size_t i = 0; i < count; i++)
		ck_assert_msg(table_has(of, given[i]), "%s", given[i]);
	for (size_t i = 0; i < members->count; i++) {
		ck_assert_msg(table_has(of, members->list[i].column), "%s",
		              members->list[i].column);
		for (size_t j = 0; j < i; j++)
			ck_assert_str_ne(members->list[i].column, members->list[j].column);
		for (size_t j = 0; j < count; j++)
			ck_assert_str_ne(members->list[i].column, given[j]);
	}
}

START_TEST(test_members)
{
	static const char *const given[] = {"run", "slot", "editor"};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	check_members(table_in(&s, "sight"), &sight_members, given, 1);
	check_members(table_in(&s, "draft"), &draft_members, given, 3);
	shelf_close(&s);
}
END_TEST

/* Each table but the journal and what is not journaled, as the journal's own check names them. */
/* A table that there is not is refused, and a list of all has room for them. */
START_TEST(test_table_by_number)
{
	struct shelf s;
	struct book_table table;
	shelf_open(&s, LEVEL_M);
	ck_assert_uint_le(book_table_count(), BOOK_TABLES_MOST);
	ck_assert(book_table_read(s.book, book_table_count() - 1, &table, &s.why));
	book_table_free(&table);
	ck_assert(!book_table_read(s.book, book_table_count(), &table, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	shelf_close(&s);
}
END_TEST

START_TEST(test_journaled)
{
	const char *check = strstr(rodbook_schema, "tbl TEXT NOT NULL CHECK(tbl IN (");
	const char *end = strstr(check, "))");
	size_t named = 0;
	ck_assert_ptr_nonnull(check);
	for (size_t i = 0; journal_table(i); i++) {
		char quoted[TABLE_BYTES + 2];
		const char *at;
		snprintf(quoted, sizeof quoted, "'%s'", journal_table(i));
		at = strstr(check, quoted);
		ck_assert_msg(at && at < end, "%s", quoted);
		named++;
	}
	for (const char *at = check; at < end; at++)
		named -= *at == '\'' && at[1] >= 'a';
	ck_assert_uint_eq(named, 0);
	ck_assert_ptr_null(row_reader("setting"));
	for (size_t i = 1; journal_table(i); i++)
		ck_assert_msg(row_reader(journal_table(i)) != NULL, "%s", journal_table(i));
}
END_TEST

/* The columns that entries of older versions lack: data/schema-1.sql to schema-6.sql, read by eye.
 */
START_TEST(test_later)
{
	static const struct {
		const char *table, *before, *after;
		int differ;
	} told[] = {
	    {"sight", "{}", "{\"again\":0,\"along\":\"\",\"photo\":\"\",\"distance_by\":\"\"}", 0},
	    {"sight", "{}", "{\"instrument\":\"\",\"rod\":\"\",\"overridden\":\"\"}", 0},
	    {"sight", "{}", "{\"again\":1,\"photo\":\"a\"}", 2},
	    {"sight", "{}", "{\"remark\":\"\",\"why\":\"\"}", 2},
	    {"run", "{\"plan\":\"\",\"grade\":\"\"}", "{}", 0},
	    {"air", "{}", "{\"at\":\"\",\"wind_speed\":\"\",\"wind_from\":\"\"}", 0},
	    {"air", "{}", "{\"water\":\"\",\"wind\":\"\",\"sky\":\"\"}", 3},
	    {"pegtest", "{}", "{\"k\":\"\",\"dk\":\"\",\"method\":\"rod\"}", 0},
	    {"pegtest", "{}", "{\"method\":\"tape\"}", 1},
	    {"sight", "{}", "{\"booked\":\"\"}", 0},
	    {"sight", "{}", "{\"booked\":\"2026\"}", 1},
	    {"water", "{}", "{\"booked\":\"\"}", 0},
	    {"water", "{}", "{\"remark\":\"\"}", 1},
	    {"air", "{\"booked\":\"\"}", "{}", 0},
	    {"pegtest", "{}", "{\"booked\":\"\"}", 0},
	    {"mark", "{}", "{\"u\":0}", 1},
	    {"seal", "{}", "{\"late\":0}", 1},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
		bool ok = true;
		int differ = 0;
		sqlite3_stmt *statement =
		    entry_differences(s.book, told[i].table, told[i].before, told[i].after, &s.why);
		ck_assert_ptr_nonnull(statement);
		while (sql_row(s.book, statement, &ok, &s.why))
			differ++;
		ck_assert(sql_done(s.book, statement, ok, &s.why));
		ck_assert_msg(differ == told[i].differ, "%zu: %d", i, differ);
	}
	shelf_close(&s);
}
END_TEST

/* A whole book as CSV has the columns behind two more fields. */
START_TEST(test_room)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; journal_table(i); i++) {
		const struct table *of = table_in(&s, journal_table(i));
		ck_assert_uint_le(of->columns, BOOK_TABLE_COLUMNS);
		ck_assert_uint_le(of->columns + 2, CSV_FIELDS);
		for (size_t c = 0; c < of->columns; c++)
			ck_assert_uint_lt(strlen(of->column[c].name), 20);
	}
	shelf_close(&s);
}
END_TEST

/* What is held against a book is, row by row, what SQLite keeps of an empty one. */
START_TEST(test_stored)
{
	static struct stored list[STORED_MOST];
	for (int64_t version = 1; version <= BOOK_VERSION; version++) {
		size_t count = schema_stored(schema_of(version), list), i = 0;
		sqlite3 *db;
		sqlite3_stmt *rows;
		ck_assert_int_eq(sqlite3_open(":memory:", &db), SQLITE_OK);
		ck_assert_int_eq(sqlite3_exec(db, schema_of(version), NULL, NULL, NULL), SQLITE_OK);
		ck_assert_int_eq(
		    sqlite3_prepare_v2(db,
		                       "SELECT type, name, tbl_name, coalesce(sql, '') "
		                       "FROM sqlite_schema ORDER BY type, name",
		                       -1, &rows, NULL),
		    SQLITE_OK);
		for (; sqlite3_step(rows) == SQLITE_ROW; i++) {
			ck_assert_uint_lt(i, count);
			ck_assert_str_eq((const char *)sqlite3_column_text(rows, 0), list[i].type);
			ck_assert_str_eq((const char *)sqlite3_column_text(rows, 1), list[i].name);
			ck_assert_str_eq((const char *)sqlite3_column_text(rows, 2), list[i].table);
			ck_assert_uint_eq((size_t)sqlite3_column_bytes(rows, 3), list[i].size);
			ck_assert_mem_eq(sqlite3_column_text(rows, 3), list[i].sql, list[i].size);
		}
		ck_assert_uint_eq(i, count);
		sqlite3_finalize(rows);
		sqlite3_close(db);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("schema", test_stored, test_members, test_table_by_number, test_journaled,
	                 test_later, test_room);
}
