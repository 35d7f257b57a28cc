/* What the papers on plans and drops share: lines of figures, a decimal finer than the page. */
#ifndef REPORT_LINES_H
#define REPORT_LINES_H

#include "rodbook/report/report.h"

struct level_style lines_finer(const struct level_style *style);
/* The style with as many decimals more as tell a figure, without its sign, from its limit, and a
 * limit from 0. */
struct level_style lines_telling(level_nm figure, level_nm limit, const struct level_style *style);
/* "name  value  note", the value a length in m. */
void lines_length(FILE *out, const char *name, double meters, const struct level_style *style,
                  bool plus, const char *note);
/* An instrument and its tolerance, or where its test counts the tilt found and the one that
 * readings of a crossing are freed of: with the curvature that the pegs took off left in, tilt +
 * g/2R. */
void lines_instrument(const struct level_terms *terms, const struct book_figures *figures,
                      const char *name, int index, char *text, size_t size);
/* The allowance by line, limit and u beside each other, with both totals; `instruments` stands
 * beside the line of that name. reach: L, which declared slopes are multiplied by. */
void lines_allowance(FILE *out, const struct level_allowance *allowance,
                     const struct level_terms *terms, double reach, const char *instruments,
                     const struct level_style *style);
/* allowance_NAME quantities. */
void lines_allowance_csv(FILE *out, const struct level_allowance *allowance,
                         const struct level_terms *terms, double reach,
                         const struct level_style *style);
/* Both measured ways where both are possible, whether they disagree, and what leaves them no say;
 * and the same as quantities. */
void lines_found(FILE *out, const struct level_k_found *found);
void lines_found_csv(FILE *out, const struct level_k_found *found);
/* k, dk_low, dk_high and k_source quantities. */
void lines_k_csv(FILE *out, const struct level_k *k, enum level_k_source source);
/* "6371 km", to a meter where it is shorter; "no upper limit", "none". */
void lines_radius(char *text, size_t size, double radius);

/* How the time of striking stands in a row: in full, or the hour and minute alone. */
enum lines_stamp { LINES_FULL, LINES_HOUR };
/* What stands in the last column of a page's row: striking, standing, another method than the rod,
 * place, remark, photograph; `part` comes before the first of them. */
void lines_remark(FILE *out, const struct work_run *run, size_t i, const char *part,
                  enum lines_stamp stamp);
/* Below the rows: tested tilts that are taken off what is corrected; that means of standings count;
 * nothing where there is nothing to say. */
void lines_tilts(FILE *out, const struct work_run *run);
void lines_standings(FILE *out, const struct work_run *run);
/* ", by map" of the distance of a sight, ", by map in the plan" where only the plan of the run says
 * it; "" where nobody did. Returns text, which has LINES_WAY_BYTES. */
#define LINES_WAY_BYTES 40
const char *lines_way(const struct work_run *run, size_t i, char text[LINES_WAY_BYTES]);
/* "the wires make 20.0 ft" of a sight whose distance is another one, else "". Returns text. */
const char *lines_wires(const struct work_run *run, size_t i, char text[LEVEL_LENGTH_BYTES + 20]);
/* A distance above 0, m, rounded up to whole units of distances, without its unit. Returns text. */
char *lines_whole_up(char text[LEVEL_LENGTH_BYTES], double meters, const struct level_style *style);
/* Gauges and set-outs of the run, a line each; with `struck` those that were struck too. */
void lines_held(FILE *out, const struct work_run *run, bool struck);
/* How a run closes in a sentence, by its closing alone. */
void lines_verdict(const struct level_run *run, const struct level_closing *closing,
                   const struct level_style *style, char *text, size_t size);
/* How a run closes, without the line that names it. */
void lines_closure(FILE *out, const struct work_run *run);
/* The heads of its pages, a line a text; nothing where there is none. */
void lines_heads(FILE *out, const struct work_run *run);
/* "2026-05-09, 07:50 to 08:05", by the sights that count; false where there are none, and the text
 * says when the run was begun. */
bool lines_when(const struct work_run *run, char *text, size_t size);
/* That, and the names of levels and rods, in one line. */
void lines_observed(FILE *out, const struct work_run *run);
/* The heading of a paper: title of the book, what it is, run, kind and unit. */
enum lines_paper { LINES_RUN, LINES_PAGE, LINES_CLOSING, LINES_DROP, LINES_STATEMENT };
void lines_heading(const struct work_run *run, enum lines_paper paper, char *text, size_t size);
void lines_cautions(FILE *out);
/* Lines for two signatures with their dates. */
void lines_signatures(FILE *out);

#endif
