/* What is still open before leaving the site: what the rules need, and the order of what they find.
 */
#include "work/leave/leave_rules.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/level/ready.h"
#include "rodbook/work/water.h"

static bool air_counts(struct book *book, int64_t run, bool *has, struct fault *why)
{
	struct book_air *list;
	size_t count;
	*has = false;
	if (!book_airs(book, run, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		*has = *has || !*list[i].struck;
	free(list);
	return true;
}

/* The first station whose water counts for nothing, or "". */
static bool water_unused(struct book *book, const struct work_run *run,
                         char station[LEVEL_STATION_BYTES], struct fault *why)
{
	struct book_water *list;
	size_t count;
	*station = '\0';
	if (run->book.run.kind != LEVEL_CROSSING)
		return true;
	if (!book_waters(book, run->book.info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count && !*station; i++)
		if (!*list[i].struck && work_water_unused(run, list[i].station))
			strcpy(station, list[i].station);
	free(list);
	return true;
}

/* A crossing of the book, and the shores that it was sighted from. */
struct crossed {
	int64_t run;
	char start[LEVEL_STATION_BYTES], end[LEVEL_STATION_BYTES];
	struct level_shores shores;
};

struct leaving {
	struct book *book;
	struct leave_about about;
	struct work_leave *list;
	struct crossed *crossed;
	size_t crossed_count;
};

static bool read_crossing(struct leaving *l, const struct book_run_info *info, struct fault *why)
{
	struct work_run run;
	struct crossed *to = &l->crossed[l->crossed_count];
	struct fault words = {0};
	bool ok = true;
	if (!work_run_load_listed(l->book, info, &run, &words))
		return words.kind == FAULT_SPOILED || fault_say(why, words.kind, "%s", words.text);
	if (run.closing.setups) {
		to->run = run.book.info.id;
		strcpy(to->start, run.closing.start_station);
		strcpy(to->end, run.closing.end_station);
		l->crossed_count++;
		if (!level_shores(&run.book.run, run.settings.long_sight, &to->shores))
			ok = fault_memory(why);
	}
	work_run_free(&run);
	return ok;
}

static bool read_crossings(struct leaving *l, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok;
	if (!book_runs(l->book, &runs, &count, why))
		return false;
	l->crossed = calloc(count + 1, sizeof *l->crossed);
	ok = l->crossed != NULL;
	if (!l->crossed)
		fault_memory(why);
	for (size_t i = 0; ok && i < count; i++)
		ok = runs[i].kind != LEVEL_CROSSING || read_crossing(l, &runs[i], why);
	free(runs);
	return ok;
}

/* Whether another crossing between the ends of this one was sighted from the shore that it was not
 * sighted from. */
static bool other_shore(const struct leaving *l, const struct work_run *run)
{
	struct level_shores seen = {0};
	const struct level_closing *c = &run->closing;
	for (size_t i = 0; c->start_station && c->end_station && i < l->crossed_count; i++) {
		const struct crossed *other = &l->crossed[i];
		bool along = strcmp(other->start, c->start_station) == 0 &&
		             strcmp(other->end, c->end_station) == 0;
		bool back = strcmp(other->start, c->end_station) == 0 &&
		            strcmp(other->end, c->start_station) == 0;
		seen.first =
		    seen.first || (along && other->shores.first) || (back && other->shores.second);
		seen.second =
		    seen.second || (along && other->shores.second) || (back && other->shores.first);
	}
	return seen.first && seen.second;
}

static bool take_run(struct leaving *l, const struct book_run_info *info, struct fault *why)
{
	struct book *book = l->book;
	struct leave_about *about = &l->about;
	struct work_run run;
	struct fault words = {0};
	bool ok;
	if (!work_run_load_listed(book, info, &run, &words)) {
		if (words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		return leave_add_unreadable(l->list, info, words.text) || fault_memory(why);
	}
	about->run = &run;
	about->other_shore = other_shore(l, &run);
	about->air_tells = run.terms.sealed || book_terms_air_tells(&run.terms);
	ok = book_draft_waits(book, run.book.info.id, &about->draft_waits, why) &&
	     air_counts(book, run.book.info.id, &about->has_air, why) &&
	     water_unused(book, &run, about->water_unused, why);
	l->list->style = run.settings.style;
	l->list->set = run.settings.tolerance;
	ok = ok && (leave_add(l->list, about) || fault_memory(why));
	work_run_free(&run);
	return ok;
}

static bool take_all(struct leaving *l, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_runs(l->book, &runs, &count, why))
		return false;
	for (size_t i = 0; ok && i < count; i++)
		ok = take_run(l, &runs[i], why);
	free(runs);
	return ok;
}

/* Where an item stands in the list, 0 first: what blocks before what does not, a check that fails
 * before all. */
static int place(const struct work_leave_item *item)
{
	if (item->rank == WORK_RANK_CHECK)
		return 0;
	return (int)item->rank + (item->blocks ? 0 : WORK_RANKS);
}

/* By place, and those of one place as the runs stand in the book. */
static bool order(struct work_leave *list)
{
	struct work_leave_item *sorted = malloc((list->count + 1) * sizeof *sorted);
	size_t at = 0;
	if (!sorted)
		return false;
	for (int want = 0; want < 2 * WORK_RANKS; want++)
		for (size_t i = 0; i < list->count; i++)
			if (place(&list->item[i]) == want)
				sorted[at++] = list->item[i];
	free(list->item);
	list->item = sorted;
	list->room = list->count + 1;
	return true;
}

static bool list_open(struct book *book, const char *const *names, size_t count,
                      struct work_leave *out, struct fault *why)
{
	struct leaving l = {.book = book, .list = out};
	struct book_run_info info;
	struct book_mark *marks;
	bool ok;
	if (!book_marks(book, &marks, &l.about.mark_count, why))
		return false;
	l.about.marks = marks;
	l.about.mark_said = calloc(l.about.mark_count + 1, sizeof *l.about.mark_said);
	ok = (l.about.mark_said || fault_memory(why)) && read_crossings(&l, why);
	for (size_t i = 0; ok && i < count; i++)
		ok = book_run_find(book, names[i], &info, why) && take_run(&l, &info, why);
	if (ok && count == 0)
		ok = take_all(&l, why);
	ok = ok && (order(out) || fault_memory(why));
	free(l.crossed);
	free(l.about.mark_said);
	free(marks);
	return ok;
}

bool work_leave(struct book *book, const char *const *names, size_t count, struct work_leave *out,
                struct fault *why)
{
	bool ok;
	*out = (struct work_leave){0};
	if (!book_hold(book, why))
		return false;
	ok = list_open(book, names, count, out, why);
	book_release(book);
	return ok;
}

void work_leave_free(struct work_leave *list)
{
	free(list->item);
	*list = (struct work_leave){0};
}
