/* Controls: a trial must see what is wrong. A disk that forgets what it was asked to sync, and
 * programs with one fault put back, must each be found out. */
#include <stdio.h>
#include <string.h>

#include "crash.h"
#include "memory.h"
#include "traced.h"

static bool control(const char *name, const struct trial_count *count, const char *words)
{
	printf("control\t%s\t%ld\t%ld\t%s\n", name, count->tries, count->losses, words);
	fflush(stdout);
	return count->losses > 0;
}

/* The disk says that it synced, and did not. */
static bool lying_disk(const char *name, enum crash_lie lie, const char *words)
{
	uint64_t state = trial_seed(name);
	struct trial_count count = {.losses = 0};
	for (size_t i = 0; i < trial_scene_count() && !count.losses; i++)
		if (strncmp(trial_scenes[i].line, "rodbook sight", 13) == 0)
			crash_scene(&trial_scenes[i], PRELOAD_DISK, lie, 6, &state, &count);
	return control(name, &count, words);
}

/* The first allocation of book_open() is not looked at any more. */
static bool unchecked(struct trial_page *page)
{
	struct trial_count count = {0};
	struct trial_set set;
	struct memory_stay stay;
	struct trial_said said;
	const char *honest = trial_program();
	char words[400];
	trial_use_program(MUTANT_NULL);
	for (size_t i = 0; i < trial_scene_count(); i++) {
		if (trial_scenes[i].kind != TRIAL_READS)
			continue;
		trial_set(&set, &trial_scenes[i]);
		stay = memory_begin(&set, page, STAY_AT_START);
		for (int64_t at = 1; at <= 60 && !count.losses; at++) {
			trial_reset(&set);
			page->count = 0;
			page->fail_from = page->fail_to = at;
			memory_copy(&set, &stay, &said);
			count.tries++;
			if (!trial_judge(&set, TRIAL_DISTURBED, &said, words, sizeof words))
				trial_loss(&count, "%s: no memory at %lld: %s", set.scene->line,
				           (long long)at, words);
		}
		memory_end(&stay);
		trial_unset(&set);
		break;
	}
	trial_use_program(honest);
	return control("unchecked NULL", &count,
	               "a program that does not look whether it got memory for a book");
}

/* The way back is kept in memory only. */
static bool unjournaled(void)
{
	struct trial_count count = {0};
	struct trace_plan plan = {0};
	struct trial_set set;
	struct trial_said said;
	const char *honest = trial_program();
	char words[400];
	if (!trace_works())
		return true;
	trial_use_program(MUTANT_JOURNAL);
	for (size_t i = 0; i < trial_scene_count(); i++) {
		long calls;
		if (strncmp(trial_scenes[i].line, "rodbook sight", 13) != 0)
			continue;
		trial_set(&set, &trial_scenes[i]);
		calls = traced_run(&set, &plan, &said);
		for (long at = calls; at > 0 && !count.losses; at--) {
			struct trace_plan killed = {.at = at, .error = TRACE_KILL};
			traced_run(&set, &killed, &said);
			count.tries++;
			if (!trial_judge(&set, TRIAL_KILLED, NULL, words, sizeof words))
				trial_loss(&count, "%s: killed at call %ld: %s", set.scene->line,
				           at, words);
		}
		trial_unset(&set);
		break;
	}
	trial_use_program(honest);
	return control("journal in memory", &count,
	               "a program that keeps the rollback journal in memory, killed");
}

int main(void)
{
	struct trial_page *page;
	bool caught;
	trial_enter();
	page = memory_page();
	trial_make_bases();
	caught = lying_disk("journal not synced", CRASH_NO_JOURNAL_SYNC,
	                    "a disk that forgets syncs of the rollback journal");
	caught = lying_disk("directory not synced", CRASH_NO_DIRECTORY_SYNC,
	                    "a disk that forgets syncs of the directory") &&
	         caught;
	caught = unchecked(page) && caught;
	caught = unjournaled() && caught;
	return caught ? 0 : 1;
}
