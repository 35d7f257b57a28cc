/* Epochs of a book, gathered, held on the same marks, and compared. */
#include "work/epochs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the book has by name. */
struct lists {
	struct book_run_info *run;
	struct book_mark *mark, *struck;
	const char **run_name, **mark_name;
	size_t runs, marks, strucks;
};

const char *work_epoch_name(size_t epoch)
{
	static const char *const names[WORK_EPOCHS_MOST] = {"first", "second", "third",   "fourth",
	                                                    "fifth", "sixth",  "seventh", "eighth",
	                                                    "ninth", "tenth"};
	return names[epoch];
}

static bool read_lists(struct book *book, struct lists *l, struct fault *why)
{
	if (!book_runs(book, &l->run, &l->runs, why) ||
	    !book_marks(book, &l->mark, &l->marks, why) ||
	    !book_marks_struck(book, &l->struck, &l->strucks, why))
		return false;
	l->run_name = calloc(l->runs + 1, sizeof *l->run_name);
	l->mark_name = calloc(l->marks + 1, sizeof *l->mark_name);
	if (!l->run_name || !l->mark_name)
		return fault_memory(why);
	for (size_t i = 0; i < l->runs; i++)
		l->run_name[i] = l->run[i].name;
	for (size_t i = 0; i < l->marks; i++)
		l->mark_name[i] = l->mark[i].name;
	return true;
}

static void free_lists(struct lists *l)
{
	free(l->run);
	free(l->mark);
	free(l->struck);
	free(l->run_name);
	free(l->mark_name);
}

/* Says of a fault which epoch it is about. */
static bool say_epoch(size_t epoch, const struct fault *of, struct fault *why)
{
	return fault_say(why, of->kind, "%s epoch: %.600s", work_epoch_name(epoch), of->text);
}

static bool gather(struct book *book, const struct work_epochs_wish *wish, const struct lists *l,
                   size_t epoch, struct work_net *net, struct fault *why)
{
	struct work_parts runs;
	struct fault words = {0};
	bool ok = work_part(&wish->epoch[epoch], l->run_name, l->runs, &runs, &words);
	struct work_net_wish net_wish = {.runs = runs.name, .count = runs.count, .every = true};
	ok = ok && work_net_gather(book, &net_wish, net, &words);
	work_parts_free(&runs);
	return ok || say_epoch(epoch, &words, why);
}

static bool share_no_run(const struct work_epochs *e, size_t epoch, struct fault *why)
{
	const struct work_net *later = &e->net[epoch];
	for (size_t i = 0; i < epoch; i++)
		for (size_t a = 0; a < e->net[i].runs; a++)
			for (size_t b = 0; b < later->runs; b++)
				if (strcmp(work_net_run(&e->net[i], a), work_net_run(later, b)) ==
				    0)
					return fault_say(
					    why, FAULT_INPUT,
					    "run %.160s is named in the %s and in the %s epoch: a "
					    "run belongs to one",
					    work_net_run(later, b), work_epoch_name(i),
					    work_epoch_name(epoch));
	return true;
}

/* The mark of that name, which is no run's own; net->net.marks where there is none. */
static size_t mark_of(const struct work_net *net, const char *name)
{
	size_t i = 0;
	while (i < net->net.marks && (net->place[i].own || strcmp(net->mark[i].name, name) != 0))
		i++;
	return i;
}

/* The first epoch that does not reach the mark; the number of epochs where all do. */
static size_t not_reached(const struct work_epochs *e, const char *name)
{
	size_t i = 0;
	while (i < e->epochs && mark_of(&e->net[i], name) < e->net[i].net.marks)
		i++;
	return i;
}

static void hold(struct work_epochs *e, const struct book_mark *mark)
{
	for (size_t i = 0; i < e->epochs; i++) {
		struct level_net_mark *held = &e->net[i].mark[mark_of(&e->net[i], mark->name)];
		held->fixed = true;
		held->elevation = mark->elevation;
	}
}

