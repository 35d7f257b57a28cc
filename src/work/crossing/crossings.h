/* Crossings of a book, made ready to be combined. */
#ifndef WORK_CROSSINGS_H
#define WORK_CROSSINGS_H

#include "rodbook/level/drop/combine.h"
#include "rodbook/work/run.h"

/* What is printed of one crossing. */
struct crossing_row {
	char run[LEVEL_NAME_BYTES], day[12];
	double reach; /* sqrt |S|: the distance of one long sight that would show as much, m */
	double turn;  /* sgn(S) */
	double observed, predicted, flat,
	    allowance; /* as the run has them; the total that decides */
	struct level_k k;
	enum level_k_source k_source;
	double radius; /* of the prediction, m */
	enum level_drop_answer answer;
	bool closed;
	int reopened;
	bool sealed, late, amended; /* how its figures came about */
};

/* A run that gives no answer: one that could not be read has a kind of fault, the others say by
 * work_drop_of() why. */
struct crossing_left {
	char name[LEVEL_NAME_BYTES];
	struct fault unread;
	struct work_run *run;
};

struct crossings {
	size_t count;
	size_t left_count; /* at most LEVEL_COMBINE_MOST */
	struct crossing_left *left;
	struct level_crossing *ready;
	struct crossing_row *row;
	enum level_decides decides; /* the plain sum where any of them was sealed so */
	char instrument[LEVEL_INSTRUMENTS][LEVEL_NAME_BYTES];
	int instruments;
	struct level_style style;
};

/* Loads runs by name, or where count is 0 every crossing; those without an answer are left. Free
 * with crossings_free(), also after a fault. */
bool crossings_load(struct book *book, const char *const *names, size_t count,
                    struct crossings *out, struct fault *why);
void crossings_free(struct crossings *crossings);

#endif
