#include "forge.h"

#include <stdio.h>
#include <string.h>

#include "fuzz.h"

static const char *const columns[FORGE_TABLES][26] = {
    {"sight",      "id",      "run",     "place",          "kind",         "station",
     "unit",       "typed",   "reading", "upper_typed",    "middle_typed", "lower_typed",
     "upper",      "middle",  "lower",   "distance_typed", "distance",     "method",
     "instrument", "rod",     "time",    "remark",         "again",        "along",
     "struck",     "replaces"},
    {"mark", "id", "name", "typed", "unit", "elevation", "u_typed", "u", "source", "time",
     "struck"},
    {"run", "id", "name", "kind", "plan", "grade", "time"},
    {"setting", "name", "value"},
    {"water", "id", "run", "station", "unit", "typed", "reading", "time", "remark", "struck"},
    {"air", "run", "unit", "pressure", "low", "low_height", "high", "wind_speed", "time", "struck"},
    {"plan", "id", "name", "figures", "time", "struck"},
    {"seal", "id", "run", "figures", "late", "why", "time"},
    {"closing", "id", "run", "state", "why", "time"},
    {"instrument", "name", "tolerance", "tilt", "tilt_u", "time", "struck"},
    {"pegtest", "instrument", "unit", "standings", "tilt", "tilt_u", "k", "dk", "method"},
    {"fieldtest", "instrument", "extent", "sigma", "unit", "pairs", "time"},
    {"tolerance", "name", "figures", "time", "struck"},
    {"rod", "name", "zero", "scale", "expansion", "reference", "longest", "struck"},
    {"gauge", "id", "run", "station", "unit", "typed", "reading", "time", "booked", "remark",
     "struck"},
    {"setout", "id", "run", "station", "unit", "typed", "wanted", "time", "struck", "why"},
    {"journal", "action", "time", "act", "run", "tbl", "row", "before", "after", "undoes"},
};

static const char *const values[] = {"NULL",
                                     "''",
                                     "0",
                                     "1",
                                     "2",
                                     "-1",
                                     "9223372036854775807",
                                     "'1.5 m'",
                                     "'1.432'",
                                     "'PEG'",
                                     "'TP1'",
                                     "'m'",
                                     "'ft'",
                                     "'BS'",
                                     "'FS'",
                                     "'IS'",
                                     "'OFF'",
                                     "'tube'",
                                     "'1.432; 0.987'",
                                     "1500000000",
                                     "'x'",
                                     "char(27)",
                                     "'2026-05-04'",
                                     "'2026-05-04T09:30:00+02:00'",
                                     "'k' || char(9) || 'nan' || char(10)",
                                     "'0.1 mm/m'",
                                     "'L1'",
                                     "'closed'",
                                     "'reopened'",
                                     "'crossing'",
                                     "'loop'",
                                     "'across'",
                                     "hex(zeroblob(200))",
                                     "'1; 2'",
                                     "'1e999'",
                                     "'nan'",
                                     "100000000000",
                                     "'full'",
                                     "'tape'"};

/* Columns that say the same, as typed and in nm. */
static const struct pair {
	size_t table;
	const char *typed, *kept;
} pairs[] = {{0, "typed", "reading"}, {0, "distance_typed", "distance"}, {1, "typed", "elevation"},
             {4, "typed", "reading"}, {14, "typed", "reading"},          {15, "typed", "wanted"}};

bool forge_rows(sqlite3 *db, int last[FORGE_TABLES])
{
	for (int i = 0; i < FORGE_TABLES; i++) {
		char sql[100];
		sqlite3_stmt *statement = NULL;
		snprintf(sql, sizeof sql, "SELECT coalesce(max(rowid), 0) FROM %s", columns[i][0]);
		if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK ||
		    sqlite3_step(statement) != SQLITE_ROW)
			return false;
		last[i] = sqlite3_column_int(statement, 0);
		sqlite3_finalize(statement);
	}
	return true;
}

/* A column of a row gets another value, and so has the journal's last word about the row, unless
 * the forger forgot it. */
static size_t change(uint64_t *chance, const char *table, const char *column, const char *value,
                     int row, char *text, size_t room)
{
	size_t used =
	    (size_t)snprintf(text, room, "UPDATE %s SET %s=%s WHERE rowid=%d AND %s IS NOT %s",
	                     table, column, value, row, column, value);
	if (fuzz_below(chance, 3) == 0 || strcmp(table, "journal") == 0)
		return used;
	return used + (size_t)snprintf(
	                  text + used, room - used,
	                  ";UPDATE journal SET after=json_set(after,'$.%s',(SELECT %s FROM %s "
	                  "WHERE rowid=%d)) WHERE changes()>0 AND seq=(SELECT max(seq) FROM "
	                  "journal WHERE tbl='%s' "
	                  "AND row=(SELECT %s FROM %s WHERE rowid=%d)||'')",
	                  column, column, table, row, table,
	                  strcmp(table, "setting") == 0 ? "name" : "id", table, row);
}

static size_t change_pair(uint64_t *chance, const int last[FORGE_TABLES], char *text, size_t room)
{
	const struct pair *pair = &pairs[fuzz_below(chance, sizeof pairs / sizeof *pairs)];
	const char *table = columns[pair->table][0];
	char value[60];
	unsigned mm = 1 + (unsigned)fuzz_below(chance, 3000);
	int row = 1 + (int)fuzz_below(chance, (size_t)last[pair->table]);
	size_t used;
	if (last[pair->table] == 0)
		return 0;
	snprintf(value, sizeof value, "'%u.%03u m'", mm / 1000, mm % 1000);
	used = change(chance, table, pair->typed, value, row, text, room);
	snprintf(value, sizeof value, "%u000000", mm);
	used += (size_t)snprintf(text + used, room - used, ";");
	return used + change(chance, table, pair->kept, value, row, text + used, room - used);
}

size_t forge_make(uint64_t *chance, const int last[FORGE_TABLES], char *text, size_t room)
{
	size_t table = fuzz_below(chance, FORGE_TABLES), most = 0, column, used;
	char value[200];
	int row;
	while (last[table] == 0)
		table = fuzz_below(chance, FORGE_TABLES);
	row = 1 + (int)fuzz_below(chance, (size_t)last[table]);
	while (most + 1 < 26 && columns[table][most + 1])
		most++;
	column = 1 + fuzz_below(chance, most);
	if (fuzz_below(chance, 2))
		/* What another row has there. */
		snprintf(value, sizeof value, "(SELECT %s FROM %s WHERE rowid=%d)",
		         columns[table][column], columns[table][0],
		         1 + (int)fuzz_below(chance, (size_t)last[table]));
	else
		snprintf(value, sizeof value, "%s",
		         values[fuzz_below(chance, sizeof values / sizeof *values)]);
	used = fuzz_below(chance, 4) ? 0 : change_pair(chance, last, text, room);
	if (used == 0)
		used = change(chance, columns[table][0], columns[table][column], value, row, text,
		              room);
	return used + (size_t)snprintf(text + used, room - used, "\n");
}
