/* What leaves the program: pages, closings and lists, for people and as CSV, and the CSV of a run
 * that comes back as the same run.
 *
 * CSV is RFC 4180; numbers carry a decimal point, read back to the same nm, and name their unit.
 * Everything is written to the stream given; a failed write shows in ferror() of that stream. */
#ifndef RODBOOK_REPORT_PAPER_H
#define RODBOOK_REPORT_PAPER_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/book/book.h"
#include "rodbook/level/drop/crossing.h"
#include "rodbook/book/closings.h"
#include "rodbook/level/fieldtest.h"
#include "rodbook/book/journal.h"
#include "rodbook/level/page.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/reciprocal.h"

/* A run, reduced and closed by the book's settings. */
struct paper_run {
	struct book_settings settings;
	struct book_run book;
	struct book_terms terms; /* sealed ones, where the run is sealed */
	char test_warning[300];  /* about its instruments, or empty */
	struct level_page page;
	struct level_closing closing;
	struct book_closing *closings; /* each closing and reopening, in order */
	size_t closing_count;
};

/* Loads, reduces and closes a run; set NULL: the book's tolerance set. */
bool paper_load(struct book *book, const char *name, const struct level_tolerance *set,
                struct paper_run *out, struct fault *why);
/* The same for a run out of a list: one that cannot be read is a FAULT_SPOILED, and says nothing
 * about the others. */
bool paper_load_listed(struct book *book, const struct book_run_info *info, struct paper_run *out,
                       struct fault *why);
void paper_free(struct paper_run *run);

#define PAPER_CELL_BYTES LEVEL_LENGTH_BYTES

/* The texts of one row of the page, in the book's unit; "" where a column has nothing. Readings
 * stand as they were typed where they were typed in the book's unit. */
struct paper_cells {
	char setup[12];
	char bs[PAPER_CELL_BYTES], hi[PAPER_CELL_BYTES], is[PAPER_CELL_BYTES], fs[PAPER_CELL_BYTES];
	char elevation[PAPER_CELL_BYTES], corrected[PAPER_CELL_BYTES], distance[PAPER_CELL_BYTES];
	char step[PAPER_CELL_BYTES];
};

/* How far a sight's station stands above (+, cut) or below (-, fill) the design grade of its run:
 * where both the grade and its place along the line are known, with the design elevation there. */
bool paper_cut(const struct book_run_info *info, const struct book_note *note,
               const struct level_row *row, level_nm *design, level_nm *cut);
/* "standing 2" at the BS of a further standing, "mean of 2" at its FS; else "". */
void paper_standing(const struct level_sight *sight, const struct level_row *row, char *text,
                    size_t size);
void paper_cells(const struct level_sight *sight, const struct book_note *note,
                 const struct level_row *row, const struct level_style *style,
                 struct paper_cells *out);
/* A computed length in m, such as a drop, with a decimal more than the page. Returns buf. */
char *paper_meters(char buf[LEVEL_LENGTH_BYTES], double meters, const struct level_style *style,
                   bool plus);
/* How many columns of the text stand from its decimal point (or fraction) on. */
int paper_tail(const char *text);

bool paper_page(FILE *out, const struct paper_run *run, bool csv, struct fault *why);
/* The page on sheets of 56 lines of 78 columns, a form feed between them, sums carried from sheet
 * to sheet; behind it closing, instruments, cautions and lines to sign. */
bool paper_page_print(FILE *out, struct book *book, const struct paper_run *run, struct fault *why);
void paper_closure(FILE *out, const struct paper_run *run, bool csv);
/* The closing in a sentence: closes, misses by so much, or why it cannot be said. */
void paper_verdict(const struct level_run *run, const struct level_closing *closing,
                   const struct level_style *style, char *text, size_t size);

/* When a run was closed, and each reopening with its reason, a line each; nothing of a run that was
 * never closed. */
void paper_closings(FILE *out, const struct paper_run *run);
/* "open", "closed", or "reopened": not closed, but it was. */
const char *paper_state(const struct book_run_info *run);
/* "yes", "no" (also where there is no misclosure), or "unknown" where nothing judges it. */
const char *paper_closes(const struct level_run *run, const struct level_closing *closing);

/* Whether more than one rod was read. */
bool paper_two_rods(const struct paper_run *run);

