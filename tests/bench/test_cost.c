/* What commands cost in a big book, against a floor that is measured in between: the CPU time of
 * the real program to the CPU time of SQLite reading the same rows as texts. A ratio that doubles
 * against the table below fails. */
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "../unit/books.h"
#include "../unit/suite.h"

#define SIGHTS 10000
#define RUNS 1000
#define TURNS 5

enum cost_book { ONE_RUN, MANY_RUNS, NEW };

/* ratio: as tests/NOTES.md has it; a test fails at twice of it. */
static const struct {
	const char *name, *command;
	enum cost_book in;
	const char *floor;
	double ratio;
} costs[] = {
    {"mark", "mark BOOK", ONE_RUN, "sqlite3 BOOK select(1)", 2},
    {"journal", "journal BOOK", ONE_RUN, "SELECT * FROM journal", 6},
    {"journal --csv", "journal BOOK --csv", ONE_RUN, "SELECT * FROM journal", 6},
    {"closure", "closure BOOK a", ONE_RUN, "SELECT * FROM sight", 1.5},
    {"page", "page BOOK a", ONE_RUN, "SELECT * FROM sight", 2},
    {"export", "export BOOK a", ONE_RUN, "SELECT * FROM sight", 2},
    {"verify", "verify BOOK", ONE_RUN, "SELECT * FROM journal", 57},
    {"runs", "runs BOOK", MANY_RUNS, "SELECT * FROM sight", 3},
    {"leave", "leave BOOK", MANY_RUNS, "SELECT * FROM sight", 4},
    {"import", "import BOOK FILE", NEW, "SELECT * FROM journal", 34},
};

static double cpu(const struct rusage *use)
{
	return (double)(use->ru_utime.tv_sec + use->ru_stime.tv_sec) +
	       (double)(use->ru_utime.tv_usec + use->ru_stime.tv_usec) / 1e6;
}

/* The CPU time of a child that ends well. */
static double spent(pid_t child)
{
	struct rusage use;
	int status;
	ck_assert_int_gt(child, 0);
	ck_assert_int_eq(wait4(child, &status, 0, &use), child);
	/* leave has something to say: exit status 1 */
	ck_assert(WIFEXITED(status) && WEXITSTATUS(status) <= 1);
	return cpu(&use);
}

static void read_rows(const char *path, const char *sql)
{
	sqlite3 *db;
	sqlite3_stmt *statement;
	FILE *out = fopen("/dev/null", "w");
	if (!out || sqlite3_open(path, &db) != SQLITE_OK ||
	    sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
		_exit(2);
	while (sqlite3_step(statement) == SQLITE_ROW)
		for (int i = 0; i < sqlite3_column_count(statement); i++) {
			const char *text = (const char *)sqlite3_column_text(statement, i);
			fprintf(out, "%s,", text ? text : "");
		}
	fclose(out);
	_exit(0);
}

static double run_by(const char *program, const char *line, const char *book, const char *file);

/* A floor is a query, or another program. */
static double floor_of(const char *path, const char *sql)
{
	pid_t child;
	if (strncmp(sql, "sqlite3 ", 8) == 0)
		return run_by("sqlite3", sql + 8, path, "");
	child = fork();
	if (child == 0)
		read_rows(path, sql);
	return spent(child);
}

/* The command line's words; BOOK and FILE stand for the paths. */
static double run_by(const char *program, const char *line, const char *book, const char *file)
{
	char copy[200], *words[8] = {0}, *rest, *word;
	size_t count = 1;
	pid_t child = fork();
	if (child != 0)
		return spent(child);
	snprintf(copy, sizeof copy, "%s", line);
	words[0] = (char *)program;
	for (word = strtok_r(copy, " ", &rest); word && count < 7;
	     word = strtok_r(NULL, " ", &rest))
		words[count++] = strcmp(word, "BOOK") == 0   ? (char *)book
		                 : strcmp(word, "FILE") == 0 ? (char *)file
		                                             : word;
	if (dup2(open("/dev/null", O_WRONLY), STDOUT_FILENO) >= 0)
		execvp(program, words);
	_exit(2);
}

static double run(const char *line, const char *book, const char *file)
{
	return run_by(getenv("RODBOOK"), line, book, file);
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static void write_runs(const char *path, int runs, int setups)
{
	FILE *out = fopen(path, "w");
	ck_assert_ptr_nonnull(out);
	fputs("run,kind,sight,station,reading,distance\n", out);
	for (int r = 0; r < runs; r++)
		for (int i = 0; i < setups; i++)
			fprintf(out, "%c%.0d,open,BS,P%d,1.%03d,30\n%c%.0d,open,FS,P%d,1.%03d,31\n",
			        runs > 1 ? 'r' : 'a', r, i, i % 997, runs > 1 ? 'r' : 'a', r, i + 1,
			        i % 991);
	fclose(out);
}

START_TEST(test_costs)
{
	struct shelf s;
	char book[3][160], file[2][160];
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < 3; i++)
		snprintf(book[i], sizeof book[i], "%s/%d.rodbook", s.dir, i);
	for (int i = 0; i < 2; i++)
		snprintf(file[i], sizeof file[i], "%s/%d.csv", s.dir, i);
	write_runs(file[ONE_RUN], 1, SIGHTS / 2);
	write_runs(file[MANY_RUNS], RUNS, 2);
	for (int i = 0; i < 2; i++) {
		run("new BOOK", book[i], "");
		run("import BOOK FILE", book[i], file[i]);
	}
	for (size_t c = 0; c < sizeof costs / sizeof *costs; c++) {
		double ratio[TURNS];
		for (int i = 0; i < TURNS; i++) {
			const char *of = book[costs[c].in == NEW ? ONE_RUN : costs[c].in];
			double floor;
			if (costs[c].in == NEW) {
				remove(book[NEW]);
				run("new BOOK", book[NEW], "");
			}
			floor = floor_of(of, costs[c].floor);
			ratio[i] = run(costs[c].command, book[costs[c].in], file[ONE_RUN]) / floor;
		}
		qsort(ratio, TURNS, sizeof *ratio, by_size);
		printf("%-14s %6.1f, in the table %.1f\n", costs[c].name, ratio[TURNS / 2],
		       costs[c].ratio);
		fflush(stdout);
		if (!getenv("RODBOOK_LONG"))
			ck_assert_double_lt(ratio[TURNS / 2], 2 * costs[c].ratio);
	}
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("cost", test_costs);
}
