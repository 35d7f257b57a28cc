/* What reading the journal and proving it share. */
#ifndef BOOK_JOURNAL_ENTRIES_H
#define BOOK_JOURNAL_ENTRIES_H

#include "book/store.h"

/* SQL: the row that a JSON text holds, as a user knows it. The JSON must be valid. */
#define ENTRY_WHAT(tbl, json)                                                                      \
	"CASE " tbl " WHEN 'sight' THEN (" json " ->> 'kind') || ' on ' || (" json                 \
	" ->> 'station') WHEN 'water' THEN 'water at ' || (" json                                  \
	" ->> 'station') WHEN 'gauge' THEN 'gauge at ' || (" json                                  \
	" ->> 'station') WHEN 'setout' THEN 'set-out of ' || (" json                               \
	" ->> 'station') WHEN 'head' THEN 'head of ' || (" json                                    \
	" ->> 'day') WHEN 'air' THEN 'air of ' || (" json                                          \
	" ->> 'time') WHEN 'pegtest' THEN 'peg test of ' || (" json                                \
	" ->> 'instrument') WHEN 'fieldtest' THEN 'field test of ' || (" json                      \
	" ->> 'instrument') WHEN 'tolerance' THEN 'tolerance set ' || (" json                      \
	" ->> 'name') WHEN 'result' THEN 'adjustment of ' || substr(" json                         \
	" ->> 'subject', 1, 60) WHEN 'closing' THEN iif((" json                                    \
	" ->> 'state') = 'closed', 'closing', 'reopening') WHEN 'aside' THEN 'mark ' || (" json    \
	" ->> 'mark') WHEN 'seal' THEN 'seal' ELSE " tbl " || ' ' || (" json " ->> 'name') END"

/* The columns in which two JSON texts of a row differ, in order: name, value by `one`, value by
 * `other`. A column that a text of an older version lacks has its default; a NULL text lacks all.
 * End with sql_done(). */
sqlite3_stmt *entry_differences(struct book *book, const char *table, const char *one,
                                const char *other, struct fault *why);

/* Takes an entry into the digest of those before it; the statement's first columns are the
 * journal's, in order. */
#define ENTRY_COLUMNS 10
void digest_entry(char hex[65], sqlite3_stmt *statement);
/* SQL: all entries; those that the papers of run ?1 hang on, its own and those of no run. A result
 * that is kept is of no run, and no paper hangs on it. */
#define ENTRIES_ALL "journal"
#define ENTRIES_OF_RUN "(SELECT * FROM journal WHERE run = ?1 OR run IS NULL AND tbl <> 'result')"
/* The chain of entries: without a gap, each beginning where the one before about its row ended; and
 * the digests over them. False on a fault; a difference goes into *out. */
struct book_verified;
bool replay_entries(struct book *book, int64_t at, struct book_verified *out, struct fault *why);
/* The same of the entries that a run hangs on, without the order of all and the digests. */
bool replay_run(struct book *book, int64_t run, struct book_verified *out, struct fault *why);
/* Whether each journaled table holds what the last entries left, and nothing else. run: of what
 * this run hangs on; 0: of the whole book; here and below. */
bool replay_tables(struct book *book, int64_t run, struct book_verified *out, struct fault *why);

/* Whether what rodbook decides itself is as it would have decided: times, names of settings, what a
 * sight stands for (rules.c); and seals (resealed.c). As above. */
bool rules_hold(struct book *book, int64_t run, struct book_verified *out, struct fault *why);
bool seals_hold(struct book *book, int64_t run, struct book_verified *out, struct fault *why);

#endif
