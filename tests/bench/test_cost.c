/* What commands cost in a big book, against a floor that is measured in between: the CPU time of
 * the real program to the CPU time of SQLite reading the same rows as texts. A ratio that doubles
 * against the table below fails. With RODBOOK_LONG books of four sizes are measured, more often, as
 * lines of a table, and nothing fails; with RODBOOK_LONG=million a book of a million sights. */
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "../unit/books.h"
#include "../unit/suite.h"
#include "measured.h"

#define TURNS 5
#define LONG_TURNS 15
#define BESIDE 100     /* sights of run b, beside those of run a */
#define RUN_MOST 50000 /* sights of one run */
#define MANY_RUN 4     /* sights of a run of many */
#define MILLION 1000000
#define SMALLEST_FITTED 1000 /* below it, starting the program is most of the cost */

/* Opening the file, and what a change begins with: looking whether the file is sound. */
#define OPENED "sqlite3 BOOK select(1)"
#define CHECKED "sqlite3 BOOK select*from(pragma_quick_check)"

enum cost_book { ONE_RUN, MANY_RUNS, NEW };

/* ratio: as tests/NOTES.md has it, of 10,000 sights; a test fails at twice of it. small: what is
 * done hangs on nothing that a million sights are. */
static const struct {
	const char *name, *command;
	enum cost_book in;
	const char *floor;
	double ratio;
	bool small;
} costs[] = {
    {"mark", "mark BOOK", ONE_RUN, OPENED, 2, true},
    {"a new mark", "mark BOOK BM 100", ONE_RUN, CHECKED, 1.2, true},
    {"a sight", "sight BOOK b IS Q 1.234 --distance 30", ONE_RUN, CHECKED, 1.2, true},
    {"page of 100", "page BOOK b", ONE_RUN, OPENED, 3, true},
    {"journal", "journal BOOK", ONE_RUN, "SELECT * FROM journal", 6.5, false},
    {"journal --csv", "journal BOOK --csv", ONE_RUN, "SELECT * FROM journal", 6.5, false},
    {"closure", "closure BOOK a", ONE_RUN, "SELECT * FROM sight", 1.5, false},
    {"page", "page BOOK a", ONE_RUN, "SELECT * FROM sight", 2, false},
    {"export", "export BOOK a", ONE_RUN, "SELECT * FROM sight", 2, false},
    {"statement of 100", "statement BOOK b", ONE_RUN, "SELECT * FROM journal", 3.5, false},
    {"verify", "verify BOOK", ONE_RUN, "SELECT * FROM journal", 29, false},
    {"runs", "runs BOOK", MANY_RUNS, "SELECT * FROM sight", 3, false},
    {"leave", "leave BOOK", MANY_RUNS, "SELECT * FROM sight", 4, false},
    {"import", "import BOOK FILE", NEW, "SELECT * FROM journal", 34, false},
};
#define COSTS (sizeof costs / sizeof *costs)

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

