/* What leaves the program for people, and as quantity,value,unit: pages, closings, lists.
 *
 * CSV is RFC 4180; numbers carry a decimal point, read back to the same nm, and name their unit.
 * Everything is written to the stream given; a failed write shows in ferror() of that stream. */
#ifndef RODBOOK_REPORT_REPORT_H
#define RODBOOK_REPORT_REPORT_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/book/book.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/closings.h"
#include "rodbook/level/fieldtest.h"
#include "rodbook/book/journal.h"
#include "rodbook/level/page.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/reciprocal.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/slips.h"
#include "rodbook/level/warnings.h"
#include "rodbook/work/compare.h"
#include "rodbook/work/remedy.h"
#include "rodbook/work/water.h"

#define REPORT_CELL_BYTES LEVEL_LENGTH_BYTES

/* The texts of one row of the page, in the book's unit; "" where a column has nothing. Readings
 * stand as they were typed where they were typed in the book's unit. */
struct report_cells {
	char setup[12];
	char bs[REPORT_CELL_BYTES], hi[REPORT_CELL_BYTES], is[REPORT_CELL_BYTES],
	    fs[REPORT_CELL_BYTES];
	char elevation[REPORT_CELL_BYTES], corrected[REPORT_CELL_BYTES],
	    distance[REPORT_CELL_BYTES];
	char step[REPORT_CELL_BYTES];
	char offset[REPORT_CELL_BYTES + 8]; /* "offset +1.250", which stands over the columns from
	                                       BS to FS */
};

/* How far a sight's station stands above (+, cut) or below (-, fill) the design grade of its run:
 * where both the grade and its place along the line are known, with the design elevation there. */
bool report_cut(const struct book_run_info *info, const struct book_kept *note,
                const struct level_row *row, level_nm *design, level_nm *cut);
/* "standing 2" at the BS of a further standing, "mean of 2" at its FS; else "". */
void report_standing(const struct level_sight *sight, const struct level_row *row, char *text,
                     size_t size);
void report_cells(const struct level_sight *sight, const struct book_kept *note,
                  const struct level_row *row, const struct level_style *style,
                  struct report_cells *out);
/* A computed length in m, such as a drop, with a decimal more than the page. Returns buf. */
char *report_meters(char buf[LEVEL_LENGTH_BYTES], double meters, const struct level_style *style,
                    bool plus);
/* How many columns of the text stand from its decimal point (or fraction) on. */
int report_tail(const char *text);

bool report_page(FILE *out, const struct work_run *run, bool csv, struct fault *why);
/* The page on sheets of 56 lines of 78 columns, a form feed between them, sums carried from sheet
 * to sheet; behind it closing, instruments, cautions and lines to sign. */
bool report_page_print(FILE *out, struct book *book, const struct work_run *run, struct fault *why);
void report_closure(FILE *out, const struct work_run *run, bool csv);
/* The closing in a sentence: closes, misses by so much, why it cannot be said, or that the run was
 * set aside: closed without a setup. */
void report_verdict(const struct work_run *run, char *text, size_t size);

/* "party", ... "checked by". */
const char *report_head_word(enum book_head_text text);
/* One head, or all that a run's pages have; CSV as day,text,value,carried, whose first line
 * report_heads() writes. */
void report_head(FILE *out, const struct work_head *head, bool csv);
void report_heads(FILE *out, const struct work_run *run, bool csv);
/* A figure beside its limit; a distance in the unit of distances. Returns buf. */
const char *report_limit_figure(char buf[LEVEL_LENGTH_BYTES], enum level_limit limit,
                                level_nm figure, const struct level_style *style);
/* The style with as many decimals more as tell misclosure and allowable apart. */
struct level_style report_judged_style(const struct level_closing *closing,
                                       const struct level_style *style);
/* A known mark that is missed by so much, or, from `from`, a section leveled both ways; and what
 * it may be missed by. from "": none. */
void report_failing(const char *from, const char *mark, level_nm by, level_nm allowable,
                    const struct level_style *style, char *text, size_t size);
/* That a mark of a closed run or a sealed crossing is known otherwise since then. */
void report_moved(const struct book_moved *moved, const struct level_style *style, char *text,
                  size_t size);

/* What is to be said about the peg tests of a run's instruments, held against that set; "" where
 * nothing is. Returns text, which has REPORT_TESTED_BYTES. */
