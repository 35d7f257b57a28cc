#include "rodbook/work/repeat.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/sight.h"

/* The first completed setup: indexes of its BS and FS. */
static bool first_setup(const struct book_run *run, size_t *bs, size_t *fs)
{
	bool open = false;
	for (size_t i = 0; i < run->run.count; i++) {
		const struct level_sight *sight = &run->run.sight[i];
		if (!level_counted(sight))
			continue;
		if (sight->kind == LEVEL_BS && !open) {
			*bs = i;
			open = true;
		} else if (sight->kind == LEVEL_FS && open) {
			*fs = i;
			return true;
		}
	}
	return false;
}

/* The texts of a booked sight without what was read. */
static void propose(const struct book_run *run, size_t i, const struct level_style *style,
                    struct book_draft *out)
{
	work_draft_of(&run->run.sight[i], &run->note[i], style, out);
	out->at = 0;
	out->focus = WORK_STATION;
	out->reading[0] = out->upper[0] = out->middle[0] = out->lower[0] = '\0';
	out->remark[0] = out->photo[0] = out->scaled[0] = out->time[0] = '\0';
}

/* NAME-2, or the next that is free; the number of a name that has one goes up. */
static bool next_name(struct book *book, const char *of, char name[LEVEL_NAME_BYTES],
                      struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool taken = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	for (int n = 2; taken && n < 1000; n++) {
		snprintf(name, LEVEL_NAME_BYTES, "%.*s-%d", LEVEL_NAME_BYTES - 8, of, n);
		taken = false;
		for (size_t i = 0; i < count; i++)
			taken = taken || strcmp(runs[i].name, name) == 0;
	}
	free(runs);
	return true;
}

static bool begin(struct book *book, const struct book_run *of, size_t bs, const char *name,
                  const struct level_style *style, struct fault *why)
{
	struct book_draft draft[2] = {{0}};
	int64_t id;
	propose(of, bs, style, &draft[0]);
	return book_run_add(book, name, LEVEL_CROSSING, &id, why) &&
	       (!*of->info.plan || book_run_set_plan(book, id, of->info.plan, why)) &&
	       book_draft_save(book, id, draft, why);
}

bool work_repeat(struct book *book, const char *of, const char *name, struct book_run_info *out,
                 struct fault *why)
{
	struct book_settings settings;
	struct book_run run;
	char own[LEVEL_NAME_BYTES];
	size_t bs = 0, fs = 0;
	bool ok;
	if (!book_run_find(book, of, out, why) || !book_settings(book, &settings, why) ||
	    !book_load(book, out->id, &run, why))
		return false;
	ok = (run.run.kind == LEVEL_CROSSING && first_setup(&run, &bs, &fs)) ||
	     fault_say(why, FAULT_INPUT,
	               "%.160s is no crossing with a whole setup: there is no long sight to repeat",
	               of);
	snprintf(own, sizeof own, "%s", name);
	ok = ok && (*name || next_name(book, of, own, why)) && book_begin(book, why);
	if (ok) {
		ok = begin(book, &run, bs, own, &settings.style, why);
		ok = book_finish(book, ok, why) && ok && book_run_find(book, own, out, why);
	}
	book_run_free(&run);
	return ok;
}

/* The run has its first BS, and nothing else that counts. */
static bool has_bs_only(const struct book_run *run, size_t *bs)
{
	*bs = level_counted_from(&run->run, 0);
	return run->run.kind == LEVEL_CROSSING && *bs < run->run.count &&
	       run->run.sight[*bs].kind == LEVEL_BS &&
	       level_counted_from(&run->run, *bs + 1) == run->run.count;
}

static bool look_at(struct book *book, const struct book_run_info *info, const char *station,
                    const struct level_style *style, struct book_draft *out, bool *found,
                    struct fault *why)
{
	struct book_run other;
	size_t bs = 0, fs = 0;
	if (!book_load(book, info->id, &other, why))
		return why && why->kind == FAULT_SPOILED;
	*found = first_setup(&other, &bs, &fs) && strcmp(other.run.sight[bs].station, station) == 0;
	if (*found)
		propose(&other, fs, style, out);
	book_run_free(&other);
	return true;
}

bool work_far_sight(struct book *book, const struct book_run *run, const struct level_style *style,
                    struct book_draft *out, bool *found, struct fault *why)
{
	struct book_run_info *runs;
	size_t count, bs = 0;
	bool ok = true;
	*found = false;
	if (!has_bs_only(run, &bs))
		return true;
	if (!book_runs_at(book, run->run.sight[bs].station, &runs, &count, why))
		return false;
	for (size_t i = count; ok && !*found && i-- > 0;)
		if (runs[i].id != run->info.id && runs[i].kind == LEVEL_CROSSING &&
		    !runs[i].unreadable)
			ok = look_at(book, &runs[i], run->run.sight[bs].station, style, out, found,
			             why);
	free(runs);
	return ok;
}
