/* Inside the running editor an allocation fails, or a system call: it may end itself with a word,
 * but what it showed as booked is booked, and the book can be proved. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "memory.h"
#include "scene_editor.h"
#include "screen/keys.h"
#include "trace.h"

#define PATIENCE_MS 8000

/* Books an FS, a BS and an FS, changes the first, and leaves. */
static const char *const scenes[] = {
    "A <Enter> 1.234 +",
    "1.334 +",
    "B <Enter> 1.434 +",
    "<Up> <Up> <Up> <End> 5 +",
    "<CtrlHome> <Down> <Down> <Down> <Down> <F7>",
    "<Enter>",
    "<F10>",
    "<F10>",
};

static void play_all(struct editor_play *play)
{
	int64_t begun = term_now_ms();
	for (size_t i = 0; i < sizeof scenes / sizeof *scenes && play->term.running; i++) {
		keys_send(&play->term, scenes[i]);
		while (play->term.running && !term_quiet(&play->term, 30) &&
		       term_now_ms() - begun < PATIENCE_MS)
			editor_look(play, 3);
	}
	while (play->term.running && term_now_ms() - begun < PATIENCE_MS)
		editor_look(play, 3);
}

/* Plays the scene to its end and judges it. */
static bool judge(const struct trial_set *set, char *const *before, char *words, size_t size)
{
	struct editor_play play;
	char *said;
	bool ok = true, ended;
	int status;
	trial_reset(set);
	editor_start(&play, before);
	play_all(&play);
	ended = !play.term.running;
	status = play.term.status;
	editor_close(&play);
	said = editor_said();
	if (!ended || WIFSIGNALED(status)) {
		snprintf(words, size, ended ? "it died of signal %d: %.200s" : "it does not end",
		         WTERMSIG(status), said);
		ok = false;
	} else if (WEXITSTATUS(status) != 0 && !*said) {
		snprintf(words, size, "it ends in %d without a word", WEXITSTATUS(status));
		ok = false;
	}
	free(said);
	return editor_judge(&play, NULL, words, size) && ok;
}

static void memory(const struct trial_set *set, struct trial_page *page, uint64_t *state,
                   struct trial_count *count)
{
	char words[400] = "";
	int64_t last, opened, tries = trial_long() ? 1000 : 12;
	setenv("LD_PRELOAD", PRELOAD_MEMORY, 1);
	page->count = page->opened = page->fail_from = page->fail_to = page->stay = 0;
	if (!judge(set, NULL, words, sizeof words))
		trial_stop("the editor undisturbed: %s", words);
	last = page->count;
	opened = page->opened;
	if (!opened || last <= opened)
		trial_stop("allocations of the editor are not counted");
	for (int64_t i = 0; i < tries; i++) {
		/* Spread over all that comes behind the opening, at random within each part. */
		int64_t part = (last - opened) / tries + 1;
		int64_t at =
		    opened + 1 + i * part + (int64_t)(trial_chance(state) % (uint64_t)part);
		page->count = page->opened = 0;
		page->fail_from = page->fail_to = at;
		count->tries++;
		if (!judge(set, NULL, words, sizeof words))
			trial_loss(count, "editor: no memory at %lld of %lld: %s", (long long)at,
			           (long long)last, words);
	}
	unsetenv("LD_PRELOAD");
}

static void calls(const struct trial_set *set, uint64_t *state, struct trial_count *count)
{
	static const int errors[] = {EIO, ENOSPC, EDQUOT, EMFILE, EINTR};
	char program[] = TRACE_AT, at[20] = "0", error[20] = "0", book[] = TRIAL_BOOK;
	char *before[] = {program, at, error, book, NULL};
	char words[400] = "";
	struct trial_bytes text;
	long last, tries = trial_long() ? 1000 : 12;
	if (!judge(set, before, words, sizeof words))
		trial_stop("the editor followed: %s", words);
	text = trial_read("calls.csv");
	last = text.there ? atol((const char *)text.at) : 0;
	free(text.at);
	if (last < 100)
		trial_stop("calls of the editor are not counted");
	for (long i = 0; i < tries; i++) {
		long part = last / tries + 1;
		snprintf(at, sizeof at, "%ld",
		         1 + i * part + (long)(trial_chance(state) % (uint64_t)part));
		snprintf(error, sizeof error, "%d", errors[trial_chance(state) % 5]);
		count->tries++;
		if (!judge(set, before, words, sizeof words))
			trial_loss(count, "editor: error %s at call %s of %ld: %s", error, at, last,
			           words);
	}
}

int main(void)
{
	const struct trial_scene scene = {"rodbook set " TRIAL_BOOK " title 'Another title'",
	                                  TRIAL_WRITES, "day"};
	struct trial_page *page;
	struct trial_set set;
	struct trial_count no_memory = {0}, no_call = {0};
	uint64_t state = trial_seed("editor failing");
	bool ok;
	trial_enter();
	page = memory_page();
	trial_make_bases();
	trial_set(&set, &scene);
	memory(&set, page, &state, &no_memory);
	if (trace_works())
		calls(&set, &state, &no_call);
	trial_unset(&set);
	ok =
	    trial_report("editor-memory", &no_memory,
	                 "one allocation fails in the running editor: book, change, strike, leave");
	if (trace_works())
		ok = trial_report("editor-calls", &no_call,
		                  "one system call fails in the running editor, with 5 errors") &&
		     ok;
	return ok ? 0 : 1;
}
