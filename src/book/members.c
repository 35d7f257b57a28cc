#include "book/members.h"

#include <stddef.h>
#include <stdio.h>

#define SIGHT(column, member, kind)                                                                \
	{                                                                                          \
		column, kind, offsetof(struct level_sight, member),                                \
		    sizeof(((struct level_sight *)NULL)->member), false, false                     \
	}
#define NOTE(column, member, kind)                                                                 \
	{                                                                                          \
		column, kind, offsetof(struct book_note, member),                                  \
		    sizeof(((struct book_note *)NULL)->member), true, false                        \
	}
#define LATER(column, member)                                                                      \
	{                                                                                          \
		column, MEMBER_TEXT, offsetof(struct book_note, member),                           \
		    sizeof(((struct book_note *)NULL)->member), true, true                         \
	}
#define DRAFT(column, member, kind)                                                                \
	{                                                                                          \
		column, kind, offsetof(struct book_draft, member),                                 \
		    sizeof(((struct book_draft *)NULL)->member), false, false                      \
	}

static const struct member of_sight[] = {
    {"id", MEMBER_NUMBER, offsetof(struct level_sight, id), sizeof(int64_t), false, true},
    NOTE("place", place, MEMBER_NUMBER),
    SIGHT("kind", kind, MEMBER_OF_KIND),
    SIGHT("station", station, MEMBER_TEXT),
    NOTE("unit", unit, MEMBER_UNIT),
    NOTE("typed", reading, MEMBER_TEXT),
    SIGHT("reading", reading, MEMBER_NUMBER),
    NOTE("upper_typed", upper, MEMBER_TEXT),
    NOTE("middle_typed", middle, MEMBER_TEXT),
    NOTE("lower_typed", lower, MEMBER_TEXT),
    SIGHT("upper", upper, MEMBER_WIRE),
    SIGHT("middle", middle, MEMBER_WIRE),
    SIGHT("lower", lower, MEMBER_WIRE),
    NOTE("distance_typed", distance, MEMBER_TEXT),
    SIGHT("distance", distance, MEMBER_SOME),
    SIGHT("method", method, MEMBER_METHOD),
    NOTE("instrument", instrument, MEMBER_TEXT),
    NOTE("rod", rod, MEMBER_TEXT),
    NOTE("time", time, MEMBER_TEXT),
    NOTE("booked", booked, MEMBER_TEXT),
    NOTE("remark", remark, MEMBER_TEXT),
    NOTE("overridden", overridden, MEMBER_TEXT),
    SIGHT("again", again, MEMBER_FLAG),
    NOTE("along", along, MEMBER_TEXT),
    NOTE("photo", photo, MEMBER_TEXT),
    NOTE("distance_by", distance_by, MEMBER_TEXT),
    NOTE("distance_unit", distance_unit, MEMBER_TEXT),
    NOTE("limit_typed", limit, MEMBER_TEXT),
    SIGHT("reading_limit", limit, MEMBER_SOME),
    NOTE("u_typed", u, MEMBER_TEXT),
    SIGHT("reading_u", u, MEMBER_SOME),
    SIGHT("declared", declared, MEMBER_FLAG),
    NOTE("photo_digest", photo_digest, MEMBER_TEXT),
    NOTE("scaled", scaled, MEMBER_TEXT),
    NOTE("ends", ends, MEMBER_TEXT),
    LATER("struck", struck),
    LATER("why", why),
    NOTE("replaces", replaces, MEMBER_SOME),
};
const struct members sight_members = {of_sight, sizeof of_sight / sizeof *of_sight};

