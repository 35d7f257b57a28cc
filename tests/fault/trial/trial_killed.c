/* Killed: a command ends at each of its system calls in turn. */
#include <stdio.h>

#include "traced.h"

#define SAMPLE 8

static struct trial_count count[2];

static void scene(const struct trial_scene *scene, uint64_t *state)
{
	struct trace_plan plan = {0};
	struct trial_count *mine = &count[scene->kind == TRIAL_UPGRADES];
	struct trial_set set;
	struct trial_said said;
	long calls;
	trial_set(&set, scene);
	calls = traced_run(&set, &plan, &said);
	plan.error = TRACE_KILL;
	for (long i = 0; i < (trial_long() ? calls : SAMPLE); i++) {
		char words[400] = "";
		plan.at = trial_long() ? i + 1 : (long)(trial_chance(state) % (uint64_t)calls) + 1;
		traced_run(&set, &plan, &said);
		mine->tries++;
		if (!trial_judge(&set, TRIAL_KILLED, &said, words, sizeof words))
			trial_loss(mine, "%s: killed at call %ld: %s", scene->line, plan.at, words);
	}
	trial_unset(&set);
}

int main(void)
{
	uint64_t state = trial_seed("killed");
	char words[200];
	bool ok;
	if (!trace_works()) {
		fprintf(stderr, "killed: skipped, no program can be followed here\n");
		return 77;
	}
	trial_enter();
	trial_make_bases();
	for (size_t i = 0; i < trial_scene_count(); i++)
		if (trial_scenes[i].kind != TRIAL_READS)
			scene(&trial_scenes[i], &state);
	snprintf(words, sizeof words, "killed at each system call, %zu writing commands",
	         trial_scenes_of(TRIAL_WRITES));
	ok = trial_report("killed-writing", &count[0], words);
	snprintf(words, sizeof words, "killed at each system call, %zu upgrades",
	         trial_scenes_of(TRIAL_UPGRADES));
	return trial_report("killed-upgrade", &count[1], words) && ok ? 0 : 1;
}
