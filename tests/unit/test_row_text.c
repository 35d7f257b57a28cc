/* Two texts of a row, compared in C: the answer must be SQLite's, or none. Random texts of all
 * tables, some of older versions, some that no rodbook writes. */
#include "book/journal/row_text.h"

#include "book/journal/entries.h"
#include "books.h"
#include "chance.h"
#include "suite.h"

#define TEXT_BYTES 8000
#define TRIES 400

static const char *const plain[] = {"null", "0",       "7",     "-7",         "1099511627776",
                                    "\"\"", "\"rod\"", "\"é\"", "\"a, {b}\"", "\"0\""};
static const char *const odd[] = {"\"a\\\"b\"", "\"\\u00e9\"", "1.0",       "-0",
                                  "true",       "[1]",         "{\"a\":1}", "9223372036854775808"};

static void add(char *text, const char *column, const char *value)
{
	size_t used = strlen(text);
	snprintf(text + used, TEXT_BYTES - used, "%s\"%s\":%s", used > 1 ? "," : "", column, value);
}

/* odds: of 1000 columns so many are lacking, odd, or there twice. */
static void make(const struct table *of, uint64_t *seed, int64_t odds, bool lacks, char *text)
{
	strcpy(text, "{");
	for (size_t i = 0; i < of->columns; i++) {
		const char *value = chance(seed, 1, 1000) <= odds ? odd[chance(seed, 0, 7)]
		                    : chance(seed, 0, 3)          ? plain[5]
		                                                  : plain[chance(seed, 0, 9)];
		if (lacks && of->column[i].later && chance(seed, 0, 1))
			continue;
		if (chance(seed, 1, 1000) > odds)
			add(text, of->column[i].name, value);
		if (chance(seed, 1, 1000) <= odds)
			add(text, of->column[chance(seed, 0, (int64_t)of->columns - 1)].name,
			    value);
	}
	strcat(text, chance(seed, 1, 1000) <= odds ? " }" : "}");
}

/* A value as SQLite gives it, in the form of ours. */
static void check_value(const struct row_value *ours, sqlite3_stmt *theirs, int column)
{
	const char *text = (const char *)sqlite3_column_text(theirs, column);
	const int types[] = {SQLITE_NULL, SQLITE_INTEGER, SQLITE_TEXT};
	ck_assert_int_eq(types[ours->kind], sqlite3_column_type(theirs, column));
	ck_assert_uint_eq(ours->length, text ? strlen(text) : 0);
	ck_assert(!text || memcmp(text, ours->text, ours->length) == 0);
}

static bool agrees(struct shelf *s, const struct table *of, const char *one, const char *other)
{
	struct row_difference list[ROW_DIFFERENCES_MOST];
	size_t count = 0, at = 0;
	bool ok = true, answers = row_differences(of, one, other, list, &count);
	sqlite3_stmt *statement = entry_differences(s->book, of->name, one, other, &s->why);
	ck_assert_ptr_nonnull(statement);
	while (answers && sql_row(s->book, statement, &ok, &s->why)) {
		ck_assert_msg(at < count, "%s\n%s", one, other);
		ck_assert_str_eq(list[at].column, (const char *)sqlite3_column_text(statement, 0));
		check_value(&list[at].before, statement, 1);
		check_value(&list[at++].after, statement, 2);
	}
	ck_assert(sql_done(s->book, statement, ok, &s->why));
	ck_assert(!answers || at == count);
	return answers;
}

START_TEST(test_random)
{
	static char one[TEXT_BYTES], other[TEXT_BYTES];
	uint64_t seed = chance_seed("row texts");
	struct shelf s;
	int answered = 0;
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < TRIES; i++) {
		const int64_t odds = i % 2 ? 0 : 5;
		const char *name = journal_table((size_t)i % 19);
		const struct table *of = name ? table_of(s.book, name, &s.why) : NULL;
		if (!of)
			continue;
		make(of, &seed, odds, chance(&seed, 0, 1), one);
		make(of, &seed, odds, false, other);
		answered += agrees(&s, of, chance(&seed, 0, 3) ? one : NULL, other);
		/* What rodbook writes itself is never left to SQLite. */
		make(of, &seed, 0, true, one);
		make(of, &seed, 0, false, other);
		ck_assert_msg(agrees(&s, of, one, other), "%s\n%s", one, other);
		ck_assert(agrees(&s, of, NULL, other));
	}
	printf("%d of %d answered\n", answered, TRIES);
	ck_assert_int_gt(answered, TRIES / 2);
	ck_assert_int_lt(answered, TRIES);
	shelf_close(&s);
}
END_TEST

/* Of one table, each form by itself: plain or not. */
START_TEST(test_forms)
{
	static const struct {
		const char *other;
		bool plain;
	} forms[] = {{"{\"name\":\"k\",\"value\":\"0.2\"}", true},
	             {"{\"name\":\"k\",\"value\":-12}", true},
	             {"{\"name\":\"k\",\"value\":null}", true},
	             {"{\"name\":\"k\"}", false}, /* the other one has it */
	             {"{\"value\":\"0.2\",\"name\":\"k\"}", false},
	             {"{\"name\":\"k\", \"value\":\"0.2\"}", false},
	             {"{\"name\":\"k\",\"value\":\"0.2\",\"value\":\"0.3\"}", false},
	             {"{\"name\":\"k\",\"value\":\"\\u0032\"}", false},
	             {"{\"name\":\"k\",\"value\":0.2}", false},
	             {"{\"name\":\"k\",\"value\":1e3}", false},
	             {"{\"name\":\"k\",\"value\":-0}", false},
	             {"{\"name\":\"k\",\"value\":1234567890123456789}", false},
	             {"{\"name\":\"k\",\"value\":true}", false},
	             {"{}", false},
	             {"[]", false},
	             {"7", false}};
	struct shelf s;
	const struct table *of;
	shelf_open(&s, LEVEL_M);
	of = table_of(s.book, "setting", &s.why);
	ck_assert_ptr_nonnull(of);
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		ck_assert_msg(agrees(&s, of, "{\"name\":\"k\",\"value\":\"0.1\"}",
		                     forms[i].other) == forms[i].plain,
		              "%s", forms[i].other);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("row_text", test_random, test_forms);
}