/* The command line's words; BOOK and FILE stand for the paths. */
static double run_by(const char *program, const char *line, const char *book, const char *file)
{
	char copy[200], *words[10] = {0}, *rest, *word;
	size_t count = 1;
	pid_t child = fork();
	if (child != 0)
		return spent(child);
	snprintf(copy, sizeof copy, "%s", line);
	words[0] = (char *)program;
	for (word = strtok_r(copy, " ", &rest); word && count < 9;
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

/* Runs whose names begin with `name`, of so many setups each. */
static void write_runs(const char *path, const char *name, int runs, int setups)
{
	FILE *out = fopen(path, "w");
	ck_assert_ptr_nonnull(out);
	fputs("run,kind,sight,station,reading,distance\n", out);
	for (int r = 0; r < runs; r++)
		for (int i = 0; i < setups; i++)
			fprintf(out, "%s%.0d,open,BS,P%d,1.%03d,30\n%s%.0d,open,FS,P%d,1.%03d,31\n",
			        name, r, i, i % 997, name, r, i + 1, i % 991);
	fclose(out);
}

/* The books of one size, and files to import. */
struct books {
	struct shelf shelf;
	char book[3][160], file[2][160];
};

static void add_runs(struct books *b, enum cost_book in, const char *name, int runs, int setups)
{
	write_runs(b->file[in], name, runs, setups);
	run("import BOOK FILE", b->book[in], b->file[in]);
}

static void books_make(struct books *b, int sights)
{
	char dir[sizeof b->shelf.dir];
	shelf_open(&b->shelf, LEVEL_M);
	/* To a sanitized build's compiler the parts of b may overlap. */
	memcpy(dir, b->shelf.dir, sizeof dir);
	for (int i = 0; i < 3; i++)
		snprintf(b->book[i], sizeof b->book[i], "%s/%d.rodbook", dir, i);
	for (int i = 0; i < 2; i++) {
		snprintf(b->file[i], sizeof b->file[i], "%s/%d.csv", dir, i);
		run("new BOOK", b->book[i], "");
	}
	add_runs(b, ONE_RUN, "b", 1, BESIDE / 2);
	run("sight BOOK b BS P50 1.500 --distance 30", b->book[ONE_RUN], "");
	for (int left = sights, i = 0; left > 0; left -= RUN_MOST, i++) {
		char name[8] = "a";
		if (i)
			snprintf(name, sizeof name, "a%d", i);
		add_runs(b, ONE_RUN, name, 1, (left < RUN_MOST ? left : RUN_MOST) / 2);
	}
	if (sights <= RUN_MOST)
		add_runs(b, MANY_RUNS, "r", sights / MANY_RUN, MANY_RUN / 2);
}

/* One turn: what the command costs, seconds, and its ratio to the floor that is measured before. */
static double turn(struct books *b, size_t c, const char *floor_sql, double *ratio)
{
	const char *of = b->book[costs[c].in == NEW ? ONE_RUN : costs[c].in];
	double floor, cost;
	if (costs[c].in == NEW) {
		remove(b->book[NEW]);
		run("new BOOK", b->book[NEW], "");
	}
	floor = floor_of(of, floor_sql);
	cost = run(costs[c].command, b->book[costs[c].in], b->file[ONE_RUN]);
	*ratio = cost / floor;
	return cost;
}

START_TEST(test_costs)
{
	struct books b;
	if (getenv("RODBOOK_LONG"))
		return;
	books_make(&b, 10000);
	for (size_t c = 0; c < COSTS; c++) {
		double ratio[TURNS];
		for (int i = 0; i < TURNS; i++)
			turn(&b, c, costs[c].floor, &ratio[i]);
		printf("%-16s %6.1f, in the table %.1f\n", costs[c].name,
		       rank_of(ratio, TURNS, 0.5), costs[c].ratio);
		fflush(stdout);
		ck_assert_double_lt(rank_of(ratio, TURNS, 0.5), 2 * costs[c].ratio);
	}
	shelf_close(&b.shelf);
}
END_TEST

/* The lines of one size; what each command costs, for its exponent. */
static void measure_size(int sights, double cost[COSTS])
{
	static double spent_by[COSTS][LONG_TURNS], ratio[COSTS][LONG_TURNS];
	struct books b;
	books_make(&b, sights);
	for (int i = 0; i < LONG_TURNS; i++)
		for (size_t c = 0; c < COSTS; c++)
			if (sights < MILLION || costs[c].small)
				/* A file of that size is not looked through before a change. */
				spent_by[c][i] =
				    turn(&b, c, sights < MILLION ? costs[c].floor : OPENED,
				         &ratio[c][i]);
	shelf_close(&b.shelf);
	for (size_t c = 0; c < COSTS; c++) {
		if (sights == MILLION && !costs[c].small)
			continue;
		cost[c] = rank_of(spent_by[c], LONG_TURNS, 0.5);
		printf("| %s | %d | %.1f | %.1f | %.2f | %.2f |\n", costs[c].name, sights,
		       cost[c] * 1e3, rank_of(spent_by[c], LONG_TURNS, 0.99) * 1e3,
		       rank_of(ratio[c], LONG_TURNS, 0.5), rank_of(ratio[c], LONG_TURNS, 0.99));
		fflush(stdout);
	}
}

START_TEST(test_sizes)
{
	static const int sizes[] = {100, 1000, 10000, 50000};
	double cost[4][COSTS], fitted[4], of[4];
	const char *asked = getenv("RODBOOK_LONG");
	if (!asked)
		return;
	puts("| command | sights | CPU, ms | 99 of 100 within | by its floor | 99 of 100 within "
	     "|\n| --- | ---: | ---: | ---: | ---: | ---: |");
	if (strcmp(asked, "million") == 0) {
		measure_size(MILLION, cost[0]);
		return;
	}
	for (int i = 0; i < 4; i++)
		measure_size(sizes[i], cost[i]);
	puts("\n| command | exponent from 1,000 sights on |\n| --- | ---: |");
	for (size_t c = 0; c < COSTS; c++) {
		size_t count = 0;
		for (int i = 0; i < 4; i++) {
			of[count] = cost[i][c];
			fitted[count] = sizes[i];
			count += sizes[i] >= SMALLEST_FITTED;
		}
		printf("| %s | %.2f |\n", costs[c].name, exponent_of(fitted, of, count));
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("cost", test_costs, test_sizes);
}
