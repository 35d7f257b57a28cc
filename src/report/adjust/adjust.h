/* How adjusted runs and nets are said. */
#ifndef REPORT_ADJUST_ADJUST_H
#define REPORT_ADJUST_ADJUST_H

#include <stdio.h>

#include "work/epochs.h"
#include "work/net.h"

/* The adjusted net for people, and as CSV. */
bool net_text(FILE *out, const struct work_net *net, struct fault *why);
void net_csv(FILE *out, const struct work_net *net);
/* The adjusted run; sigma as above. */
bool spread_text(FILE *out, const struct work_run *run, const struct level_spread *spread,
                 double sigma, struct fault *why);
void spread_csv(FILE *out, const struct work_run *run, const struct level_spread *spread,
                double sigma);
/* Whether a standard deviation, m, is one that can be shown: there, and such as nanometers hold. */
bool adjust_shows(double sd);
/* A standard deviation of unit weight, m per root of a km or of a setup, "0.0075 m per root of a
 * km"; in feet or inches what it is of a mile, "0.031 ft per root of a mile". The stated one also
 * as it was stated, "0.0127 ft per root of a mile (0.0100 ft per root of a km)". */
#define ADJUST_WORDS_BYTES (2 * LEVEL_LENGTH_BYTES + 60)
const char *adjust_sd(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                      const struct level_style *style);
const char *adjust_sd_stated(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                             const struct level_style *style);
/* The variance of unit weight, m^2 per km or setup, in the unit squared per km, mile or setup. */
const char *adjust_variance(char text[ADJUST_WORDS_BYTES], double variance, enum level_by by,
                            const struct level_style *style);
/* A standard deviation of a km or of a setup as a user states it; 0 where text is NULL. */
bool adjust_read_sd(struct book *book, const char *text, double *sigma, struct fault *why);
/* By what a net is weighed; no_distance: a run that lacks one, where it is by setups for that, or
 * "". */
void adjust_weights(FILE *out, enum level_by by, const char *no_distance);
/* Of how many of its lines curvature, refraction and tilts are off. */
void adjust_corrections(FILE *out, size_t corrected, size_t lines);
/* "WHAT a, b and 3 more", a line; nothing where there are no names. */
#define ADJUST_NAMED_MOST 8 /* names in a sentence */
void adjust_names(FILE *out, const char *what, char (*names)[LEVEL_NAME_BYTES], size_t count);
/* One row `mark,elevation,sd,fixed` each, and one of height differences. sd in m, NAN: none. */
void adjust_mark_csv(FILE *out, const char *mark, level_nm elevation, double sd, bool fixed,
                     const struct level_style *style);
struct adjust_line {
	const char *run, *from, *to;
	bool has_length, has_standardized, has_redundancy;
	level_nm length, observed, adjusted;
	double standardized, redundancy;
	int setups;
};
void adjust_lines_header(FILE *out);
void adjust_line_csv(FILE *out, const struct adjust_line *line, const struct level_style *style);
/* Changes from the first epoch to the second as CSV, and to each later one for people. */
void changes_csv(FILE *out, const struct work_epochs *epochs);
bool changes_text(FILE *out, const struct work_epochs *epochs, struct fault *why);

#endif
