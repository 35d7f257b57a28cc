/* No memory: each allocation of a command fails in turn, by itself, or together with all that
 * follow it. */
#include <stdlib.h>
#include <string.h>

#include "memory.h"

static struct trial_count once[3], on[3];

/* One command, staying where its copies set out from. */
struct stage {
	struct trial_set set;
	struct trial_page *page;
	struct memory_stay stay;
	int64_t from; /* allocations before that place */
	uint64_t *state;
};

static void one(struct stage *s, int64_t at, bool all)
{
	struct trial_count *count = &(all ? on : once)[s->set.scene->kind];
	struct trial_said said;
	char words[400] = "";
	trial_reset(&s->set);
	s->page->count = s->from;
	s->page->fail_from = at;
	s->page->fail_to = all ? INT64_MAX : at;
	memory_copy(&s->set, &s->stay, &said);
	count->tries++;
	if (!trial_judge(&s->set, TRIAL_DISTURBED, &said, words, sizeof words))
		trial_loss(count, "%s: no memory %s %lld: %s", s->set.scene->line,
		           all ? "from" : "at", (long long)at, words);
}

/* Tries allocations from low to high: so many of them, at random, or all where that is fewer. */
static void some(struct stage *s, int64_t low, int64_t high, int64_t tries, bool all)
{
	int64_t span = high - low + 1;
	for (int64_t i = 0; i < span && span <= tries; i++)
		one(s, low + i, all);
	for (int64_t i = 0; i < tries && span > tries; i++)
		one(s, low + (int64_t)(trial_chance(s->state) % (uint64_t)span), all);
}

/* Opening a book is the same in each command: it is tried whole where it alone is what happens. */
static bool tries_opening(const struct trial_scene *scene)
{
	return !scene->base || scene->kind == TRIAL_UPGRADES ||
	       (scene->kind == TRIAL_READS && strncmp(scene->line, "rodbook runs", 12) == 0);
}

static void opening(struct stage *s, bool whole)
{
	struct trial_said said;
	s->stay = memory_begin(&s->set, s->page, STAY_AT_START);
	s->from = 0;
	memory_copy(&s->set, &s->stay, &said);
	some(s, 1, s->page->opened, whole ? INT64_MAX : trial_long() ? 200 : 12, false);
	some(s, 1, s->page->opened, trial_long() ? 200 : 4, true);
}

static void scene(const struct trial_scene *scene, struct trial_page *page, uint64_t *state)
{
	struct stage s = {.page = page, .state = state};
	struct trial_said said;
	int64_t opened, last, most;
	bool is_opening = tries_opening(scene);
	trial_set(&s.set, scene);
	if (trial_long() && !is_opening) {
		opening(&s, false);
		memory_end(&s.stay);
	}
	/* What is made while the book is being opened cannot be made twice. */
	if (is_opening) {
		opening(&s, trial_long());
		trial_reset(&s.set);
		page->count = page->opened = page->fail_from = page->fail_to = 0;
	} else {
		s.stay = memory_begin(&s.set, page, STAY_OPENED);
		s.from = page->opened;
	}
	memory_copy(&s.set, &s.stay, &said);
	opened = page->opened;
	last = page->count;
	if (!opened || last < opened)
		trial_stop("%s: allocations are not counted", scene->line);
	most = is_opening ? 3000 : INT64_MAX;
	some(&s, opened + 1, last, trial_long() ? most : 9, false);
	some(&s, opened + 1, last, trial_long() ? most : 3, true);
	memory_end(&s.stay);
	trial_progress(scene->line, once, 3);
	trial_progress(scene->line, on, 3);
	trial_unset(&s.set);
}

int main(void)
{
	static const char *const names[] = {"writing commands", "reading commands",
	                                    "upgrades from version 1 to 6"};
	static const char *const short_names[] = {"writing", "reading", "upgrade"};
	uint64_t state = trial_seed("memory");
	struct trial_page *page;
	const char *only = getenv("RODBOOK_SCENE");
	bool ok = true;
	trial_enter();
	page = memory_page();
	trial_make_bases();
	for (size_t i = 0; i < trial_scene_count(); i++)
		if (!only || strstr(trial_scenes[i].line, only))
			scene(&trial_scenes[i], page, &state);
	for (int i = 0; i < 3; i++) {
		char words[200], name[40];
		snprintf(words, sizeof words, "one allocation fails, each in turn, %zu %s",
		         trial_scenes_of((enum trial_kind)i), names[i]);
		snprintf(name, sizeof name, "memory-%s", short_names[i]);
		ok = trial_report(name, &once[i], words) && ok;
		snprintf(words, sizeof words, "all allocations fail from one on, %zu %s",
		         trial_scenes_of((enum trial_kind)i), names[i]);
		snprintf(name, sizeof name, "memory-gone-%s", short_names[i]);
		ok = trial_report(name, &on[i], words) && ok;
	}
	return ok ? 0 : 1;
}
