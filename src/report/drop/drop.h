/* The parts of what a drop says, which the statement of a run has too. */
#ifndef REPORT_DROP_DROP_H
#define REPORT_DROP_DROP_H

#include "rodbook/report/report.h"

/* What was read of the water at both ends, or that none was. */
void drop_waters(FILE *out, const struct work_run *run);
/* What flat and round would show, what was seen, and k. */
void drop_three(FILE *out, const struct work_run *run);
/* That a crossing was sealed under the rule before, and what that says; nothing of another one. */
void drop_rule(FILE *out, const struct work_run *run);
enum level_drop_answer drop_before(const struct work_run *run);
/* Answer and interval as quantities; prefix stands before the names of the interval. */
void drop_answer_csv(FILE *out, const char *name, const struct level_finding *finding);
void drop_interval_csv(FILE *out, const char *prefix, const struct level_finding *finding);
/* The radius that would fit, and the k that would meet the drop. */
void drop_radius(FILE *out, const struct level_finding *finding);
/* The shortest sight that could tell. */
void drop_shortest(FILE *out, const struct work_run *run);
/* The instruments that tell in the drop, one behind the other. */
void drop_instruments(const struct work_run *run, char *text, size_t size);
/* What was sealed, each amendment, and the answer without them. */
void drop_seals(FILE *out, const struct work_run *run, const struct book_seal *seals, size_t count);

/* What could be wrong, and what would tell. */
extern const char drop_checks[];

#endif
