/* A net gathered from the runs of a book, and adjusted. */
#ifndef WORK_NET_H
#define WORK_NET_H

#include "rodbook/level/net.h"
#include "rodbook/work/run.h"
#include "rodbook/level/spread.h"

/* A piece of a run between two marks of the net: one observed height difference. */
struct net_piece {
	const char *run;
	bool corrected; /* curvature, refraction and tilts are off, all its distances being known */
	level_nm length; /* of BS and FS, where corrected */
	int setups;
	double reading_variance, offset_variance; /* of its sights, of its offsets, m^2 */
	/* Between two known marks: it misses their difference by more than it may. */
	bool misses;
	level_nm miss, allowable; /* observed less known */
};

/* What is known of a mark of the net besides. */
struct net_place {
	bool own;   /* a turning point that belongs to its run alone: no mark of another net */
	bool aside; /* set aside in one of the runs */
};

struct net_chain;
struct net_station;

struct work_net {
	struct book_settings settings;
	enum level_by by;
	bool fallback;                      /* by setups, because not all distances are known */
	char no_distance[LEVEL_NAME_BYTES]; /* a run where one is not known, or empty */
	size_t runs, left_out;              /* runs in the net, and those not complete */
	char (*left)[LEVEL_NAME_BYTES];     /* the names of the latter */
	size_t reopened;                    /* runs in the net that were closed, and opened again */
	char (*again)[LEVEL_NAME_BYTES];    /* their names */
	/* The days of the first and of the last sight in the net whose time is known, as in
	 * 2026-05-04; empty where none is. */
	char first_day[11], last_day[11];
	bool every;              /* broken at every mark that is none of its run's own */
	struct net_piece *piece; /* as the net's lines */
	size_t misses;           /* pieces that do; after work_net_load() */
	bool offsets;            /* one of them has an offset */
	struct net_place *place; /* as the net's marks */
	struct level_net net;
	struct level_net_mark *mark; /* the net's own */
	struct level_net_line *line;
	struct level_net_result result;
	struct net_chain *chain; /* what was read of the runs, */
	struct net_station *station;
	size_t stations, station_room, *bucket, buckets; /* and their stations by name */
};

/* What is asked of a net: the runs, or none for all that are no crossings and complete; by, or
 * NULL; the stated standard deviation, m, or 0. */
struct work_net_wish {
	const char *const *runs;
	size_t count;
	bool every; /* break the runs at every mark that is none of their own, met once too */
	const enum level_by *by;
	double sigma;
	level_progress *progress; /* or NULL */
	void *context;
};

/* Loads the runs, breaks them at the marks of the net, and adjusts. Free with work_net_free()
 * whatever it returns. */
bool work_net_load(struct book *book, const struct work_net_wish *wish, struct work_net *out,
                   struct fault *why);
/* The same in two steps: between them a caller may hold other marks, in out->mark, and choose what
 * all of several nets are weighed by. */
bool work_net_gather(struct book *book, const struct work_net_wish *wish, struct work_net *out,
                     struct fault *why);
bool work_net_adjust(struct work_net *net, const struct work_net_wish *wish, struct fault *why);
void work_net_free(struct work_net *net);
/* The name of the run of that index, below net->runs. */
const char *work_net_run(const struct work_net *net, size_t run);

#endif
