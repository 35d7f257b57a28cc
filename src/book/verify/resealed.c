/* Seals, made anew from the journal: the book as it stood when a run was sealed must give the
 * figures that the seal has, and must not have shown a drop before. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/journal/entries.h"
#include "book/verify/replica.h"
#include "rodbook/book/journal.h"

/* A seal of an entry, and the sight that it was entered with: 0 where that was a change of another
 * kind. */
struct sealed {
	int64_t seq, run, sight;
	const char *figures;
	bool late, asked;
};

static void drop_sight(struct level_run *run, int64_t id)
{
	for (size_t i = 0; i < run->count; i++)
		if (run->sight[i].id == id) {
			memmove(&run->sight[i], &run->sight[i + 1],
			        (run->count - i - 1) * sizeof *run->sight);
			run->count--;
			return;
		}
}

/* The first line in which two texts of figures differ; "" where one has no more. */
static void first_line(const char *one, const char *other, char out[80])
{
	while (*one && *one == *other) {
		one++;
		other++;
	}
	snprintf(out, 80, "%.*s", (int)strcspn(one, "\n"), one);
}

static bool compare(struct replica *r, const struct sealed *s, struct book_verified *out,
                    struct fault *why)
{
	struct book_settings settings;
	struct book_run run;
	struct level_run before;
	struct book_terms terms;
	char part[80], shown[80], value[BOOK_VALUE_BYTES];
	struct book_figures kept = {0};
	bool late, ok;
	/* An earlier rule made its figures in another way. */
	snprintf(kept.text, sizeof kept.text, "%s", s->figures);
	if (!book_figure(&kept, BOOK_RULE, value))
		return true;
	if (!book_settings(&r->book, &settings, why) || !book_load(&r->book, s->run, &run, why))
		return false;
	ok = book_open_terms(&r->book, &run, &terms, why);
	if (ok && strcmp(terms.figures.text, s->figures) != 0) {
		first_line(s->figures, terms.figures.text, part);
		snprintf(out->difference, sizeof out->difference,
		         "entry %" PRId64
		         ": the seal of run %.160s differs from the figures that settings, plan, "
		         "instruments and air gave at that entry, first at \"%s\"",
		         s->seq, run.info.name, level_show_text(shown, sizeof shown, part, false));
	}
	/* Over the same rows, of which as many are freed as the run has texts. */
	before = run.run;
	drop_sight(&before, s->sight);
	late = (!s->sight && !s->asked) || shows_drop(&before, settings.long_sight);
	if (ok && late && !s->late && !*out->difference)
		snprintf(out->difference, sizeof out->difference,
		         "entry %" PRId64
		         ": the seal of run %.160s came after a sight that could show a drop, and "
		         "does not say so",
		         s->seq, run.info.name);
	book_run_free(&run);
	return ok;
}

/* These entries up to their last seal. An entry of a seal stands behind those of the change that it
 * came with. */
#define UP_TO_SEAL(entries)                                                                        \
	"SELECT seq, tbl, after, act = 'seal' AND tbl = 'seal', run, coalesce(after ->> "          \
	"'figures', "                                                                              \
	"''), "                                                                                    \
	"after ->> 'late', coalesce(after ->> 'how', '') = 'asked', CASE WHEN act = 'seal' THEN "  \
	"coalesce((SELECT o.row FROM journal o WHERE "                                             \
	"o.run = "                                                                                 \
	"j.run AND o.action = j.action AND o.act = 'book' AND o.tbl = 'sight'), 0) END "           \
	"FROM " entries " j "                                                                      \
	"WHERE json_valid(after) AND seq <= (SELECT max(seq) FROM " entries                        \
	" WHERE act = 'seal' AND tbl = "                                                           \
	"'seal') ORDER BY seq"
static const char entries[] = UP_TO_SEAL(ENTRIES_ALL), of_run[] = UP_TO_SEAL(ENTRIES_OF_RUN);
enum { SEQ, TABLE, AFTER, IS_SEAL, RUN, FIGURES, LATE, ASKED, SIGHT };

static bool replay(struct book *book, int64_t run, struct replica *r, struct book_verified *out,
                   struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    run ? sql_query(book, why, of_run, "i", run) : sql_query(book, why, entries, "");
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		const char *table = (const char *)sqlite3_column_text(statement, TABLE);
		const char *after = (const char *)sqlite3_column_text(statement, AFTER);
		struct sealed s = {sqlite3_column_int64(statement, SEQ),
		                   sqlite3_column_int64(statement, RUN),
		                   sqlite3_column_int64(statement, SIGHT),
		                   (const char *)sqlite3_column_text(statement, FIGURES),
		                   sqlite3_column_int(statement, LATE) != 0,
		                   sqlite3_column_int(statement, ASKED) != 0};
		if (!table || !after || !s.figures)
			ok = fault_memory(why);
		else if (sqlite3_column_int(statement, IS_SEAL) && !*out->difference)
			ok = compare(r, &s, out, why);
		ok = ok && replica_put(r, table, after, why);
	}
	return sql_done(book, statement, ok, why);
}

/* Whether there is a seal to make anew. */
static bool find_seals(struct book *book, int64_t run, bool *sealed, struct fault *why)
{
	int64_t seals = 0;
	if (run)
		return is_sealed(book, run, sealed, why);
	if (!sql_integer(book, "SELECT count(*) FROM journal WHERE act = 'seal' AND tbl = 'seal'",
	                 &seals, why))
		return false;
	*sealed = seals > 0;
	return true;
}

bool seals_hold(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	struct replica replica;
	bool sealed, ok;
	if (!find_seals(book, run, &sealed, why))
		return false;
	if (!sealed)
		return true;
	ok = replica_begin(&replica, book, why) && replay(book, run, &replica, out, why);
	replica_end(&replica);
	return ok || book_spoiled(book, why);
}
