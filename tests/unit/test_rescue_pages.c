/* Entries of the journal from the pages of a file that SQLite does not open any more: SQLite writes
 * the pages, and what comes out is what went in (sqlite.org, Database File Format, 1.5 and 1.6). */
#include "book/rescue/rescue.h"

#include "books.h"
#include "suite.h"

static const char columns[] =
    "CREATE TABLE journal(seq INTEGER PRIMARY KEY, action, time, act, run, tbl, row, before, "
    "after, undoes)";
static const char rows[] =
    "SELECT group_concat(quote(seq) || quote(action) || quote(time) || quote(act) || quote(run) "
    "|| quote(tbl) || quote(row) || quote(before) || quote(after) || quote(undoes), x'0a') FROM "
    "(SELECT * FROM journal ORDER BY seq)";

static void run_sql(sqlite3 *db, const char *sql)
{
	char *said = NULL;
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &said) == SQLITE_OK, "%s: %s", sql, said);
}

static char *text_of(sqlite3 *db, const char *sql)
{
	sqlite3_stmt *statement;
	const char *text;
	char *out;
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK, "%s",
	              sqlite3_errmsg(db));
	ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
	text = (const char *)sqlite3_column_text(statement, 0);
	out = strdup(text ? text : "");
	sqlite3_finalize(statement);
	return out;
}

/* A file with the journal's columns in pages of that size, filled by `sql`. */
static sqlite3 *begin(const struct shelf *s, char path[160], int page, const char *sql)
{
	char pragma[60];
	sqlite3 *db;
	snprintf(path, 160, "%s/pages", s->dir);
	unlink(path);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	snprintf(pragma, sizeof pragma, "PRAGMA page_size=%d", page);
	run_sql(db, pragma);
	run_sql(db, columns);
	run_sql(db, sql);
	return db;
}

/* What the pages of the file give; free() it. */
static char *found(const struct shelf *s, const char *path)
{
	struct replica r;
	struct fault why = {0};
	char *out;
	ck_assert(replica_begin(&r, s->book, &why));
	ck_assert_msg(rescue_pages(path, &r, &why), "%s", why.text);
	out = text_of(r.book.db, rows);
	replica_end(&r);
	return out;
}

/* Integers of each size and sign, texts whose lengths take one, two and three bytes, and NULL. */
static const char many[] =
    "WITH n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 62) "
    "INSERT INTO journal SELECT 3 * i, 1 + i, 't', 'act', iif(i % 3, 1 << i, NULL), 'mark', "
    "substr(hex(zeroblob(400)), 1, i * 7), iif(i % 2, NULL, '{}'), '{\"a\":' || i || '}', "
    "iif(i % 5, (1 << i) - 1, -(1 << i)) FROM n;"
    "INSERT INTO journal VALUES(200, 200, '', '', 0, 'run', '1', NULL, '{}', 1), (3000, 300, '', "
    "'', -1, 'run', '1', NULL, '[]', -129), (300000, 3, '', '', 128, 'run', '1', NULL, '[]', "
    "32768), (9223372036854775807, 1, '', '', -128, 'run', '1', NULL, '{}', 0);";

/* The size of a page stands at 16 in the header; of 65536 it is 1 (1.3.2). Where the header is
 * gone, pages of 4096 bytes are looked for, which are those of every book, and then others. */
START_TEST(test_each_page_size)
{
	struct shelf s;
	char path[160];
	shelf_open(&s, LEVEL_M);
	for (int page = 512; page <= 65536; page *= 2)
		for (int damaged = 0; damaged < (page == 4096 || page == 65536 ? 2 : 1);
		     damaged++) {
			sqlite3 *db = begin(&s, path, page, many);
			char *wanted = text_of(db, rows), *got, *bytes;
			size_t size;
			sqlite3_close(db);
			bytes = slurp(path, &size);
			if (damaged)
				memset(bytes, 0, 100);
			spill(path, bytes, size);
			got = found(&s, path);
			ck_assert_uint_gt(strlen(wanted), 2000);
			ck_assert_msg(strcmp(got, wanted) == 0, "pages of %d", page);
			free(bytes);
			free(wanted);
			free(got);
		}
	shelf_close(&s);
}
END_TEST

