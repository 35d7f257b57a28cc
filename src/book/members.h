/* Columns of a table that are members of a struct: one array a struct, which writing and reading
 * both follow, each in the array's own order. */
#ifndef BOOK_MEMBERS_H
#define BOOK_MEMBERS_H

#include "book/store.h"

enum member_kind {
	MEMBER_NUMBER,  /* int64_t */
	MEMBER_SOME,    /* int64_t, 0 where the column has no value */
	MEMBER_INT,     /* int */
	MEMBER_FLAG,    /* bool */
	MEMBER_TEXT,    /* char[] */
	MEMBER_WIRE,    /* level_nm of a sight; without a value where it has no wires */
	MEMBER_UNIT,    /* enum level_unit, by its name */
	MEMBER_OF_KIND, /* enum level_kind */
	MEMBER_METHOD   /* enum level_method */
};

struct member {
	const char *column;
	enum member_kind kind;
	size_t offset, size;
	bool of_note; /* in the second of two structs, the note of a sight */
	bool later;   /* a new row has none yet: only read */
};

struct members {
	const struct member *list;
	size_t count;
};

/* A sight and its note, but for the run; a half-typed form, but for run, slot and editor. */
extern const struct members sight_members, draft_members;

/* SQL texts of these, made once a book. sights and sight_alone: elevation and u of the known mark
 * and whether it is a surface, then the members; of the run, or the number, ?1. drafts: slot and
 * members, of run and editor. The others put a row: run and members; run, slot, editor and members.
 * NULL on failure. */
enum member_sql { SQL_SIGHTS, SQL_SIGHT_ALONE, SQL_SIGHT_PUT, SQL_DRAFTS, SQL_DRAFT_PUT };
_Static_assert(SQL_DRAFT_PUT + 1 == BOOK_MEMBER_TEXTS, "room in struct book for each");
const char *members_sql(struct book *book, enum member_sql which, struct fault *why);

/* Binds the members from parameter `from` on; they stay where they are until the statement ends. */
bool members_bind(struct book *book, sqlite3_stmt *statement, int from,
                  const struct members *members, const void *one, const void *note,
                  struct fault *why);
/* Reads them from column `from` on; false where a name is none. */
bool members_read(sqlite3_stmt *statement, int from, const struct members *members, void *one,
                  void *note);

#endif
