/* What the editor does in a run of 10 000 setups, against the same in a run of 10: ratios of CPU
 * time, which say that a change costs what the change costs and not what the run does. What a row
 * takes in memory, and how often an editor wakes that nobody types in. A figure that doubles
 * against the table fails. With RODBOOK_LONG runs of five sizes are measured, more often, as lines
 * of a table, and nothing fails; with RODBOOK_LONG=million a short run beside a million sights. */
#include <fcntl.h>
#include <signal.h>
#include <string.h>

#include "measured.h"
#include "terminal.h"

#define SMALL 10
#define LARGE 10000
#define TURNS 7
#define OPENINGS 5 /* one alone can take twice as long on a busy machine */
#define TURNS_MOST 31
#define MILLION 1000000
#define RUN_MOST 50000       /* sights of one run */
#define SMALLEST_FITTED 1000 /* sights: below it, what hangs on no row is most of the cost */

enum figure { OPENING, BOOKING, UNDOING, ROW_UP, DIGIT, DIGIT_FIRST, FIGURES };

/* ratio: as tests/NOTES.md has it; opening: 13.6 to 15.6 in four runs. */
static const struct {
	const char *name;
	double ratio;
} figures[FIGURES] = {
    [OPENING] = {"opening", 15}, [BOOKING] = {"booking", 1.5},
    [UNDOING] = {"undo", 1.5},   [ROW_UP] = {"row up", 1.5},
    [DIGIT] = {"digit", 2.2},    [DIGIT_FIRST] = {"digit in the first row", 8},
};
#define ROW_BYTES 1600

struct measured {
	double cpu[FIGURES], most[FIGURES]; /* seconds: median, and what 99 of 100 turns keep to */
	long memory;                        /* kB */
	long woken;                         /* times in a second and a half */
};

/* CPU time of a process so far, seconds. */
static double cpu(pid_t child)
{
	clockid_t clock;
	struct timespec used;
	ck_assert_int_eq(clock_getcpuclockid(child, &clock), 0);
	ck_assert_int_eq(clock_gettime(clock, &used), 0);
	return (double)used.tv_sec + (double)used.tv_nsec / 1e9;
}

/* A number that the system tells of a process. */
static long told(pid_t child, const char *name)
{
	char path[40], line[200];
	long number = -1;
	FILE *status;
	snprintf(path, sizeof path, "/proc/%d/status", (int)child);
	status = fopen(path, "r");
	ck_assert_ptr_nonnull(status);
	while (fgets(line, sizeof line, status))
		if (strncmp(line, name, strlen(name)) == 0)
			number = atol(line + strlen(name));
	fclose(status);
	return number;
}

/* What keys cost; quiet: how long nothing must come, in milliseconds, to be done with them. */
static double press(pid_t child, int terminal, const char *keys, int quiet)
{
	double before = cpu(child);
	ck_assert_int_eq((int)write(terminal, keys, strlen(keys)), (int)strlen(keys));
	drain(terminal, 2000, quiet);
	return cpu(child) - before;
}

static void close_editor(pid_t child, int terminal)
{
	int status;
	kill(child, SIGTERM);
	drain(terminal, 200, 200);
	close(terminal);
	waitpid(child, &status, 0);
}

/* The editor on a book, and what it took to what it shows: that comes first, and the book is looked
 * at for damage in the pause behind it. */
static pid_t open_measured(const char *book, int *terminal, double *cost)
{
	pid_t child = open_editor(book, terminal);
	drain(*terminal, 5000, 150);
	*cost = cpu(child);
	return child;
}

/* openings: how often it is opened; turns: how often each key is pressed in the last of them. */
static struct measured measure(const char *book, size_t openings, size_t turns)
{
	struct measured out = {0};
	double cost[FIGURES][TURNS_MOST];
	int terminal;
	pid_t child = open_measured(book, &terminal, &cost[OPENING][0]);
	for (size_t i = 1; i < openings; i++) {
		close_editor(child, terminal);
		child = open_measured(book, &terminal, &cost[OPENING][i]);
	}
	drain(terminal, 1000, 1000);
	out.memory = told(child, "VmRSS:");
	out.woken = told(child, "voluntary_ctxt_switches:");
	sleep(1);
	usleep(500000);
	out.woken = told(child, "voluntary_ctxt_switches:") - out.woken;
	for (size_t i = 0; i < turns; i++) {
		cost[DIGIT][i] = press(child, terminal, "1", 30);
		press(child, terminal, ".400", 30);
		cost[BOOKING][i] = press(child, terminal, "\002", 300);
	}
	for (size_t i = 0; i < turns; i++)
		cost[UNDOING][i] = press(child, terminal, "\033[20~", 300);
	for (size_t i = 0; i < turns; i++)
		cost[ROW_UP][i] = press(child, terminal, "\033[A", 50);
	press(child, terminal, "\033[1;5H", 300);
	for (size_t i = 0; i < turns; i++) {
		cost[DIGIT_FIRST][i] = press(child, terminal, "1", 30);
		press(child, terminal, "\177", 30);
	}
	for (int i = 0; i < FIGURES; i++) {
		const size_t count = i == OPENING ? openings : turns;
		out.cpu[i] = rank_of(cost[i], count, 0.5);
		out.most[i] = rank_of(cost[i], count, 0.99);
	}
	close_editor(child, terminal);
	return out;
}

