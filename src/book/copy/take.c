/* Taking rows of another book, as text. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/journal/entries.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/tables.h"

/* Numbers of the other book, and those that they get here. */
struct numbers {
	int64_t *old, *now;
	size_t count, room;
};

struct taking {
	struct book *book;
	const char *act;
	struct numbers runs, sights;
	size_t sealed; /* runs that have been looked at for a seal */
};

static bool number_of(const char *text, int64_t *out)
{
	char *end;
	if (!text || !*text)
		return false;
	*out = strtoll(text, &end, 10);
	return *end == '\0';
}

static bool renumber(struct numbers *n, int64_t old, int64_t now, struct fault *why)
{
	size_t room = n->room;
	void *more = store_grow(n->old, n->count, &room, sizeof *n->old, why);
	if (!more)
		return false;
	n->old = more;
	more = store_grow(n->now, n->count, &n->room, sizeof *n->now, why);
	if (!more)
		return false;
	n->now = more;
	n->old[n->count] = old;
	n->now[n->count++] = now;
	return true;
}

/* Rows come in the order of their numbers, and what refers to one comes soon after it. */
static int64_t renumbered(const struct numbers *n, int64_t old)
{
	for (size_t i = n->count; i-- > 0;)
		if (n->old[i] == old)
			return n->now[i];
	return 0;
}

static bool refuse(const struct book_table *table, size_t row, const char *words, struct fault *why)
{
	return fault_say(why, FAULT_INPUT, "row %zu of the table %s: %.300s", row + 1, table->name,
	                 words);
}

/* What SQLite refused: a row that its checks do not let in, or a book that cannot be written. */
static bool refuse_sql(struct taking *t, const struct book_table *table, size_t row,
                       struct fault *why)
{
	int code = sqlite3_errcode(t->book->db) & 0xff;
	if (code == SQLITE_CONSTRAINT || code == SQLITE_TOOBIG)
		return refuse(table, row, sqlite3_errmsg(t->book->db), why);
	return sql_fault(t->book, why);
}

/* A statement for a text that is made here; NULL on failure. */
static sqlite3_stmt *prepare(struct book *book, const char *sql, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	if (sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) != SQLITE_OK)
		sql_fault(book, why);
	return statement;
}

/* The book's own table of that name. */
static bool own_table(struct book *book, const char *name, struct book_table *own,
                      struct fault *why)
{
	for (size_t i = 0; i < book_table_count(); i++)
		if (strcmp(book_table_name(i), name) == 0)
			return book_table_read(book, i, own, why);
	return fault_say(why, FAULT_INPUT, "a book has no table \"%.15s\"", name);
}

/* Only columns that the table has may be named: with the table's own name they become SQL. */
static bool check_columns(const struct book_table *own, const struct book_table *table,
                          struct fault *why)
{
	for (size_t c = 0; c < table->columns; c++)
		if (book_table_column(own, table->column[c]) == own->columns)
			return fault_say(why, FAULT_INPUT,
			                 "the table %.15s has no column \"%.19s\"", table->name,
			                 table->column[c]);
	return true;
}

/* What a cell becomes here: its own text, or a number of this book. */
static bool bind_cell(struct taking *t, const struct book_table *table, size_t row, size_t c,
                      int64_t id, sqlite3_stmt *statement, int at, struct fault *why)
{
	const char *name = table->column[c], *text = table->cell[row * table->columns + c];
	const struct numbers *among = strcmp(name, "run") == 0        ? &t->runs
	                              : strcmp(name, "replaces") == 0 ? &t->sights
	                                                              : NULL;
	int64_t value = 0;
	struct fault words;
	if (text && !cell_is_clean(name, text, &words))
		return refuse(table, row, words.text, why);
	if (strcmp(name, "id") == 0)
		return sqlite3_bind_int64(statement, at, id) == SQLITE_OK;
	/* The journal that it counts is another one. */
	if (strcmp(name, "seq") == 0)
		return sqlite3_bind_int64(statement, at, 0) == SQLITE_OK;
	if (strcmp(table->name, "seal") == 0 && strcmp(name, "how") == 0)
		return sqlite3_bind_text(statement, at, "imported", -1, SQLITE_STATIC) == SQLITE_OK;
	if (!text)
		return sqlite3_bind_null(statement, at) == SQLITE_OK;
	if (!among)
		return sqlite3_bind_text(statement, at, text, -1, SQLITE_TRANSIENT) == SQLITE_OK ||
		       refuse_sql(t, table, row, why);
	if (!number_of(text, &value) || (value = renumbered(among, value)) == 0)
		return refuse(table, row, "it refers to a row that is not there", why);
	return sqlite3_bind_int64(statement, at, value) == SQLITE_OK;
}

