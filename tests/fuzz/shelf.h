/* Books for fuzzers, thrown back to what they were after each try.
 *
 * A book lies in /dev/shm and stays open. What a try changes is inside one transaction: while it is
 * open an authorizer of SQLite makes the program's own BEGIN, COMMIT and ROLLBACK do nothing, so
 * that calls which hold a book or change it work as ever, and at its end all is rolled back. */
#ifndef FUZZ_SHELF_H
#define FUZZ_SHELF_H

#include <stdio.h>

#include "book/store.h"
#include "rodbook/report/report.h"

struct shelf {
	char dir[64], path[96], csv[96];
	struct book *book;
	bool trying;
	bool rolled_back; /* the program wanted to roll back: what it changed is still there */
};

bool shelf_open(struct shelf *s, enum level_unit unit);
void shelf_close(struct shelf *s);
void shelf_clock(char out[BOOK_TIME_BYTES]);

/* A try begins; ends, and the book is as it was. */
void shelf_begin(struct shelf *s);
void shelf_end(struct shelf *s);

/* Imports a text as a CSV file. */
bool shelf_import(struct shelf *s, const char *text, struct fault *why);
/* Exports as a text; free() it. NULL, with a reason, where it cannot be. */
char *shelf_export_run(struct shelf *s, const char *name, struct fault *why);
char *shelf_export_whole(struct shelf *s, struct fault *why);
char *shelf_export_marks(struct shelf *s, struct fault *why);

/* What a book is filled with; all of it is a small but full book. */
enum shelf_parts {
	SHELF_THINGS = 1, /* marks, instrument, rod, tolerances, tests */
	SHELF_LOOP = 2,
	SHELF_LINK = 4,      /* closed */
	SHELF_OPEN = 8,      /* with a struck sight */
	SHELF_CROSSING = 16, /* sealed and amended, with water, air and a plan */
	SHELF_ALL = 31
};
/* `chance` chooses the figures. */
bool shelf_fill(struct shelf *s, unsigned parts, uint64_t *chance, struct fault *why);

/* --- quick.c --- */

void quick_begin(void);
/* The file that is imported next has this size. */
void quick_csv(size_t size);
/* A book that stays open; before it is closed. */
void quick_book(sqlite3 *db);
void quick_end(sqlite3 *db);

#endif
