/* What marks have changed by since the first epoch, over time. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/picture/picture.h"
#include "rodbook/level/time.h"

/* From so many days on, time is in years. */
#define DAYS_MOST 1000
#define DAYS_OF_YEAR 365.2425
/* Marks stand beside each other at one time, or their bars would cover each other: this part of the
 * whole time apart, and all of them within this part of the time between two epochs. */
#define APART 0.018
#define WITHIN 0.5

enum { FIRST, CHANGED, STANDS, OPEN };
static const struct plot_kind kinds[] = {
    [FIRST] = {"first epoch", '+', PLOT_CROSS},
    [CHANGED] = {"changed significantly", 'X', PLOT_SQUARE},
    [STANDS] = {"no significant change", 'o', PLOT_CIRCLE},
    [OPEN] = {"no limit is known", '?', PLOT_DIAMOND},
};

/* A mark that is drawn, by index of the first net, and how far its change stands out. */
struct drawn {
	size_t mark;
	double most;
};

struct drawing {
	const struct work_epochs *epochs;
	struct picture *out;
	double x[WORK_EPOCHS_MOST], apart;
	size_t order[WORK_EPOCHS_MOST]; /* epochs by x */
	struct drawn *drawn;
	size_t marks;
};

/* The change of a mark at a later epoch; NULL where that does not have it, or holds it. */
static const struct level_change *change_of(const struct drawing *d, size_t epoch, size_t mark)
{
	const struct level_changes *changes = &d->epochs->compared[epoch].changes;
	for (size_t i = 0; i < changes->count; i++)
		if (changes->change[i].mark.first == mark)
			return &changes->change[i];
	return NULL;
}

/* How far the changes stand out of their limits; without limits, how large they are. */
static void take_mark(struct drawing *d, size_t mark)
{
	struct drawn drawn = {.mark = mark};
	bool any = false;
	for (size_t i = 1; i < d->epochs->epochs; i++) {
		const struct level_change *c = change_of(d, i, mark);
		if (!c)
			continue;
		any = true;
		drawn.most = fmax(drawn.most, fabs(level_to_meters(c->change)) /
		                                  (c->has_limit && c->limit > 0 ? c->limit : 1));
	}
	if (any)
		d->drawn[d->marks++] = drawn;
}

/* How many of them changed significantly at one epoch or more. */
static size_t count_changed(const struct drawing *d)
{
	size_t count = 0;
	for (size_t m = 0; m < d->marks; m++) {
		bool changed = false;
		for (size_t i = 1; i < d->epochs->epochs; i++) {
			const struct level_change *c = change_of(d, i, d->drawn[m].mark);
			changed = changed || (c && c->significant == LEVEL_YES);
		}
		count += changed;
	}
	return count;
}

static int by_most(const void *a, const void *b)
{
	const struct drawn *one = a, *other = b;
	return one->most != other->most ? (one->most < other->most ? 1 : -1)
	                                : (one->mark > other->mark) - (one->mark < other->mark);
}

static int by_mark(const void *a, const void *b)
{
	const struct drawn *one = a, *other = b;
	return (one->mark > other->mark) - (one->mark < other->mark);
}

/* Leaves the marks that stand out most, in the order of the net. */
static void choose(struct drawing *d)
{
	qsort(d->drawn, d->marks, sizeof *d->drawn, by_most);
	if (d->marks > PICTURE_CURVES) {
		picture_note(d->out,
		             "drawn: the %d of %zu marks whose changes stand out most from their "
		             "limits",
		             PICTURE_CURVES, d->marks);
		d->marks = PICTURE_CURVES;
	}
	qsort(d->drawn, d->marks, sizeof *d->drawn, by_mark);
}

/* Days since the first epoch, or years; the numbers of the epochs where a day is not known, or is
 * that of two. */
static void find_times(struct drawing *d)
{
	const struct work_epochs *e = d->epochs;
	struct picture *out = d->out;
	bool timed = true;
	double span = 0;
	for (size_t i = 0; i < e->epochs; i++) {
		const struct work_net *net = &e->net[i];
		timed = timed && *net->first_day;
		d->x[i] = timed ? ((double)level_day_number(net->first_day) +
		                   (double)level_day_number(net->last_day)) /
		                      2
		                : 0;
	}
	for (size_t i = e->epochs; i-- > 0;) {
		d->x[i] -= d->x[0];
		for (size_t j = i + 1; j < e->epochs; j++)
			timed = timed && d->x[i] != d->x[j];
		span = fmax(span, fabs(d->x[i]));
	}
	snprintf(out->x_name, sizeof out->x_name, "%s since the first epoch, %s",
	         span > DAYS_MOST ? "years" : "days", e->net[0].first_day);
	if (!timed) {
		strcpy(out->x_name, "epoch");
		out->plot.counted = e->epochs;
	}
	for (size_t i = 0; i < e->epochs; i++) {
		if (!timed)
			d->x[i] = (double)i + 1;
		else if (span > DAYS_MOST)
			d->x[i] /= DAYS_OF_YEAR;
		d->order[i] = i;
		for (size_t at = i; at > 0 && d->x[d->order[at - 1]] > d->x[i]; at--) {
			d->order[at] = d->order[at - 1];
			d->order[at - 1] = i;
		}
	}
	d->apart = APART * (d->x[d->order[e->epochs - 1]] - d->x[d->order[0]]);
	for (size_t i = 1; i < e->epochs; i++)
		d->apart = fmin(d->apart, WITHIN * (d->x[d->order[i]] - d->x[d->order[i - 1]]) /
		                              (double)d->marks);
}