static bool same_cell(const char *one, const char *other)
{
	return one && other ? strcmp(one, other) == 0 : one == other;
}

/* The book's own rows that go by a name, in the order of their names. */
struct named {
	struct own_row {
		const char *name;
		size_t row;
	} * list;
	size_t count;
};

static int by_name(const void *a, const void *b)
{
	return strcmp(((const struct own_row *)a)->name, ((const struct own_row *)b)->name);
}

static bool list_named(const struct book_table *own, struct named *out, struct fault *why)
{
	bool goes_by_name =
	    strcmp(own->name, "run") == 0 || book_table_column(own, "struck") < own->columns;
	*out = (struct named){.list = calloc(own->rows + 1, sizeof *out->list)};
	if (!out->list)
		return fault_memory(why);
	for (size_t r = 0; goes_by_name && r < own->rows; r++) {
		const char *name = book_table_cell(own, r, "name");
		if (name && !book_table_cell(own, r, "struck"))
			out->list[out->count++] = (struct own_row){name, r};
	}
	qsort(out->list, out->count, sizeof *out->list, by_name);
	return true;
}

/* Whether the book's own rows have a live one of that name: it must say the same. */
static bool has_named(const struct book_table *own, const struct named *named,
                      const struct book_table *table, size_t row, bool *has, struct fault *why)
{
	struct own_row key = {.name = book_table_cell(table, row, "name")};
	const struct own_row *found;
	*has = false;
	if (!key.name || book_table_cell(table, row, "struck"))
		return true;
	found = bsearch(&key, named->list, named->count, sizeof *named->list, by_name);
	if (!found)
		return true;
	if (strcmp(own->name, "run") == 0)
		return fault_say(why, FAULT_INPUT,
		                 "the book has a run %.160s already: rename it first", key.name);
	*has = true;
	for (size_t c = 0; c < table->columns; c++)
		if (strcmp(table->column[c], "id") != 0 && strcmp(table->column[c], "time") != 0 &&
		    !same_cell(table->cell[row * table->columns + c],
		               book_table_cell(own, found->row, table->column[c])))
			return fault_say(why, FAULT_INPUT,
			                 "the book has another %s named %.160s: rename one of them "
			                 "first",
			                 table->name, key.name);
	return true;
}

static bool take_setting(struct taking *t, const struct book_table *table, size_t row,
                         struct fault *why)
{
	const char *name = book_table_cell(table, row, "name");
	const char *value = book_table_cell(table, row, "value");
	char *before;
	struct fault words;
	bool ok;
	if (!name || !value || setting_find(name) == book_setting_count())
		return refuse(table, row, "no such setting is known", why);
	if (strlen(value) >= BOOK_VALUE_BYTES)
		return refuse(table, row, "the value is too long", why);
	if (!cell_is_clean(name, value, &words))
		return refuse(table, row, words.text, why);
	*why = (struct fault){0};
	before = journal_row(t->book, "setting", name, why);
	ok = why->kind == FAULT_NONE &&
	     sql_run(t->book, why, "INSERT OR REPLACE INTO setting(name, value) VALUES(?1, ?2)",
	             "tt", name, value) &&
	     journal_enter(t->book, t->act, 0, "setting", name, before, 0, why);
	sqlite3_free(before);
	return ok;
}

static bool take_row(struct taking *t, const struct book_table *table, size_t row,
                     sqlite3_stmt *statement, int64_t id, struct fault *why)
{
	int64_t old = 0, run = 0;
	bool ok = number_of(book_table_cell(table, row, "id"), &old) && old > 0;
	if (!ok)
		return refuse(table, row, "it has no number", why);
	for (size_t c = 0; ok && c < table->columns; c++)
		ok = bind_cell(t, table, row, c, id, statement, (int)c + 1, why);
	ok = ok && txn_is_open(t->book, why);
	if (ok && sqlite3_step(statement) != SQLITE_DONE)
		ok = refuse_sql(t, table, row, why);
	sqlite3_reset(statement);
	if (ok && strcmp(table->name, "run") == 0)
		ok = renumber(&t->runs, old, id, why);
	if (ok && strcmp(table->name, "sight") == 0)
		ok = renumber(&t->sights, old, id, why);
	if (strcmp(table->name, "run") == 0)
		run = id;
	else if (number_of(book_table_cell(table, row, "run"), &run))
		run = renumbered(&t->runs, run);
	return ok && journal_enter_numbered(t->book, t->act, run, table->name, id, NULL, 0, why);
}

