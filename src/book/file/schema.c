#include "book/file/schema.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

extern const char rodbook_schema_1[], rodbook_schema_2[], rodbook_schema_3[], rodbook_schema_4[],
    rodbook_schema_5[], rodbook_schema_6[], rodbook_schema_7[];

const char *schema_of(int64_t version)
{
	const char *const schemas[BOOK_VERSION] = {
	    rodbook_schema_1, rodbook_schema_2, rodbook_schema_3, rodbook_schema_4,
	    rodbook_schema_5, rodbook_schema_6, rodbook_schema_7, rodbook_schema};
	return version >= 1 && version <= BOOK_VERSION ? schemas[version - 1] : NULL;
}

/* The schemas are our own texts, and never change: a column begins a line of its CREATE TABLE. */
static bool came_later(const char *table, const char *column)
{
	char begins[40], line[40];
	snprintf(begins, sizeof begins, "CREATE TABLE %s(", table);
	snprintf(line, sizeof line, "\n  %s ", column);
	for (int version = 1; version < BOOK_VERSION; version++) {
		const char *from = strstr(schema_of(version), begins);
		const char *to = from ? strstr(from, ";") : NULL;
		const char *at = to ? strstr(from, line) : NULL;
		if (to && (!at || at > to))
			return true;
	}
	return false;
}

bool table_has(const struct table *table, const char *column)
{
	for (size_t i = 0; i < table->columns; i++)
		if (strcmp(table->column[i].name, column) == 0)
			return true;
	return false;
}

static bool read_column(sqlite3_stmt *statement, const char *table, struct column *column,
                        struct fault *why)
{
	const char *name = (const char *)sqlite3_column_text(statement, 0);
	const char *fallback = (const char *)sqlite3_column_text(statement, 2);
	/* The number of a row is given where it is missing, so it is never without. */
	*column = (struct column){.name = name ? strdup(name) : NULL,
	                          .fallback = fallback ? strdup(fallback) : NULL,
	                          .optional = sqlite3_column_int(statement, 1) == 0 &&
	                                      sqlite3_column_int(statement, 3) == 0,
	                          .later = name && came_later(table, name)};
	return (column->name && (column->fallback || !fallback)) || fault_memory(why);
}

/* sql_list() would lose the texts of those before a failure. */
static bool read_columns(struct book *book, struct table *t, struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              "SELECT name, \"notnull\", dflt_value, pk FROM pragma_table_info(?1, 'main')",
	              "t", t->name);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		struct column *more = store_grow(t->column, t->columns, &room, sizeof *more, why);
		ok = more != NULL;
		if (!ok)
			break;
		t->column = more;
		ok = read_column(statement, t->name, &more[t->columns++], why);
	}
	ok = sql_done(book, statement, ok, why);
	if (ok && !t->columns)
		return fault_say(why, FAULT_INPUT, "a book has no table \"%.15s\"", t->name);
	return ok;
}

static char *make_json(const struct table *t)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	sqlite3_str_appendall(out, "json_object(");
	for (size_t i = 0; i < t->columns; i++)
		sqlite3_str_appendf(out, "%s'%q', \"%w\"", i ? ", " : "", t->column[i].name,
		                    t->column[i].name);
	sqlite3_str_appendall(out, ")");
	return sqlite3_str_finish(out);
}

/* The value of a column in the JSON text that is parameter number `from`. */
static void append_value(sqlite3_str *out, const struct column *column, int from)
{
	sqlite3_str_appendf(out, "coalesce(json_extract(?%d, '$.%q'), %s)", from, column->name,
	                    column->fallback ? column->fallback : "NULL");
}

static char *make_put(const struct table *t)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	sqlite3_str_appendf(out, "INSERT OR REPLACE INTO main.\"%w\"(", t->name);
	for (size_t i = 0; i < t->columns; i++)
		sqlite3_str_appendf(out, "%s\"%w\"", i ? ", " : "", t->column[i].name);
	sqlite3_str_appendall(out, ") VALUES(");
	for (size_t i = 0; i < t->columns; i++) {
		sqlite3_str_appendall(out, i ? ", " : "");
		append_value(out, &t->column[i], 1);
	}
	sqlite3_str_appendall(out, ")");
	return sqlite3_str_finish(out);
}

/* SQL that puts back all columns of a run but id and time. A run cannot be struck, so its name,
 * its kind and the rest are put back instead. */
static char *make_restore_run(const struct table *t)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	const char *parted = "";
	sqlite3_str_appendf(out, "UPDATE main.\"%w\" SET ", t->name);
	for (size_t i = 0; i < t->columns; i++) {
		if (strcmp(t->column[i].name, "id") == 0 || strcmp(t->column[i].name, "time") == 0)
			continue;
		sqlite3_str_appendf(out, "%s\"%w\"=", parted, t->column[i].name);
		append_value(out, &t->column[i], 2);
		parted = ", ";
	}
	sqlite3_str_appendall(out, " WHERE id=?1");
	return sqlite3_str_finish(out);
}

