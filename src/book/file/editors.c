#include "rodbook/book/editors.h"

#include <errno.h>
#include <pwd.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "book/store.h"

/* When a process began, in clock ticks since the machine did (proc(5), stat, field 22); 0 where
 * there is none. A number is given to another process one day. */
static unsigned long long began(long pid)
{
	char path[40], text[1024], *at;
	unsigned long long ticks = 0;
	FILE *file;
	size_t size;
	snprintf(path, sizeof path, "/proc/%ld/stat", pid);
	file = fopen(path, "r");
	if (!file)
		return 0;
	size = fread(text, 1, sizeof text - 1, file);
	fclose(file);
	text[size] = '\0';
	/* The second field is a name in brackets, which may hold blanks and brackets. */
	at = strrchr(text, ')');
	for (int field = 2; at && field < 22; field++)
		at = strchr(at + 1, ' ');
	if (at)
		sscanf(at, "%llu", &ticks);
	return ticks;
}

static void name_process(char out[60], long pid)
{
	snprintf(out, 60, "%ld %llu", pid, began(pid));
}

/* Whether a process of this host is there still. */
static bool lives(const char *process)
{
	char now[60];
	long pid = strtol(process, NULL, 10);
	if (pid <= 0 || (kill((pid_t)pid, 0) != 0 && errno == ESRCH))
		return false;
	/* A system that hides when it began does not make it another one. */
	if (!began(pid))
		return true;
	name_process(now, pid);
	return strcmp(now, process) == 0;
}

/* An editor of another machine is taken for gone after a day: only that machine could know. */
#define A_DAY "86400"

struct row {
	int64_t id;
	bool old;
	struct book_editor who;
	char process[60];
};

static bool read_row(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct row *row = item;
	char raw[BOOK_WHO_BYTES];
	(void)book;
	(void)why;
	row->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, raw, sizeof raw);
	level_show_text(row->who.host, sizeof row->who.host, raw, false);
	sql_text(statement, 2, raw, sizeof raw);
	level_show_text(row->who.user, sizeof row->who.user, raw, false);
	sql_text(statement, 3, row->process, sizeof row->process);
	row->old = sqlite3_column_int(statement, 5) != 0;
	sql_text(statement, 4, raw, sizeof raw);
	level_show_text(row->who.since, sizeof row->who.since, raw, false);
	return true;
}

static bool drop(struct book *book, int64_t id, struct fault *why)
{
	return sql_run(book, why, "DELETE FROM editor WHERE id=?1", "i", id);
}

_Static_assert(EDITOR_HOST_BYTES == BOOK_WHO_BYTES, "one size of names");

const char *editor_host(char host[EDITOR_HOST_BYTES])
{
	char raw[EDITOR_HOST_BYTES] = "";
	gethostname(raw, sizeof raw - 1);
	/* As many bytes as the table takes. */
	level_show_text(host, 100, raw, false);
	return host;
}

static void name_self(struct row *self)
{
	const struct passwd *user = getpwuid(getuid());
	editor_host(self->who.host);
	level_show_text(self->who.user, 100, user ? user->pw_name : "", false);
	name_process(self->process, (long)getpid());
}

/* A number that no form left behind has: whose it was must not be taken for another's. */
static bool enter(struct book *book, const struct row *self, struct fault *why)
{
	int64_t id = 0;
	if (!sql_integer(
	        book,
	        "SELECT 1 + max(coalesce((SELECT max(id) FROM editor), 0), coalesce((SELECT "
	        "max(editor) FROM draft), 0))",
	        &id, why) ||
	    !sql_run(
	        book, why,
	        "INSERT INTO editor(id, host, user, process, since) VALUES(?1, ?2, ?3, ?4, ?5)",
	        "itttt", id, self->who.host, self->who.user, self->process, book->now))
		return false;
	book->editor = id;
	return true;
}

static bool take_others(struct book *book, const struct row *self, struct book_editor **others,
                        size_t *count, struct fault *why)
{
	struct row *rows;
	size_t found, kept = 0;
	bool ok = sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT id, host, user, process, since, coalesce(strftime('%s', ?1) - "
	              "strftime('%s', since) NOT BETWEEN -" A_DAY " AND " A_DAY ", 1) FROM "
	              "editor ORDER BY id",
	              "t", book->now),
	    sizeof *rows, read_row, (void **)&rows, &found, why);
	if (!ok)
		return false;
	*others = calloc(found + 1, sizeof **others);
	if (!*others) {
		free(rows);
		return fault_memory(why);
	}
	for (size_t i = 0; ok && i < found; i++)
		if (strcmp(rows[i].who.host, self->who.host) == 0 ? !lives(rows[i].process)
		                                                  : rows[i].old)
			ok = drop(book, rows[i].id, why);
		else
			(*others)[kept++] = rows[i].who;
	free(rows);
	*count = kept;
	return ok;
}

bool book_editor_enter(struct book *book, struct book_editor **others, size_t *count,
                       struct fault *why)
{
	struct row self = {0};
	*others = NULL;
	*count = 0;
	if (book->read_only)
		return true;
	name_self(&self);
	if (!txn_begin(book, why))
		return false;
	if (txn_end(book, take_others(book, &self, others, count, why) && enter(book, &self, why),
	            why))
		return true;
	book->editor = 0;
	free(*others);
	*others = NULL;
	*count = 0;
	return false;
}

bool book_editor_leave(struct book *book, struct fault *why)
{
	int64_t id = book->editor;
	if (!id)
		return true;
	book->editor = 0;
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, drop(book, id, why), why);
}
