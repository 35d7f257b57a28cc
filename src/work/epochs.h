/* Epochs of a book: nets of runs that were leveled at different times, all adjusted on the same
 * held marks, and each one compared with the first. */
#ifndef WORK_EPOCHS_H
#define WORK_EPOCHS_H

#include "rodbook/level/changes.h"
#include "work/names.h"
#include "work/net.h"

#define WORK_EPOCHS_MOST 10

/* What is asked: the runs of each epoch, two at least; the marks to hold, or none for the known
 * marks that all epochs reach; by and sigma as of a net. */
struct work_epochs_wish {
	const struct work_names *epoch;
	size_t epochs;
	struct work_names hold;
	const enum level_by *by;
	double sigma;
};

/* A later epoch beside the first one. */
struct work_later_epoch {
	struct level_changes changes;
	/* Marks that only one of the two has, by index: of the first epoch, of the later one. */
	size_t *alone[2], alone_count[2];
};

struct work_epochs {
	size_t epochs;
	struct work_net net[WORK_EPOCHS_MOST];
	struct work_later_epoch
	    compared[WORK_EPOCHS_MOST]; /* [i] is epoch i beside 0; [0] is empty */
	/* Known marks that all epochs reach and that are not held, since a run set them aside;
	 * indices of the first net. */
	size_t *aside, aside_count;
};

/* "first", "second", ... "tenth". */
const char *work_epoch_name(size_t epoch);

/* FAULT_INPUT where an epoch is none (it begins with its name then), a run stands in two epochs, a
 * mark to be held is not known or not reached by every epoch, or no mark can be held. Free with
 * work_epochs_free() whatever it returns. */
bool work_epochs_load(struct book *book, const struct work_epochs_wish *wish,
                      struct work_epochs *out, struct fault *why);
void work_epochs_free(struct work_epochs *epochs);

#endif
