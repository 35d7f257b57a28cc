/* The journal: each row changed, before and after, as JSON built here (not in a trigger, where an
 * untrusted schema may not call json_object). */
#include "book/store.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define SIGHT_JSON                                                                                 \
	"json_object('id',id,'run',run,'place',place,'kind',kind,'station',station,'unit',unit,"   \
	"'typed',typed,'reading',reading,'upper_typed',upper_typed,'middle_typed',middle_typed,"   \
	"'lower_typed',lower_typed,'upper',upper,'middle',middle,'lower',lower,"                   \
	"'distance_typed',distance_typed,'distance',distance,'method',method,"                     \
	"'instrument',instrument,'rod',rod,'time',time,'remark',remark,'overridden',overridden,"   \
	"'again',again,'along',along,'photo',photo,'distance_by',distance_by,"                     \
	"'struck',struck,'why',why,'replaces',replaces)"

#define UNSTRIKE(table)                                                                            \
	"UPDATE " table " SET struck=json_extract(?2,'$.struck'), why=json_extract(?2,'$.why') "   \
	"WHERE id=?1"
#define NAMED(table)                                                                               \
	"SELECT id FROM " table " WHERE name=?1 AND struck IS NULL",                               \
	    "UPDATE " table " SET struck=?2 WHERE id=?1"
#define STRIKE(table) "UPDATE " table " SET struck=?2, why=?3 WHERE id=?1"

static const struct journal_table {
	const char *name, *select, *restore, *strike;
	const char *live, *retire; /* the row that goes by a name, and how it ceases to */
} tables[] = {
    {"setting", "SELECT json_object('name',name,'value',value) FROM setting WHERE name=?1", NULL,
     NULL, NULL, NULL},
    {"mark",
     "SELECT json_object('id',id,'name',name,'typed',typed,'unit',unit,'elevation',elevation,"
     "'u_typed',u_typed,'u',u,'source',source,'time',time,'struck',struck) FROM mark WHERE id=?1",
     NULL, NULL, NAMED("mark")},
    {"run",
     "SELECT json_object('id',id,'name',name,'kind',kind,'plan',plan,'grade',grade,'time',time) "
     "FROM run WHERE "
     "id=?1",
     "UPDATE run SET name=json_extract(?2,'$.name'), kind=json_extract(?2,'$.kind'), "
     "plan=coalesce(json_extract(?2,'$.plan'), ''), "
     "grade=coalesce(json_extract(?2,'$.grade'), '') WHERE id=?1",
     NULL, NULL, NULL},
    {"sight", "SELECT " SIGHT_JSON " FROM sight WHERE id=?1", UNSTRIKE("sight"), STRIKE("sight"),
     NULL, NULL},
    {"instrument",
     "SELECT json_object('id',id,'name',name,'tolerance',tolerance,'tilt',tilt,'tilt_u',tilt_u,"
     "'remark',remark,'time',time,'struck',struck) FROM instrument WHERE id=?1",
     NULL, NULL, NAMED("instrument")},
    {"fieldtest",
     "SELECT json_object('id',id,'instrument',instrument,'extent',extent,'sigma',sigma,'unit',"
     "unit,'pairs',pairs,'time',time) FROM fieldtest WHERE id=?1",
     NULL, NULL, NULL, NULL},
    {"rod",
     "SELECT json_object('id',id,'name',name,'zero',zero,'scale',scale,'expansion',expansion,"
     "'reference',reference,'longest',longest,'remark',remark,'time',time,'struck',struck) FROM "
     "rod WHERE id=?1",
     NULL, NULL, NAMED("rod")},
    {"tolerance",
     "SELECT json_object('id',id,'name',name,'figures',figures,'time',time,'struck',struck) FROM "
     "tolerance WHERE id=?1",
     NULL, NULL, NAMED("tolerance")},
    {"pegtest",
     "SELECT json_object('id',id,'instrument',instrument,'unit',unit,'standings',standings,"
     "'tilt',tilt,'tilt_u',tilt_u,'k',k,'dk',dk,'method',method,'time',time) FROM pegtest WHERE "
     "id=?1",
     NULL, NULL, NULL, NULL},
    {"water",
     "SELECT json_object('id',id,'run',run,'station',station,'unit',unit,'typed',typed,"
     "'reading',reading,'time',time,'remark',remark,'struck',struck,'why',why) FROM water WHERE "
     "id=?1",
     UNSTRIKE("water"), STRIKE("water"), NULL, NULL},
    {"air",
     "SELECT json_object('id',id,'run',run,'unit',unit,'pressure',pressure,'low',low,"
     "'low_height',low_height,'high',high,'high_height',high_height,'water',water,'wind',wind,"
     "'sky',sky,'at',at,'at_height',at_height,'wind_speed',wind_speed,'wind_height',wind_height,"
     "'wind_from',wind_from,'time',time,'struck',struck,'why',why) FROM air WHERE id=?1",
     UNSTRIKE("air"), STRIKE("air"), NULL, NULL},
    {"plan",
     "SELECT json_object('id',id,'name',name,'figures',figures,'time',time,'struck',struck) FROM "
     "plan WHERE id=?1",
     NULL, NULL, NAMED("plan")},
    {"closing",
     "SELECT json_object('id',id,'run',run,'state',state,'why',why,'time',time) FROM closing WHERE "
     "id=?1",
     NULL, NULL, NULL, NULL},
    {"result",
     "SELECT json_object('id',id,'kind',kind,'subject',subject,'figures',figures,'seq',seq,"
     "'time',time) FROM result WHERE id=?1",
     NULL, NULL, NULL, NULL},
    {"seal",
     "SELECT json_object('id',id,'run',run,'figures',figures,'late',late,'why',why,'time',time) "
     "FROM seal WHERE id=?1",
     NULL, NULL, NULL, NULL},
};

