/* The statement of a run: everything that someone needs who judges it, or reckons it again. */
#include <stdlib.h>
#include <string.h>

#include "report/drop/drop.h"
#include "report/drop/drop_entries.h"
#include "report/front/front.h"
#include "report/lines.h"
#include "report/quantities.h"
#include "report/page/sheets.h"
#include "report/statement/stated.h"
#include "text/wrap.h"

/* The first and the last time of a sight that counts. */
static void put_times(FILE *out, const struct work_run *run)
{
	const char *first, *last;
	fprintf(out, "begun %s", run->book.info.time);
	if (work_sight_times(&run->book, &first, &last))
		fprintf(out, "; sights from %s to %s", first, last);
	fputc('\n', out);
	if (*run->book.info.plan)
		fprintf(out, "by the plan %s\n", run->book.info.plan);
	if (*run->book.info.grade)
		fprintf(out, "ground held against the grade %s\n", run->book.info.grade);
}

static void put_verified(FILE *out, const struct book_verified *verified)
{
	fprintf(out,
	        "the book: its journal has %lld entries, the last one numbered %lld; their digest "
	        "(SHA-256)\n  %s\n",
	        (long long)verified->entries, (long long)verified->last, verified->digest);
	if (*verified->difference)
		fprintf(out, "  JOURNAL AND TABLES DIFFER: %s\n", verified->difference);
	else
		fputs(
		    "  marks, settings, instruments and this run are as their entries left them;\n"
		    "  rodbook verify proves the rest of the book\n",
		    out);
}

static bool put_crossing(FILE *out, struct book *book, const struct stated *stated,
                         struct fault *why)
{
	const struct work_run *run = stated->run;
	struct book_seal *seals;
	char reason[480];
	size_t count;
	bool ok;
	if (!stated_waters(out, book, run, why))
		return false;
	fprintf(out, "\nair, as it was booked:\n");
	if (!report_airs(out, book, &run->book.info, false, why) ||
	    !book_seals(book, run->book.info.id, &seals, &count, why))
		return false;
	fputc('\n', out);
	if (report_no_drop(run, reason, sizeof reason))
		fprintf(out, "nothing can be said of the drop: %s\n", reason);
	else
		stated_drop(out, stated);
	fputc('\n', out);
	drop_seals(out, run, seals, count);
	ok = drop_struck(out, book, run, count ? seals[0].time : "", why);
	free(seals);
	if (ok)
		fputs(drop_checks, out);
	return ok;
}

/* print: the workings begin a page. */
static void put_front(FILE *out, const struct work_run *run, const struct book_verified *verified,
                      bool print)
{
	struct front front;
	front_of(run, &front);
	front_proven(&front, verified);
	fputc('\n', out);
	front_text(out, &front, SHEET_COLUMNS);
	fputs(print ? "\f\n" : "\n", out);
	fputs("All workings follow, so that each figure can be found again with a calculator.\n\n",
	      out);
}

static bool put_all(FILE *out, struct book *book, const struct stated *stated,
                    const struct book_verified *verified, struct fault *why)
{
	char tested[REPORT_TESTED_BYTES];
	const struct work_run *run = stated->run;
	put_times(out, run);
	lines_heads(out, run);
	fputc('\n', out);
	stated_sights(out, run);
	fputc('\n', out);
	if (!stated_marks(out, book, run, why))
		return false;
	fputc('\n', out);
	if (!stated_instruments(out, book, run, why) || !stated_rods(out, book, run, why))
		return false;
	if (run->tested.state != WORK_TESTED)
		fprintf(out, "  %s\n", report_tested(tested, &run->tested, run->closing.set));
	fputc('\n', out);
	stated_sums(out, stated);
	fputc('\n', out);
	stated_closing(out, stated);
	fputc('\n', out);
	lines_held(out, run, true);
	if (run->gauge_count || run->setout_count)
		fputc('\n', out);
	if (run->book.run.kind == LEVEL_CROSSING && !put_crossing(out, book, stated, why))
		return false;
	fputc('\n', out);
	put_verified(out, verified);
	fputs("\nA statement says what these readings carry under these figures, and no more.\n",
	      out);
	lines_cautions(out);
	fputc('\n', out);
	lines_signatures(out);
	return true;
}

/* The text on paper, or for the screen. */
static bool put_text(FILE *out, const char *text, const char *heading, bool print)
{
	struct sheets sheets = {.heading = heading};
	if (print) {
		bool ok;
		sheets_text(&sheets, text);
		ok = sheets_put(out, &sheets);
		sheets_free(&sheets);
		return ok;
	}
	wrap_text(out, heading, SHEET_COLUMNS);
	wrap_text(out, text, SHEET_COLUMNS);
	return true;
}

/* A run with its parts, and whether it agrees with the journal. */
struct checked {
	struct stated stated;
	struct level_part *part;
	struct book_verified verified;
};

static bool check(struct checked *out, struct book *book, const struct work_run *run,
                  struct fault *why)
{
	*out = (struct checked){.part = calloc(run->book.run.count + 1, sizeof *out->part)};
	out->stated = (struct stated){run, out->part};
	if (!out->part)
		return fault_memory(why);
	level_parts(&run->book.run, &run->page, &run->terms.terms, out->part);
	return book_run_unchanged(book, &run->book, why) &&
	       book_verify_run(book, run->book.info.id, &out->verified, why);
}

/* All of it is of one state of the book, that of the digest. front: with the first page before it.
 */
static bool put_checked(FILE *out, struct book *book, const struct work_run *run, bool front,
                        bool print, struct book_verified *verified, struct fault *why)
{
	struct checked checked = {0};
	bool ok;
	if (!book_hold(book, why))
		return false;
	ok = check(&checked, book, run, why);
	if (ok && front)
		put_front(out, run, &checked.verified, print);
	ok = ok && put_all(out, book, &checked.stated, &checked.verified, why);
	*verified = checked.verified;
	book_release(book);
	free(checked.part);
	return ok;
}

bool stated_workings(FILE *out, struct book *book, const struct work_run *run,
                     struct book_verified *verified, struct fault *why)
{
	return put_checked(out, book, run, false, false, verified, why);
}

static bool put_csv(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct checked checked = {0};
	bool ok;
	if (!book_hold(book, why))
		return false;
	ok = check(&checked, book, run, why);
	if (ok) {
		stated_csv(out, &checked.stated, &checked.verified);
		ok = stated_waters_csv(out, book, run, why);
		if (*checked.verified.difference)
			quantity_text(out, "difference", checked.verified.difference);
	}
	book_release(book);
	free(checked.part);
	return ok;
}

bool report_statement(FILE *out, struct book *book, const struct work_run *run,
                      enum report_statement_form form, struct fault *why)
{
	char heading[LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60], *text = NULL;
	size_t size = 0;
	struct book_verified verified;
	FILE *body;
	bool ok;
	if (form == REPORT_STATEMENT_CSV)
		return put_csv(out, book, run, why);
	body = open_memstream(&text, &size);
	if (!body)
		return fault_memory(why);
	ok = put_checked(body, book, run, true, form == REPORT_STATEMENT_PRINT, &verified, why);
	if (fclose(body) != 0 || !text)
		ok = fault_memory(why);
	lines_heading(run, LINES_STATEMENT, heading, sizeof heading);
	if (ok && !put_text(out, text, heading, form == REPORT_STATEMENT_PRINT))
		ok = fault_memory(why);
	free(text);
	return ok;
}