static const struct member of_draft[] = {
    DRAFT("at", at, MEMBER_NUMBER),
    DRAFT("inserts", inserts, MEMBER_FLAG),
    DRAFT("focus", focus, MEMBER_INT),
    DRAFT("wires", wires, MEMBER_FLAG),
    DRAFT("unit", unit, MEMBER_UNIT),
    DRAFT("kind", kind, MEMBER_TEXT),
    DRAFT("station", station, MEMBER_TEXT),
    DRAFT("reading", reading, MEMBER_TEXT),
    DRAFT("upper", upper, MEMBER_TEXT),
    DRAFT("middle", middle, MEMBER_TEXT),
    DRAFT("lower", lower, MEMBER_TEXT),
    DRAFT("distance", distance, MEMBER_TEXT),
    DRAFT("method", method, MEMBER_TEXT),
    DRAFT("remark", remark, MEMBER_TEXT),
    DRAFT("instrument", instrument, MEMBER_TEXT),
    DRAFT("rod", rod, MEMBER_TEXT),
    DRAFT("again", again, MEMBER_FLAG),
    DRAFT("along", along, MEMBER_TEXT),
    DRAFT("photo", photo, MEMBER_TEXT),
    DRAFT("time", time, MEMBER_TEXT),
    DRAFT("scaled", scaled, MEMBER_TEXT),
};
const struct members draft_members = {of_draft, sizeof of_draft / sizeof *of_draft};

/* `begin`, the columns, and `end`; all behind `alias`. */
static char *make_select(const char *begin, const char *alias, const struct members *members,
                         const char *end)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	sqlite3_str_appendall(out, begin);
	for (size_t i = 0; i < members->count; i++)
		sqlite3_str_appendf(out, ", %s.\"%w\"", alias, members->list[i].column);
	sqlite3_str_appendall(out, end);
	return sqlite3_str_finish(out);
}

/* `begin` names the first `given` columns. */
static void append_put(sqlite3_str *out, const char *begin, int given,
                       const struct members *members)
{
	sqlite3_str_appendall(out, begin);
	for (size_t i = 0; i < members->count; i++)
		if (!members->list[i].later) {
			sqlite3_str_appendf(out, ", \"%w\"", members->list[i].column);
			given++;
		}
	sqlite3_str_appendall(out, ") VALUES(");
	for (int i = 1; i <= given; i++)
		sqlite3_str_appendf(out, "%s?%d", i > 1 ? ", " : "", i);
	sqlite3_str_appendall(out, ")");
}

static char *make_put_sight(void)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	append_put(out, "INSERT INTO sight(run", 1, &sight_members);
	return sqlite3_str_finish(out);
}

/* A form that is there is changed in its place: a row put for another would change the index too,
 * and be a third page to write. */
static char *make_put_draft(void)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	append_put(out, "INSERT INTO draft(run, slot, editor", 3, &draft_members);
	sqlite3_str_appendall(out, " ON CONFLICT(editor, run, slot) DO UPDATE SET ");
	for (size_t i = 0; i < draft_members.count; i++)
		sqlite3_str_appendf(out, "%s\"%w\"=excluded.\"%w\"", i ? ", " : "",
		                    draft_members.list[i].column, draft_members.list[i].column);
	return sqlite3_str_finish(out);
}

#define MARKED " FROM sight s LEFT JOIN mark m ON m.name = s.station AND m.struck IS NULL WHERE "

static char *make(enum member_sql which)
{
	if (which == SQL_SIGHTS)
		return make_select("SELECT m.elevation, m.u, m.surface", "s", &sight_members,
		                   MARKED "s.run=?1 ORDER BY s.place, s.id");
	if (which == SQL_SIGHT_ALONE)
		return make_select("SELECT m.elevation, m.u, m.surface", "s", &sight_members,
		                   MARKED "s.id=?1");
	if (which == SQL_SIGHT_PUT)
		return make_put_sight();
	if (which == SQL_DRAFTS)
		return make_select("SELECT slot", "draft", &draft_members,
		                   " FROM draft WHERE run=?1 AND editor=?2");
	return make_put_draft();
}

