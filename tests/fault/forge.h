/* The hand of a skilled forger, for tests of what he leaves. */
#ifndef FAULT_FORGE_H
#define FAULT_FORGE_H

#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TRIGGERS_MOST 80

/* Runs the forger's SQL on the closed book, with all triggers out of the way. */
static inline void forge(const char *path, const char *sql)
{
	sqlite3 *db;
	sqlite3_stmt *statement;
	char *name[TRIGGERS_MOST], *text[TRIGGERS_MOST], drop[200], *said = NULL;
	int count = 0;
	ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
	/* Nobody cuts the power here, and there are sixty triggers. */
	ck_assert_int_eq(sqlite3_exec(db, "PRAGMA synchronous = OFF", NULL, NULL, NULL), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_prepare_v2(db, "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'", -1,
	                       &statement, NULL),
	    SQLITE_OK);
	while (sqlite3_step(statement) == SQLITE_ROW) {
		ck_assert_int_lt(count, TRIGGERS_MOST);
		name[count] = strdup((const char *)sqlite3_column_text(statement, 0));
		text[count++] = strdup((const char *)sqlite3_column_text(statement, 1));
	}
	sqlite3_finalize(statement);
	ck_assert_int_gt(count, 0);
	for (int i = 0; i < count; i++) {
		snprintf(drop, sizeof drop, "DROP TRIGGER %s", name[i]);
		ck_assert_int_eq(sqlite3_exec(db, drop, NULL, NULL, NULL), SQLITE_OK);
	}
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &said) == SQLITE_OK, "%s: %s", sql, said);
	for (int i = 0; i < count; i++) {
		ck_assert_int_eq(sqlite3_exec(db, text[i], NULL, NULL, NULL), SQLITE_OK);
		free(name[i]);
		free(text[i]);
	}
	sqlite3_close(db);
}

#endif
