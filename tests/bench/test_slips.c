/* Looking for slips in a run of 10 000 setups, measured against reducing the same run once, in the
 * same minute on the same machine: a ratio, not a time. Reducing goes through each sight once; the
 * search tries some twenty readings in place of each, or of each of its wires. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "../unit/chance.h"
#include "../unit/sights.h"
#include "../unit/suite.h"
#include "rodbook/level/slips.h"

#define SETUPS 10000
#define TIMES 9
#define RATIO 40.0
#define RATIO_WIRES 150.0

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

struct long_run {
	struct level_sight sight[2 * SETUPS];
	struct level_typed typed[2 * SETUPS];
	char text[2 * SETUPS][3][16];
};

static const char *write_mm(char text[16], int mm)
{
	snprintf(text, 16, "%d.%03d", mm / 1000, mm % 1000);
	return text;
}

/* A link that misses by so much; by wires, from which the distances follow. */
static struct level_run make(struct long_run *r, uint64_t *state, level_nm misses, bool wires)
{
	level_nm rise = 0;
	for (int i = 0; i < 2 * SETUPS; i++) {
		int mm = (int)chance(state, 200, 3800);
		char station[24];
		snprintf(station, sizeof station, "TP%d", (i + 1) / 2);
		r->sight[i] = sight(i % 2 ? LEVEL_FS : LEVEL_BS, station, MM(mm),
		                    METRES(chance(state, 30, 32)));
		r->typed[i] = (struct level_typed){.unit = LEVEL_M, .distance = !wires};
		r->typed[i].reading = write_mm(r->text[i][1], mm);
		if (wires) {
			int half = (int)chance(state, 150, 160);
			r->sight[i].wires = true;
			r->sight[i].upper = MM(mm + half);
			r->sight[i].middle = MM(mm);
			r->sight[i].lower = MM(mm - half);
			r->sight[i].distance = MM(200 * half);
			r->typed[i].wire[0] = write_mm(r->text[i][0], mm + half);
			r->typed[i].wire[1] = r->typed[i].reading;
			r->typed[i].wire[2] = write_mm(r->text[i][2], mm - half);
		}
		rise += i % 2 ? -MM(mm) : MM(mm);
	}
	r->sight[0] = known(r->sight[0], METRES(100), 0);
	r->sight[2 * SETUPS - 1] = known(r->sight[2 * SETUPS - 1], METRES(100) + rise - misses, 0);
	return (struct level_run){.kind = LEVEL_LINK, .count = 2 * SETUPS, .sight = r->sight};
}

/* Median seconds of reducing, and of the search. */
static void measure(const struct level_run *run, const struct long_run *r, double *floor,
                    double *search, size_t *count)
{
	struct level_terms terms = usual_terms();
	struct level_slip_given given = {
	    .typed = r->typed, .rod_length = METRES(4), .stadia_multiplier = 100};
	struct level_page page = {0};
	struct level_slips slips = {0};
	double reduce[TIMES], find[TIMES];
	for (int i = 0; i < TIMES; i++) {
		struct level_closing closing;
		double from = seconds();
		ck_assert(level_reduce(run, 0, &terms, &page));
		reduce[i] = seconds() - from;
		closing =
		    level_close(run, &page, &terms, level_tolerance_find("third-order", NULL), 0);
		ck_assert_int_eq(closing.closes, LEVEL_NO);
		from = seconds();
		ck_assert(level_slips_find(run, &closing, &terms, &given, &slips));
		find[i] = seconds() - from;
	}
	qsort(reduce, TIMES, sizeof *reduce, by_size);
	qsort(find, TIMES, sizeof *find, by_size);
	*floor = reduce[TIMES / 2];
	*search = find[TIMES / 2];
	*count = slips.count;
	level_slips_free(&slips);
	level_page_free(&page);
}

START_TEST(test_long_run)
{
	/* A meter, which nearly every second entry explains; what few do; what none does. */
	static const struct {
		level_nm misses;
		bool wires;
	} runs[] = {{MM(1000), false}, {MM(537), false}, {METRES(60), false}, {MM(1000), true}};
	uint64_t state = chance_seed("slips of a long run");
	struct long_run *r = malloc(sizeof *r);
	ck_assert_ptr_nonnull(r);
	for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
		struct level_run run = make(r, &state, runs[i].misses, runs[i].wires);
		double floor, search;
		size_t count;
		measure(&run, r, &floor, &search, &count);
		printf("10 000 setups%s: reduced in %.1f ms, %zu slips found in %.1f ms (x %.1f)\n",
		       runs[i].wires ? " by wires" : "", floor * 1e3, count, search * 1e3,
		       search / floor);
		ck_assert_double_le(search, (runs[i].wires ? RATIO_WIRES : RATIO) * floor);
	}
	free(r);
}
END_TEST

int main(void)
{
	return RUN_TESTS("slips of a long run", test_long_run);
}
