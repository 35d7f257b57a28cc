/* The system refuses: each system call of a command fails in turn, or the disk is full from one
 * call on; or the program is killed there. */
#include <errno.h>
#include <stdio.h>

#include "traced.h"

static struct trial_count once[3], full, killed[3];

static const struct {
	int error;
	const char *name;
} errors[] = {
    {EIO, "EIO"}, {ENOSPC, "ENOSPC"}, {EDQUOT, "EDQUOT"}, {EMFILE, "EMFILE"}, {EINTR, "EINTR"},
};
#define ERRORS ((long)(sizeof errors / sizeof *errors))
/* How many places of each command the short form tries. */
#define SAMPLE_ERRORS 2
#define SAMPLE_FULL 1
#define SAMPLE_KILLS 4

static void one(const struct trial_set *set, long at, long error, bool on)
{
	struct trial_count *count = on ? &full : &once[set->scene->kind];
	struct trace_plan plan = {.at = at, .error = errors[error].error, .full = on};
	struct trial_said said;
	char words[400] = "";
	traced_run(set, &plan, &said);
	count->tries++;
	if (!trial_judge(set, TRIAL_DISTURBED, &said, words, sizeof words))
		trial_loss(count, "%s: %s %s call %ld: %s", set->scene->line, errors[error].name,
		           on ? "from" : "at", at, words);
}

static void kill_one(const struct trial_set *set, long at)
{
	struct trial_count *count = &killed[set->scene->kind];
	struct trace_plan plan = {.at = at, .error = TRACE_KILL};
	struct trial_said said;
	char words[400] = "";
	traced_run(set, &plan, &said);
	count->tries++;
	if (!trial_judge(set, TRIAL_KILLED, &said, words, sizeof words))
		trial_loss(count, "%s: killed at call %ld: %s", set->scene->line, at, words);
}

/* Opening, writing and syncing may fail in each way; anything else is refused in two. */
static bool fits(long error, bool changes)
{
	return changes || errors[error].error == EIO || errors[error].error == EINTR;
}

static void all(const struct trial_set *set, long calls, const bool *changes)
{
	for (long i = 0; i < calls; i++) {
		for (long error = 0; error < ERRORS; error++)
			if (fits(error, changes[i]))
				one(set, i + 1, error, false);
		if (set->scene->kind == TRIAL_READS)
			continue;
		if (changes[i])
			one(set, i + 1, 1, true);
		kill_one(set, i + 1);
	}
}

static void some(const struct trial_set *set, long calls, uint64_t *state)
{
	uint64_t count = (uint64_t)calls;
	for (int i = 0; i < SAMPLE_ERRORS; i++)
		one(set, (long)(trial_chance(state) % count) + 1,
		    (long)(trial_chance(state) % ERRORS), false);
	for (int i = 0; i < SAMPLE_FULL && set->scene->kind != TRIAL_READS; i++)
		one(set, (long)(trial_chance(state) % count) + 1, 1, true);
	for (int i = 0; i < SAMPLE_KILLS && set->scene->kind != TRIAL_READS; i++)
		kill_one(set, (long)(trial_chance(state) % count) + 1);
}

static void scene(const struct trial_scene *scene, uint64_t *state)
{
	static bool changes[TRACE_CALLS];
	struct trace_plan undisturbed = {.changes = changes};
	struct trial_set set;
	struct trial_said said;
	long calls;
	trial_set(&set, scene);
	calls = traced_run(&set, &undisturbed, &said);
	if (calls < 10 || calls > TRACE_CALLS)
		trial_stop("%s: calls are not counted", scene->line);
	if (trial_long())
		all(&set, calls, changes);
	else
		some(&set, calls, state);
	trial_progress(scene->line, once, 3);
	trial_progress(scene->line, killed, 3);
	trial_unset(&set);
}

int main(void)
{
	static const char *const names[] = {"writing commands", "reading commands",
	                                    "upgrades from version 1 to 6"};
	static const char *const short_names[] = {"writing", "reading", "upgrade"};
	uint64_t state = trial_seed("calls");
	char words[200], name[40];
	bool ok = true;
	if (!trace_works()) {
		fprintf(stderr, "calls: skipped, no program can be followed here\n");
		return 77;
	}
	trial_enter();
	trial_make_bases();
	for (size_t i = 0; i < trial_scene_count(); i++)
		scene(&trial_scenes[i], &state);
	for (int i = 0; i < 3; i++) {
		snprintf(words, sizeof words,
		         "one system call fails, each in turn with 2 to 5 errors, %zu %s",
		         trial_scenes_of((enum trial_kind)i), names[i]);
		snprintf(name, sizeof name, "calls-%s", short_names[i]);
		ok = trial_report(name, &once[i], words) && ok;
	}
	snprintf(words, sizeof words,
	         "the disk is full from one system call on, %zu writing commands and 4 upgrades",
	         trial_scenes_of(TRIAL_WRITES));
	ok = trial_report("calls-full", &full, words) && ok;
	for (int i = 0; i < 3; i += 2) {
		snprintf(words, sizeof words, "killed at each system call, %zu %s",
		         trial_scenes_of((enum trial_kind)i), names[i]);
		snprintf(name, sizeof name, "killed-%s", short_names[i]);
		ok = trial_report(name, &killed[i], words) && ok;
	}
	return ok ? 0 : 1;
}
