/* How often the interval of a crossing holds the truth, and what is answered, on simulated days
 * whose truth is not what the program supposes (coverage_worlds.h): one row a way of crossing.
 *
 *	RODBOOK_LONG=1 build/tests/tests/oracle_coverage         the whole table, minutes
 *	RODBOOK_LONG=1 build/tests/tests/oracle_coverage plans   parts: single several plans floor
 *
 * A flat surface may be called shown on 5 of 100 days, a round one opposite on 3, and U holds 93 of
 * 100, less three standard deviations of what so many draws give. */
#include <string.h>

#include "coverage_booked.h"
#include "coverage_floor.h"
#include "coverage_plans.h"
#include "coverage_rows.h"
#include "coverage_several.h"
#include "coverage_table.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define LONG_DAYS 3000
#define BRIEF_DAYS 400
/* Light that is lost on so many days in a row never comes through. */
#define LOST_MOST 200

static int days(void)
{
	return is_long() ? LONG_DAYS : BRIEF_DAYS;
}

/* One day, and the closing by U. */
static struct level_closing cross_once(gsl_rng *rng, const struct outing *outing, double radius,
                                       struct level_page *page, struct booked *booked)
{
	for (int lost = 0;; lost++) {
		struct true_level level = draw_level(rng, outing, radius);
		struct true_kit kit = draw_kit(rng, outing);
		struct true_place place = draw_true_place(rng, outing);
		struct air_world air = draw_outing_air(rng, outing);
		struct true_water water[] = {draw_water(rng, outing, 0),
		                             draw_water(rng, outing, 1)};
		struct crossing_truth truth = {outing, radius, &level, &kit,
		                               &place, &air,   water,  false};
		if (book_crossing(rng, &truth, booked))
			return close_booked(booked, page, LEVEL_BY_U95);
		ck_assert_msg(lost < LOST_MOST, "%s: the light is always lost", outing->name);
	}
}

/* What a crossing says by U and by all. */
static void cross(gsl_rng *rng, const struct outing *outing, double radius, struct level_page *page,
                  struct tally *tally)
{
	struct level_finding by[2];
	struct booked booked;
	by[0] = cross_once(rng, outing, radius, page, &booked).finding;
	by[1] = close_booked(&booked, page, LEVEL_BY_ALL).finding;
	tally_add(tally, by, 1 / radius);
}

static void print_rows(gsl_rng *rng, const char *what, const struct outing *rows, size_t count,
                       struct broken *broken)
{
	struct level_page page = {0};
	print_head(what);
	for (size_t i = 0; i < count; i++) {
		struct tally by[2] = {{0}};
		char name[100];
		if (!is_long() && !rows[i].brief)
			continue;
		for (int flat = 0; flat < 2; flat++)
			for (int day = 0; day < days(); day++)
				cross(rng, &rows[i], flat ? (double)INFINITY : LEVEL_MEAN_RADIUS,
				      &page, &by[flat]);
		snprintf(name, sizeof name, "%s%s", rows[i].name, rows[i].only_report ? " *" : "");
		print_tallies(name, by);
		if (!rows[i].only_report)
			check_tallies(broken, rows[i].name, by, rows[i].power);
	}
	level_page_free(&page);
}

START_TEST(test_single)
{
	gsl_rng *rng = fixed_chance("coverage, single crossings");
	struct broken broken = {0};
	print_legend();
	print_rows(rng, "untested level", untested_rows, COUNT(untested_rows), &broken);
	print_rows(rng, "tested level, 300 m at 6 m, known marks", level_rows, COUNT(level_rows),
	           &broken);
	print_rows(rng, "tested level and air", air_rows, COUNT(air_rows), &broken);
	print_rows(rng, "300 m at 4 m, 1/6 m", water_rows, COUNT(water_rows), &broken);
	print_rows(rng, "800 m, tested level", shape_rows, COUNT(shape_rows), &broken);
	print_rows(rng, "power: 8 sets by target, 0.1 K", power_rows, COUNT(power_rows), &broken);
	gsl_rng_free(rng);
	check_broken(&broken);
}
END_TEST

