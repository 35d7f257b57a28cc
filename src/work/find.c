#include "rodbook/work/find.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/book/crossing.h"
#include "rodbook/level/page.h"

struct search {
	const char *text;
	size_t most, room;
	struct work_finds *out;
};

static bool take(struct search *s, const struct book_run *run, const struct level_page *page,
                 size_t i)
{
	const struct level_sight *sight = &run->run.sight[i];
	struct work_found *f;
	if (s->out->count == s->most) {
		s->out->left++;
		return true;
	}
	if (s->out->count == s->room) {
		size_t room = 2 * s->room + 16;
		f = realloc(s->out->find, room * sizeof *f);
		if (!f)
			return false;
		s->out->find = f;
		s->room = room;
	}
	f = &s->out->find[s->out->count++];
	*f = (struct work_found){.run_id = run->info.id,
	                         .sight = sight->id,
	                         .row = i,
	                         .setup = page->row[i].setup,
	                         .kind = sight->kind,
	                         .state = level_counted(sight)      ? WORK_COUNTS
	                                  : book_is_changed(run, i) ? WORK_CHANGED
	                                                            : WORK_STRUCK};
	strcpy(f->run, run->info.name);
	strcpy(f->station, sight->station);
	strcpy(f->remark, run->note[i].remark);
	return true;
}

static bool take_rows(struct search *s, const struct book_run *run, const struct level_page *page)
{
	for (size_t i = 0; i < run->run.count; i++)
		if ((level_holds_text(run->run.sight[i].station, s->text) ||
		     level_holds_text(run->note[i].remark, s->text)) &&
		    !take(s, run, page, i))
			return false;
	return true;
}

/* A run that cannot be read is counted, and takes no other one along. */
static bool take_run(struct search *s, struct book *book, const struct book_run_info *info,
                     struct fault *why)
{
	struct book_run run;
	struct book_terms terms;
	struct level_page page = {0};
	struct fault words = {0};
	bool loaded = book_load(book, info->id, &run, &words), ok = true;
	if (!loaded || !book_run_terms(book, &run, &terms, &words)) {
		if (loaded)
			book_run_free(&run);
		if (words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		s->out->unreadable++;
		return true;
	}
	if ((!level_reduce(&run.run, 0, &terms.terms, &page) || !take_rows(s, &run, &page)))
		ok = fault_memory(why);
	level_page_free(&page);
	book_run_free(&run);
	return ok;
}

static bool take_runs(struct search *s, struct book *book, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	for (size_t i = 0; ok && i < count; i++)
		ok = take_run(s, book, &runs[i], why);
	free(runs);
	return ok;
}

bool work_find(struct book *book, const char *text, size_t most, struct work_finds *out,
               struct fault *why)
{
	char trimmed[LEVEL_REMARK_BYTES];
	struct search s = {.text = trimmed, .most = most, .out = out};
	bool ok;
	*out = (struct work_finds){0};
	if (!level_check_text(text, LEVEL_REMARK_CHARS, "text", why))
		return fault_at(why, "text");
	snprintf(trimmed, sizeof trimmed, "%s", text);
	level_trim(trimmed);
	if (!*trimmed) {
		fault_say(why, FAULT_INPUT, "write a station, or a word of a remark");
		return fault_at(why, "text");
	}
	/* All runs as they are at one moment. */
	if (!book_hold(book, why))
		return false;
	ok = take_runs(&s, book, why);
	book_release(book);
	return ok;
}

void work_finds_free(struct work_finds *finds)
{
	free(finds->find);
	*finds = (struct work_finds){0};
}
