/* The states that a power cut may leave of one command, each judged. */
#ifndef TRIAL_CRASH_H
#define TRIAL_CRASH_H

#include "trial.h"

enum crash_lie { CRASH_HONEST, CRASH_NO_JOURNAL_SYNC, CRASH_NO_DIRECTORY_SYNC };

/* Plays the scene with the recorder, and cuts the power `cuts` times at each record of its log, or
 * once at each -cuts-th record, in all the ways of enum disk_choice in turn. States that are alike
 * count once. */
void crash_scene(const struct trial_scene *scene, const char *recorder, enum crash_lie lie,
                 int cuts, uint64_t *state, struct trial_count *count);

#endif