/* SQL: the default of a column `key` that an entry of an older version may lack. The first case,
 * which no column is, is there for tables without such columns. */
static void append_default(sqlite3_str *out, const struct table *t)
{
	sqlite3_str_appendall(out, "CASE key WHEN '' THEN NULL");
	for (size_t i = 0; i < t->columns; i++)
		if (t->column[i].fallback && t->column[i].later)
			sqlite3_str_appendf(out, " WHEN '%q' THEN %s", t->column[i].name,
			                    t->column[i].fallback);
	sqlite3_str_appendall(out, " END");
}

static char *make_differences(const struct table *t)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	sqlite3_str_appendall(out,
	                      "WITH a AS MATERIALIZED (SELECT key, value, id FROM json_each(?1)), "
	                      "b AS MATERIALIZED (SELECT key, value, id FROM json_each(?2)) "
	                      "SELECT coalesce(key, ''), old, new FROM ("
	                      "SELECT key, CASE WHEN a.id IS NULL THEN ");
	append_default(out, t);
	sqlite3_str_appendall(
	    out, " ELSE a.value END AS old, b.value AS new, b.id AS id FROM b LEFT JOIN a "
	         "USING(key) UNION ALL SELECT key, value, ");
	append_default(out, t);
	sqlite3_str_appendall(out,
	                      ", id FROM a WHERE key NOT IN (SELECT key FROM b)) "
	                      "WHERE old IS NOT new OR typeof(old) <> typeof(new) ORDER BY id");
	return sqlite3_str_finish(out);
}

/* Rows are struck with a reason, or go by a name that the next one takes over; undo reaches the
 * former, and a run. */
static bool make_changes(struct table *t)
{
	bool struck = table_has(t, "struck"), reason = struck && table_has(t, "why");
	bool named = struck && !reason && table_has(t, "name"), run = strcmp(t->name, "run") == 0;
	if (reason)
		t->strike = sqlite3_mprintf("UPDATE main.\"%w\" SET struck=?2, why=?3 WHERE id=?1",
		                            t->name);
	if (reason)
		t->restore =
		    sqlite3_mprintf("UPDATE main.\"%w\" SET struck=json_extract(?2, '$.struck'), "
		                    "why=json_extract(?2, '$.why') WHERE id=?1",
		                    t->name);
	if (run)
		t->restore = make_restore_run(t);
	if (named)
		t->live = sqlite3_mprintf(
		    "SELECT id FROM main.\"%w\" WHERE name=?1 AND struck IS NULL", t->name);
	if (named)
		t->retire =
		    sqlite3_mprintf("UPDATE main.\"%w\" SET struck=?2 WHERE id=?1", t->name);
	return (!reason || (t->strike && t->restore)) && (!run || t->restore) &&
	       (!named || (t->live && t->retire));
}

static bool make_texts(struct table *t)
{
	t->json = make_json(t);
	if (t->json)
		t->row = sqlite3_mprintf("SELECT %s FROM main.\"%w\" WHERE %s=?1", t->json, t->name,
		                         t->key);
	t->rows = sqlite3_mprintf("SELECT * FROM main.\"%w\" ORDER BY rowid", t->name);
	t->put = make_put(t);
	t->differences = make_differences(t);
	return t->row && t->rows && t->put && t->differences && make_changes(t);
}

static void free_table(struct table *t)
{
	char *const texts[] = {t->json,   t->row,  t->rows,   t->put,        t->restore,
	                       t->strike, t->live, t->retire, t->differences};
	for (size_t i = 0; i < t->columns; i++) {
		free(t->column[i].name);
		free(t->column[i].fallback);
	}
	free(t->column);
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		sqlite3_free(texts[i]);
	free(t);
}

static struct table *read_table(struct book *book, const char *name, struct fault *why)
{
	struct table *t = calloc(1, sizeof *t);
	if (!t) {
		fault_memory(why);
		return NULL;
	}
	snprintf(t->name, sizeof t->name, "%s", name);
	if (!read_columns(book, t, why)) {
		free_table(t);
		return NULL;
	}
	t->key = table_has(t, "id") ? "id" : t->column[0].name;
	if (make_texts(t))
		return t;
	free_table(t);
	fault_memory(why);
	return NULL;
}

struct table *table_of(struct book *book, const char *name, struct fault *why)
{
	struct table *t = book->tables;
	while (t && strcmp(t->name, name) != 0)
		t = t->next;
	if (t || !(t = read_table(book, name, why)))
		return t;
	t->next = book->tables;
	book->tables = t;
	return t;
}

void tables_free(struct book *book)
{
	while (book->tables) {
		struct table *next = book->tables->next;
		free_table(book->tables);
		book->tables = next;
	}
}
