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

static bool is_taken(const struct book_run_info *runs, size_t count, const char *name, size_t size)
{
	for (size_t i = 0; i < count; i++)
		if (strlen(runs[i].name) == size && strncmp(runs[i].name, name, size) == 0)
			return true;
	return false;
}

/* How many bytes of a name a number is put behind: those of the run that it repeats by its own
 * number, and no more than leave room for it. */
static size_t stem_of(const struct book_run_info *runs, size_t count, const char *of)
{
	const char *dash = strrchr(of, '-');
	size_t size = strlen(of), at = 0;
	if (dash && dash[1] && !dash[1 + strspn(dash + 1, "0123456789")] &&
	    is_taken(runs, count, of, (size_t)(dash - of)))
		size = (size_t)(dash - of);
	for (int characters = 0; at < size; at++) {
		characters += ((unsigned char)of[at] & 0xc0) != 0x80;
		if (characters > LEVEL_NAME_CHARS - 4)
			break;
	}
	return at;
}

bool work_repeat_name(struct book *book, const char *of, char name[LEVEL_NAME_BYTES],
                      struct fault *why)
{
	struct book_run_info *runs;
	size_t count, stem;
	bool taken = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	stem = stem_of(runs, count, of);
	for (int n = 2; taken && n < 1000; n++) {
		snprintf(name, LEVEL_NAME_BYTES, "%.*s-%d", (int)stem, of, n);
		taken = is_taken(runs, count, name, strlen(name));
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
	ok = ok && (*name || work_repeat_name(book, of, own, why)) && book_begin(book, why);
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

/* back: at a crossing that was sighted toward the station, and is sighted back from it now. */
static bool look_at(struct book *book, const struct book_run_info *info, const char *station,
                    bool back, const struct level_style *style, struct book_draft *out, bool *found,
                    struct fault *why)
{
	struct book_run other;
	size_t bs = 0, fs = 0;
	if (!book_load(book, info->id, &other, why))
		return why && why->kind == FAULT_SPOILED;
	*found = first_setup(&other, &bs, &fs) &&
	         strcmp(other.run.sight[back ? fs : bs].station, station) == 0;
	if (*found)
		propose(&other, fs, style, out);
	if (*found && back)
		strcpy(out->station, other.run.sight[bs].station);
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
	for (int back = 0; back < 2; back++)
		for (size_t i = count; ok && !*found && i-- > 0;)
			if (runs[i].id != run->info.id && runs[i].kind == LEVEL_CROSSING &&
			    !runs[i].unreadable)
				ok = look_at(book, &runs[i], run->run.sight[bs].station, back == 1,
				             style, out, found, why);
	free(runs);
	return ok;
}