/* Payloads around each length at which SQLite puts the rest on other pages. */
START_TEST(test_overflow)
{
	static const int pages[] = {512, 4096};
	struct shelf s;
	char path[160], sql[400];
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < 2; i++) {
		sqlite3 *db;
		char *wanted, *got;
		int p = pages[i];
		/* lengths about the largest of one page (page - 35), and about each whole page more
		 */
		snprintf(sql, sizeof sql,
		         "WITH n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 140) "
		         "INSERT INTO journal SELECT 1 + i + 1000 * k, 1, 't', 'a', NULL, 'mark', "
		         "'1', NULL, '\"' || substr(hex(zeroblob(9000)), 1, k * %d + i - 100) || "
		         "'\"', NULL FROM "
		         "n, (SELECT 1 AS k UNION SELECT 2 UNION SELECT 3)",
		         p);
		db = begin(&s, path, p, sql);
		wanted = text_of(db, rows);
		sqlite3_close(db);
		got = found(&s, path);
		ck_assert_msg(strcmp(got, wanted) == 0, "pages of %d", p);
		free(wanted);
		free(got);
	}
	shelf_close(&s);
}
END_TEST

/* Rows that no journal of a book can have: what is no JSON, of another table, an action behind its
 * entry, values that are none of an entry's, fewer or more of them. */
START_TEST(test_other_rows)
{
	static const char *const others[] = {
	    "INSERT INTO journal VALUES(1, 1, 't', 'a', 1, 'mark', '1', NULL, '{', NULL)",
	    "INSERT INTO journal VALUES(1, 1, 't', 'a', 1, 'mark', '1', '{', '{}', NULL)",
	    "INSERT INTO journal VALUES(1, 1, 't', 'a', 1, 'mark', '1', NULL, NULL, NULL)",
	    "INSERT INTO journal VALUES(1, 1, 't', 'a', 1, 'other', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(1, 2, 't', 'a', 1, 'mark', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(1, 0, 't', 'a', 1, 'mark', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(1, 1, 't', 'a', 1.5, 'mark', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(1, 1, 't', x'61', 1, 'mark', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(-1, 1, 't', 'a', 1, 'mark', '1', NULL, '{}', NULL)",
	    "INSERT INTO journal VALUES(0, 0, 't', 'a', 1, 'mark', '1', NULL, '{}', NULL)",
	    "CREATE TABLE nine(a INTEGER PRIMARY KEY, b, c, d, e, f, g, h, i); INSERT INTO nine "
	    "VALUES(1, 1, 't', 'a', 1, 'mark', '1', NULL, '{}')",
	    "CREATE TABLE eleven(a INTEGER PRIMARY KEY, b, c, d, e, f, g, h, i, j, k); INSERT INTO "
	    "eleven VALUES(1, 1, 't', 'a', 1, 'mark', '1', NULL, '{}', NULL, NULL)",
	};
	struct shelf s;
	char path[160], *got;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
		sqlite3 *db =
		    begin(&s, path, 4096,
		          "INSERT INTO journal VALUES(7, 7, 't', 'a', 1, 'mark', '1', NULL, "
		          "'{}', NULL)");
		run_sql(db, others[i]);
		sqlite3_close(db);
		got = found(&s, path);
		ck_assert_msg(strcmp(got, "77't''a'1'mark''1'NULL'{}'NULL") == 0, "%s\n%s",
		              others[i], got);
		free(got);
	}
	shelf_close(&s);
}
END_TEST

/* Files too short for a page, or of nothing, give nothing. */
START_TEST(test_no_pages)
{
	static const size_t sizes[] = {0, 1, 511, 512, 5000};
	struct shelf s;
	char path[160], bytes[5000] = {0}, *got;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/pages", s.dir);
	got = found(&s, path);
	ck_assert_str_eq(got, "");
	free(got);
	for (int fill = 0; fill < 3; fill++)
		for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
			memset(bytes, fill == 0 ? 0 : fill == 1 ? 13 : 255, sizeof bytes);
			spill(path, bytes, sizes[i]);
			got = found(&s, path);
			ck_assert_str_eq(got, "");
			free(got);
		}
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("rescue_pages", test_each_page_size, test_overflow, test_other_rows,
	                 test_no_pages);
}