static const struct journal_table *table_of(const char *name)
{
	size_t i = 0;
	while (strcmp(tables[i].name, name) != 0)
		i++;
	return &tables[i];
}

const char *journal_table(size_t i)
{
	return i < sizeof tables / sizeof *tables ? tables[i].name : NULL;
}

char *journal_row(struct book *book, const char *table, const char *row, struct fault *why)
{
	char *json = NULL;
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, table_of(table)->select, "t", row);
	if (!statement)
		return NULL;
	if (sql_row(book, statement, &ok, why)) {
		const char *text = (const char *)sqlite3_column_text(statement, 0);
		json = text ? sqlite3_mprintf("%s", text) : NULL;
		ok = json || fault_memory(why);
	}
	if (sql_done(book, statement, ok, why))
		return json;
	sqlite3_free(json);
	return NULL;
}

bool journal_enter(struct book *book, const char *act, int64_t run, const char *table,
                   const char *row, const char *before, int64_t undoes, struct fault *why)
{
	char *after = journal_row(book, table, row, why);
	int64_t seq = 0;
	bool ok =
	    after && sql_integer(book, "SELECT coalesce(max(seq), 0) + 1 FROM journal", &seq, why);
	if (!book->action)
		book->action = seq;
	ok = ok &&
	     sql_run(book, why,
	             "INSERT INTO journal(seq, action, time, act, run, tbl, row, before, after, "
	             "undoes) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
	             "iittnttttn", seq, book->action, book->now, act, run, table, row, before,
	             after, undoes);
	sqlite3_free(after);
	return ok;
}

char *journal_numbered(struct book *book, const char *table, int64_t id, struct fault *why)
{
	char row[24];
	snprintf(row, sizeof row, "%" PRId64, id);
	return journal_row(book, table, row, why);
}

bool journal_enter_numbered(struct book *book, const char *act, int64_t run, const char *table,
                            int64_t id, const char *before, int64_t undoes, struct fault *why)
{
	char row[24];
	snprintf(row, sizeof row, "%" PRId64, id);
	return journal_enter(book, act, run, table, row, before, undoes, why);
}

bool journal_restore(struct book *book, const char *table, int64_t id, const char *before,
                     struct fault *why)
{
	return sql_run(book, why, table_of(table)->restore, "it", id, before);
}

bool row_strike(struct book *book, const char *act, const char *table, int64_t run, int64_t id,
                const char *reason, int64_t undoes, struct fault *why)
{
	char *before = journal_numbered(book, table, id, why);
	bool ok = before &&
	          sql_run(book, why, table_of(table)->strike, "itt", id, book->now, reason) &&
	          journal_enter_numbered(book, act, run, table, id, before, undoes, why);
	sqlite3_free(before);
	return ok;
}

bool named_retire(struct book *book, const char *table, const char *name, struct fault *why)
{
	char act[40], *before;
	int64_t id = 0;
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, table_of(table)->live, "t", name);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		id = sqlite3_column_int64(statement, 0);
	ok = sql_done(book, statement, ok, why);
	if (!ok || !id)
		return ok;
	snprintf(act, sizeof act, "strike %s", table);
	before = journal_numbered(book, table, id, why);
	ok = before && sql_run(book, why, table_of(table)->retire, "it", id, book->now) &&
	     journal_enter_numbered(book, act, 0, table, id, before, 0, why);
	sqlite3_free(before);
	return ok;
}
