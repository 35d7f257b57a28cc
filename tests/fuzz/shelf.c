#include "shelf.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "rodbook/csv/csv.h"

void shelf_clock(char out[BOOK_TIME_BYTES])
{
	strcpy(out, "2026-05-04T09:30:00+02:00");
}

static int authorize(void *context, int action, const char *what, const char *b, const char *c,
                     const char *d)
{
	struct shelf *s = context;
	(void)b;
	(void)c;
	(void)d;
	if (action != SQLITE_TRANSACTION || !s->trying)
		return SQLITE_OK;
	if (strcmp(what, "ROLLBACK") == 0 && s->book->failed)
		s->rolled_back = true;
	return SQLITE_IGNORE;
}

bool shelf_open(struct shelf *s, enum level_unit unit)
{
	struct fault why = {0};
	*s = (struct shelf){0};
	quick_begin();
	snprintf(s->dir, sizeof s->dir, "%s/rodbookXXXXXX",
	         access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
	if (!mkdtemp(s->dir))
		return false;
	snprintf(s->path, sizeof s->path, "%s/book", s->dir);
	snprintf(s->csv, sizeof s->csv, "%s/rows.csv", s->dir);
	if (!book_create(s->path, unit, "", shelf_clock, &why) ||
	    !(s->book = book_open(s->path, shelf_clock, &why))) {
		fprintf(stderr, "%s\n", why.text);
		return false;
	}
	sqlite3_set_authorizer(s->book->db, authorize, s);
	sqlite3_exec(
	    s->book->db,
	    "PRAGMA locking_mode=EXCLUSIVE; PRAGMA journal_mode=MEMORY; PRAGMA synchronous=OFF; "
	    "PRAGMA temp_store=MEMORY",
	    NULL, NULL, NULL);
	quick_book(s->book->db);
	return true;
}

void shelf_close(struct shelf *s)
{
	if (s->book)
		quick_end(s->book->db);
	book_close(s->book);
	unlink(s->path);
	unlink(s->csv);
	rmdir(s->dir);
}

void shelf_begin(struct shelf *s)
{
	s->trying = s->rolled_back = false;
	if (sqlite3_exec(s->book->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK) {
		fprintf(stderr, "%s\n", sqlite3_errmsg(s->book->db));
		abort();
	}
	s->trying = true;
	s->book->failed = false;
}

void shelf_end(struct shelf *s)
{
	s->trying = false;
	sqlite3_exec(s->book->db, "ROLLBACK", NULL, NULL, NULL);
	/* What was shown before a seal is of the try too. */
	s->book->seen_run = 0;
}

bool shelf_import(struct shelf *s, const char *text, struct fault *why)
{
	struct work_taken counts;
	FILE *file = fopen(s->csv, "wb");
	if (!file)
		abort();
	quick_csv(strlen(text));
	fputs(text, file);
	fclose(file);
	return csv_import(s->book, s->csv, &counts, why);
}

char *shelf_export_run(struct shelf *s, const char *name, struct fault *why)
{
	struct work_run run;
	char *text = NULL;
	size_t size;
	FILE *out;
	bool ok;
	if (!work_run_load(s->book, name, NULL, &run, why))
		return NULL;
	out = open_memstream(&text, &size);
	ok = csv_export_run(out, s->book, &run, why);
	work_run_free(&run);
	fclose(out);
	if (ok)
		return text;
	free(text);
	return NULL;
}

static char *export_by(struct shelf *s, bool (*export)(FILE *, struct book *, struct fault *),
                       struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	bool ok = export(out, s->book, why);
	fclose(out);
	if (ok)
		return text;
	free(text);
	return NULL;
}

/* Where a seal came from is the one thing that taking a book changes. */
char *shelf_export_whole(struct shelf *s, struct fault *why)
{
	static const char imported[] = ",imported\r\n";
	char *text = export_by(s, csv_export_whole, why);
	for (char *at = text ? strstr(text, imported) : NULL; at; at = strstr(at, imported))
		memmove(at + 1, at + strlen(imported) - 2, strlen(at + strlen(imported) - 2) + 1);
	return text;
}

char *shelf_export_marks(struct shelf *s, struct fault *why)
{
	return export_by(s, csv_export_marks, why);
}
