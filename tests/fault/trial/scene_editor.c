#include "scene_editor.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "screen/cells.h"

#define SAID "editor.csv"

void editor_start(struct editor_play *play, char *const *before)
{
	char program[300], book[] = TRIAL_BOOK, run[] = "work";
	char *words[10];
	int count = 0;
	*play = (struct editor_play){.term = {.vt = NULL}};
	snprintf(program, sizeof program, "%s", trial_program());
	while (before && *before)
		words[count++] = *before++;
	words[count++] = program;
	words[count++] = book;
	words[count++] = run;
	words[count] = NULL;
	if (!term_start(&play->term, words, 24, 80, SAID))
		trial_stop("the editor cannot be started");
}

void editor_look(struct editor_play *play, int wait_ms)
{
	static const char *const said[] = {"booked: ", "changed: "};
	char *row;
	term_serve(&play->term, wait_ms);
	row = cells_row(&play->term, 21);
	cells_trim(row);
	for (int i = 0; i < 2; i++) {
		const char *sight = row + strlen(said[i]);
		if (strncmp(row, said[i], strlen(said[i])) == 0 && play->count < EDITOR_SIGHTS &&
		    strlen(sight) < sizeof play->booked[0] &&
		    (play->count == 0 || strcmp(play->booked[play->count - 1], sight) != 0))
			strcpy(play->booked[play->count++], sight);
	}
	free(row);
}

void editor_close(struct editor_play *play)
{
	term_close(&play->term);
}

char *editor_said(void)
{
	struct trial_bytes said = trial_read(SAID);
	return said.at ? (char *)said.at : calloc(1, 1);
}

/* How many rows there are; -1 where SQLite cannot say. */
static int ask(sqlite3 *db, const char *sql, const char *text)
{
	sqlite3_stmt *statement = NULL;
	int count = -1;
	if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK &&
	    sqlite3_bind_text(statement, 1, text, -1, SQLITE_STATIC) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW)
		count = sqlite3_column_int(statement, 0);
	sqlite3_finalize(statement);
	return count;
}

bool editor_judge(const struct editor_play *play, int *sights, char *words, size_t size)
{
	uint64_t print;
	sqlite3 *db;
	bool ok = trial_print(TRIAL_BOOK, false, &print, words, size);
	if (!ok)
		return false;
	if (sqlite3_open_v2(TRIAL_BOOK, &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK)
		trial_stop("the book cannot be opened");
	/* Struck or not: what was shown as booked was booked. */
	for (int i = 0; ok && i < play->count; i++) {
		ok = ask(db,
		         "SELECT count(*) FROM sight WHERE kind || ' ' || typed || ' on ' || "
		         "station = ?1",
		         play->booked[i]) == 1;
		if (!ok)
			snprintf(words, size, "shown as booked, and not in the book once: %s",
			         play->booked[i]);
	}
	if (sights)
		*sights = ask(db,
		              "SELECT count(*) FROM sight WHERE struck IS NULL AND run = (SELECT "
		              "id FROM run WHERE name = ?1)",
		              "work");
	sqlite3_close(db);
	return ok;
}
