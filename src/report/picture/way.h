/* Where the marks of a run stand along the way that its profile is drawn over. */
#ifndef REPORT_PICTURE_WAY_H
#define REPORT_PICTURE_WAY_H

#include "rodbook/report/report.h"

enum way_by {
	WAY_PLACES,    /* places along a line: m */
	WAY_DISTANCES, /* the sum of the distances: m */
	WAY_SETUPS,    /* distances are missing: setups stand evenly, one apart */
};

struct way {
	enum way_by by;
	double *place; /* of each sight along the line, m; NAN where there is none */
};

/* Places count where each mark of the line has one, or at least half of the IS have; else distances
 * do where they are all known. A mark has the place that any sight on it has; an IS takes none from
 * another IS, since spots of ground may share a name. False only where memory is short. Free with
 * way_free(). */
bool way_of(const struct work_run *run, struct way *out, struct fault *why);
void way_free(struct way *way);

/* Whether a mark is drawn for this sight: the start, each FS that carries the line on, and IS. */
bool way_is_mark(const struct work_run *run, size_t i);
/* Where the station of sight i stands; false where that is not known. */
bool way_place(const struct work_run *run, const struct way *way, size_t i, double *x);
/* Where the instrument of a setup stood, by its BS and FS (SIZE_MAX: not read yet). */
bool way_instrument(const struct work_run *run, const struct way *way, size_t bs, size_t fs,
                    double *x);

#endif
