/* Bringing a book of an older version up to this one: its rows into fresh tables, in one
 * transaction. */
#include "book/store.h"

#include <stdio.h>

/* The tables of the older versions, those that others refer to first, and the columns they had: in
 * version 1, where some were not yet, and in versions 2, 3 and 4. */
#define OLD_VERSIONS 4
static const struct {
	const char *name, *columns[OLD_VERSIONS];
} tables[] = {
    {"setting", {"name, value", "name, value", "name, value", "name, value"}},
    {"mark",
     {"id, name, typed, unit, elevation, u_typed, u, source, time, struck",
      "id, name, typed, unit, elevation, u_typed, u, source, time, struck",
      "id, name, typed, unit, elevation, u_typed, u, source, time, struck",
      "id, name, typed, unit, elevation, u_typed, u, source, time, struck"}},
    {"run",
     {"id, name, kind, time", "id, name, kind, plan, time", "id, name, kind, plan, grade, time",
      "id, name, kind, plan, grade, time"}},
    {"sight",
     {"id, run, place, kind, station, unit, typed, reading, upper_typed, middle_typed, "
      "lower_typed, upper, middle, lower, distance_typed, distance, method, time, remark, struck, "
      "why, replaces",
      "id, run, place, kind, station, unit, typed, reading, upper_typed, middle_typed, "
      "lower_typed, upper, middle, lower, distance_typed, distance, method, instrument, rod, time, "
      "remark, overridden, struck, why, replaces",
      "id, run, place, kind, station, unit, typed, reading, upper_typed, middle_typed, "
      "lower_typed, upper, middle, lower, distance_typed, distance, method, instrument, rod, time, "
      "remark, overridden, again, along, photo, struck, why, replaces",
      "id, run, place, kind, station, unit, typed, reading, upper_typed, middle_typed, "
      "lower_typed, upper, middle, lower, distance_typed, distance, method, instrument, rod, time, "
      "remark, overridden, again, along, photo, distance_by, struck, why, replaces"}},
    {"instrument",
     {NULL, "id, name, tolerance, tilt, tilt_u, remark, time, struck",
      "id, name, tolerance, tilt, tilt_u, remark, time, struck",
      "id, name, tolerance, tilt, tilt_u, remark, time, struck"}},
    {"tolerance",
     {NULL, "id, name, figures, time, struck", "id, name, figures, time, struck",
      "id, name, figures, time, struck"}},
    {"pegtest",
     {NULL, "id, instrument, unit, standings, tilt, tilt_u, time",
      "id, instrument, unit, standings, tilt, tilt_u, time",
      "id, instrument, unit, standings, tilt, tilt_u, k, dk, method, time"}},
    {"rod",
     {NULL, "id, name, zero, scale, expansion, reference, longest, remark, time, struck",
      "id, name, zero, scale, expansion, reference, longest, remark, time, struck",
      "id, name, zero, scale, expansion, reference, longest, remark, time, struck"}},
    {"fieldtest",
     {NULL, "id, instrument, extent, sigma, unit, pairs, time",
      "id, instrument, extent, sigma, unit, pairs, time",
      "id, instrument, extent, sigma, unit, pairs, time"}},
    {"water",
     {NULL, "id, run, station, unit, typed, reading, time, remark, struck, why",
      "id, run, station, unit, typed, reading, time, remark, struck, why",
      "id, run, station, unit, typed, reading, time, remark, struck, why"}},
    {"air",
     {NULL,
      "id, run, unit, pressure, low, low_height, high, high_height, water, wind, sky, time, "
      "struck, why",
      "id, run, unit, pressure, low, low_height, high, high_height, water, wind, sky, time, "
      "struck, why",
      "id, run, unit, pressure, low, low_height, high, high_height, water, wind, sky, at, "
      "at_height, wind_speed, wind_height, wind_from, time, struck, why"}},
    {"plan",
     {NULL, "id, name, figures, time, struck", "id, name, figures, time, struck",
      "id, name, figures, time, struck"}},
    {"seal",
     {NULL, "id, run, figures, late, why, time", "id, run, figures, late, why, time",
      "id, run, figures, late, why, time"}},
    {"closing", {NULL, NULL, "id, run, state, why, time", "id, run, state, why, time"}},
    {"result",
     {NULL, NULL, "id, kind, subject, figures, seq, time",
      "id, kind, subject, figures, seq, time"}},
    {"draft",
     {"run, slot, at, inserts, focus, wires, unit, kind, station, reading, upper, middle, lower, "
      "distance, method, remark",
      "run, slot, at, inserts, focus, wires, unit, kind, station, reading, upper, middle, lower, "
      "distance, method, remark, instrument, rod",
      "run, slot, at, inserts, focus, wires, unit, kind, station, reading, upper, middle, lower, "
      "distance, method, remark, instrument, rod, again, along, photo",
      "run, slot, at, inserts, focus, wires, unit, kind, station, reading, upper, middle, lower, "
      "distance, method, remark, instrument, rod, again, along, photo"}},
    {"journal",
     {"seq, action, time, act, run, tbl, row, before, after, undoes",
      "seq, action, time, act, run, tbl, row, before, after, undoes",
      "seq, action, time, act, run, tbl, row, before, after, undoes",
      "seq, action, time, act, run, tbl, row, before, after, undoes"}},
};
#define TABLES (sizeof tables / sizeof *tables)

