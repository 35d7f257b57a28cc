/* The proof of a book: its file, its journal, its figures. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/journal/digest.h"
#include "book/journal/entries.h"
#include "book/verify/difference.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/head.h"
#include "rodbook/book/journal.h"
#include "rodbook/level/page.h"
#include "rodbook/book/setout.h"
#include "rodbook/book/tables.h"

_Static_assert(DIGEST_BYTES == BOOK_DIGEST_BYTES, "one size of digests");

/* The first column of the first row of a pragma; "" where it has none. */
static bool pragma(struct book *book, const char *sql, char *text, size_t size, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = NULL;
	text[0] = '\0';
	if (sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) != SQLITE_OK)
		return sql_fault(book, why);
	if (sql_row(book, statement, &ok, why)) {
		const char *value = (const char *)sqlite3_column_text(statement, 0);
		level_show_text(text, size, value ? value : "", false);
	}
	sqlite3_finalize(statement);
	return ok;
}

static bool file_is_whole(struct book *book, struct fault *why)
{
	char text[200];
	if (!pragma(book, "PRAGMA integrity_check(1)", text, sizeof text, why))
		return false;
	return strcmp(text, "ok") == 0 ||
	       fault_say(why, FAULT_FILE,
	                 "%.300s is damaged (%.200s): go back to the last good copy, or bring out "
	                 "what can be read: rodbook rescue",
	                 book->path, text);
}

/* Rows that lead to others which are not there. */
static bool keys_hold(struct book *book, struct book_verified *out, struct fault *why)
{
	char text[100];
	if (!pragma(book, "PRAGMA foreign_key_check", text, sizeof text, why))
		return false;
	if (*text && !*out->difference)
		snprintf(out->difference, sizeof out->difference,
		         "a row of the table %s belongs to another row that is not there", text);
	return true;
}

/* Each list is checked as it is read. */
static bool lists_are_sound(struct book *book, struct fault *why)
{
	struct book_settings settings;
	void *list[8] = {0};
	size_t count = 0;
	bool ok = book_settings(book, &settings, why) &&
	          book_marks(book, (struct book_mark **)&list[0], &count, why) &&
	          book_marks_struck(book, (struct book_mark **)&list[1], &count, why) &&
	          book_rods(book, (struct book_rod **)&list[2], &count, why) &&
	          book_tolerances(book, (struct book_tolerance **)&list[3], &count, why) &&
	          book_plans(book, (struct book_plan **)&list[4], &count, why) &&
	          book_instruments(book, (struct book_instrument **)&list[5], &count, why) &&
	          book_pegtests(book, NULL, (struct book_pegtest **)&list[6], &count, why) &&
	          book_fieldtests(book, NULL, (struct book_fieldtest **)&list[7], &count, why) &&
	          results_are_sound(book, why);
	/* And each text, also of rows that were struck, as it would leave the book. */
	for (size_t i = 0; ok && i < book_table_count(); i++) {
		struct book_table table;
		ok = book_table_read(book, i, &table, why);
		book_table_free(&table);
	}
	for (size_t i = 0; i < sizeof list / sizeof *list; i++)
		free(list[i]);
	return ok;
}

/* Sums and elevations from the readings; a line with a gap has none to compare. */
static bool figures_hold(struct book *book, const struct book_run *run,
                         const struct book_settings *settings, struct book_verified *out,
                         struct fault *why)
{
	struct book_terms terms;
	struct level_page page = {0};
	struct level_closing closing;
	bool whole;
	if (!book_run_terms(book, run, &terms, why))
		return false;
	if (!level_reduce(&run->run, 0, &terms.terms, &page))
		return fault_memory(why);
	closing = level_close(&run->run, &page, &terms.terms, &settings->tolerance,
	                      settings->setup_figure);
	whole = level_page_line(&page)->broken_row == SIZE_MAX;
	level_page_free(&page);
	out->gaps += !whole;
	if (whole && closing.setups && !closing.page_holds && !*out->difference)
		snprintf(out->difference, sizeof out->difference,
		         "run %.160s: its page check does not hold", run->info.name);
	return true;
}

