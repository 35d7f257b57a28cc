/* Two epochs of the same few marks, adjusted and compared. */
#ifndef UNIT_TWO_EPOCHS_H
#define UNIT_TWO_EPOCHS_H

#include "rodbook/level/changes.h"

#include <check.h>

#define LIST(list) list, sizeof(list) / sizeof *(list)

/* Marks of one name have one index in both epochs here. */
#define MARKS_MOST 8

struct pair {
	struct level_net net[2];
	struct level_net_result result[2];
	struct level_changes out;
};

static inline void compare(struct pair *p, const struct level_net_mark *marks, size_t count,
                           const struct level_net_line *first, size_t firsts,
                           const struct level_net_line *second, size_t seconds, double sigma)
{
	struct level_twice twice[MARKS_MOST];
	struct fault why = {0};
	p->net[0] = (struct level_net){
	    .marks = count, .lines = firsts, .mark = marks, .line = first, .sigma = sigma};
	p->net[1] = (struct level_net){
	    .marks = count, .lines = seconds, .mark = marks, .line = second, .sigma = sigma};
	for (int e = 0; e < 2; e++)
		ck_assert_msg(level_net_adjust(&p->net[e], NULL, NULL, &p->result[e], &why), "%s",
		              why.text);
	for (size_t i = 0; i < count; i++)
		twice[i] = (struct level_twice){i, i};
	ck_assert_msg(level_changes(&(struct level_epoch){&p->net[0], &p->result[0]},
	                            &(struct level_epoch){&p->net[1], &p->result[1]}, twice, count,
	                            &p->out, &why),
	              "%s", why.text);
}

static inline void done(struct pair *p)
{
	level_changes_free(&p->out);
	level_net_free(&p->result[0]);
	level_net_free(&p->result[1]);
}

#endif
