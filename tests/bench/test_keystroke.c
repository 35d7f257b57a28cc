/* A keystroke in a run of 10 000 setups, measured against one in a run of 10, in the same minute on
 * the same machine: a ratio, not a time. Through the real program in a pseudo-terminal, from the
 * key to the end of what is painted. */
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>

#include "terminal.h"

#define KEYS 60
/* A keystroke at the end touches one row; at the first row it goes through 20 000. */
#define RATIO_END 4.0
#define RATIO_TOP 40.0

/*
 * Seconds from a key to the last byte it paints: the dearer of a digit and of what takes it back,
 * each at its quickest, for a machine that does something else in between makes even the median
 * wait a tick of its clock.
 */
static double quickest_key(int terminal)
{
	double quickest[2] = {1e9, 1e9};
	for (int i = 0; i < KEYS; i++) {
		double from = seconds();
		ck_assert_int_eq((int)write(terminal, i % 2 ? "\177" : "1", 1), 1);
		quickest[i % 2] = fmin(quickest[i % 2], drain(terminal, 2000, 15) - from);
	}
	return fmax(quickest[0], quickest[1]);
}

struct cost {
	double end, top;
};

static struct cost measure(const char *book)
{
	struct cost out;
	int terminal, status;
	pid_t child = open_editor(book, &terminal);
	drain(terminal, 2000, 2000);
	out.end = quickest_key(terminal);
	ck_assert_int_eq((int)write(terminal, "\033[1;5H", 6), 6);
	drain(terminal, 500, 500);
	out.top = quickest_key(terminal);
	kill(child, SIGTERM);
	drain(terminal, 200, 200);
	close(terminal);
	waitpid(child, &status, 0);
	return out;
}

START_TEST(test_keystroke)
{
	char folder[] = "/tmp/rodbook-bench-XXXXXX";
	struct cost small, large;
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert_int_eq(chdir(folder), 0);
	make_book("small.rodbook", 10);
	make_book("large.rodbook", 10000);
	small = measure("small.rodbook");
	large = measure("large.rodbook");
	printf("keystroke at the end: %.0f us of 10 setups, %.0f us of 10 000 (x %.1f)\n",
	       small.end * 1e6, large.end * 1e6, large.end / small.end);
	printf("at the first row: %.0f us and %.0f us (x %.1f)\n", small.top * 1e6, large.top * 1e6,
	       large.top / small.top);
	ck_assert_double_le(large.end, RATIO_END * small.end);
	ck_assert_double_le(large.top, RATIO_TOP * small.top);
	unlink("small.rodbook");
	unlink("large.rodbook");
	unlink("run.csv");
	ck_assert_int_eq(chdir("/"), 0);
	rmdir(folder);
}
END_TEST

int main(void)
{
	return RUN_TESTS("keystroke", test_keystroke);
}
