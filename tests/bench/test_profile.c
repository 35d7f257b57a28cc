/* The profile of a run whose ground was read against the way of its line, measured against that of
 * one read along it, in the same minute on the same machine: a ratio, not a time. Both draw as many
 * points; only the order differs in which they must be put. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "../unit/books.h"
#include "../unit/suite.h"

#define GROUND 10000
#define TIMES 10
#define RATIO 2.0

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void put_run(FILE *csv, const char *name, bool against)
{
	fprintf(csv, "%s,open,BS,A,1,%d\n", name, against ? GROUND + 1 : 0);
	for (int i = 1; i <= GROUND; i++)
		fprintf(csv, "%s,open,IS,G%d,1,%d\n", name, i, against ? GROUND + 1 - i : i);
	fprintf(csv, "%s,open,FS,B,1,%d\n", name, against ? 0 : GROUND + 1);
}

static double draw(struct shelf *s, const char *name)
{
	double from = seconds();
	FILE *out = fopen("/dev/null", "w");
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(
	    report_picture(out, s->book, REPORT_PROFILE, &name, 1, REPORT_AS_TEXT, &s->why), "%s",
	    s->why.text);
	fclose(out);
	return seconds() - from;
}

START_TEST(test_ground_against_the_way)
{
	struct shelf s;
	struct work_taken counts = {0};
	char path[160];
	double along = 1e9, against = 1e9;
	FILE *csv;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/ground.csv", s.dir);
	csv = fopen(path, "w");
	ck_assert_ptr_nonnull(csv);
	fprintf(csv, "run,kind,sight,station,reading,along\n");
	put_run(csv, "along", false);
	put_run(csv, "against", true);
	ck_assert_int_eq(fclose(csv), 0);
	ck_assert_msg(csv_import(s.book, path, &counts, &s.why), "%s", s.why.text);
	/* The shortest of some times, in turn, for a busy machine is slow for seconds. */
	for (int i = 0; i < TIMES; i++) {
		double took = draw(&s, "along");
		along = took < along ? took : along;
		took = draw(&s, "against");
		against = took < against ? took : against;
	}
	printf("profile of %d places: along %.3f s, against %.3f s\n", GROUND, along, against);
	ck_assert_double_lt(against, RATIO * along);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("profile", test_ground_against_the_way);
}
