/* Marks and their known elevations. */
#include "book/store.h"

#include <stdlib.h>
#include <string.h>

static void read_mark(sqlite3_stmt *statement, struct book_mark *mark)
{
	char unit[8];
	*mark = (struct book_mark){.id = sqlite3_column_int64(statement, 0),
	                           .elevation = sqlite3_column_int64(statement, 4),
	                           .u = sqlite3_column_int64(statement, 6)};
	sql_text(statement, 1, mark->name, sizeof mark->name);
	sql_text(statement, 2, mark->typed, sizeof mark->typed);
	sql_text(statement, 3, unit, sizeof unit);
	level_unit_find(unit, &mark->unit);
	sql_text(statement, 5, mark->u_typed, sizeof mark->u_typed);
	sql_text(statement, 7, mark->source, sizeof mark->source);
	sql_text(statement, 8, mark->struck, sizeof mark->struck);
	sql_text(statement, 9, mark->description, sizeof mark->description);
	sql_text(statement, 10, mark->reach, sizeof mark->reach);
	mark->surface = sqlite3_column_int(statement, 11) != 0;
}

static bool mark_is_clean(const struct book_mark *mark, struct fault *why)
{
	return level_check_name(mark->name, "mark", why) &&
	       level_check_text(mark->typed, BOOK_TYPED_BYTES, "elevation of a mark", why) &&
	       level_check_text(mark->u_typed, BOOK_TYPED_BYTES, "uncertainty of a mark", why) &&
	       level_check_text(mark->struck, BOOK_TIME_BYTES, "time of a mark", why) &&
	       level_check_text(mark->source, LEVEL_REMARK_CHARS, "source of a mark", why) &&
	       level_check_text(mark->description, LEVEL_REMARK_CHARS, "description of a mark",
	                        why) &&
	       level_check_text(mark->reach, LEVEL_REMARK_CHARS, "reach of a mark", why) &&
	       ((mark_in_range(mark->elevation, mark->u) &&
	         text_says(mark->typed, mark->unit, mark->elevation) &&
	         (*mark->u_typed ? text_says(mark->u_typed, mark->unit, mark->u) : !mark->u)) ||
	        fault_say(why, FAULT_INPUT, "the mark %.160s does not say what was typed",
	                  mark->name));
}

static bool read_listed(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	read_mark(statement, item);
	return mark_is_clean(item, why) || book_spoiled(book, why);
}

#define MARK_COLUMNS                                                                               \
	"id, name, typed, unit, elevation, u_typed, u, source, struck, description, reach, "       \
	"surface"

bool book_marks(struct book *book, struct book_mark **marks, size_t *count, struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " MARK_COLUMNS " FROM mark WHERE struck IS NULL ORDER BY name", ""),
	    sizeof **marks, read_listed, (void **)marks, count, why);
}

bool book_marks_struck(struct book *book, struct book_mark **marks, size_t *count,
                       struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " MARK_COLUMNS " FROM mark WHERE struck IS NOT NULL ORDER BY id", ""),
	    sizeof **marks, read_listed, (void **)marks, count, why);
}

bool mark_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_mark ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT " MARK_COLUMNS " FROM mark WHERE id=?1", "i", id),
	    read_listed, &ignored, why);
}

/* The one so named that counts; *found says whether there is one. */
static bool find_mark(struct book *book, const char *name, struct book_mark *out, bool *found,
                      struct fault *why)
{
	*out = (struct book_mark){0};
	return sql_one(book,
	               sql_query(book, why,
	                         "SELECT " MARK_COLUMNS
	                         " FROM mark WHERE name=?1 AND struck IS NULL",
	                         "t", name),
	               read_listed, out, found, why);
}

