#include "book/verify/replica.h"

#include "book/file/schema.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool replica_begin(struct replica *r, const struct book *of, struct fault *why)
{
	*r = (struct replica){.book = {.path = of->path, .clock = of->clock}};
	if (sqlite3_open(":memory:", &r->book.db) != SQLITE_OK)
		return fault_memory(why);
	/* What a trigger would refuse was entered all the same, or was not. */
	sqlite3_db_config(r->book.db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
	return sqlite3_exec(r->book.db, rodbook_schema, NULL, NULL, NULL) == SQLITE_OK ||
	       sql_fault(&r->book, why);
}

bool replica_put(struct replica *r, const char *table, const char *after, struct fault *why)
{
	const struct table *of;
	sqlite3_stmt *put;
	bool ok = true;
	size_t i = 0;
	while (journal_table(i) && strcmp(journal_table(i), table) != 0)
		i++;
	if (!journal_table(i) || i >= REPLICA_TABLES)
		return fault_say(why, FAULT_INPUT, "the journal has entries of a table %.40s",
		                 table);
	if (!r->put[i]) {
		of = table_of(&r->book, table, why);
		if (!of)
			return false;
		if (sqlite3_prepare_v2(r->book.db, of->put, -1, &r->put[i], NULL) != SQLITE_OK)
			return sql_fault(&r->book, why);
	}
	put = r->put[i];
	if (sqlite3_bind_text(put, 1, after, -1, SQLITE_TRANSIENT) != SQLITE_OK ||
	    sqlite3_step(put) != SQLITE_DONE)
		ok = sql_fault(&r->book, why);
	sqlite3_reset(put);
	return ok;
}

void replica_end(struct replica *r)
{
	for (size_t i = 0; i < REPLICA_TABLES; i++)
		sqlite3_finalize(r->put[i]);
	sql_drop_kept(&r->book);
	sqlite3_close(r->book.db);
}