static bool is_aside(const struct work_epochs *e, const char *name)
{
	for (size_t i = 0; i < e->epochs; i++)
		if (e->net[i].place[mark_of(&e->net[i], name)].aside)
			return true;
	return false;
}

/* Why a mark cannot be held that is not known. */
static bool not_known(const struct lists *l, const char *name, struct fault *why)
{
	for (size_t i = 0; i < l->strucks; i++)
		if (strcmp(l->struck[i].name, name) == 0)
			return fault_say(
			    why, FAULT_INPUT,
			    "mark %.160s is struck, so it has no elevation to be held at: give it "
			    "one by rodbook mark BOOK %.160s ELEVATION, or hold others",
			    name, name);
	return fault_say(why, FAULT_INPUT,
	                 "mark %.160s has no known elevation to be held at: give it one by rodbook "
	                 "mark BOOK %.160s ELEVATION, or hold others",
	                 name, name);
}

static bool hold_named(struct work_epochs *e, const struct lists *l, const char *name,
                       struct fault *why)
{
	size_t i = 0, epoch;
	while (i < l->marks && strcmp(l->mark[i].name, name) != 0)
		i++;
	if (i == l->marks)
		return not_known(l, name, why);
	epoch = not_reached(e, name);
	if (epoch < e->epochs)
		return fault_say(why, FAULT_INPUT,
		                 "the %s epoch does not reach mark %.160s by a BS or FS: name a "
		                 "run that does, or hold others",
		                 work_epoch_name(epoch), name);
	if (e->net[0].mark[mark_of(&e->net[0], name)].fixed)
		return fault_say(why, FAULT_INPUT, "mark %.160s is named twice to be held", name);
	hold(e, &l->mark[i]);
	return true;
}

/* The known marks that all epochs reach, but those that a run set aside. */
static bool hold_known(struct work_epochs *e, const struct lists *l, struct fault *why)
{
	size_t held = 0;
	e->aside = calloc(l->marks + 1, sizeof *e->aside);
	if (!e->aside)
		return fault_memory(why);
	for (size_t i = 0; i < l->marks; i++) {
		if (not_reached(e, l->mark[i].name) < e->epochs)
			continue;
		if (is_aside(e, l->mark[i].name)) {
			e->aside[e->aside_count++] = mark_of(&e->net[0], l->mark[i].name);
			continue;
		}
		hold(e, &l->mark[i]);
		held++;
	}
	return held > 0 ||
	       fault_say(why, FAULT_INPUT,
	                 "no mark of known elevation is reached by every epoch%s, so nothing "
	                 "holds them alike: give one that is reached by all an elevation, by "
	                 "rodbook mark BOOK NAME ELEVATION",
	                 e->aside_count ? " and not set aside" : "");
}

static bool choose_held(struct work_epochs *e, const struct work_epochs_wish *wish,
                        const struct lists *l, struct fault *why)
{
	struct work_parts names;
	bool ok;
	for (size_t i = 0; i < e->epochs; i++)
		for (size_t m = 0; m < e->net[i].net.marks; m++)
			e->net[i].mark[m].fixed = false;
	if (wish->hold.count == 0)
		return hold_known(e, l, why);
	ok = work_part(&wish->hold, l->mark_name, l->marks, &names, why);
	for (size_t i = 0; ok && i < names.count; i++)
		ok = hold_named(e, l, names.name[i], why);
	work_parts_free(&names);
	return ok;
}

/* All are weighed alike: by setups where a distance is missing in any of them. */
static bool adjust(struct work_epochs *e, const struct work_epochs_wish *wish, struct fault *why)
{
	const enum level_by setups = LEVEL_BY_SETUPS;
	struct work_net_wish net_wish = {.by = wish->by, .sigma = wish->sigma};
	struct fault words = {0};
	for (size_t i = 0; i < e->epochs && !wish->by; i++)
		if (*e->net[i].no_distance)
			net_wish.by = &setups;
	for (size_t i = 0; i < e->epochs; i++) {
		if (!work_net_adjust(&e->net[i], &net_wish, &words))
			return say_epoch(i, &words, why);
		e->net[i].fallback = !wish->by && net_wish.by;
	}
	return true;
}

