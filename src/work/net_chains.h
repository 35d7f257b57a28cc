/* What is read of the runs of a net, before it has lines. */
#ifndef WORK_NET_CHAINS_H
#define WORK_NET_CHAINS_H

#include "work/net.h"

/* A place that a run stands on: its start, and behind each completed setup and offset. Sums from
 * its start. */
struct stop {
	size_t station;
	level_nm rise, length;
	double raised;                            /* what is taken off, m */
	double reading_variance, offset_variance; /* of the sights, of the offsets, m^2 */
	int unknown, setups;
};

struct net_chain {
	char run[LEVEL_NAME_BYTES];
	struct stop *stop;
	size_t count;
};

/* Room for "TP3 of " and the name of a run. */
#define LABEL_BYTES (LEVEL_STATION_BYTES + LEVEL_NAME_BYTES + 8)

struct net_station {
	char label[LABEL_BYTES];
	bool known;
	bool own; /* a turning point that belongs to its run alone */
	bool aside;
	level_nm elevation;
	size_t uses, next; /* next of its bucket */
	bool ends;         /* a run begins or ends there */
	size_t mark;       /* in the net; SIZE_MAX where it is none */
};

/* Takes the runs that are asked for into net->chain and net->station. FAULT_INPUT where a named one
 * is not there, is a crossing, or is not complete. */
bool net_take_runs(struct book *book, const struct work_net_wish *wish, struct work_net *net,
                   struct fault *why);
/* Tells the wish how far it is. */
void net_tell(const struct work_net_wish *wish, double fraction);

#endif
