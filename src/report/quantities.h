/* Rows of quantity, value and unit. */
#ifndef REPORT_QUANTITIES_H
#define REPORT_QUANTITIES_H

#include "rodbook/report/report.h"

void quantity_header(FILE *out);
void quantity_text(FILE *out, const char *name, const char *value);
void quantity_count(FILE *out, const char *name, int64_t value);
/* A length in the book's unit; an empty value where there is none. */
void quantity_length(FILE *out, const char *name, bool has, level_nm value,
                     const struct level_style *style);

/* A computed length, m, as one; none where it is not finite or too large. */
void quantity_meters(FILE *out, const char *name, bool has, double meters,
                     const struct level_style *style);
/* A plain number with 12 significant digits, or empty. */
void quantity_real(FILE *out, const char *name, bool has, double value, const char *unit);

/* "no", "yes", "unknown". */
const char *quantity_answer(enum level_answer answer);
/* A length for a cell of CSV, exact; "" where there is none. Returns text. */
const char *quantity_cell(char text[LEVEL_LENGTH_BYTES], bool has, level_nm value,
                          const struct level_style *style);

#endif
