#include "crash.h"
#include "disk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define SEEN (1 << 16)

static uint64_t mix(uint64_t key, const char *name)
{
	struct trial_bytes bytes = trial_read(name);
	key = (key ^ bytes.there) * UINT64_C(0x100000001b3);
	for (size_t i = 0; i < bytes.size; i++)
		key = (key ^ bytes.at[i]) * UINT64_C(0x100000001b3);
	free(bytes.at);
	return key;
}

/* Whether this is the first time; a table that is full forgets nothing and counts no more. */
static bool is_new(uint64_t *seen, bool done)
{
	uint64_t key =
	    mix(mix(UINT64_C(0xcbf29ce484222325) + done, TRIAL_BOOK), TRIAL_BOOK "-journal") | 1;
	size_t at = key % SEEN;
	for (size_t i = 0; i < SEEN; i++, at = (at + 1) % SEEN) {
		if (seen[at] == key)
			return false;
		if (!seen[at]) {
			seen[at] = key;
			return true;
		}
	}
	return false;
}

static void record(struct trial_set *set, const char *recorder, struct disk *disk,
                   enum crash_lie lie)
{
	struct trial_said said;
	struct stat info = {0};
	char log[300];
	if (!getcwd(log, sizeof log - 10))
		trial_stop("no working directory");
	snprintf(log + strlen(log), 10, "/.log");
	trial_write(log, "", 0);
	setenv(TRIAL_DISK_LOG, log, 1);
	trial_reset(set);
	stat(TRIAL_BOOK, &info);
	trial_preload(recorder);
	trial_run(set->words, &said);
	trial_preload(NULL);
	if (said.status != 0)
		trial_stop("%s: fails while it is recorded: %s", set->scene->line, said.err.at);
	*disk = (struct disk){.ignore_journal_syncs = lie == CRASH_NO_JOURNAL_SYNC,
	                      .ignore_directory_syncs = lie == CRASH_NO_DIRECTORY_SYNC};
	disk_read(disk, log, &set->base, (int64_t)info.st_ino);
	if (disk->records < 5)
		trial_stop("%s: nothing was recorded", set->scene->line);
}

void crash_scene(const struct trial_scene *scene, const char *recorder, enum crash_lie lie,
                 int cuts, uint64_t *state, struct trial_count *count)
{
	static struct disk disk;
	static uint64_t seen[SEEN];
	struct trial_set set;
	bool done = false;
	memset(seen, 0, sizeof seen);
	trial_set(&set, scene);
	record(&set, recorder, &disk, lie);
	for (size_t i = 0; i < disk.records; i++) {
		disk_take(&disk, i);
		done = done || disk.record[i]->kind == DISK_SAID || i + 1 == disk.records;
		for (int cut = 0; cut < cuts || (cuts < 0 && cut == 0 && i % (size_t)-cuts == 0);
		     cut++) {
			char words[400] = "";
			disk_cut(&disk, (enum disk_choice)(((int)i + cut) % DISK_CHOICES), state);
			if (!is_new(seen, done))
				continue;
			count->tries++;
			if (!trial_judge(&set, done ? TRIAL_DONE : TRIAL_CUT, NULL, words,
			                 sizeof words))
				trial_loss(count,
				           "%s: power cut behind record %zu of %zu, cut %d: %s",
				           scene->line, i + 1, disk.records, cut, words);
		}
	}
	disk_free(&disk);
	trial_unset(&set);
}
