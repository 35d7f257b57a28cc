/* What the booked air of a crossing leaves open. */
#ifndef RODBOOK_WORK_AIRS_H
#define RODBOOK_WORK_AIRS_H

#include "rodbook/book/crossing.h"

struct work_airs {
	bool wind_unsaid; /* the k that counts comes from booked air, and of some of it nobody said
	                     where the wind came from: from land it would give no k */
	bool since_seal;  /* some was booked or struck after the figures were sealed, so that the
	                     sealed k does not go by it; false where k was set by an amendment */
};

/* Of a run that is no crossing, and of one whose figures are hidden, nothing is open. terms: those
 * that the run is computed with. Common practice, no source. */
bool work_airs(struct book *book, const struct book_run *run, const struct book_terms *terms,
               bool hidden, struct work_airs *out, struct fault *why);

#endif
