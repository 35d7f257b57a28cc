/* What is still open before leaving the site, on paper. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "report/page/leave_items.h"
#include "rodbook/level/ready.h"

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

/* A crossing of the book, and the shores that it was sighted from. */
struct crossed {
	int64_t run;
	char start[LEVEL_STATION_BYTES], end[LEVEL_STATION_BYTES];
	struct level_shores shores;
};

struct leaving {
	struct book *book;
	struct leave_about about;
	struct leave_list list;
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
		leave_add_unreadable(&l->list, info, words.text);
		return true;
	}
	about->run = &run;
	about->other_shore = other_shore(l, &run);
	ok = book_draft_waits(book, run.book.info.id, &about->draft_waits, why) &&
	     air_counts(book, run.book.info.id, &about->has_air, why);
	if (ok)
		leave_add(&l->list, about);
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

static void csv_item(FILE *out, const struct leave_item *item)
{
	char rank[12];
	const char *fields[] = {rank, item->run, item->blocks ? "yes" : "no", item->what,
	                        item->cure};
	snprintf(rank, sizeof rank, "%d", (int)item->rank);
	csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
}

static void text_item(FILE *out, const struct leave_item *item)
{
	fprintf(out, "%s  %s: %s\n          %s\n", item->blocks ? "BLOCKS" : "advice", item->run,
	        item->what, item->cure);
}

static void put_list(FILE *out, const struct leave_list *list, bool csv, size_t *blocking)
{
	*blocking = 0;
	if (csv)
		fputs("rank,run,blocks,what,do\n", out);
	/* By rank, and inside a rank as the runs stand in the book. */
	for (int rank = LEAVE_INCOMPLETE; rank < LEAVE_RANKS; rank++)
		for (size_t i = 0; i < list->count; i++) {
			if ((int)list->item[i].rank != rank)
				continue;
			*blocking += list->item[i].blocks;
			if (csv)
				csv_item(out, &list->item[i]);
			else
				text_item(out, &list->item[i]);
		}
	if (csv)
		return;
	if (!list->count)
		fprintf(out, "nothing is open\n");
	else if (*blocking)
		fprintf(out, "%zu of %zu must be done before leaving\n", *blocking, list->count);
	else
		fprintf(out, "nothing must be done before leaving; %zu could be\n", list->count);
}

bool report_leave(FILE *out, struct book *book, const char *const *names, size_t count, bool csv,
                  bool *blocks, struct fault *why)
{
	struct leaving l = {.book = book};
	struct book_run_info info;
	struct book_mark *marks;
	size_t blocking = 0;
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
	if (ok && l.list.short_of_memory)
		ok = fault_memory(why);
	if (ok)
		put_list(out, &l.list, csv, &blocking);
	*blocks = blocking > 0;
	free(l.list.item);
	free(l.crossed);
	free(l.about.mark_said);
	free(marks);
	return ok;
}
