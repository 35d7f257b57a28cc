/* Set-outs against what their runs found. */
#include "rodbook/work/setouts.h"

#include <stdlib.h>
#include <string.h>

#include "work/held.h"

bool work_sets_out(const struct level_sight *sight)
{
	return sight->kind != LEVEL_BS && sight->kind != LEVEL_OFF && !sight->has_known &&
	       !level_is_passing(sight->station);
}

void work_setout_find(const struct work_run *run, struct work_setout *out)
{
	const struct level_run *of = &run->book.run;
	out->has_set = false;
	for (size_t i = of->count; !*out->setout.struck && !out->has_set && i-- > 0;) {
		struct level_set_out at;
		if (!level_counted(&of->sight[i]) || of->sight[i].kind == LEVEL_BS ||
		    strcmp(of->sight[i].station, out->setout.station) != 0)
			continue;
		at = level_set_out(of, &run->page, i, &run->terms.terms, out->setout.wanted);
		out->has_set = at.has_move;
		/* What must go up stands too low. */
		out->difference = -at.move;
		out->set = out->setout.wanted - at.move;
	}
}

bool setouts_take(struct book *book, struct work_run *run, struct fault *why)
{
	struct book_setout *list;
	if (!book_setouts(book, run->book.info.id, &list, &run->setout_count, why))
		return false;
	run->setouts = calloc(run->setout_count + 1, sizeof *run->setouts);
	for (size_t i = 0; run->setouts && i < run->setout_count; i++) {
		run->setouts[i].setout = list[i];
		strcpy(run->setouts[i].run, run->book.info.name);
		work_setout_find(run, &run->setouts[i]);
	}
	free(list);
	return run->setouts || fault_memory(why);
}

/* Those of one run behind those of the others. */
static bool add_run(struct book *book, const struct book_run_info *info, struct work_setouts *out,
                    struct fault *why)
{
	struct work_run run = {0};
	struct book_setout *list;
	struct work_setout *more;
	struct fault words = {0};
	size_t count;
	bool readable, ok = true;
	if (!book_setouts(book, info->id, &list, &count, why))
		return false;
	more = realloc(out->list, (out->count + count + 1) * sizeof *more);
	if (!more) {
		free(list);
		return fault_memory(why);
	}
	out->list = more;
	readable = count && work_run_load_listed(book, info, &run, &words);
	if (count && !readable && words.kind != FAULT_SPOILED)
		ok = fault_say(why, words.kind, "%s", words.text);
	for (size_t i = 0; ok && i < count; i++) {
		struct work_setout *one = &more[out->count++];
		*one = (struct work_setout){.setout = list[i], .unreadable = true};
		strcpy(one->run, info->name);
		if (readable)
			*one = run.setouts[i];
	}
	out->unreadable += count && !readable;
	work_run_free(&run);
	free(list);
	return ok;
}

bool work_setouts(struct book *book, struct work_setouts *out, struct fault *why)
{
	struct book_run_info *runs;
	struct book_settings settings;
	size_t count;
	bool ok = true;
	*out = (struct work_setouts){0};
	if (!book_settings(book, &settings, why) || !book_runs(book, &runs, &count, why))
		return false;
	out->style = settings.style;
	for (size_t i = 0; ok && i < count; i++)
		ok = add_run(book, &runs[i], out, why);
	free(runs);
	return ok;
}

void work_setouts_free(struct work_setouts *setouts)
{
	free(setouts->list);
	*setouts = (struct work_setouts){0};
}