START_TEST(test_several)
{
	gsl_rng *rng = fixed_chance("coverage, several crossings");
	struct level_page page = {0};
	struct broken broken = {0};
	print_head("several crossings, 800 m");
	for (size_t i = 0; i < COUNT(joint_rows); i++) {
		struct joint_tally by[2] = {{{0}, 0, 0}, {{0}, 0, 0}};
		if (!is_long() && !joint_rows[i].brief)
			continue;
		for (int flat = 0; flat < 2; flat++)
			for (int day = 0; day < days(); day++)
				cross_jointly(rng, &joint_rows[i],
				              flat ? (double)INFINITY : LEVEL_MEAN_RADIUS, &page,
				              &by[flat]);
		print_joint(&joint_rows[i], by, &broken);
	}
	level_page_free(&page);
	gsl_rng_free(rng);
	check_broken(&broken);
}
END_TEST

START_TEST(test_plans)
{
	gsl_rng *rng = fixed_chance("coverage, plans");
	struct level_page page = {0};
	struct broken broken = {0};
	printf(
	    "\n| chance of a plan | promised | told | below 20: promised, told (share of days) | "
	    "20 to 40 | 40 to 60 | 60 to 80 | above |\n"
	    "| --- | --- | --- | --- | --- | --- | --- | --- |\n");
	for (size_t i = 0; i < COUNT(plan_rows); i++) {
		struct promises promises = {0};
		if (!is_long() && !plan_rows[i].brief)
			continue;
		for (int day = 0; day < days(); day++)
			plan_and_cross(rng, &plan_rows[i], &page, &promises);
		print_promises(plan_rows[i].name, &promises, &broken);
	}
	level_page_free(&page);
	gsl_rng_free(rng);
	check_broken(&broken);
}
END_TEST

/* Days on which U with its floor, and without, held the truth and showed a round surface. */
START_TEST(test_floor)
{
	gsl_rng *rng = fixed_chance("coverage, the floor in U");
	struct level_page page = {0};
	struct broken broken = {0};
	printf(
	    "\n| U with its floor, and without | holds, round | without | flat | without | shown, "
	    "round | without |\n| --- | --- | --- | --- | --- | --- | --- |\n");
	for (size_t i = 0; i < COUNT(floor_rows); i++) {
		struct tally with[2] = {{0}}, without[2] = {{0}};
		if (!is_long() && !floor_rows[i].brief)
			continue;
		for (int day = 0; day < 2 * days(); day++) {
			double radius = day % 2 ? (double)INFINITY : LEVEL_MEAN_RADIUS;
			struct booked booked;
			struct level_closing closing =
			    cross_once(rng, &floor_rows[i], radius, &page, &booked);
			struct level_finding by[2];
			judge_both(&booked, &page, &closing, by);
			tally_add_one(&with[day % 2], &by[0], 1 / radius);
			tally_add_one(&without[day % 2], &by[1], 1 / radius);
		}
		printf("| %s | %.1f | %.1f | %.1f | %.1f | %.0f | %.0f |\n", floor_rows[i].name,
		       held_by_u(&with[0]), held_by_u(&without[0]), held_by_u(&with[1]),
		       held_by_u(&without[1]), percent(shown(&with[0]), with[0].days),
		       percent(shown(&without[0]), without[0].days));
		fflush(stdout);
		for (int flat = 0; flat < 2; flat++)
			check_percent(&broken, floor_rows[i].name, "U holds",
			              held_by_u(&with[flat]), COVERAGE_LEAST, days(), true);
	}
	level_page_free(&page);
	gsl_rng_free(rng);
	check_broken(&broken);
}
END_TEST

/* The parts that are named, or all. */
int main(int argc, char **argv)
{
	const struct {
		const char *name;
		const TTest *test;
	} parts[] = {{"single", test_single},
	             {"several", test_several},
	             {"plans", test_plans},
	             {"floor", test_floor}};
	const TTest *chosen[COUNT(parts)];
	size_t count = 0;
	for (size_t i = 0; i < COUNT(parts); i++) {
		bool named = argc < 2;
		for (int j = 1; j < argc; j++)
			named = named || strcmp(argv[j], parts[i].name) == 0;
		if (named)
			chosen[count++] = parts[i].test;
	}
	/* The long form takes minutes, for which a test of its own process is stopped. */
	setenv("CK_FORK", "no", 0);
	return run_tests("coverage", chosen, count);
}
