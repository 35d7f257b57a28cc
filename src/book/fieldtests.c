/* Field tests of the book's instruments. */
#include <stdio.h>
#include <string.h>

#include "book/store.h"

static bool read_length(const char *text, size_t size, enum level_unit unit, level_nm *out,
                        struct fault *why)
{
	char one[64];
	if (size >= sizeof one)
		return fault_say(why, FAULT_INPUT, "a reading of the field test is too long");
	memcpy(one, text, size);
	one[size] = '\0';
	if (!level_parse_length(one, unit, out, why))
		return false;
	return (*out >= 0 && *out <= BOOK_READING_LIMIT) ||
	       fault_say(why, FAULT_INPUT, "a reading is from 0 to 100 m");
}

/* "x" before the pair: struck. */
static bool read_pair(const char *text, size_t size, enum level_unit unit, struct level_pair *out,
                      struct fault *why)
{
	const char *comma = memchr(text, ',', size);
	if (!comma)
		return fault_say(why, FAULT_INPUT, "a pair is a backsight and a foresight");
	return read_length(text, (size_t)(comma - text), unit, &out->backsight, why) &&
	       read_length(comma + 1, size - (size_t)(comma + 1 - text), unit, &out->foresight,
	                   why);
}

bool book_read_pairs(const char *text, enum level_unit unit,
                     struct level_pair out[LEVEL_FIELDTEST_MOST], size_t *count, struct fault *why)
{
	*count = 0;
	while (*text) {
		size_t size = strcspn(text, ";");
		bool struck = *text == 'x';
		struct level_pair pair;
		if (!read_pair(text + struck, size - struck, unit, &pair, why))
			return false;
		if (!struck && *count == LEVEL_FIELDTEST_MOST)
			return fault_say(why, FAULT_INPUT, "a field test has at most %d pairs",
			                 LEVEL_FIELDTEST_MOST);
		if (!struck)
			out[(*count)++] = pair;
		text += size + (text[size] == ';');
		text += strspn(text, " ");
	}
	return true;
}

static bool is_sound(const struct book_fieldtest *test, struct fault *why)
{
	struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	size_t count;
	double sigma;
	return level_check_name(test->instrument, "instrument", why) &&
	       level_check_text(test->pairs, BOOK_PAIRS_BYTES - 1, "pairs", why) &&
	       level_check_text(test->time, BOOK_TIME_BYTES, "time of a field test", why) &&
	       level_check_text(test->sigma, BOOK_TYPED_CHARS, "sigma", why) &&
	       (!*test->sigma || level_parse_sigma(test->sigma, test->unit, &sigma, why)) &&
	       book_read_pairs(test->pairs, test->unit, pairs, &count, why);
}

static bool read_test(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_fieldtest *test = item;
	char extent[16], unit[8];
	test->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, test->instrument, sizeof test->instrument);
	sql_text(statement, 2, extent, sizeof extent);
	test->full = strcmp(extent, "full") == 0;
	sql_text(statement, 3, test->sigma, sizeof test->sigma);
	sql_text(statement, 4, unit, sizeof unit);
	level_unit_find(unit, &test->unit);
	sql_text(statement, 5, test->pairs, sizeof test->pairs);
	sql_text(statement, 6, test->time, sizeof test->time);
	return is_sound(test, why) || book_spoiled(book, why);
}

#define COLUMNS "id, instrument, extent, sigma, unit, pairs, time"

bool book_fieldtests(struct book *book, const char *instrument, struct book_fieldtest **list,
                     size_t *count, struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " COLUMNS
	              " FROM fieldtest WHERE instrument=coalesce(?1, instrument) ORDER BY id",
	              "t", instrument),
	    sizeof **list, read_test, (void **)list, count, why);
}

bool fieldtest_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_fieldtest ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT " COLUMNS " FROM fieldtest WHERE id=?1", "i", id),
	    read_test, &ignored, why);
}

static bool find(struct book *book, int64_t id, struct book_fieldtest *out, struct fault *why)
{
	bool found;
	*out = (struct book_fieldtest){0};
	return sql_one(
	           book,
	           sql_query(book, why, "SELECT " COLUMNS " FROM fieldtest WHERE id=?1", "i", id),
	           read_test, out, &found, why) &&
	       (found || fault_say(why, FAULT_INPUT, "there is no such field test"));
}

