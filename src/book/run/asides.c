/* Marks that are set aside in a run. */
#include "rodbook/book/aside.h"

#include <stdlib.h>
#include <string.h>

#include "book/store.h"

static bool read_aside(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_aside *aside = item;
	char state[12];
	aside->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, aside->mark, sizeof aside->mark);
	sql_text(statement, 2, state, sizeof state);
	sql_text(statement, 3, aside->why, sizeof aside->why);
	sql_text(statement, 4, aside->time, sizeof aside->time);
	aside->aside = strcmp(state, "aside") == 0;
	return (level_check_name(aside->mark, "mark", why) &&
	        level_check_text(aside->why, LEVEL_REMARK_CHARS, "reason", why) &&
	        level_check_text(aside->time, BOOK_TIME_BYTES, "time of setting aside", why)) ||
	       book_spoiled(book, why);
}

bool book_asides(struct book *book, int64_t run, struct book_aside **list, size_t *count,
                 struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT id, mark, state, why, time FROM aside WHERE run=?1 ORDER BY id", "i",
	              run),
	    sizeof **list, read_aside, (void **)list, count, why);
}

bool aside_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_aside ignored = {0};
	return row_reads(book,
	                 sql_query(book, why,
	                           "SELECT id, mark, state, why, time FROM aside WHERE id=?1", "i",
	                           id),
	                 read_aside, &ignored, why);
}

bool take_asides(struct book *book, struct book_run *run, struct fault *why)
{
	struct book_aside *list;
	size_t count;
	if (!book_asides(book, run->info.id, &list, &count, why))
		return false;
	for (size_t a = 0; a < count; a++)
		for (size_t i = 0; i < run->run.count; i++)
			if (strcmp(run->run.sight[i].station, list[a].mark) == 0)
				run->run.sight[i].aside = list[a].aside;
	free(list);
	return true;
}

/* The first counted sight on the mark that is known there; run->run.count where there is none. */
static size_t sight_on(const struct book_run *run, const char *mark)
{
	size_t i = 0;
	while (i < run->run.count &&
	       !(level_counted(&run->run.sight[i]) && run->run.sight[i].has_known &&
	         strcmp(run->run.sight[i].station, mark) == 0))
		i++;
	return i;
}

static bool may_set(const struct book_run *run, const char *mark, bool aside, struct fault *why)
{
	size_t on = sight_on(run, mark), start = 0;
	while (start < run->run.count && !level_counted(&run->run.sight[start]))
		start++;
	if (on == run->run.count)
		return fault_say(why, FAULT_INPUT,
		                 "run %.160s meets no mark %.160s of known elevation",
		                 run->info.name, mark);
	if (aside && strcmp(run->run.sight[start].station, mark) == 0)
		return fault_say(why, FAULT_INPUT,
		                 "%.160s is the start of run %.160s: its elevations hang on it",
		                 mark, run->info.name);
	if (run->run.sight[on].aside == aside)
		return fault_say(why, FAULT_INPUT,
		                 aside ? "%.160s is set aside in run %.160s already"
		                       : "%.160s is not set aside in run %.160s",
		                 mark, run->info.name);
	return true;
}

static bool set(struct book *book, const struct book_run *run, const char *mark, bool aside,
                const char *reason, struct fault *why)
{
	return check_fresh(book, run, why) && check_open(book, run->info.id, why) &&
	       may_set(run, mark, aside, why) &&
	       sql_run(book, why,
	               "INSERT INTO aside(id, run, mark, state, why, time) VALUES((SELECT "
	               "coalesce(max(id), 0) + 1 FROM aside), ?1, ?2, ?3, ?4, ?5)",
	               "itttt", run->info.id, mark, aside ? "aside" : "held", reason, book->now) &&
	       journal_enter_numbered(book, aside ? "set aside" : "hold again", run->info.id,
	                              "aside", sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

bool book_aside_set(struct book *book, const struct book_run *run, const char *mark, bool aside,
                    const char *reason, struct fault *why)
{
	if (aside && !*reason) {
		fault_say(why, FAULT_INPUT, "a mark is set aside for a reason: say why");
		return fault_at(why, "reason");
	}
	if (!level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why))
		return fault_at(why, "reason");
	if (!level_check_name(mark, "mark", why))
		return fault_at(why, "mark");
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set(book, run, mark, aside, reason, why), why);
}
