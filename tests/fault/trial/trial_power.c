/* The power is cut, and what was not synced is lost, kept, torn or out of order. */
#include <stdio.h>

#include "crash.h"

int main(void)
{
	static const char *const names[] = {"writing commands", "", "upgrades"};
	static const char *const short_names[] = {"writing", "", "upgrade"};
	struct trial_count count[3] = {{0}}, new = {0};
	uint64_t state = trial_seed("power");
	char words[200], name[40];
	bool ok;
	trial_enter();
	trial_make_bases();
	for (size_t i = 0; i < trial_scene_count(); i++) {
		const struct trial_scene *scene = &trial_scenes[i];
		if (!scene->base)
			crash_scene(scene, PRELOAD_DISK, CRASH_HONEST, trial_long() ? 100 : 1,
			            &state, &new);
		else if (scene->kind != TRIAL_READS)
			crash_scene(scene, PRELOAD_DISK, CRASH_HONEST, trial_long() ? 60 : -4,
			            &state, &count[scene->kind]);
	}
	ok = trial_report("power-new", &new,
	                  "power cut in `new`, unsynced writes and names lost, torn or reordered");
	for (int i = 0; i < 3; i += 2) {
		snprintf(words, sizeof words,
		         "power cut in %zu %s, unsynced writes and names lost, torn or reordered",
		         trial_scenes_of((enum trial_kind)i) - (i == 0), names[i]);
		snprintf(name, sizeof name, "power-%s", short_names[i]);
		ok = trial_report(name, &count[i], words) && ok;
	}
	return ok ? 0 : 1;
}