/* The single entries whose likely slip would bring a run that misses within its allowable, and what
 * to read again. *explained: there is one, or the run closes. False only where memory is short. */
bool paper_slips(FILE *out, const struct paper_run *run, bool csv, bool *explained,
                 struct fault *why);

/* A plan: its numbers, and with `rows` > 0 a drawing of drop and allowance over distance. */
struct paper_plan {
	struct level_style style;
	struct level_plan plan;
	struct book_figures figures; /* merged, as book_plan_of() gives them */
};
void paper_plan(FILE *out, const struct paper_plan *plan, bool csv);
/* The same for distances from `from` on to `to`, m, as a table with its drawing. At most
 * PAPER_TABLE_MOST rows. */
#define PAPER_TABLE_MOST 1000
void paper_plan_table(FILE *out, const struct paper_plan *plan, double from, double to, double step,
                      bool csv);
/* What a plan's numbers come to, in a sentence. */
void paper_plan_verdict(const struct paper_plan *plan, const struct level_planned *planned,
                        char *text, size_t size);

/* What the drop of a crossing says; false with FAULT_INPUT where it is none, or not complete. */
bool paper_drop(FILE *out, struct book *book, const struct paper_run *run, bool csv,
                struct fault *why);
/* Why a run has no drop: it is no crossing, or not complete; false where it has one. */
bool paper_no_drop(const struct paper_run *run, char *text, size_t size);
/* Why a complete crossing has no answer, in a sentence of at most 78 columns, a row of the pane; ""
 * where it has one. */
void paper_no_answer(const struct level_closing *closing, char *text, size_t size);
/* Whether a run has an answer. */
bool paper_is_answered(const struct paper_run *run);
/* Several crossings: those named, or where count is 0 all whose drop can be said. out takes the
 * figures, svg the drawing; either may be NULL. */
bool paper_drops(FILE *out, FILE *svg, struct book *book, const char *const *names, size_t count,
                 bool csv, struct fault *why);
/* What shrinks a line of the allowance. */
const char *paper_remedy(enum level_allowance_line line);
/* "a default", "two thermometers", ... */
const char *paper_k_source(enum level_k_source source);
/* "k 0.13, from -1.87 to 4.13, a default": k, what the true one may be, and where it comes from. */
void paper_k(const struct level_terms *terms, enum level_k_source source, char *text, size_t size);

/* Air as it was booked, in one line without its time; text has PAPER_AIR_BYTES. */
#define PAPER_AIR_BYTES 640
void paper_air_text(const struct book_air *air, char *text, size_t size);
/* What a k does to what a flat surface, or the far shore, shows, in a sentence; "" where nothing
 * out of the common. */
const char *paper_air_words(double k, double radius);

/* A peg test, held against a set's tilt; whether it passes (also where the set has none), and that
 * in words. */
void paper_pegtest(FILE *out, const struct level_peg_result *result,
                   const struct level_tolerance *set, const struct level_style *style, bool csv);
void paper_pegtests_csv(FILE *out, const struct book_pegtest *tests, size_t count);
bool paper_pegtest_passes(const struct level_peg_result *result, const struct level_tolerance *set);
void paper_pegtest_words(const struct level_peg_result *result, const struct level_tolerance *set,
                         char *text, size_t size);

/* What the readings from two banks give. */
void paper_reciprocal(FILE *out, const struct level_bank *a, const struct level_bank *b,
                      const struct level_reciprocal *result, const struct level_style *style,
                      bool csv);

/* The pairs of a CSV file with the columns backsight and foresight; "-" is the standard input. The
 * fault names file, line and column. */
bool paper_fieldtest_read(const char *path, enum level_unit bare,
                          struct level_pair pairs[LEVEL_FIELDTEST_MOST], size_t *count,
                          struct fault *why);
/* A field test in figures and words; `other`: it was compared with another one. */
void paper_fieldtest(FILE *out, const struct level_fieldtest *test, bool other,
                     const struct level_style *style, bool csv);

/* What is to be said about the peg tests of a run's named instruments, held against a set: not
 * tested, failed, or too long ago; "" where nothing is. */
bool paper_test_warning(struct book *book, const struct book_run *run,
                        const struct level_tolerance *set, char *text, size_t size,
                        struct fault *why);