const char *members_sql(struct book *book, enum member_sql which, struct fault *why)
{
	char **kept = &book->member_sql[which];
	if (!*kept && !(*kept = make(which)))
		fault_memory(why);
	return *kept;
}

static int bind_text(sqlite3_stmt *statement, int at, const char *text)
{
	return sqlite3_bind_text(statement, at, text, -1, SQLITE_STATIC);
}

static int bind_member(sqlite3_stmt *statement, int at, const struct member *member,
                       const void *from)
{
	const void *value = (const char *)from + member->offset;
	switch (member->kind) {
	case MEMBER_WIRE:
		/* A wire may read 0, so whether there are wires cannot go by their values. */
		if (!((const struct level_sight *)from)->wires)
			return SQLITE_OK;
		return sqlite3_bind_int64(statement, at, *(const int64_t *)value);
	case MEMBER_SOME:
		if (*(const int64_t *)value == 0)
			return SQLITE_OK;
		return sqlite3_bind_int64(statement, at, *(const int64_t *)value);
	case MEMBER_NUMBER:
		return sqlite3_bind_int64(statement, at, *(const int64_t *)value);
	case MEMBER_INT:
		return sqlite3_bind_int64(statement, at, *(const int *)value);
	case MEMBER_FLAG:
		return sqlite3_bind_int64(statement, at, *(const bool *)value);
	case MEMBER_TEXT:
		return bind_text(statement, at, value);
	case MEMBER_UNIT:
		return bind_text(statement, at, level_unit_name(*(const enum level_unit *)value));
	case MEMBER_OF_KIND:
		return bind_text(statement, at, level_kind_name(*(const enum level_kind *)value));
	case MEMBER_METHOD:
		return bind_text(statement, at,
		                 level_method_name(*(const enum level_method *)value));
	}
	return SQLITE_MISUSE;
}

bool members_bind(struct book *book, sqlite3_stmt *statement, int from,
                  const struct members *members, const void *one, const void *note,
                  struct fault *why)
{
	int code = SQLITE_OK;
	for (size_t i = 0; code == SQLITE_OK && i < members->count; i++) {
		const struct member *member = &members->list[i];
		if (!member->later)
			code = bind_member(statement, from++, member, member->of_note ? note : one);
	}
	return code == SQLITE_OK || sql_fault(book, why);
}

static bool read_member(sqlite3_stmt *statement, int column, const struct member *member, void *to)
{
	void *value = (char *)to + member->offset;
	char name[12];
	switch (member->kind) {
	case MEMBER_WIRE:
		if (sqlite3_column_type(statement, column) != SQLITE_NULL)
			((struct level_sight *)to)->wires = true;
		*(int64_t *)value = sqlite3_column_int64(statement, column);
		return true;
	case MEMBER_SOME:
	case MEMBER_NUMBER:
		*(int64_t *)value = sqlite3_column_int64(statement, column);
		return true;
	case MEMBER_INT:
		*(int *)value = sqlite3_column_int(statement, column);
		return true;
	case MEMBER_FLAG:
		*(bool *)value = sqlite3_column_int(statement, column) != 0;
		return true;
	case MEMBER_TEXT:
		sql_text(statement, column, value, member->size);
		return true;
	case MEMBER_UNIT:
		sql_text(statement, column, name, sizeof name);
		return level_unit_find(name, value);
	case MEMBER_OF_KIND:
		sql_text(statement, column, name, sizeof name);
		return level_kind_find(name, value);
	case MEMBER_METHOD:
		sql_text(statement, column, name, sizeof name);
		return level_any_method_find(name, value);
	}
	return false;
}

bool members_read(sqlite3_stmt *statement, int from, const struct members *members, void *one,
                  void *note)
{
	bool known = true;
	for (size_t i = 0; i < members->count; i++) {
		const struct member *member = &members->list[i];
		known =
		    read_member(statement, from + (int)i, member, member->of_note ? note : one) &&
		    known;
	}
	return known;
}