static void draw_mark(struct drawing *d, size_t index)
{
	size_t mark = d->drawn[index].mark;
	const char *name = d->epochs->net[0].mark[mark].name;
	enum level_unit unit = d->epochs->net[0].settings.style.unit;
	double beside = d->apart * ((double)index - (double)(d->marks - 1) / 2);
	picture_curve(d->out, name, (char)('a' + index));
	for (size_t i = 0; i < d->epochs->epochs; i++) {
		size_t epoch = d->order[i];
		const struct level_change *c = epoch ? change_of(d, epoch, mark) : NULL;
		double y, limit;
		if (epoch == 0)
			picture_sample(d->out, d->x[0], 0);
		if (!c)
			continue;
		y = picture_unit(level_to_meters(c->change), unit);
		limit = c->has_limit ? picture_unit(c->limit, unit) : 0;
		picture_sample(d->out, d->x[epoch] + beside, y);
		picture_point(d->out,
		              c->significant == LEVEL_YES  ? CHANGED
		              : c->significant == LEVEL_NO ? STANDS
		                                           : OPEN,
		              d->x[epoch] + beside, y, limit, name);
	}
}

/* Where and when, and how many marks have changed. */
static void put_headline(const struct drawing *d, size_t marks, size_t changed)
{
	const struct work_epochs *e = d->epochs;
	const struct work_net *first = &e->net[d->order[0]],
	                      *last = &e->net[d->order[e->epochs - 1]];
	struct picture *out = d->out;
	const char *where = first->settings.title;
	bool judged = e->compared[1].changes.factor > 0;
	snprintf(out->subtitle, sizeof out->subtitle, "%s%s%s%s%.300s\n", first->first_day,
	         *first->first_day && *last->last_day ? " to " : "", last->last_day,
	         *where && *first->first_day ? "; " : "", where);
	if (judged)
		snprintf(out->subtitle + strlen(out->subtitle), 100,
		         "%zu of %zu marks changed significantly", changed, marks);
	else
		strcat(out->subtitle, "whether a mark has changed is not known: there is no limit");
}

/* When each epoch was, and what is held. */
static void put_notes(struct drawing *d)
{
	const struct work_epochs *e = d->epochs;
	char held[400] = "";
	size_t used = 0, more = 0, count = e->compared[1].changes.held_count;
	for (size_t i = 0; i < count; i++) {
		const char *name = e->net[0].mark[e->compared[1].changes.held[i].mark.first].name;
		if (more || used + strlen(name) + 3 > sizeof held)
			more++;
		else
			used += (size_t)snprintf(held + used, sizeof held - used, "%s%s",
			                         i ? ", " : "", name);
	}
	if (more)
		picture_note(d->out, "held: %s and %zu more", held, more);
	else
		picture_note(d->out, "held: %s", held);
	for (size_t i = 0; i < e->epochs; i++)
		picture_note(d->out, "%s epoch: %s, %zu %s%s", work_epoch_name(i),
		             *e->net[i].first_day ? e->net[i].first_day : "day not known",
		             e->net[i].runs, e->net[i].runs == 1 ? "run" : "runs",
		             i && e->compared[i].changes.agrees == LEVEL_NO
		                 ? "; the held marks DO NOT HOLD among themselves"
		                 : "");
	if (d->marks > 1)
		picture_note(d->out, "marks of one epoch stand beside each other, so that each "
		                     "bar shows");
	picture_note(d->out,
	             "bars: the 95 %% limit of a change over the first epoch; one that does "
	             "not reach 0 is significant");
}

bool picture_changes(const struct work_epochs *epochs, struct picture *out, struct fault *why)
{
	struct drawing d = {.epochs = epochs, .out = out};
	enum level_unit unit = epochs->net[0].settings.style.unit;
	size_t marks, changed;
	d.drawn = calloc(epochs->net[0].net.marks + 1, sizeof *d.drawn);
	if (!d.drawn)
		return fault_memory(why);
	for (size_t m = 0; m < epochs->net[0].net.marks; m++)
		if (!epochs->net[0].mark[m].fixed)
			take_mark(&d, m);
	if (d.marks == 0) {
		free(d.drawn);
		return fault_say(why, FAULT_EMPTY,
		                 "no mark is in the first epoch and in a later one but those that "
		                 "are held, so nothing is drawn");
	}
	strcpy(out->title, "Changes of marks since the first epoch");
	snprintf(out->y_name, sizeof out->y_name, "change, %s, up positive",
	         picture_unit_name(unit));
	out->plot.kind = kinds;
	out->plot.kinds = sizeof kinds / sizeof *kinds;
	out->plot.zero_line = true;
	marks = d.marks;
	changed = count_changed(&d);
	choose(&d);
	find_times(&d);
	put_headline(&d, marks, changed);
	out->quiet = true;
	picture_point(out, FIRST, d.x[0], 0, 0, "first epoch");
	for (size_t i = 0; i < d.marks; i++)
		draw_mark(&d, i);
	put_notes(&d);
	free(d.drawn);
	return true;
}