#define REPORT_TESTED_BYTES 400
const char *report_tested(char text[REPORT_TESTED_BYTES], const struct work_tested *tested,
                          const struct level_tolerance *set);

/* That the test of a level was booked after the seal, of work_tested.late; "" where none was.
 * Returns text, which has REPORT_TESTED_BYTES. */
const char *report_late_test(char text[REPORT_TESTED_BYTES], const struct work_tested *tested);

/* Warnings about a sight, with what to do about each; "" where there are none. */
struct report_warned {
	const struct level_warned *warned;
	const struct work_compared *compared;
	const struct level_sight *sight;
	int setup;        /* that it stands in */
	double reading_u; /* of one reading by its method, m */
	const struct book_settings *settings;
};
void report_warnings(const struct report_warned *about, char *words, size_t size);
/* What a station's reading found less what was known, in a sentence; "" where it is compared with
 * nothing. */
void report_compared(const struct work_compared *compared, const char *station,
                     const struct level_style *style, char *text, size_t size);
/* The same in a few words: "holds: less given +0.004, may 0.012". */
void report_compared_brief(const struct work_compared *compared, const struct level_style *style,
                           char *text, size_t size);

/* What is doubtful of a water reading as it was typed; "" where nothing is. */
void report_water_doubt(const struct work_water_doubt *doubt, const char *typed,
                        const char *station, const struct level_style *style, char *text,
                        size_t size);

/* When a run was closed, and each reopening with its reason, a line each; nothing of a run that was
 * never closed. */
void report_closings(FILE *out, const struct work_run *run);
/* "open", "closed", or "reopened": not closed, but it was. */
const char *report_state(const struct book_run_info *run);
/* "yes", "no" (also where there is no misclosure), or "unknown" where nothing judges it. */
const char *report_closes(const struct level_run *run, const struct level_closing *closing);

/* The single entries whose likely slip would bring a run that misses within its allowable, and what
 * to read again. *explained: there is one, or the run closes. False only where memory is short. */
bool report_slips(FILE *out, const struct work_run *run, bool csv, bool *explained,
                  struct fault *why);
/* The same text of slips that work_slips() found. row: where the line of each begins, in bytes of a
 * stream that can tell; of as many as are shown, likeliest first. */
#define REPORT_SLIPS_SHOWN 8 /* two lines each at most, on a screen of 24 */
void report_slips_text(FILE *out, const struct work_run *run, const struct level_slips *slips,
                       long row[REPORT_SLIPS_SHOWN]);
/* "read FS of setup 2 again: ...": what to go and read, and what may have happened. */
#define REPORT_SLIP_BYTES 160
void report_slip_again(const struct work_run *run, const struct level_slip *slip, char *text,
                       size_t size);

/* A plan: its numbers, and with `rows` > 0 a drawing of drop and allowance over distance. */
struct report_plan {
	struct level_style style;
	struct level_plan plan;
	struct book_figures figures; /* merged, as book_plan_of() gives them */
};
void report_plan(FILE *out, const struct report_plan *plan, bool csv);
/* A card for the person at the far pole, to print: where the cross-hair meets it, how large the
 * target must be for a telescope of that power, what to read, signals, cautions. */
void report_card(FILE *out, const struct report_plan *plan, const char *title, const char *name,
                 double power);
/* The same as one HTML file, with the pole drawn at true scale and a ruler to see that it is. */
bool report_card_html(FILE *out, struct book *book, const struct report_plan *plan,
                      const char *title, const char *name, double power, struct fault *why);
/* The same for distances from `from` on to `to`, m, as a table with its drawing. At most
 * REPORT_TABLE_MOST rows. */
#define REPORT_TABLE_MOST 1000
void report_plan_table(FILE *out, const struct report_plan *plan, double from, double to,
                       double step, bool csv);
/* What a plan's numbers come to, in a sentence. */
void report_plan_verdict(const struct report_plan *plan, const struct level_planned *planned,
                         char *text, size_t size);

/* Of work_airs.wind_unsaid, and what to do about it. */
#define REPORT_WIND_UNSAID "where the wind came from is not said: from land, k is not measured"
#define REPORT_SAY_WIND "say it (F11, air, Enter)"

/* Of work_airs.since_seal, and what would tell. */
#define REPORT_AIR_SINCE "air was booked or struck after the seal: k stays as it was sealed"
#define REPORT_AIR_SINCE_TELLS "the same sight again, its air booked before the seal"

