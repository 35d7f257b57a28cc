/* Adjustments of a book's runs: of one, or of a net of several, for people and as CSV, and the
 * results that are kept. */
#ifndef RODBOOK_REPORT_ADJUSTMENT_H
#define RODBOOK_REPORT_ADJUSTMENT_H

#include <stdio.h>

#include "rodbook/level/net.h"
#include "rodbook/book/result.h"
#include "rodbook/level/spread.h"

struct report_adjust {
	bool net;
	const char *const *runs; /* one; of a net those in it, or none for all */
	size_t count;
	const enum level_by *by; /* or NULL: by distance where all are known */
	const char *sd; /* standard deviation of 1 km, or of one setup, as a length; or NULL */
	bool csv, keep;
	level_progress *progress; /* or NULL */
	void *context;
};

/* Adjusts, prints, and keeps the result if that is asked for. *passes: the variance of a net passes
 * its test, or there is none. FAULT_INPUT where it cannot be adjusted. */
bool report_adjust(FILE *out, struct book *book, const struct report_adjust *how, bool *passes,
                   struct fault *why);
/* The results kept in a book, the newest first. */
bool report_results(FILE *out, struct book *book, bool csv, struct fault *why);
/* One of them: as it was kept, or as columns. */
bool report_result(FILE *out, struct book *book, int64_t id, bool csv, struct fault *why);

#endif