static void enter_folder(char *folder)
{
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
}

static void leave_folder(const char *folder)
{
	unlink("small.rodbook");
	unlink("large.rodbook");
	unlink("run.csv");
	ck_assert_int_eq(chdir("/"), 0);
	rmdir(folder);
}

/* Bytes of memory for each row. */
static double row_bytes(const struct measured *small, const struct measured *large, int setups)
{
	return 1024.0 * (double)(large->memory - small->memory) / (2.0 * (setups - SMALL));
}

START_TEST(test_editor)
{
	char folder[] = "/tmp/rodbook-bench-XXXXXX";
	struct measured small, large;
	double bytes;
	if (getenv("RODBOOK_LONG"))
		return;
	enter_folder(folder);
	make_book("small.rodbook", SMALL);
	make_book("large.rodbook", LARGE);
	small = measure("small.rodbook", OPENINGS, TURNS);
	large = measure("large.rodbook", OPENINGS, TURNS);
	leave_folder(folder);
	bytes = row_bytes(&small, &large, LARGE);
	for (int i = 0; i < FIGURES; i++)
		printf("%-22s %6.2f ms, %6.2f ms: %5.1f, in the table %.1f\n", figures[i].name,
		       small.cpu[i] * 1e3, large.cpu[i] * 1e3, large.cpu[i] / small.cpu[i],
		       figures[i].ratio);
	printf("a row      %.0f bytes, in the table %d\nwoken      %ld times\n", bytes, ROW_BYTES,
	       small.woken);
	fflush(stdout);
	for (int i = 0; i < FIGURES; i++)
		ck_assert_double_lt(large.cpu[i] / small.cpu[i], 2 * figures[i].ratio);
	ck_assert_double_lt(bytes, 2 * ROW_BYTES);
	ck_assert_int_eq(small.woken, 0);
	ck_assert_int_eq(large.woken, 0);
}
END_TEST

/* The small run is measured again before each other one: it is the floor. */
static struct measured put_lines(const char *where)
{
	struct measured small = measure("small.rodbook", TURNS_MOST, TURNS_MOST);
	struct measured large = measure("large.rodbook", TURNS_MOST, TURNS_MOST);
	for (int i = 0; i < FIGURES; i++)
		printf("| %s | %s | %.2f | %.2f | %.2f |\n", figures[i].name, where,
		       large.cpu[i] * 1e3, large.most[i] * 1e3, large.cpu[i] / small.cpu[i]);
	printf("| memory, kB | %s | %ld | | |\n| woken, times | %s | %ld | | |\n", where,
	       large.memory, where, large.woken);
	fflush(stdout);
	return large;
}

/* Other runs, until the book has a million sights. */
static void fill_book(const char *book)
{
	for (int left = MILLION, i = 0; left > 0; left -= RUN_MOST, i++) {
		char command[200];
		FILE *csv = fopen("run.csv", "w");
		ck_assert_ptr_nonnull(csv);
		fprintf(csv, "run,sight,station,reading,distance\n");
		for (int k = 0; k < RUN_MOST / 2; k++)
			fprintf(csv, "a%d,BS,TP%d,1.500,30\na%d,FS,TP%d,1.400,31\n", i, k, i,
			        k + 1);
		fclose(csv);
		snprintf(command, sizeof command, "\"$RODBOOK\" import %s run.csv", book);
		ck_assert_int_eq(system(command), 0);
	}
}

START_TEST(test_sizes)
{
	static const int setups[] = {50, 500, 5000, 24900};
	char folder[] = "/tmp/rodbook-bench-XXXXXX", where[40];
	double cost[FIGURES][4], size[4];
	size_t fitted = 0;
	const char *asked = getenv("RODBOOK_LONG");
	if (!asked)
		return;
	enter_folder(folder);
	make_book("small.rodbook", SMALL);
	puts("| in the editor | sights | CPU, ms | 99 of 100 within | by 20 sights |\n"
	     "| --- | ---: | ---: | ---: | ---: |");
	if (strcmp(asked, "million") == 0) {
		make_book("large.rodbook", SMALL);
		fill_book("large.rodbook");
		put_lines("20 beside 1,000,000");
		leave_folder(folder);
		return;
	}
	for (int i = 0; i < 4; i++) {
		struct measured large;
		unlink("large.rodbook");
		make_book("large.rodbook", setups[i]);
		snprintf(where, sizeof where, "%d", 2 * setups[i]);
		large = put_lines(where);
		if (setups[i] < SMALLEST_FITTED / 2)
			continue;
		for (int f = 0; f < FIGURES; f++)
			cost[f][fitted] = large.cpu[f];
		size[fitted++] = setups[i];
	}
	puts("\n| in the editor | exponent from 1,000 sights on |\n| --- | ---: |");
	for (int f = 0; f < FIGURES; f++)
		printf("| %s | %.2f |\n", figures[f].name, exponent_of(size, cost[f], fitted));
	leave_folder(folder);
}
END_TEST

int main(void)
{
	return RUN_TESTS("editor", test_editor, test_sizes);
}