static bool begin(struct book *book, const struct book_fieldtest *test, int64_t *id,
                  struct fault *why)
{
	if (!sql_run(
	        book, why,
	        "INSERT INTO fieldtest(instrument, extent, sigma, unit, time) VALUES(?1, ?2, ?3, "
	        "?4, ?5)",
	        "tttut", test->instrument, test->full ? "full" : "simplified", test->sigma,
	        (int)test->unit, book->now))
		return false;
	*id = sqlite3_last_insert_rowid(book->db);
	return journal_enter_numbered(book, "field test", 0, "fieldtest", *id, NULL, 0, why);
}

bool book_fieldtest_begin(struct book *book, const char *instrument, bool full, const char *sigma,
                          int64_t *id, struct fault *why)
{
	struct book_fieldtest test = {.full = full};
	struct book_settings settings;
	if (!book_settings(book, &settings, why) ||
	    !level_check_name(instrument, "instrument", why))
		return false;
	test.unit = settings.style.unit;
	snprintf(test.instrument, sizeof test.instrument, "%s", instrument);
	/* A bare sigma must not change its meaning with the book's unit: it has the test's. */
	if (!level_check_text(sigma, BOOK_TYPED_CHARS, "sigma", why))
		return false;
	snprintf(test.sigma, sizeof test.sigma, "%s", sigma);
	if (!is_sound(&test, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, begin(book, &test, id, why), why);
}

/* Writes the pairs of a test anew. */
static bool write_pairs(struct book *book, const struct book_fieldtest *test, const char *act,
                        struct fault *why)
{
	char *before = journal_numbered(book, "fieldtest", test->id, why);
	bool ok = before &&
	          sql_run(book, why, "UPDATE fieldtest SET pairs=?2 WHERE id=?1", "it", test->id,
	                  test->pairs) &&
	          journal_enter_numbered(book, act, 0, "fieldtest", test->id, before, 0, why);
	sqlite3_free(before);
	return ok;
}

static bool add(struct book *book, int64_t id, const char *backsight, const char *foresight,
                struct fault *why)
{
	struct book_fieldtest test;
	struct book_settings settings;
	struct level_pair pair = {0};
	char text[2 * BOOK_TYPED_BYTES];
	size_t used;
	if (!find(book, id, &test, why) || !book_settings(book, &settings, why))
		return false;
	snprintf(text, sizeof text, "%.60s,%.60s", backsight, foresight);
	if (!read_pair(text, strlen(text), test.unit, &pair, why) ||
	    !check_on_rod(pair.backsight, &settings, why) ||
	    !check_on_rod(pair.foresight, &settings, why))
		return false;
	used = strlen(test.pairs);
	if (used + strlen(backsight) + strlen(foresight) + 4 >= sizeof test.pairs)
		return fault_say(why, FAULT_INPUT, "this field test has no room for more pairs");
	snprintf(test.pairs + used, sizeof test.pairs - used, "%s%s,%s", used ? "; " : "",
	         backsight, foresight);
	return is_sound(&test, why) && write_pairs(book, &test, "pair", why);
}

bool book_fieldtest_pair(struct book *book, int64_t id, const char *backsight,
                         const char *foresight, struct fault *why)
{
	if (strpbrk(backsight, ",;x") || strpbrk(foresight, ",;x"))
		return fault_say(why, FAULT_INPUT, "a reading is one length");
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add(book, id, backsight, foresight, why), why);
}

/* An x before the last pair that has none. */
static bool strike(struct book *book, int64_t id, struct fault *why)
{
	struct book_fieldtest test;
	char *last = NULL;
	if (!find(book, id, &test, why))
		return false;
	for (char *at = test.pairs; *at;) {
		if (*at != 'x')
			last = at;
		at += strcspn(at, ";");
		at += strspn(at, "; ");
	}
	if (!last)
		return fault_say(why, FAULT_INPUT, "there is no pair to strike");
	if (strlen(test.pairs) + 2 >= sizeof test.pairs)
		return fault_say(why, FAULT_INPUT, "this field test has no room left");
	memmove(last + 1, last, strlen(last) + 1);
	*last = 'x';
	return write_pairs(book, &test, "strike pair", why);
}

bool book_fieldtest_strike(struct book *book, int64_t id, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, strike(book, id, why), why);
}