static bool run_is_sound(struct book *book, int64_t id, const struct book_settings *settings,
                         struct book_verified *out, struct fault *why)
{
	struct book_run run;
	struct book_seal *seals = NULL;
	struct book_closing *closings = NULL;
	struct book_gauge *gauges = NULL;
	struct book_setout *setouts = NULL;
	struct book_head *heads = NULL;
	size_t count;
	bool ok;
	if (!book_load(book, id, &run, why))
		return false;
	ok = (check_run_named(book, id, why) || book_spoiled(book, why)) &&
	     book_seals(book, id, &seals, &count, why) &&
	     book_closings(book, id, &closings, &count, why) &&
	     book_gauges(book, id, &gauges, &count, why) &&
	     book_setouts(book, id, &setouts, &count, why) &&
	     book_heads(book, id, &heads, &count, why) &&
	     figures_hold(book, &run, settings, out, why);
	out->sights += run.run.count;
	free(seals);
	free(closings);
	free(gauges);
	free(setouts);
	free(heads);
	book_run_free(&run);
	return ok;
}

static bool runs_are_sound(struct book *book, struct book_verified *out, struct fault *why)
{
	struct book_settings settings;
	struct book_run_info *runs;
	bool ok = true;
	if (!book_settings(book, &settings, why) || !book_runs(book, &runs, &out->runs, why))
		return false;
	for (size_t i = 0; ok && i < out->runs; i++)
		ok = run_is_sound(book, runs[i].id, &settings, out, why);
	free(runs);
	return ok;
}

static bool verify(struct book *book, int64_t at, struct book_verified *out, struct fault *why)
{
	if (!file_is_whole(book, why) || !replay_entries(book, at, out, why))
		return false;
	/* Where the journal itself is not whole, the tables cannot be held against it; where they
	 * differ, reading the runs could only say the same in other words. */
	if (!*out->difference && !replay_tables(book, 0, out, why))
		return false;
	if (!*out->difference && !keys_hold(book, out, why))
		return false;
	if (!*out->difference && !rules_hold(book, 0, out, why))
		return false;
	return *out->difference || (lists_are_sound(book, why) && runs_are_sound(book, out, why) &&
	                            (*out->difference || seals_hold(book, 0, out, why)));
}

/* How many entries the journal has, the number of the last, and the digest of all. */
static bool take_digest(struct book *book, struct book_verified *out, struct fault *why)
{
	struct book_witness witness;
	if (!book_witness(book, &witness, why) ||
	    !sql_integer(book, "SELECT count(*) FROM journal", &out->entries, why))
		return false;
	out->last = witness.seq;
	memcpy(out->digest, witness.digest, sizeof out->digest);
	if (out->entries != out->last)
		differs(out,
		        "the journal has %" PRId64
		        " entries, and the last one has the number %" PRId64,
		        out->entries, out->last);
	return true;
}

static bool verify_run(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	return take_digest(book, out, why) &&
	       (*out->difference || replay_run(book, run, out, why)) &&
	       (*out->difference || replay_tables(book, run, out, why)) &&
	       (*out->difference || rules_hold(book, run, out, why)) &&
	       (*out->difference || check_run_named(book, run, why) || book_spoiled(book, why)) &&
	       (*out->difference || seals_hold(book, run, out, why));
}

/* run: 0 for the whole book. */
static bool verify_part(struct book *book, int64_t run, int64_t at, struct book_verified *out,
                        struct fault *why)
{
	*out = (struct book_verified){0};
	return run ? verify_run(book, run, out, why) : verify(book, at, out, why);
}

#define PROBE_BYTES (1 << 20)

/* SQLite's JSON functions take a want of memory for a text that is no JSON, and say nothing. So
 * nobody is accused before it was looked at again, with memory to spare. */
static bool look_again(struct book *book, int64_t run, int64_t at, struct book_verified *out,
                       struct fault *why)
{
	void *probe = sqlite3_malloc(PROBE_BYTES);
	if (!probe)
		return fault_memory(why);
	sqlite3_free(probe);
	return verify_part(book, run, at, out, why);
}

static bool verify_held(struct book *book, int64_t run, int64_t at, struct book_verified *out,
                        struct fault *why)
{
	bool ok;
	*out = (struct book_verified){0};
	/* One state of the book throughout, whoever writes beside us. */
	if (!book_hold(book, why))
		return false;
	ok = verify_part(book, run, at, out, why) &&
	     (!*out->difference || look_again(book, run, at, out, why));
	book_release(book);
	return ok;
}

bool book_verify(struct book *book, int64_t at, struct book_verified *out, struct fault *why)
{
	return verify_held(book, 0, at, out, why);
}

bool book_verify_run(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	return verify_held(book, run, 0, out, why);
}
