/* What the editor does in a run of 10 000 setups, against the same in a run of 10: ratios of CPU
 * time, which say that a change costs what the change costs and not what the run does. What a row
 * takes in memory, and how often an editor wakes that nobody types in. A figure that doubles
 * against the table fails. */
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>

#include "terminal.h"

#define SMALL 10
#define LARGE 10000
#define TURNS 9

enum figure { OPENING, BOOKING, UNDOING, ROW_UP, DIGIT, FIGURES };

/* ratio: as tests/NOTES.md has it. */
static const struct {
	const char *name;
	double ratio;
} figures[FIGURES] = {
    [OPENING] = {"opening", 17}, [BOOKING] = {"booking", 1.5}, [UNDOING] = {"undo", 1.5},
    [ROW_UP] = {"row up", 1.5},  [DIGIT] = {"digit", 2.2},
};
#define ROW_BYTES 1600

struct measured {
	double cpu[FIGURES]; /* seconds */
	long memory;         /* kB */
	long woken;          /* times in a second and a half */
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

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static double median(double turns[TURNS])
{
	qsort(turns, TURNS, sizeof *turns, by_size);
	return turns[TURNS / 2];
}

static struct measured measure(const char *book)
{
	struct measured out = {0};
	double digit[TURNS], booking[TURNS], undoing[TURNS], up[TURNS];
	int terminal, status;
	pid_t child = open_editor(book, &terminal);
	/* What is shown comes first; the book is looked at for damage in the pause behind it. */
	drain(terminal, 5000, 150);
	out.cpu[OPENING] = cpu(child);
	drain(terminal, 1000, 1000);
	out.memory = told(child, "VmRSS:");
	out.woken = told(child, "voluntary_ctxt_switches:");
	sleep(1);
	usleep(500000);
	out.woken = told(child, "voluntary_ctxt_switches:") - out.woken;
	for (int i = 0; i < TURNS; i++) {
		digit[i] = press(child, terminal, "1", 30);
		press(child, terminal, ".400", 30);
		booking[i] = press(child, terminal, "\002", 300);
	}
	for (int i = 0; i < TURNS; i++)
		undoing[i] = press(child, terminal, "\033[20~", 300);
	for (int i = 0; i < TURNS; i++)
		up[i] = press(child, terminal, "\033[A", 50);
	out.cpu[DIGIT] = median(digit);
	out.cpu[BOOKING] = median(booking);
	out.cpu[UNDOING] = median(undoing);
	out.cpu[ROW_UP] = median(up);
	kill(child, SIGTERM);
	drain(terminal, 200, 200);
	close(terminal);
	waitpid(child, &status, 0);
	return out;
}

START_TEST(test_editor)
{
	char folder[] = "/tmp/rodbook-bench-XXXXXX";
	struct measured small, large;
	double bytes;
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	make_book("small.rodbook", SMALL);
	make_book("large.rodbook", LARGE);
	small = measure("small.rodbook");
	large = measure("large.rodbook");
	bytes = 1024.0 * (double)(large.memory - small.memory) / (2.0 * (LARGE - SMALL));
	for (int i = 0; i < FIGURES; i++)
		printf("%-10s %6.2f ms, %6.2f ms: %5.1f, in the table %.1f\n", figures[i].name,
		       small.cpu[i] * 1e3, large.cpu[i] * 1e3, large.cpu[i] / small.cpu[i],
		       figures[i].ratio);
	printf("a row      %.0f bytes, in the table %d\nwoken      %ld times\n", bytes, ROW_BYTES,
	       small.woken);
	fflush(stdout);
	unlink("small.rodbook");
	unlink("large.rodbook");
	unlink("run.csv");
	ck_assert_int_eq(chdir("/"), 0);
	rmdir(folder);
	if (getenv("RODBOOK_LONG"))
		return;
	for (int i = 0; i < FIGURES; i++)
		ck_assert_double_lt(large.cpu[i] / small.cpu[i], 2 * figures[i].ratio);
	ck_assert_double_lt(bytes, 2 * ROW_BYTES);
	ck_assert_int_eq(small.woken, 0);
	ck_assert_int_eq(large.woken, 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("editor", test_editor);
}
