/* The normal equations of a net: sparse, symmetric, positive definite. */
#ifndef LEVEL_NET_NET_SOLVE_H
#define LEVEL_NET_NET_SOLVE_H

#include <stdint.h>

#include "rodbook/level/net.h"

#define NET_FIXED UINT32_MAX

/* An edge adds its weight w to N at (a,a) and (b,b), and -w at (a,b); an end that is NET_FIXED, or
 * both ends being one, adds nothing there. */
struct net_edge {
	uint32_t a, b;
	double weight;
	double cross; /* out: the inverse at (a,b); 0 where there is none */
};

struct net_system {
	uint32_t n;
	size_t edges;
	struct net_edge *edge;
	double *x;        /* n: the right side, then the solution */
	double *diagonal; /* n, out: of the inverse */
	bool indefinite;  /* out: why it was not solved, where memory was not short */
};

/* How far the work is; told at each hundredth. */
struct net_meter {
	level_progress *tell; /* or NULL */
	void *context;
	double told, from, to, whole, done; /* from + (to - from) done / whole */
};
void net_meter_stage(struct net_meter *meter, double from, double to, double whole);
void net_meter_add(struct net_meter *meter, double amount);

/* The structure of the factor: column j holds rows[start[j]..start[j+1]), ascending, all below j.
 */
struct net_pattern {
	uint32_t *order, *place; /* node of a column, column of a node */
	size_t *start;
	uint32_t *rows;
};
/* Orders the nodes by minimum degree, and finds the structure; false where memory is short. */
bool net_order(const struct net_system *system, struct net_pattern *out, struct net_meter *meter);
void net_pattern_free(struct net_pattern *pattern);

/* Solves the system, and gives the elements of the inverse that its edges ask for. False where
 * memory is short, or the matrix is not positive definite in double precision. */
bool net_solve(struct net_system *system, struct net_meter *meter);

#endif
