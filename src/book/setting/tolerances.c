/* Tolerance sets of the book's own. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

static bool read_tolerance(struct book *book, sqlite3_stmt *statement, void *item,
                           struct fault *why)
{
	struct book_tolerance *t = item;
	char name[LEVEL_NAME_BYTES];
	sql_text(statement, 0, name, sizeof name);
	sql_text(statement, 1, t->figures, sizeof t->figures);
	return (level_check_text(t->figures, 400, "tolerance set", why) &&
	        level_parse_tolerance(name, t->figures, &t->set, why)) ||
	       book_spoiled(book, why);
}

bool book_tolerances(struct book *book, struct book_tolerance **list, size_t *count,
                     struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT name, figures FROM tolerance WHERE struck IS NULL ORDER BY id", ""),
	    sizeof **list, read_tolerance, (void **)list, count, why);
}

bool tolerance_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_tolerance ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT name, figures FROM tolerance WHERE id=?1", "i", id),
	    read_tolerance, &ignored, why);
}

/* The message lists the program's own sets, and those of the book. */
static void refuse(const char *name, const struct book_tolerance *list, size_t count,
                   struct fault *why)
{
	struct fault words;
	size_t used;
	level_tolerance_find(name, &words);
	used = strlen(words.text);
	for (size_t i = 0; i < count && used < sizeof words.text; i++)
		used += (size_t)snprintf(words.text + used, sizeof words.text - used, ", %.40s",
		                         list[i].set.name);
	fault_say(why, words.kind, "%s", words.text);
}

bool book_tolerance_find(struct book *book, const char *name, struct level_tolerance *out,
                         struct fault *why)
{
	const struct level_tolerance *known = level_tolerance_find(name, NULL);
	struct book_tolerance *list;
	size_t count;
	bool found = false;
	if (known) {
		*out = *known;
		return true;
	}
	if (!book_tolerances(book, &list, &count, why))
		return false;
	for (size_t i = 0; i < count && !found; i++)
		if (strcmp(list[i].set.name, name) == 0) {
			*out = list[i].set;
			found = true;
		}
	if (!found)
		refuse(name, list, count, why);
	free(list);
	return found;
}

bool book_tolerance_set(struct book *book, const char *name, const char *figures, struct fault *why)
{
	struct level_tolerance set;
	if (level_tolerance_find(name, NULL))
		return fault_say(why, FAULT_INPUT,
		                 "%.40s is one of the program's own sets: choose another name",
		                 name);
	if (!level_check_text(figures, 400, "tolerance set", why) ||
	    !level_parse_tolerance(name, figures, &set, why))
		return false;
	if (set.per_km[0] == 0 && set.per_setup == 0)
		return fault_say(why, FAULT_INPUT,
		                 "a tolerance set allows a misclosure: give section=12 mm or "
		                 "setups=2 mm");
	if (!txn_begin(book, why))
		return false;
	return txn_end(
	    book,
	    named_retire(book, "tolerance", name, why) &&
	        sql_run(book, why, "INSERT INTO tolerance(name, figures, time) VALUES(?1, ?2, ?3)",
	                "ttt", name, figures, book->now) &&
	        journal_enter_numbered(book, "tolerance", 0, "tolerance",
	                               sqlite3_last_insert_rowid(book->db), NULL, 0, why),
	    why);
}
