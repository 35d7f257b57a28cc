/* What was set out, and how it stands. */
#ifndef RODBOOK_WORK_SETOUTS_H
#define RODBOOK_WORK_SETOUTS_H

#include "rodbook/book/setout.h"

struct work_run;

struct work_setout {
	struct book_setout setout;
	char run[LEVEL_NAME_BYTES];
	bool unreadable; /* the run cannot be read */
	/* The last IS or FS that counts on the station has found it at `set`, with curvature,
	 * refraction and tilt taken off where level_set_out() takes them off. */
	bool has_set;
	level_nm set, difference; /* set less wanted */
};

/* Finds that for a set-out of the run, in out->setout; a struck one has none. */
void work_setout_find(const struct work_run *run, struct work_setout *out);
/* Whether a sight that is booked while an elevation is wanted sets its station out: an IS or FS on
 * a station that is neither a passing turning point nor a known mark. */
bool work_sets_out(const struct level_sight *sight);

struct work_setouts {
	struct level_style style;
	struct work_setout *list; /* run by run, as they were kept */
	size_t count;
	size_t unreadable; /* runs with set-outs that cannot be read */
};
/* All set-outs of a book, struck ones too; free with work_setouts_free(), after a fault too. */
bool work_setouts(struct book *book, struct work_setouts *out, struct fault *why);
void work_setouts_free(struct work_setouts *setouts);

#endif
