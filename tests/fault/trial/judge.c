/* What a disturbed command left, held against what it said. */
#include "trial.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define JOURNAL TRIAL_BOOK "-journal"
#define KNOWN_STATES 512

/* Files that were looked at already, by their bytes: most tries leave one of two. */
static struct known {
	uint64_t key, print;
	bool sound;
	char words[300];
} known[KNOWN_STATES];

static uint64_t key_of(const struct trial_bytes *bytes, uint64_t key)
{
	const unsigned char *at = bytes->at;
	size_t i = 0;
	key = (key ^ bytes->size ^ bytes->there) * UINT64_C(0x9e3779b97f4a7c15);
	for (; i + 8 <= bytes->size; i += 8) {
		uint64_t word;
		memcpy(&word, at + i, 8);
		key = (key ^ word) * UINT64_C(0x9e3779b97f4a7c15);
		key ^= key >> 29;
	}
	for (; i < bytes->size; i++)
		key = (key ^ at[i]) * UINT64_C(0x9e3779b97f4a7c15);
	return key ? key : 1;
}

static const struct known *look(const struct trial_set *set)
{
	bool upgrades = set->scene->kind == TRIAL_UPGRADES;
	struct trial_bytes book = trial_read(TRIAL_BOOK), journal = trial_read(JOURNAL);
	uint64_t key = key_of(&journal, key_of(&book, 17 + upgrades));
	struct known *state = &known[key % KNOWN_STATES];
	free(book.at);
	free(journal.at);
	if (state->key == key)
		return state;
	state->key = key;
	state->words[0] = '\0';
	state->sound =
	    trial_print(TRIAL_BOOK, upgrades, &state->print, state->words, sizeof state->words);
	return state;
}

void trial_set(struct trial_set *set, const struct trial_scene *scene)
{
	char file[80], words[300] = "";
	struct trial_said said;
	*set = (struct trial_set){.scene = scene};
	trial_split(scene->line, set->room, sizeof set->room, set->words);
	trial_preload(NULL);
	if (scene->base) {
		snprintf(file, sizeof file, "%s.base", scene->base);
		set->base = trial_read(file);
		if (!set->base.there)
			trial_stop("%s: no base %s", scene->line, scene->base);
	}
	trial_reset(set);
	if (!trial_print(TRIAL_BOOK, scene->kind == TRIAL_UPGRADES, &set->before, words,
	                 sizeof words))
		trial_stop("%s: %s", scene->line, words);
	trial_reset(set);
	trial_run(set->words, &said);
	set->status = WIFEXITED(said.status) ? WEXITSTATUS(said.status) : -1;
	if (set->status != 0 && (scene->kind != TRIAL_READS || set->status != 1))
		trial_stop("%s: ends in %d: %s", scene->line, set->status, said.err.at);
	set->out = said.out;
	set->out.at = malloc(said.out.size + 1);
	memcpy(set->out.at, said.out.at, said.out.size + 1);
	if (!trial_print(TRIAL_BOOK, scene->kind == TRIAL_UPGRADES, &set->after, words,
	                 sizeof words))
		trial_stop("%s: %s", scene->line, words);
	if ((set->before == set->after) != (scene->kind == TRIAL_READS))
		trial_stop("%s: should write, or should not", scene->line);
	trial_reset(set);
}

void trial_unset(struct trial_set *set)
{
	free(set->base.at);
	free(set->out.at);
}

void trial_reset(const struct trial_set *set)
{
	unlink(JOURNAL);
	if (set->base.there)
		trial_write(TRIAL_BOOK, set->base.at, set->base.size);
	else
		unlink(TRIAL_BOOK);
}