static bool write_mark(struct book *book, const struct book_mark *mark, struct fault *why)
{
	return named_retire(book, "mark", mark->name, why) &&
	       sql_run(book, why,
	               "INSERT INTO mark(name, typed, unit, elevation, u_typed, u, source, time, "
	               "description, reach, surface) "
	               "VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
	               "ttuititttti", mark->name, mark->typed, (int)mark->unit, mark->elevation,
	               mark->u_typed, mark->u, mark->source, book->now, mark->description,
	               mark->reach, (int64_t)mark->surface) &&
	       journal_enter_numbered(book, "mark", 0, "mark", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

/* A length as typed, with room for a unit behind it when it leaves the book. */
static bool check_typed(const char *text, const char *what, struct fault *why)
{
	if (strlen(text) > BOOK_TYPED_CHARS - 4)
		return fault_say(why, FAULT_INPUT, "the %s is too long for a length", what);
	return level_check_text(text, BOOK_TYPED_CHARS, what, why);
}

static bool take_text(char out[LEVEL_REMARK_BYTES], const char *text, const char *name,
                      struct fault *why)
{
	if (!text)
		return true;
	if (!level_check_text(text, LEVEL_REMARK_CHARS, name, why))
		return fault_at(why, name);
	strcpy(out, text);
	return true;
}

/* Another elevation: what the mark is and how it is found stays, where nothing else is said. */
static bool replace_mark(struct book *book, struct book_mark *mark,
                         const struct book_mark_given *given, struct fault *why)
{
	struct book_mark before;
	bool found;
	if (!find_mark(book, mark->name, &before, &found, why))
		return false;
	strcpy(mark->description, before.description);
	strcpy(mark->reach, before.reach);
	mark->surface = before.surface;
	return take_text(mark->description, given->description, "description", why) &&
	       take_text(mark->reach, given->reach, "reach", why) && write_mark(book, mark, why);
}

bool book_mark_put(struct book *book, enum level_unit unit, const struct book_mark_given *given,
                   struct fault *why)
{
	const char *elevation = given->elevation, *u = given->u ? given->u : "";
	struct book_mark mark = {.unit = unit};
	if (!level_check_name(given->name, "mark", why))
		return fault_at(why, "name");
	if (!check_typed(elevation, "elevation", why) ||
	    !level_parse_length(elevation, unit, &mark.elevation, why))
		return fault_at(why, "elevation");
	if (!check_typed(u, "uncertainty", why) ||
	    (*u && !level_parse_length(u, unit, &mark.u, why)))
		return fault_at(why, "u");
	if (!take_text(mark.source, given->source, "source", why))
		return false;
	if (mark.u < 0) {
		fault_say(why, FAULT_INPUT,
		          "an uncertainty is 0 or more: write the standard uncertainty");
		return fault_at(why, "u");
	}
	strcpy(mark.name, given->name);
	strncpy(mark.typed, elevation, sizeof mark.typed - 1);
	strncpy(mark.u_typed, u, sizeof mark.u_typed - 1);
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, replace_mark(book, &mark, given, why), why);
}

bool book_mark_set_in(struct book *book, enum level_unit unit, const char *name,
                      const char *elevation, const char *u, const char *source, struct fault *why)
{
	const struct book_mark_given given = {name, elevation, u, source, NULL, NULL};
	return book_mark_put(book, unit, &given, why);
}

bool book_mark_set(struct book *book, const char *name, const char *elevation, const char *u,
                   const char *source, struct fault *why)
{
	struct book_settings settings;
	return book_settings(book, &settings, why) &&
	       book_mark_set_in(book, settings.style.unit, name, elevation, u, source, why);
}

static bool no_mark(const char *name, struct fault *why)
{
	return fault_say(why, FAULT_INPUT, "there is no mark %.160s in this book", name);
}

/* The one that counts under that name. */
static bool live_mark(struct book *book, const char *name, struct book_mark *out, struct fault *why)
{
	bool found;
	if (!find_mark(book, name, out, &found, why))
		return false;
	if (found)
		return true;
	no_mark(name, why);
	return fault_at(why, "mark");
}

static bool strike_mark(struct book *book, const char *name, struct fault *why)
{
	struct book_mark ignored;
	return live_mark(book, name, &ignored, why) && named_retire(book, "mark", name, why);
}

static bool describe_mark(struct book *book, const char *name, const char *description,
                          const char *reach, struct fault *why)
{
	struct book_mark mark, before;
	if (!live_mark(book, name, &mark, why))
		return false;
	before = mark;
	if (!take_text(mark.description, description, "description", why) ||
	    !take_text(mark.reach, reach, "reach", why))
		return false;
	if (strcmp(mark.description, before.description) == 0 &&
	    strcmp(mark.reach, before.reach) == 0)
		return true;
	return write_mark(book, &mark, why);
}

bool book_mark_describe(struct book *book, const char *name, const char *description,
                        const char *reach, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, describe_mark(book, name, description, reach, why), why);
}

static bool set_surface(struct book *book, const char *name, bool surface, struct fault *why)
{
	struct book_mark mark;
	if (!live_mark(book, name, &mark, why))
		return false;
	if (mark.surface == surface)
		return true;
	mark.surface = surface;
	return write_mark(book, &mark, why);
}

bool book_mark_surface(struct book *book, const char *name, bool surface, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set_surface(book, name, surface, why), why);
}

bool book_mark_strike(struct book *book, const char *name, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, strike_mark(book, name, why), why);
}