const char *schema_of(int64_t version)
{
	const char *const schemas[BOOK_VERSION] = {
	    rodbook_schema_1, rodbook_schema_2, rodbook_schema_3, rodbook_schema_4, rodbook_schema};
	return version >= 1 && version <= BOOK_VERSION ? schemas[version - 1] : NULL;
}

static bool run_sql(struct book *book, const char *sql)
{
	return sqlite3_exec(book->db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

static bool rebuild(struct book *book, size_t old)
{
	char sql[2000];
	for (size_t i = 0; i < TABLES; i++) {
		if (!tables[i].columns[old])
			continue;
		snprintf(sql, sizeof sql, "CREATE TEMP TABLE old_%s AS SELECT %s FROM main.%s",
		         tables[i].name, tables[i].columns[old], tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	for (size_t i = TABLES; i-- > 0;) {
		if (!tables[i].columns[old])
			continue;
		snprintf(sql, sizeof sql, "DROP TABLE main.%s", tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	if (!run_sql(book, rodbook_schema))
		return false;
	for (size_t i = 0; i < TABLES; i++) {
		if (!tables[i].columns[old])
			continue;
		snprintf(
		    sql, sizeof sql, "INSERT INTO main.%s(%s) SELECT %s FROM old_%s ORDER BY rowid",
		    tables[i].name, tables[i].columns[old], tables[i].columns[old], tables[i].name);
		if (!run_sql(book, sql))
			return false;
		snprintf(sql, sizeof sql, "DROP TABLE old_%s", tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	snprintf(sql, sizeof sql, "PRAGMA user_version=%d", BOOK_VERSION);
	return run_sql(book, sql);
}

bool upgrade(struct book *book, int64_t version, struct fault *why)
{
	bool ok;
	if (!run_sql(book, "PRAGMA foreign_keys=OFF; PRAGMA temp_store=MEMORY") ||
	    !run_sql(book, "BEGIN IMMEDIATE"))
		return sql_fault(book, why);
	book->brought_up = (int)version;
	ok = rebuild(book, (size_t)version - 1) && run_sql(book, "COMMIT");
	if (!ok) {
		fault_say(why, FAULT_FILE,
		          "%.300s, of an older rodbook, cannot be brought up to this one: %.200s",
		          book->path, sqlite3_errmsg(book->db));
		run_sql(book, "ROLLBACK");
	}
	/* A book that does not hold its rows together is not used. */
	return run_sql(book, "PRAGMA foreign_keys=ON") ? ok : ok && sql_fault(book, why);
}