static bool take_rows(struct taking *t, const struct book_table *own,
                      const struct book_table *table, struct fault *why)
{
	char sql[2000] = "", marks[4 * BOOK_TABLE_COLUMNS] = "";
	size_t used;
	struct named named;
	sqlite3_stmt *statement;
	int64_t last = 0;
	bool ok, no_how, has = false;
	if (!list_named(own, &named, why))
		return false;
	if (own->rows)
		number_of(book_table_cell(own, own->rows - 1, "id"), &last);
	used = (size_t)snprintf(sql, sizeof sql, "INSERT INTO %s(", own->name);
	for (size_t c = 0; c < table->columns; c++) {
		used += (size_t)snprintf(sql + used, sizeof sql - used, "%s%s", c ? ", " : "",
		                         table->column[c]);
		strcat(marks, c ? ", ?" : "?");
	}
	/* A file of an older version does not say how a seal came about. */
	no_how =
	    strcmp(own->name, "seal") == 0 && book_table_column(table, "how") == table->columns;
	snprintf(sql + used, sizeof sql - used, "%s) VALUES(%s%s)", no_how ? ", how" : "", marks,
	         no_how ? ", 'imported'" : "");
	statement = prepare(t->book, sql, why);
	ok = statement != NULL;
	for (size_t r = 0; ok && r < table->rows; r++) {
		ok = has_named(own, &named, table, r, &has, why);
		if (!ok || has)
			continue;
		ok = last < INT64_MAX
		         ? take_row(t, table, r, statement, ++last, why)
		         : refuse(table, r, "no number is left for it in this book", why);
	}
	sqlite3_finalize(statement);
	free(named.list);
	return ok;
}

static bool take_table(struct taking *t, const struct book_table *table, struct fault *why)
{
	struct book_table own = {0};
	bool ok = own_table(t->book, table->name, &own, why);
	if (!ok)
		return false;
	ok = check_columns(&own, table, why);
	if (ok && strcmp(own.name, "setting") == 0)
		for (size_t r = 0; ok && r < table->rows; r++)
			ok = take_setting(t, table, r, why);
	else
		ok = ok && take_rows(t, &own, table, why);
	book_table_free(&own);
	return ok;
}

/* A crossing that came without a seal gets one, late; a closed run can no more. */
static bool seal_runs(struct taking *t, struct fault *why)
{
	bool ok = true;
	for (; ok && t->sealed < t->runs.count; t->sealed++)
		ok = seal_if_due(t->book, t->runs.now[t->sealed], NULL, why);
	return ok;
}

/* What one row alone cannot tell: a run and its terms, instruments and their room in a seal. */
static bool hangs_together(struct taking *t, struct fault *why)
{
	struct book_instrument *list;
	size_t count;
	struct book_verified held = {0};
	bool ok = book_instruments(t->book, &list, &count, why);
	if (!ok)
		return false;
	free(list);
	if (!rules_hold(t->book, 0, &held, why))
		return false;
	if (*held.difference)
		return fault_say(why, FAULT_INPUT, "this cannot stand in a book: %.500s",
		                 held.difference);
	ok = count == 0 || instruments_have_room(t->book, why);
	for (size_t i = 0; ok && i < t->runs.count; i++) {
		struct book_run run;
		struct book_terms terms;
		ok = check_run_named(t->book, t->runs.now[i], why) &&
		     book_load(t->book, t->runs.now[i], &run, why);
		if (ok) {
			ok = book_run_terms(t->book, &run, &terms, why);
			book_run_free(&run);
		}
	}
	return ok;
}

bool book_take_tables(struct book *book, const struct book_table *tables, size_t count,
                      const char *origin, struct fault *why)
{
	char act[300];
	struct taking t = {.book = book, .act = act};
	bool ok;
	snprintf(act, sizeof act, "import%s%.280s", *origin ? " from " : "", origin);
	if (!txn_begin(book, why))
		return false;
	/* Whatever of these rows cannot be read is the rows' fault, not the book's. */
	book->reading_back = true;
	ok = level_check_text(act, sizeof act, "name of the file", why);
	for (size_t i = 0; ok && i < count; i++)
		ok = (strcmp(tables[i].name, "closing") != 0 || seal_runs(&t, why)) &&
		     take_table(&t, &tables[i], why);
	ok = ok && seal_runs(&t, why) && read_back(book, why) && hangs_together(&t, why);
	book->reading_back = false;
	free(t.runs.old);
	free(t.runs.now);
	free(t.sights.old);
	free(t.sights.now);
	return txn_end(book, ok, why);
}
