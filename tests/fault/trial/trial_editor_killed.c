/* The running editor is killed while sights are typed at speed: what it showed as booked, and what
 * another program saw in the book, is there. */
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

#include "scene_editor.h"

#define TYPED 24
#define LATEST_US 250000

/* The sights in turn: FS on A, BS on A, FS on B, ... with readings that tell them apart. */
static void type_all(struct term *term)
{
	char keys[40];
	for (int i = 0; i < TYPED; i++) {
		if (i % 2 == 0)
			snprintf(keys, sizeof keys, "P%d\r1.%03d+", i / 2, 100 + i);
		else
			snprintf(keys, sizeof keys, "1.%03d+", 100 + i);
		term_put(term, keys, strlen(keys));
	}
}

/* Sights of the run as another program sees them now; -1 where the book is being written. */
static int seen_by_another(void)
{
	static const char sql[] = "SELECT count(*) FROM sight JOIN run ON run.id = sight.run WHERE "
	                          "run.name = 'work'";
	sqlite3 *db = NULL;
	sqlite3_stmt *statement = NULL;
	int count = -1;
	if (sqlite3_open_v2(TRIAL_BOOK, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK &&
	    sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW)
		count = sqlite3_column_int(statement, 0);
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return count;
}

static bool life(const struct trial_set *set, uint64_t *state, long *shown, char *words,
                 size_t size)
{
	struct editor_play play;
	int64_t wait = (int64_t)(trial_chance(state) % LATEST_US), begun;
	int another = -1, sights, last = 0;
	trial_reset(set);
	editor_start(&play, NULL);
	term_ready_for_key(&play.term);
	type_all(&play.term);
	begun = term_now_ms();
	while (play.term.running && (term_now_ms() - begun) * 1000 < wait)
		editor_look(&play, 1);
	if (trial_chance(state) % 4 == 0)
		another = seen_by_another();
	if (!play.term.running) {
		snprintf(words, size, "the editor ended by itself");
		editor_close(&play);
		return false;
	}
	kill(play.term.pid, SIGKILL);
	while (play.term.running)
		editor_look(&play, 1);
	editor_look(&play, 0);
	/* A message may be painted over before it is looked at: the last one tells of those before.
	 */
	if (play.count && sscanf(strchr(play.booked[play.count - 1], ' '), " 1.%d", &last) == 1)
		last -= 99;
	editor_close(&play);
	*shown += last;
	if (!editor_judge(&play, &sights, words, size))
		return false;
	snprintf(words, size, "%d sights shown as booked, %d seen by another program, %d booked",
	         last, another - 1, sights - 1);
	return sights - 1 >= last && sights >= another && sights - 1 <= TYPED;
}

int main(void)
{
	const struct trial_scene scene = {"rodbook set " TRIAL_BOOK " title 'Another title'",
	                                  TRIAL_WRITES, "day"};
	struct trial_set set;
	struct trial_count count = {0};
	uint64_t state = trial_seed("editor killed");
	long shown = 0;
	char words[200], what[400];
	bool ok;
	trial_enter();
	trial_make_bases();
	trial_set(&set, &scene);
	for (int i = 0; i < (trial_long() ? 1000 : 20); i++) {
		count.tries++;
		if (!life(&set, &state, &shown, what, sizeof what))
			trial_loss(&count, "life %d: %s", i + 1, what);
	}
	trial_unset(&set);
	snprintf(words, sizeof words,
	         "the running editor is killed while sights are typed, %ld shown as booked", shown);
	ok = trial_report("editor-killed", &count, words);
	if (shown == 0)
		fprintf(stderr, "nothing was shown as booked: the keys did not come through\n");
	return ok && shown > 0 ? 0 : 1;
}
