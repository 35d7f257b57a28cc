/* The first page of a statement: question, answer, and what to doubt, for whoever reads no more.
 * The figures are rounded to what they carry; the exact ones are in the workings and the CSV. */
#ifndef REPORT_FRONT_FRONT_H
#define REPORT_FRONT_FRONT_H

#include <stdio.h>

#include "rodbook/report/report.h"
#include "rodbook/work/run.h"

#define FRONT_ROWS 16
#define FRONT_DOUBTS 13
#define FRONT_NOTE_BYTES (2 * LEVEL_STATION_BYTES + 160) /* two names in a sentence */

struct front_row {
	char name[LEVEL_STATION_BYTES], value[LEVEL_LENGTH_BYTES], note[FRONT_NOTE_BYTES];
};

/* What could make the answer wrong, by how much where that is known, and what would tell. */
struct front_doubt {
	char what[REPORT_TESTED_BYTES], size[LEVEL_LENGTH_BYTES], tells[200];
};

/* On one line to scale. Drops, m: where flat and round surfaces would show the mark in this air,
 * where it was seen, and the interval that the allowance leaves. Of a leveled run: flat is 0, round
 * is not there (NAN), seen the misclosure, low and high the allowable. */
struct front_scale {
	bool has;
	double flat, round, seen, low, high;
};

struct front {
	char question[2 * LEVEL_STATION_BYTES + 400], when[80], who[LEVEL_REMARK_BYTES],
	    where[LEVEL_REMARK_BYTES];
	char level[LEVEL_REMARK_BYTES], rods[LEVEL_REMARK_BYTES];
	char answer[860]; /* sentences */
	struct front_scale scale;
	struct level_style style; /* of the figures: rounded to what they carry */
	struct front_row row[FRONT_ROWS];
	struct front_doubt doubt[FRONT_DOUBTS];
	size_t rows, doubts;
	char sum[240]; /* how the sizes of the doubts make the allowance */
};

void front_of(const struct work_run *run, struct front *out);
/* The parts that only a crossing, or only another run has. */
void front_crossing(const struct work_run *run, struct front *out);
void front_leveled(const struct work_run *run, struct front *out);

/* Says before the answer that the book was altered, where its proof found a difference. */
void front_proven(struct front *front, const struct book_verified *verified);

/* Rows and doubts are added in their order; what has no room is left out. */
void front_add(struct front *front, const char *name, const char *value, const char *note);
void front_add_length(struct front *front, const char *name, double meters, bool plus,
                      const char *note);
void front_doubt(struct front *front, const char *what, const char *size, const char *tells);
/* "0.184 m", rounded as front->style says. Returns buf. */
char *front_length(char buf[LEVEL_LENGTH_BYTES], const struct front *front, double meters,
                   bool plus);

/* The scale in three lines of `columns` characters, 12 at least: letters, marks, numbers; and as a
 * drawing. */
void front_scale(FILE *out, const struct front *front, int columns);
void front_scale_svg(FILE *out, const struct front *front);
void front_html(FILE *out, const struct front *front);
/* The curvature that a peg test has taken into the tilt, m: so much less of it is there to see. */
double front_peg_part(const struct work_run *run);
/* seen_low and seen_high, k_low and k_high, peg_part, size_LINE of a crossing that has an answer.
 */
void front_csv(FILE *out, const struct work_run *run);
void front_text(FILE *out, const struct front *front, int columns);

#endif