/* What the proof of a book found; at: the seq whose digest was asked for, or 0. */
/* against: a digest of the entries up to `at`, or "". */
void paper_verified(FILE *out, const struct book_verified *verified, int64_t at,
                    const char *against, bool csv);
/* "to publish: DIGEST@SEQ" of the book as it is now; or that it could not be worked out. */
#define PAPER_WITNESS_BYTES 120
const char *paper_witness(struct book *book, char text[PAPER_WITNESS_BYTES]);

/* The journal of a run, or of the whole book where run is 0, oldest first; where newest > 0 only so
 * many actions, the newest first. As CSV a record for each column that changed. */
bool paper_journal(FILE *out, struct book *book, int64_t run, int64_t newest, bool csv,
                   struct fault *why);

/* What is still open in the runs named, or where count is 0 in all, most costly first, each with
 * what to do. *blocks: one of them must be done before leaving. */
bool paper_leave(FILE *out, struct book *book, const char *const *names, size_t count, bool csv,
                 bool *blocks, struct fault *why);

bool paper_marks(FILE *out, struct book *book, bool csv, struct fault *why);
bool paper_runs(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why);
bool paper_instruments(FILE *out, struct book *book, bool csv, struct fault *why);
/* What was read of the water, and of the air, in a run. */
bool paper_waters(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                  struct fault *why);
bool paper_airs(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                struct fault *why);
bool paper_settings(FILE *out, struct book *book, bool csv, struct fault *why);

/* Writes the counted sights of a run as CSV that paper_import() takes back unchanged, with the
 * known elevations they stand on, but not the uncertainties and sources of those. */
bool paper_export(FILE *out, struct book *book, const struct paper_run *run, struct fault *why);

struct paper_imported {
	size_t runs, sights, marks;
};
/* Takes runs, a list of marks or a whole book from a CSV file, all rows or none; the fault names
 * file, line and column. */
bool paper_import(struct book *book, const char *path, struct paper_imported *counts,
                  struct fault *why);

/* The statement of a run: what was read and with what, what was sealed, every sum written out, the
 * answer, and the digest of the book's journal; for the screen, on sheets of paper, or its numbers
 * as quantity,value,unit. */
enum paper_statement_form { PAPER_STATEMENT_TEXT, PAPER_STATEMENT_PRINT, PAPER_STATEMENT_CSV };
bool paper_statement(FILE *out, struct book *book, const struct paper_run *run,
                     enum paper_statement_form form, struct fault *why);

/* Pictures: the profile of a run; the long sight of a crossing of one setup; how runs close, those
 * named or all. In characters, as SVG 1.1, or every number that is drawn as CSV,
 * element,name,x,y,error. FAULT_EMPTY where there is nothing to draw. */
enum paper_picture { PAPER_PROFILE, PAPER_LONGSIGHT, PAPER_CLOSURES };
enum paper_form { PAPER_AS_TEXT, PAPER_AS_SVG, PAPER_AS_CSV };
bool paper_picture(FILE *out, struct book *book, enum paper_picture which, const char *const *names,
                   size_t count, enum paper_form form, struct fault *why);

/* Writes the whole book, all but its journal and what is half typed, as CSV that paper_import()
 * takes back: a line "book,VERSION", then for each table a line "columns,TABLE,..." and its rows,
 * "row,TABLE,...". */
bool paper_export_whole(FILE *out, struct book *book, struct fault *why);
/* Writes the marks that count as CSV, mark,elevation,u,unit,source, likewise. */
bool paper_export_marks(FILE *out, struct book *book, struct fault *why);
/* Takes runs of another book with all that belongs to them: marks, instruments, rods and plans that
 * they name, water, air, seals, closings. Without names, the marks that count. path names the other
 * book in the journal. */
bool paper_copy(struct book *book, struct book *other, const char *path, const char *const *names,
                size_t count, struct paper_imported *counts, struct fault *why);

/* What bringing a book of an older version up changed, in a sentence; "" where it was not. */
const char *paper_brought_up(const struct book *book);

/* Whether text is a time: 2026-05-04, 2026-05-04T09:30, with :00, with Z or +02:00. */
bool paper_is_time(const char *text);

#endif
