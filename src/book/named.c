/* The instruments and rods that sights name. Without its instrument a run cannot be read again, and
 * without its rod it would be read as from a true one. */
#include "book/store.h"

/* The one row of a statement: a text, "" where there is none. */
static bool first_text(struct book *book, sqlite3_stmt *statement, char text[LEVEL_NAME_BYTES],
                       struct fault *why)
{
	bool ok = true;
	text[0] = '\0';
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		sql_text(statement, 0, text, LEVEL_NAME_BYTES);
	return sql_done(book, statement, ok, why);
}

/* What is missing, if anything is. */
static bool refuse_missing(const char *instrument, const char *rod, struct fault *why)
{
	if (*instrument)
		return fault_say(why, FAULT_INPUT,
		                 "there is no instrument %.160s in this book: give the book that "
		                 "instrument first",
		                 instrument);
	return !*rod || fault_say(why, FAULT_INPUT,
	                          "there is no rod %.160s in this book: give the book that rod "
	                          "first",
	                          rod);
}

bool check_named(struct book *book, const struct book_note *note, struct fault *why)
{
	char instrument[LEVEL_NAME_BYTES], rod[LEVEL_NAME_BYTES];
	return first_text(book,
	                  sql_query(book, why,
	                            "SELECT ?1 WHERE ?1<>'' AND NOT EXISTS (SELECT 1 FROM "
	                            "instrument WHERE name=?1 AND struck IS NULL)",
	                            "t", note->instrument),
	                  instrument, why) &&
	       first_text(book,
	                  sql_query(book, why,
	                            "SELECT ?1 WHERE ?1<>'' AND NOT EXISTS (SELECT 1 FROM rod "
	                            "WHERE name=?1 AND struck IS NULL)",
	                            "t", note->rod),
	                  rod, why) &&
	       refuse_missing(instrument, rod, why);
}

bool check_run_named(struct book *book, int64_t run, struct fault *why)
{
	char instrument[LEVEL_NAME_BYTES], rod[LEVEL_NAME_BYTES];
	return first_text(
	           book,
	           sql_query(book, why,
	                     "SELECT instrument FROM sight s WHERE run=?1 AND instrument<>'' AND "
	                     "NOT EXISTS (SELECT 1 FROM instrument i WHERE i.name=s.instrument AND "
	                     "i.struck IS NULL) ORDER BY id LIMIT 1",
	                     "i", run),
	           instrument, why) &&
	       first_text(book,
	                  sql_query(book, why,
	                            "SELECT rod FROM sight s WHERE run=?1 AND rod<>'' AND NOT "
	                            "EXISTS (SELECT 1 FROM rod r WHERE r.name=s.rod AND r.struck "
	                            "IS NULL) ORDER BY id LIMIT 1",
	                            "i", run),
	                  rod, why) &&
	       refuse_missing(instrument, rod, why) && check_instruments(book, run, why);
}

bool check_instruments(struct book *book, int64_t run, struct fault *why)
{
	int64_t count = 0;
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why,
	                                    "SELECT count(DISTINCT instrument) FROM sight WHERE "
	                                    "run=?1 AND instrument<>''",
	                                    "i", run);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		count = sqlite3_column_int64(statement, 0);
	ok = sql_done(book, statement, ok, why);
	if (ok && count >= LEVEL_INSTRUMENTS)
		ok = fault_say(why, FAULT_INPUT, "a run has at most %d instruments",
		               LEVEL_INSTRUMENTS - 1);
	return ok;
}