/* Removes what no book is made of; false where there was something. */
static bool tidy(char *words, size_t size)
{
	DIR *dir = opendir(".");
	struct dirent *entry;
	bool clean = true;
	while (dir && (entry = readdir(dir))) {
		const char *name = entry->d_name, *dot = strrchr(name, '.');
		if (name[0] == '.' || strcmp(name, TRIAL_BOOK) == 0 || strcmp(name, JOURNAL) == 0 ||
		    (dot && (strcmp(dot, ".base") == 0 || strcmp(dot, ".csv") == 0)))
			continue;
		snprintf(words, size, "a file is left: %.60s", name);
		unlink(name);
		clean = false;
	}
	if (dir)
		closedir(dir);
	return clean;
}

/* `new` comes again after it was killed. */
static bool made_again(const struct trial_set *set, uint64_t print, char *words, size_t size)
{
	struct trial_said said;
	const struct known *state;
	const char *err;
	int status;
	trial_preload(NULL);
	trial_run(set->words, &said);
	status = WIFEXITED(said.status) ? WEXITSTATUS(said.status) : -1;
	err = (const char *)said.err.at;
	if (print == set->after && status == 3 && strstr(err, "exists already"))
		return true;
	snprintf(words, size, "the next `new` ends in %d: %.*s", status, (int)strcspn(err, "\n"),
	         err);
	if (print != 0 || status != 0)
		return false;
	state = look(set);
	return state->sound && state->print == set->after;
}

static bool same_out(const struct trial_set *set, const struct trial_said *said)
{
	/* A change that is made stays made where its digest cannot be told; that is said. */
	if (said->out.size &&
	    strstr((const char *)said->out.at, "the digest could not be worked out"))
		return true;
	return said->out.size == set->out.size &&
	       memcmp(said->out.at, set->out.at, set->out.size) == 0;
}

/* What the command said of itself. */
static bool is_true(const struct trial_set *set, uint64_t print, const struct trial_said *said,
                    char *words, size_t size)
{
	const char *err = (const char *)said->err.at;
	int status;
	if (WIFSIGNALED(said->status)) {
		snprintf(words, size, "it died of signal %d", WTERMSIG(said->status));
		return false;
	}
	status = WEXITSTATUS(said->status);
	if (status == set->status) {
		snprintf(words, size, "it ends in %d and %s", status,
		         print != set->after ? "the book is as before"
		                             : "says something else than undisturbed");
		return print == set->after && same_out(set, said);
	}
	if (status != 3) {
		snprintf(words, size, "a wrong reason: it ends in %d: %.*s", status,
		         (int)strcspn(err, "\n"), err);
		return false;
	}
	if (!*err) {
		snprintf(words, size, "it refuses without a word");
		return false;
	}
	/* The change is made before it is told: a full pipe takes nothing back. */
	if (strstr(err, "the output could not be written") && print == set->after)
		return true;
	/* Nobody can know what a disk that confirms nothing will keep; it is said. */
	if (strstr(err, "the change is in the book, but the disk does not confirm it") &&
	    print == set->after)
		return true;
	snprintf(words, size, "it refuses, and the change is made: %.*s", (int)strcspn(err, "\n"),
	         err);
	return print == set->before || set->scene->kind == TRIAL_UPGRADES;
}

bool trial_judge(const struct trial_set *set, enum trial_end end, const struct trial_said *said,
                 char *words, size_t size)
{
	const struct known *state = look(set);
	uint64_t print = state->print;
	bool clean = tidy(words, size);
	if (!state->sound) {
		snprintf(words, size, "%s", state->words);
		return false;
	}
	if (print != set->before && print != set->after) {
		snprintf(words, size, "%s",
		         print ? "the book is neither as before nor as after" : "the book is gone");
		return false;
	}
	if (end == TRIAL_DISTURBED)
		return is_true(set, print, said, words, size) && clean;
	if (end == TRIAL_DONE && print != set->after) {
		snprintf(words, size, "it was said to be done, and is not in the book");
		return false;
	}
	return end != TRIAL_KILLED || set->scene->base || made_again(set, print, words, size);
}
