/* Runs: their names and kinds. */
#include "book/store.h"

#include <stdlib.h>

#define RUN_SELECT                                                                                 \
	"SELECT id, name, kind, time, plan, coalesce((SELECT state FROM closing WHERE "            \
	"closing.run = run.id ORDER BY closing.id DESC LIMIT 1) = 'closed', 0), (SELECT count(*) " \
	"FROM closing WHERE closing.run = run.id AND state = 'reopened'), grade, turn FROM run"

/* The row as it stands. */
static bool read_sound(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_run_info *info = item;
	char kind[16];
	struct level_grade grade;
	*info = (struct book_run_info){.id = sqlite3_column_int64(statement, 0),
	                               .closed = sqlite3_column_int(statement, 5) != 0,
	                               .reopened = sqlite3_column_int(statement, 6)};
	sql_text(statement, 1, info->name, sizeof info->name);
	sql_text(statement, 2, kind, sizeof kind);
	sql_text(statement, 3, info->time, sizeof info->time);
	sql_text(statement, 4, info->plan, sizeof info->plan);
	sql_text(statement, 7, info->grade, sizeof info->grade);
	sql_text(statement, 8, info->turn, sizeof info->turn);
	if ((level_run_kind_find(kind, &info->kind) ||
	     fault_say(why, FAULT_INPUT, "a run is a loop, link, open or crossing, not \"%.16s\"",
	               kind)) &&
	    level_check_name(info->name, "run", why) &&
	    (!*info->plan || level_check_name(info->plan, "plan", why)) &&
	    (!*info->grade || level_parse_grade(info->grade, LEVEL_M, &grade, NULL, why)) &&
	    (!*info->turn || level_check_name(info->turn, "mark", why)) &&
	    level_check_text(info->time, BOOK_TIME_BYTES, "time of a run", why))
		return true;
	return book_spoiled(book, why);
}

/* One run that cannot be read must not keep anybody from the others: it is said to be so, and
 * book_load() says why. */
static bool read_run(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_run_info *info = item, shown;
	if (read_sound(book, statement, info, why))
		return true;
	if (sqlite3_errcode(book->db) == SQLITE_NOMEM)
		return false;
	shown = *info;
	shown.unreadable = true;
	*shown.plan = *shown.grade = *shown.turn = *shown.time = '\0';
	level_show_text(shown.name, sizeof shown.name, info->name, false);
	*info = shown;
	return true;
}

bool run_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_run_info ignored;
	return row_reads(book, sql_query(book, why, RUN_SELECT " WHERE id=?1", "i", id), read_sound,
	                 &ignored, why);
}

bool book_runs(struct book *book, struct book_run_info **runs, size_t *count, struct fault *why)
{
	return sql_list(book, sql_query(book, why, RUN_SELECT " ORDER BY id", ""), sizeof **runs,
	                read_run, (void **)runs, count, why);
}

bool book_runs_at(struct book *book, const char *station, struct book_run_info **runs,
                  size_t *count, struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          RUN_SELECT " WHERE id IN (SELECT run FROM sight WHERE "
	                                     "station=?1 AND struck IS NULL) ORDER BY id",
	                          "t", station),
	                sizeof **runs, read_run, (void **)runs, count, why);
}

bool book_run_find(struct book *book, const char *name, struct book_run_info *out,
                   struct fault *why)
{
	bool found;
	if (!sql_one(book, sql_query(book, why, RUN_SELECT " WHERE name=?1", "t", name), read_run,
	             out, &found, why))
		return false;
	return found || fault_say(why, FAULT_INPUT,
	                          "there is no run %.160s in %.300s; its runs: rodbook runs BOOK",
	                          name, book->path);
}

bool run_head(struct book *book, int64_t run, struct book_run_info *out, struct fault *why)
{
	bool found;
	if (!sql_one(book, sql_query(book, why, RUN_SELECT " WHERE id=?1", "i", run), read_run, out,
	             &found, why))
		return false;
	return found || fault_say(why, FAULT_INPUT, "there is no run number %lld in %.300s",
	                          (long long)run, book->path);
}