/* What the drop of a crossing says; false with FAULT_INPUT where it is none, or not complete. */
bool report_drop(FILE *out, struct book *book, const struct work_run *run, bool csv,
                 struct fault *why);
/* Why a run has no drop: it is no crossing, or not complete; false where it has one. */
bool report_no_drop(const struct work_run *run, char *text, size_t size);
/* Why a complete crossing has no answer, in a sentence of at most 78 columns, a row of the pane; ""
 * where it has one. */
void report_no_answer(const struct level_closing *closing, char *text, size_t size);
/* How a report is written: for people with a drawing in characters, the drawing alone as SVG 1.1,
 * its figures as CSV, or all of it as one HTML file, which fetches and runs nothing. */
enum report_form { REPORT_AS_TEXT, REPORT_AS_SVG, REPORT_AS_CSV, REPORT_AS_HTML };
/* Several crossings: those named, or where count is 0 all whose drop can be said. */
bool report_drops(FILE *out, struct book *book, const char *const *names, size_t count,
                  enum report_form form, struct fault *why);
/* What shrinks a line of the allowance. */
const char *report_remedy(enum level_allowance_line line, const struct work_done *done);
/* "a default", "two thermometers", ... */
const char *report_k_source(enum level_k_source source);
/* "k 0.13, from -1.87 to 4.13, a default": k, what the true one may be, and where it comes from. */
void report_k(const struct level_terms *terms, enum level_k_source source, char *text, size_t size);

/* Air as it was booked, in one line without its time; text has REPORT_AIR_BYTES. */
#define REPORT_AIR_BYTES 640
void report_air_text(const struct book_air *air, char *text, size_t size);
/* What a k does to what a flat surface, or the far shore, shows, in a sentence; "" where nothing
 * out of the common. */
const char *report_air_words(double k, double radius);

/* A peg test, held against a set's tilt; whether it passes (also where the set has none), and that
 * in words. */
void report_pegtest(FILE *out, const struct level_peg_result *result,
                    const struct level_tolerance *set, const struct level_style *style, bool csv);
void report_pegtests_csv(FILE *out, const struct book_pegtest *tests, size_t count);
/* A kept peg test for people: when, of what level, its tilt, and a line for each of its sets with
 * what was read and the tilt of that set alone. terms: those of the book. */
void report_pegtest_kept(FILE *out, const struct book_pegtest *test,
                         const struct level_terms *terms);
bool report_pegtest_passes(const struct level_peg_result *result,
                           const struct level_tolerance *set);
/* Whether a drop is freed of the tilt or allows the level's tolerance, a slope as it is written
 * ("1/16 in in 300 ft"), with what either may be off by at one standard uncertainty, mm/m. Empty
 * where the tolerance is no slope. */
void report_pegtest_counts(const struct level_peg_result *result, const char *tolerance, char *text,
                           size_t size);
void report_pegtest_words(const struct level_peg_result *result, const struct level_tolerance *set,
                          char *text, size_t size);
#define REPORT_TILT_BYTES 80
/* "tilt +0.011 mm/m, u 0.017" of a tilt and its standard uncertainty, length per length: both to
 * two figures of u, at most to 0.000001 mm/m. Returns text. */
const char *report_tilt(char text[REPORT_TILT_BYTES], double tilt, double u);
/* What the tilt makes over the length that tests go by in the unit of readings: "+0.55 mm over 50
 * m", "+0.0011 ft over 100 ft", in inches "+0.013 in over 100 ft". Returns text. */
const char *report_tilt_over(char text[REPORT_TILT_BYTES], double tilt,
                             const struct level_style *style);

/* What the readings from two banks give. */
void report_reciprocal(FILE *out, const struct level_bank *a, const struct level_bank *b,
                       const struct level_reciprocal *result, const struct level_style *style,
                       bool csv);

/* A reading scaled from a photograph, with its limit, as it is typed. */
void report_scaled(FILE *out, const struct level_scaled *scaled, const struct level_style *style,
                   bool csv);

/* A field test in figures and words; `other`: it was compared with another one. */
void report_fieldtest(FILE *out, const struct level_fieldtest *test, bool other,
                      const struct level_style *style, bool csv);

/* What the proof of a book found; at: the seq whose digest was asked for, or 0. */
/* against: a digest of the entries up to `at`, or "". */
void report_verified(FILE *out, const struct book_verified *verified, int64_t at,
                     const char *against, bool csv);
