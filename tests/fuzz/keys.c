/* Sessions of random keys for the real program.
 *
 *	fuzz_keys PROGRAM               the short form; RODBOOK_TRIALS=NUMBER of sessions
 *	fuzz_keys PROGRAM SEED...       plays the sessions of these seeds again
 *
 * After each session the program can be left, by F10, by SIGTERM or by a hang-up; no sanitizer
 *spoke; its exit status is a known one; the book verifies; and no sight that the journal had is
 *gone. Prints one line, "keys TAB sessions TAB lost or falsified TAB words". Of a session that
 *fails seed, keys and book are saved in FUZZ_SAVE, if that is set. */
#include <ftw.h>
#include <inttypes.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "fuzz.h"
#include "keys.h"
#include "shelf.h"

#define FIRST_SEED UINT64_C(20260504)
#define SESSIONS 1
#define CHUNKS 120
#define PATIENCE 10000

struct session {
	uint64_t seed, chance;
	char dir[64], book[96], errors[96], keys[96];
	const char *program;
	FILE *log;                 /* what was typed, in words */
	int64_t booked, run, last; /* the run that was opened, the last sight; 0 */
	int calm;                  /* sights that come next, with nothing between */
	bool failed;
};

static void say(struct session *s, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void say(struct session *s, const char *format, ...)
{
	va_list list;
	fprintf(stderr, "keys: seed %" PRIu64 ": ", s->seed);
	va_start(list, format);
	vfprintf(stderr, format, list);
	va_end(list);
	fputc('\n', stderr);
	s->failed = true;
}

static int remove_one(const char *path, const struct stat *info, int type, struct FTW *where)
{
	(void)info;
	(void)type;
	(void)where;
	return remove(path);
}

/* Sights that the journal knows to have been booked; -1 where it cannot be read just now. */
static int64_t booked(const struct session *s)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *statement = NULL;
	int64_t count = -1;
	if (sqlite3_open_v2(s->book, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK) {
		sqlite3_busy_timeout(db, 5000);
		if (sqlite3_prepare_v2(db,
		                       "SELECT count(*), (SELECT count(*) FROM sight) FROM journal "
		                       "WHERE tbl='sight' AND before IS NULL",
		                       -1, &statement, NULL) == SQLITE_OK &&
		    sqlite3_step(statement) == SQLITE_ROW &&
		    sqlite3_column_int64(statement, 0) == sqlite3_column_int64(statement, 1))
			count = sqlite3_column_int64(statement, 0);
	}
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return count;
}

/* Of the run that was changed last: the one that is open, most of the time. */
static void stand_of(struct session *s, struct stand *out)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *statement = NULL;
	int64_t last = 0;
	*out = (struct stand){0};
	if (sqlite3_open_v2(s->book, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK &&
	    sqlite3_prepare_v2(
	        db,
	        "SELECT s.id, s.station, (SELECT kind FROM sight b WHERE b.run=s.run AND b.struck "
	        "IS "
	        "NULL AND b.kind<>'IS' ORDER BY place DESC, id DESC LIMIT 1)='BS' FROM sight s "
	        "WHERE "
	        "s.struck IS NULL AND s.kind<>'IS' AND s.run=coalesce(?1, (SELECT run FROM journal "
	        "WHERE run IS NOT NULL ORDER BY seq DESC LIMIT 1)) ORDER BY place DESC, id DESC "
	        "LIMIT "
	        "1",
	        -1, &statement, NULL) == SQLITE_OK) {
		if (s->run)
			sqlite3_bind_int64(statement, 1, s->run);
		if (sqlite3_step(statement) == SQLITE_ROW) {
			last = sqlite3_column_int64(statement, 0);
			snprintf(out->station, sizeof out->station, "%s",
			         (const char *)sqlite3_column_text(statement, 1));
			out->in_setup = sqlite3_column_int(statement, 2);
		}
	}
	sqlite3_finalize(statement);
	sqlite3_close(db);
	out->stuck = last == s->last;
	/* From the first change on the journal knows the run. */
	if (!out->stuck && s->last)
		s->run = 0;
	s->last = last;
}

static void check_booked(struct session *s)
{
	int64_t now = booked(s);
	if (now < s->booked)
		say(s, "%" PRId64 " sights were booked, and %" PRId64 " are", s->booked, now);
	else
		s->booked = now;
}

/* Exit status of `rodbook verify`, or another command on the book. */
static int command(const struct session *s, const char *name)
{
	char line[600];
	int status;
	snprintf(line, sizeof line, "'%s' %s '%s' >>'%s' 2>&1", s->program, name, s->book,
	         s->errors);
	status = system(line);
	return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static void check_errors(struct session *s)
{
	char line[2000];
	FILE *file = fopen(s->errors, "r");
	while (file && fgets(line, sizeof line, file))
		if (strstr(line, "Sanitizer") || strstr(line, "runtime error:")) {
			say(s, "%s", line);
			break;
		}
	if (file)
		fclose(file);
}

static void check_status(struct session *s, int status)
{
	if (!WIFEXITED(status))
		say(s, "it died of signal %d", WTERMSIG(status));
	else if (WEXITSTATUS(status) > 3)
		say(s, "it ended with status %d", WEXITSTATUS(status));
}

static void log_chunk(const struct session *s, const struct chunk *chunk)
{
	if (chunk->rows)
		fprintf(s->log, "resize %d x %d\n", chunk->cols, chunk->rows);
	for (size_t i = 0; i < chunk->size; i++) {
		unsigned char c = (unsigned char)chunk->bytes[i];
		if (c >= 32 && c < 127 && c != '\\')
			fputc(c, s->log);
		else
			fprintf(s->log, "\\x%02x", c);
	}
	fprintf(s->log, "\npause %d\n", chunk->pause);
	fflush(s->log);
}

/* By F10 once all views and questions are left; by SIGTERM or a hang-up whatever stands there. */
static void leave(struct session *s, struct pty *p)
{
	static const char *const ways[] = {"F10", "SIGTERM", "a hang-up"};
	size_t way = fuzz_below(&s->chance, 5) / 2;
	if (!p->running)
		return;
	if (way == 0) {
		pty_resize(p, 30, 100);
		pty_wait(p, 100);
		pty_send(p, "\033[201~", 6, PATIENCE);
		for (int i = 0; i < 8 && p->running; i++) {
			pty_send(p, "\033", 1, PATIENCE);
			pty_wait(p, 130);
		}
		pty_send(p, "\033[21~", 5, PATIENCE);
		pty_wait(p, 300);
		/* The second one leaves what could not be saved. */
		if (p->running)
			pty_send(p, "\021", 1, PATIENCE);
	} else if (way == 1) {
		kill(p->pid, SIGTERM);
	}
	if (way == 2 ? !pty_hang_up(p, PATIENCE) : !pty_wait(p, PATIENCE))
		say(s, "it cannot be left by %s", ways[way]);
}

/* The number of a run that is there; 0. */
static int64_t number_of(const struct session *s, const char *name)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *statement = NULL;
	int64_t id = 0;
	if (name && sqlite3_open_v2(s->book, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK &&
	    sqlite3_prepare_v2(db, "SELECT id FROM run WHERE name=?1", -1, &statement, NULL) ==
	        SQLITE_OK &&
	    sqlite3_bind_text(statement, 1, name, -1, SQLITE_STATIC) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW)
		id = sqlite3_column_int64(statement, 0);
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return id;
}

static bool start(struct session *s, struct pty *p)
{
	static const char *const runs[] = {"new one",     "new one",  "open", "open", "loop, \"1\"",
	                                   "loop, \"1\"", "crossing", "link", NULL};
	const char *run = runs[fuzz_below(&s->chance, sizeof runs / sizeof *runs)];
	char *argv[] = {(char *)s->program, s->book, (char *)run, NULL};
	if (!pty_start(p, argv, s->errors))
		return false;
	/* A run that is not there yet is asked for: this accepts it. */
	s->run = number_of(s, run);
	if (run && !s->run) {
		pty_send(p, "\002\r", 2, PATIENCE);
		pty_wait(p, 50);
		s->run = number_of(s, run);
	}
	fprintf(s->log, "start\n");
	return true;
}

static void next(struct session *s, struct chunk *chunk)
{
	struct stand stand;
	if (s->calm == 0 && fuzz_below(&s->chance, 4) == 0)
		s->calm = 2 + (int)fuzz_below(&s->chance, 10);
	if (s->calm > 0) {
		stand_of(s, &stand);
		s->calm -= chunk->back == 0;
		chunk_sight(chunk, &s->chance, &stand);
	} else {
		chunk_next(chunk, &s->chance);
	}
	log_chunk(s, chunk);
}

static void play(struct session *s)
{
	struct pty p = {0};
	struct chunk chunk = {0};
	int starts = 0;
	for (int i = 0; i < CHUNKS && !s->failed; i++) {
		if (!p.running) {
			if (starts)
				check_status(s, p.status);
			if (starts++)
				pty_close(&p);
			if (starts > 12 || !start(s, &p))
				break;
		}
		next(s, &chunk);
		if (chunk.rows)
			pty_resize(&p, chunk.rows, chunk.cols);
		if (!pty_send(&p, chunk.bytes, chunk.size, PATIENCE))
			say(s, "it takes no keys for %d ms", PATIENCE);
		pty_wait(&p, chunk.pause);
		if (i % 10 == 9)
			check_booked(s);
		/* At times the terminal goes away, whatever stands there. */
		if (p.running && fuzz_below(&s->chance, 100) == 0 && !pty_hang_up(&p, PATIENCE))
			say(s, "it does not end when the terminal hangs up");
	}
	leave(s, &p);
	if (!p.running)
		check_status(s, p.status);
	pty_close(&p);
	free(chunk.bytes);
}

/* A new book, empty or full. */
static bool make(struct session *s)
{
	struct shelf shelf = {0};
	struct fault why = {0};
	bool ok = book_create(s->book, (enum level_unit)fuzz_below(&s->chance, 4), "", shelf_clock,
	                      &why) &&
	          (shelf.book = book_open(s->book, shelf_clock, &why)) != NULL;
	if (ok && fuzz_below(&s->chance, 3))
		ok = shelf_fill(&shelf, SHELF_ALL, &s->chance, &why);
	book_close(shelf.book);
	if (!ok)
		say(s, "%s", why.text);
	return ok;
}

static void keep(const struct session *s)
{
	const char *dir = getenv("FUZZ_SAVE");
	char line[700];
	if (!dir)
		return;
	snprintf(line, sizeof line,
	         "mkdir -p '%s/keys-%" PRIu64 "' && cp '%s'/* '%s/keys-%" PRIu64 "'", dir, s->seed,
	         s->dir, dir, s->seed);
	if (system(line) == 0)
		fprintf(stderr, "keys: saved in %s/keys-%" PRIu64 "\n", dir, s->seed);
}

/* Whether the session of that seed kept all laws; *sights: how many it booked. */
static bool session(const char *program, uint64_t seed, int64_t *sights)
{
	struct session s = {.seed = seed, .program = program};
	s.chance = seed * UINT64_C(0x9e3779b97f4a7c15) | 1;
	snprintf(s.dir, sizeof s.dir, "%s/fuzz_keysXXXXXX",
	         access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
	if (!mkdtemp(s.dir))
		abort();
	snprintf(s.book, sizeof s.book, "%s/book.rodbook", s.dir);
	snprintf(s.errors, sizeof s.errors, "%s/errors", s.dir);
	snprintf(s.keys, sizeof s.keys, "%s/typed", s.dir);
	s.log = fopen(s.keys, "w");
	if (!s.log)
		abort();
	if (make(&s)) {
		int64_t before = booked(&s);
		int status;
		s.booked = before;
		play(&s);
		check_booked(&s);
		*sights += s.booked - before;
		status = command(&s, "verify");
		if (status != 0)
			say(&s, "verify ends with %d", status);
		check_errors(&s);
	}
	fclose(s.log);
	if (s.failed)
		keep(&s);
	nftw(s.dir, remove_one, 8, FTW_DEPTH | FTW_PHYS);
	return !s.failed;
}

int main(int argc, char **argv)
{
	const char *form = getenv("RODBOOK_TRIALS");
	long count = SESSIONS, tries = 0, failed = 0;
	int64_t sights = 0;
	if (argc < 2) {
		fprintf(stderr, "usage: fuzz_keys PROGRAM [SEED...]\n");
		return 2;
	}
	if (form && strcmp(form, "short") != 0)
		count = strcmp(form, "long") == 0 ? 1000 : strtol(form, NULL, 10);
	setenv("TERM", "xterm-256color", 1);
	setenv("LC_ALL", "C.UTF-8", 1);
	setenv("RODBOOK_CLOCK", "2026-05-04T09:30:00+02:00", 1);
	setenv("ASAN_OPTIONS", "exitcode=99:detect_leaks=1", 1);
	setenv("UBSAN_OPTIONS", "exitcode=99:halt_on_error=1:print_stacktrace=1", 1);
	if (argc == 2)
		fprintf(stderr, "keys: seeds %" PRIu64 " and on\n", FIRST_SEED);
	for (long i = 0; i < (argc > 2 ? argc - 2 : count); i++) {
		uint64_t seed =
		    argc > 2 ? strtoull(argv[i + 2], NULL, 10) : FIRST_SEED + (uint64_t)i;
		tries++;
		failed += !session(argv[1], seed, &sights);
	}
	printf("keys\t%ld\t%ld\tsessions of %d bursts of random keys, %.1f sights booked in each\n",
	       tries, failed, CHUNKS, (double)sights / (double)(tries + !tries));
	return failed ? 1 : 0;
}
