/* The stations of a book of 200 runs over 5 years with 60 stations, measured against the list of
 * its runs, in the same minute on the same machine: a ratio, not a time. */
#include <stdio.h>
#include <time.h>

#include "../unit/books.h"
#include "../unit/suite.h"
#include "rodbook/report/stations.h"

#define RUNS 200
#define STATIONS 60
#define SETUPS 12
#define TIMES 5
#define RATIO 2.0

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void put_run(FILE *csv, int run)
{
	fprintf(csv, "run %d,loop,BS,BM1,100,1.500,40,%d-%02d-01T08:00:00+02:00\n", run,
	        2021 + run / 40, 1 + run % 12);
	for (int i = 0; i < SETUPS; i++) {
		int station = (run * 7 + i * 5) % STATIONS;
		fprintf(csv, "run %d,loop,FS,S%d,,1.500,40,\nrun %d,loop,BS,S%d,,1.500,40,\n", run,
		        station, run, station);
	}
	fprintf(csv, "run %d,loop,FS,BM1,100,1.501,40,\n", run);
}

static double list(struct shelf *s, bool stations)
{
	double from = seconds();
	size_t unreadable;
	FILE *out = fopen("/dev/null", "w");
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(stations ? report_stations(out, s->book, false, &unreadable, &s->why)
	                       : report_runs(out, s->book, false, &unreadable, &s->why),
	              "%s", s->why.text);
	fclose(out);
	return seconds() - from;
}

START_TEST(test_against_the_list_of_runs)
{
	struct shelf s;
	struct work_taken counts = {0};
	char path[160];
	double runs = 1e9, stations = 1e9;
	FILE *csv;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/years.csv", s.dir);
	csv = fopen(path, "w");
	ck_assert_ptr_nonnull(csv);
	fprintf(csv, "run,kind,sight,station,known,reading,distance,time\n");
	for (int i = 0; i < RUNS; i++)
		put_run(csv, i);
	ck_assert_int_eq(fclose(csv), 0);
	ck_assert_msg(csv_import(s.book, path, &counts, &s.why), "%s", s.why.text);
	/* The shortest of some times, in turn, for a busy machine is slow for seconds. */
	for (int i = 0; i < TIMES; i++) {
		double took = list(&s, false);
		runs = took < runs ? took : runs;
		took = list(&s, true);
		stations = took < stations ? took : stations;
	}
	printf("%d runs, %d stations: runs %.3f s, stations %.3f s\n", RUNS, STATIONS, runs,
	       stations);
	ck_assert_double_lt(stations, RATIO * runs);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("stations", test_against_the_list_of_runs);
}