/* "to publish: DIGEST@SEQ" of the book as it is now; or that it could not be worked out. */
#define REPORT_WITNESS_BYTES 120
const char *report_witness(struct book *book, char text[REPORT_WITNESS_BYTES]);
/* The foot of a paper: the program's version, and the digest of the book. */
#define REPORT_FOOT_BYTES 200
const char *report_foot(struct book *book, char text[REPORT_FOOT_BYTES]);

/* The journal of a run, or of the whole book where run is 0, oldest first; where newest > 0 only so
 * many actions, the newest first. As CSV a record for each column that changed. */
bool report_journal(FILE *out, struct book *book, int64_t run, int64_t newest, bool csv,
                    struct fault *why);

/* What is still open in the runs named, or where count is 0 in all, most costly first, each with
 * what to do. *blocks: one of them must be done before leaving. */
bool report_leave(FILE *out, struct book *book, const char *const *names, size_t count, bool csv,
                  bool *blocks, struct fault *why);

bool report_marks(FILE *out, struct book *book, bool csv, struct fault *why);
bool report_runs(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why);
bool report_instruments(FILE *out, struct book *book, bool csv, struct fault *why);
/* That water read at a station counts for nothing; back: since the run is at its start again. */
#define REPORT_UNUSED_BYTES 300
const char *report_water_unused(char text[REPORT_UNUSED_BYTES], const char *station, bool back);

/* What the times of a run say against each other, one of three; "" where that is nothing. Returns
 * text. */
enum report_times { REPORT_TIMES_WATER, REPORT_TIMES_AIR, REPORT_TIMES_ORDER };
/* ", typed 2026-05-04 19:30" behind a time of observation; "" where it was typed then. */
#define REPORT_TYPED_BYTES 40
const char *report_typed(const char *booked, char text[REPORT_TYPED_BYTES]);
const char *report_times(const struct work_times *times, enum report_times which, char *text,
                         size_t size);
/* What csv_export() of a run does not carry, "2 struck sights, that it is closed"; "" where it
 * carries all. Returns text. */
const char *report_left_behind(const struct work_run *run, char *text, size_t size);
/* What was read of the water, and of the air, in a run. */
bool report_waters(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                   struct fault *why);
bool report_airs(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                 struct fault *why);
bool report_settings(FILE *out, struct book *book, bool csv, struct fault *why);
/* All gauges of a book against what their runs found, and all set-outs as they stand; *unreadable:
 * runs among them that cannot be read. */
bool report_gauges(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why);
bool report_setouts(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why);
/* One of them without its station: "read 2.450, found 2.447, found less read -0.003 m". */
void report_gauge_words(const struct work_gauge *gauge, const struct level_style *style, char *text,
                        size_t size);
void report_setout_words(const struct work_setout *setout, const struct level_style *style,
                         char *text, size_t size);

/* The statement of a run: what was read and with what, what was sealed, every sum written out, the
 * answer, and the digest of the book's journal; for the screen, on sheets of paper, or its numbers
 * as quantity,value,unit. */
enum report_statement_form { REPORT_STATEMENT_TEXT, REPORT_STATEMENT_PRINT, REPORT_STATEMENT_CSV };
bool report_statement(FILE *out, struct book *book, const struct work_run *run,
                      enum report_statement_form form, struct fault *why);

/* Papers of a run as one HTML file each, which fetches and runs nothing, for a browser or to print.
 */
enum report_paper {
	REPORT_PAPER_PAGE,
	REPORT_PAPER_CLOSING,
	REPORT_PAPER_DROP,
	REPORT_PAPER_STATEMENT
};
bool report_html(FILE *out, struct book *book, const struct work_run *run, enum report_paper paper,
                 struct fault *why);

/* Pictures: the profile of a run; the long sight of a crossing of one setup; how runs close, those
 * named or all. CSV: every number that is drawn, element,name,x,y,error. FAULT_EMPTY where there is
 * nothing to draw. */
enum report_picture { REPORT_PROFILE, REPORT_LONGSIGHT, REPORT_CLOSURES };
bool report_picture(FILE *out, struct book *book, enum report_picture which,
                    const char *const *names, size_t count, enum report_form form,
                    struct fault *why);

/* What bringing a book of an older version up changed, in a sentence; "" where it was not. */
const char *report_brought_up(const struct book *book);

#endif