struct named {
	const char *name;
	size_t mark;
};

static int by_name(const void *a, const void *b)
{
	return strcmp(((const struct named *)a)->name, ((const struct named *)b)->name);
}

/* The marks of a net that are no run's own, by name; free() it. NULL where memory is short. */
static struct named *sorted(const struct work_net *net, size_t *count)
{
	struct named *list = calloc(net->net.marks + 1, sizeof *list);
	*count = 0;
	for (size_t m = 0; list && m < net->net.marks; m++)
		if (!net->place[m].own)
			list[(*count)++] = (struct named){net->mark[m].name, m};
	if (list)
		qsort(list, *count, sizeof *list, by_name);
	return list;
}

static int in_order(const void *a, const void *b)
{
	size_t first = ((const struct level_twice *)a)->first,
	       second = ((const struct level_twice *)b)->first;
	return (first > second) - (first < second);
}

/* The marks that two nets share, in the order of the first, and those that are in one only. */
static bool pair(const struct work_net *first, const struct work_net *later,
                 struct level_twice **twice, size_t *count, struct work_later_epoch *out)
{
	size_t counts[2], at[2] = {0, 0};
	struct named *list[2] = {sorted(first, &counts[0]), sorted(later, &counts[1])};
	bool ok = list[0] && list[1];
	*count = 0;
	*twice = calloc(first->net.marks + 1, sizeof **twice);
	for (int e = 0; e < 2; e++)
		out->alone[e] = calloc(counts[e] + 1, sizeof *out->alone[e]);
	ok = ok && *twice && out->alone[0] && out->alone[1];
	while (ok && (at[0] < counts[0] || at[1] < counts[1])) {
		int order = at[0] == counts[0]   ? 1
		            : at[1] == counts[1] ? -1
		                                 : by_name(&list[0][at[0]], &list[1][at[1]]);
		int e = order > 0;
		if (order == 0)
			(*twice)[(*count)++] =
			    (struct level_twice){list[0][at[0]++].mark, list[1][at[1]++].mark};
		else
			out->alone[e][out->alone_count[e]++] = list[e][at[e]++].mark;
	}
	if (ok)
		qsort(*twice, *count, sizeof **twice, in_order);
	free(list[0]);
	free(list[1]);
	return ok;
}

static bool compare(struct work_epochs *e, size_t epoch, struct fault *why)
{
	const struct work_net *first = &e->net[0], *later = &e->net[epoch];
	struct work_later_epoch *out = &e->compared[epoch];
	struct level_twice *twice = NULL;
	size_t count;
	bool ok = pair(first, later, &twice, &count, out) || fault_memory(why);
	ok = ok && level_changes(&(struct level_epoch){&first->net, &first->result},
	                         &(struct level_epoch){&later->net, &later->result}, twice, count,
	                         &out->changes, why);
	free(twice);
	return ok;
}

bool work_epochs_load(struct book *book, const struct work_epochs_wish *wish,
                      struct work_epochs *out, struct fault *why)
{
	struct lists lists = {0};
	bool ok = read_lists(book, &lists, why);
	*out = (struct work_epochs){.epochs = wish->epochs};
	for (size_t i = 0; ok && i < wish->epochs; i++)
		ok = gather(book, wish, &lists, i, &out->net[i], why) && share_no_run(out, i, why);
	ok = ok && choose_held(out, wish, &lists, why) && adjust(out, wish, why);
	for (size_t i = 1; ok && i < wish->epochs; i++)
		ok = compare(out, i, why);
	free_lists(&lists);
	return ok;
}

void work_epochs_free(struct work_epochs *e)
{
	for (size_t i = 0; i < e->epochs; i++) {
		work_net_free(&e->net[i]);
		level_changes_free(&e->compared[i].changes);
		free(e->compared[i].alone[0]);
		free(e->compared[i].alone[1]);
	}
	free(e->aside);
	*e = (struct work_epochs){0};
}
