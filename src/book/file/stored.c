/* What SQLite keeps of a schema: a row for each CREATE, with its text, and one without a text for
 * each UNIQUE or PRIMARY KEY that needs an index. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/file/schema.h"

static bool begins(const char *text, const char *with)
{
	return strncmp(text, with, strlen(with)) == 0;
}

/* The word at `text`, up to a blank, a line end or a parenthesis; false where it is too long. */
static bool take_word(const char *text, char out[STORED_NAME_BYTES])
{
	size_t size = strcspn(text, " \n(");
	if (size >= STORED_NAME_BYTES)
		return false;
	memcpy(out, text, size);
	out[size] = '\0';
	return true;
}

/* The text behind the first such words before `end`; NULL where there are none. */
static const char *behind(const char *from, const char *end, const char *words)
{
	const char *at = strstr(from, words);
	return at && at < end ? at + strlen(words) : NULL;
}

/* The statement at `sql`, whose kind is by its first words. */
static bool take_statement(const char *sql, struct stored *out)
{
	static const struct {
		const char *words, *type, *end;
		size_t kept; /* bytes of `end` that are the statement's own */
	} kinds[] = {{"CREATE TABLE ", "table", ";", 0},
	             {"CREATE INDEX ", "index", ";", 0},
	             {"CREATE UNIQUE INDEX ", "index", ";", 0},
	             {"CREATE TRIGGER ", "trigger", "END;", 3}};
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
		const char *end = strstr(sql, kinds[i].end), *of;
		if (!end || !begins(sql, kinds[i].words))
			continue;
		*out = (struct stored){
		    .type = kinds[i].type, .sql = sql, .size = (size_t)(end - sql) + kinds[i].kept};
		of = strcmp(out->type, "table") == 0 ? sql + strlen(kinds[i].words)
		                                     : behind(sql, end, " ON ");
		return of && take_word(sql + strlen(kinds[i].words), out->name) &&
		       take_word(of, out->table);
	}
	return false;
}

/* The indexes that SQLite makes by itself for a table. A number is its own key. */
static size_t take_own_indexes(const struct stored *table, struct stored *out, size_t most)
{
	static const char *const keys[] = {" UNIQUE", " PRIMARY KEY"};
	const char *end = table->sql + table->size;
	size_t count = 0;
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		for (const char *at = table->sql;
		     count < most && (at = behind(at, end, keys[i]));) {
			struct stored own = {.type = "index", .sql = "", .size = 0};
			const char *before = at - strlen(keys[i]) - strlen("INTEGER");
			if (i == 1 && before > table->sql && begins(before, "INTEGER"))
				continue;
			strcpy(own.table, table->name);
			count++;
			if (snprintf(own.name, sizeof own.name, "sqlite_autoindex_%.24s_%zu",
			             table->name, count) < (int)sizeof own.name)
				out[count - 1] = own;
		}
	return count;
}

static int by_type_and_name(const void *a, const void *b)
{
	const struct stored *x = a, *y = b;
	int order = strcmp(x->type, y->type);
	return order ? order : strcmp(x->name, y->name);
}

size_t schema_stored(const char *schema, struct stored out[STORED_MOST])
{
	size_t count = 0;
	for (const char *at = schema; *at;) {
		if (*at == '\n') {
			at++;
		} else if (begins(at, "--")) {
			at += strcspn(at, "\n");
		} else {
			struct stored *next = &out[count];
			if (count == STORED_MOST || !take_statement(at, next))
				return 0;
			at = next->sql + next->size + 1;
			count++;
			if (strcmp(next->type, "table") == 0)
				count += take_own_indexes(next, &out[count], STORED_MOST - count);
		}
	}
	qsort(out, count, sizeof *out, by_type_and_name);
	return count;
}