static bool check_name(struct book *book, const char *name, int64_t self, struct fault *why)
{
	struct book_run_info other = {0};
	struct fault none = {0};
	if (!level_check_name(name, "run", why))
		return false;
	if (!book_run_find(book, name, &other, &none)) {
		if (none.kind != FAULT_INPUT && why)
			*why = none;
		return none.kind == FAULT_INPUT;
	}
	if (other.id != self)
		return fault_say(why, FAULT_INPUT,
		                 "there is a run %.160s already: choose another name", name);
	return true;
}

static bool add_run(struct book *book, const char *name, enum level_run_kind kind, int64_t *id,
                    struct fault *why)
{
	if (!check_name(book, name, 0, why) ||
	    !sql_run(book, why, "INSERT INTO run(name, kind, time) VALUES(?1, ?2, ?3)", "ttt", name,
	             level_run_kind_name(kind), book->now))
		return false;
	*id = sqlite3_last_insert_rowid(book->db);
	return journal_enter_numbered(book, "new run", *id, "run", *id, NULL, 0, why);
}

bool book_run_add(struct book *book, const char *name, enum level_run_kind kind, int64_t *id,
                  struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add_run(book, name, kind, id, why), why);
}

/* One column of a run, by an UPDATE of ?1 (the run) and ?2 (the value). */
static bool change_run(struct book *book, int64_t run, const char *act, const char *sql,
                       const char *value, struct fault *why)
{
	char *before = check_open(book, run, why) ? journal_numbered(book, "run", run, why) : NULL;
	bool ok = before && sql_run(book, why, sql, "it", run, value) &&
	          journal_enter_numbered(book, act, run, "run", run, before, 0, why);
	sqlite3_free(before);
	return ok;
}

bool book_run_rename(struct book *book, int64_t run, const char *name, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book,
	               check_name(book, name, run, why) &&
	                   change_run(book, run, "rename run", "UPDATE run SET name=?2 WHERE id=?1",
	                              name, why),
	               why);
}

bool book_run_set_kind(struct book *book, int64_t run, enum level_run_kind kind, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book,
	               change_run(book, run, "kind of run", "UPDATE run SET kind=?2 WHERE id=?1",
	                          level_run_kind_name(kind), why) &&
	                   seal_if_due(book, run, NULL, why),
	               why);
}

static bool set_plan(struct book *book, int64_t run, const char *name, struct fault *why)
{
	struct book_run_info info;
	struct book_plan plan;
	struct book_seal *seals;
	size_t count;
	if (!check_open(book, run, why) || !run_head(book, run, &info, why) ||
	    !book_seals(book, run, &seals, &count, why))
		return false;
	free(seals);
	if (*name && info.kind != LEVEL_CROSSING)
		return fault_say(why, FAULT_INPUT,
		                 "only a crossing goes by a plan: begin one (F2, n)");
	if (count)
		return fault_say(why, FAULT_INPUT,
		                 "the figures of this run are sealed: amend them, with a reason");
	if (*name && !book_plan_find(book, name, &plan, why))
		return false;
	return change_run(book, run, "plan of run", "UPDATE run SET plan=?2 WHERE id=?1", name,
	                  why);
}

bool book_run_set_plan(struct book *book, int64_t run, const char *name, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set_plan(book, run, name, why), why);
}

static bool set_grade(struct book *book, int64_t run, const char *text, struct fault *why)
{
	struct book_settings settings;
	struct level_grade grade;
	char kept[LEVEL_GRADE_BYTES] = "";
	if (!book_settings(book, &settings, why) ||
	    (*text && !level_parse_grade(text, settings.style.unit, &grade, kept, why)))
		return false;
	return change_run(book, run, "grade of run", "UPDATE run SET grade=?2 WHERE id=?1", kept,
	                  why);
}

bool book_run_set_grade(struct book *book, int64_t run, const char *grade, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set_grade(book, run, grade, why), why);
}

static bool set_turn(struct book *book, int64_t run, const char *mark, struct fault *why)
{
	struct book_run_info info;
	if (!run_head(book, run, &info, why) || (*mark && !level_check_name(mark, "mark", why)))
		return false;
	if (*mark && info.kind != LEVEL_LOOP)
		return fault_say(why, FAULT_INPUT,
		                 "only a loop goes out to a mark and back: make run %.160s a loop",
		                 info.name);
	return change_run(book, run, "turn of run", "UPDATE run SET turn=?2 WHERE id=?1", mark,
	                  why);
}

bool book_run_set_turn(struct book *book, int64_t run, const char *mark, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set_turn(book, run, mark, why), why);
}
