/* What became of marks between two epochs: two nets that were leveled at different times, both
 * adjusted on the same held marks.
 *
 * Change H2 - H1 of a mark, with the standard deviation s sqrt(q1 + q2): the epochs are
 * independent, and the u of the held marks is in both of them alike and left out. s is the stated
 * standard deviation of unit weight, or else the root of that of both nets pooled,
 * (f1 s1^2 + f2 s2^2)/(f1 + f2). It is significant at 95 % beyond 1.96 standard deviations where s
 * is stated, else beyond Student's t of f1 + f2 times it: comparison of two epochs, for example
 * Caspary 1987, Concepts of Network and Deformation Analysis (recalled).
 *
 * The held marks are on trial themselves: each net is adjusted anew, free, held on one of them, and
 * the m others must not have changed, each at the level 1 - 0.05/m (Bonferroni's inequality), with
 * s from the free nets. Where they have, each one is left out in turn: the one without which the
 * others agree at their own level has moved. With two no others are left, so either would do.
 *
 * Whether their elevations fit what was leveled is another question: what holding all of them adds
 * to v'Pv, over the degrees of freedom that it adds, is held against s^2 of the free nets by F at
 * 95 %. Where they do not, s without a stated one is too large; and where the nets differ, part of
 * the misfit is in the changes. */
#ifndef RODBOOK_LEVEL_CHANGES_H
#define RODBOOK_LEVEL_CHANGES_H

#include "rodbook/level/net.h"
#include "rodbook/level/page.h"

/* A net as level_net_adjust() adjusted it. */
struct level_epoch {
	const struct level_net *net;
	const struct level_net_result *result;
};

/* A mark that both nets have: its index in each. */
struct level_twice {
	size_t first, second;
};

struct level_change {
	struct level_twice mark;
	level_nm before, after, change; /* change = after - before, up positive */
	bool has_sd, has_limit;         /* both, or none where there is no standard deviation */
	double sd, limit;               /* of the change, m; limit: what it is significant beyond */
	enum level_answer significant;
};

/* By how much a held mark stands off another one that is held alone; none for that one, and for a
 * mark that both nets tie to no other held one: untied. */
struct level_held {
	struct level_twice mark;
	bool untied;
	size_t from; /* that other one: index in the list of held marks; its own for that one */
	level_nm change;
	double sd, limit;        /* m; where the trial has an answer */
	enum level_answer moved; /* beyond its limit, seen from `from` */
	bool explains;           /* without it the others agree */
};

struct level_changes {
	size_t count; /* marks that are held in neither net, in the order given */
	struct level_change *change;
	int freedom; /* f1 + f2 */
	bool has_variance;
	double variance; /* pooled, m^2 per km or setup; where f1 + f2 > 0 */
	double factor;   /* of the limits, 1.96 or t; 0 where there is none */

	size_t held_count;
	struct level_held *held;
	size_t tested;            /* m: held marks that are told from another one */
	int free_freedom;         /* as above, of both nets held on one mark (of each part) only */
	double free_variance;     /* where free_freedom > 0 */
	double free_factor;       /* of the limits of held marks */
	enum level_answer agrees; /* LEVEL_UNKNOWN: m is 0, or there is no standard deviation */
	size_t explaining;        /* held marks that explain it */
	enum level_answer fits;   /* their elevations to what was leveled; as agrees */
};

/* Compares the marks given, each of which is held in both nets or in neither. Both nets have the
 * same sigma, and weights of the same kind. FAULT_FILE where memory is short, and what
 * level_net_adjust() refuses of the free nets. Free with level_changes_free(). */
bool level_changes(const struct level_epoch *first, const struct level_epoch *second,
                   const struct level_twice *mark, size_t count, struct level_changes *out,
                   struct fault *why);
void level_changes_free(struct level_changes *changes);

#endif
