/* Killed at any moment, the book keeps every sight that was reported as booked. */
#include <signal.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <time.h>

#include "unit/books.h"
#include "unit/chance.h"
#include "unit/suite.h"

#define ROUNDS 60

/* Books setups without end: TP0, TP1, ... , and reports the number of sights booked so far. Runs
 * in the child; it may not use what belongs to the tests. */
static void book_for_ever(const char *path, int64_t id, int report)
{
	struct fault why = {0};
	struct book_settings settings;
	struct book *book = book_open(path, shelf_clock, &why);
	if (!book || !book_settings(book, &settings, &why))
		_exit(1);
	for (;;) {
		struct book_run run;
		struct book_note note = {.reading = "1.5", .remark = "until the end"};
		struct level_sight sight = {.kind = LEVEL_BS};
		uint32_t booked;
		if (!book_load(book, id, &run, &why))
			_exit(2);
		sight.kind = run.run.count % 2 ? LEVEL_FS : LEVEL_BS;
		snprintf(sight.station, sizeof sight.station, "TP%zu", (run.run.count + 1) / 2);
		if (!book_read_sight(&settings, &note, &sight, &why) ||
		    !book_add(book, &run, run.run.count, &sight, &note, &why))
			_exit(3);
		booked = (uint32_t)run.run.count + 1;
		book_run_free(&run);
		if (write(report, &booked, sizeof booked) != sizeof booked)
			_exit(4);
	}
}

static void pause_us(int64_t us)
{
	struct timespec time = {.tv_sec = us / 1000000, .tv_nsec = us % 1000000 * 1000};
	nanosleep(&time, NULL);
}

/* Starts the child, waits for its first report, kills it after a while, and gives its last. */
static uint32_t one_life(const struct shelf *s, int64_t id, int64_t wait_us)
{
	int ends[2], status;
	uint32_t booked = 0, last = 0;
	pid_t child;
	ck_assert_int_eq(pipe(ends), 0);
	fflush(NULL);
	child = fork();
	ck_assert_int_ge(child, 0);
	if (child == 0) {
		close(ends[0]);
		book_for_ever(s->path, id, ends[1]);
	}
	close(ends[1]);
	ck_assert_int_eq(read(ends[0], &last, sizeof last), sizeof last);
	pause_us(wait_us);
	ck_assert_int_eq(kill(child, SIGKILL), 0);
	ck_assert_int_eq(waitpid(child, &status, 0), child);
	ck_assert_msg(WIFSIGNALED(status), "the child stopped by itself: %d", WEXITSTATUS(status));
	while (read(ends[0], &booked, sizeof booked) == sizeof booked)
		last = booked;
	close(ends[0]);
	return last;
}

static bool says(sqlite3 *db, const char *sql, const char *answer)
{
	sqlite3_stmt *statement;
	bool same = sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK &&
	            sqlite3_step(statement) == SQLITE_ROW &&
	            strcmp((const char *)sqlite3_column_text(statement, 0), answer) == 0;
	sqlite3_finalize(statement);
	return same;
}

START_TEST(test_killed)
{
	uint64_t state = chance_seed("kill");
	struct shelf s;
	int64_t id;
	int unreported = 0, hot = 0;

	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	id = s.run.info.id;
	book_close(s.book);
	s.book = NULL;
	for (int round = 0; round < ROUNDS; round++) {
		uint32_t reported = one_life(&s, id, chance(&state, 0, 20000));
		char journal[160];
		sqlite3 *db;

		snprintf(journal, sizeof journal, "%s-journal", s.path);
		hot += access(journal, F_OK) == 0;
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(s.book != NULL, "%s", s.why.text);
		shelf_take(&s, id);
		ck_assert_uint_ge(s.run.run.count, reported);
		ck_assert_uint_le(s.run.run.count, reported + 1);
		unreported += s.run.run.count == reported + 1;
		for (size_t i = 0; i < s.run.run.count; i++) {
			const struct level_sight *sight = &s.run.run.sight[i];
			char station[24];
			snprintf(station, sizeof station, "TP%zu", (i + 1) / 2);
			ck_assert_str_eq(sight->station, station);
			ck_assert_int_eq(sight->kind, i % 2 ? LEVEL_FS : LEVEL_BS);
			ck_assert_int_eq(sight->reading, 1500000000);
			ck_assert_str_eq(s.run.note[i].remark, "until the end");
		}
		/* the set unit, the run, and one entry a sight */
		ck_assert_int_eq(s.run.seq, 2 + (int64_t)s.run.run.count);
		book_close(s.book);
		s.book = NULL;

		ck_assert_int_eq(sqlite3_open_v2(s.path, &db, SQLITE_OPEN_READONLY, NULL),
		                 SQLITE_OK);
		ck_assert(says(db, "PRAGMA integrity_check", "ok"));
		ck_assert(says(db, "SELECT count(*) = max(seq) FROM journal", "1"));
		ck_assert(says(db,
		               "SELECT count(*) FROM sight WHERE CAST(id AS TEXT) NOT IN (SELECT "
		               "row FROM journal WHERE tbl = 'sight')",
		               "0"));
		sqlite3_close(db);
	}
	printf("kill: %d rounds, %zu sights, %d not reported, %d half-written\n", ROUNDS,
	       s.run.run.count, unreported, hot);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("kill", test_killed);
}
