/* What each sight brings in, added again, is what the page adds up: the two are reckoned apart. */
#include "rodbook/level/parts.h"

#include "chance.h"
#include "sights.h"
#include "suite.h"

#define SETUPS 12
#define SIGHTS (SETUPS * 6)

/* One setup that stands up to three times. */
static size_t any_setup(uint64_t *state, int number, struct level_sight *out)
{
	size_t count = 0;
	int standings = (int)chance(state, 1, 3);
	char from[16], to[16];
	snprintf(from, sizeof from, "T%d", number);
	snprintf(to, sizeof to, "T%d", number + 1);
	for (int i = 0; i < 2 * standings; i++) {
		bool fs = i % 2;
		struct level_sight *s = &out[count++];
		*s = sight(fs ? LEVEL_FS : LEVEL_BS, fs ? to : from, chance(state, 1, METRES(3)),
		           chance(state, 1, METRES(1500)));
		s->again = !fs && i > 0;
		s->method = (enum level_method)chance(state, 0, 2);
		s->instrument = (int)chance(state, 0, 1);
		s->rod_error = (double)chance(state, -9, 9) / 10000;
		s->set_count = (int)chance(state, 1, 4);
		s->set_sd = (double)chance(state, 0, 90) / 10000;
	}
	return count;
}

/* The same sums from the parts. */
static struct level_drop_sums sums_of(const struct level_part *part, size_t count, double *known)
{
	struct level_drop_sums out = {0};
	*known = 0;
	for (size_t i = 0; i < count; i++) {
		const struct level_part *p = &part[i];
		double s = p->sign * p->weight, d2 = p->distance * p->distance;
		out.drop -= s * (p->curvature - p->refraction);
		out.s_d2 += s * d2;
		out.reading_bound += p->weight * p->mean.bound;
		out.reading_variance += p->weight * p->weight * p->mean.u * p->mean.u;
		out.d2 += p->weight * d2;
		out.d4 += p->weight * d2 * d2;
		*known += s * (p->tilt * p->distance + p->rod_error);
	}
	for (int setup = 1; setup <= SETUPS; setup++) {
		double sum = 0;
		for (size_t i = 0; i < count; i++)
			if (part[i].setup == setup)
				sum += part[i].sign * part[i].weight * part[i].distance *
				       part[i].distance;
		out.setup_d4 += sum * sum;
	}
	return out;
}

START_TEST(test_sums)
{
	uint64_t state = chance_seed("parts");
	for (int round = 0; round < 300; round++) {
		struct level_sight sights[SIGHTS];
		struct level_run run = {LEVEL_OPEN, 0, sights, ""};
		struct level_terms terms = usual_terms();
		struct level_page page = {0};
		struct level_part part[SIGHTS];
		struct level_drop_sums added;
		const struct level_drop_sums *sums;
		double known;
		terms.instrument[1] = (struct level_instrument){
		    .tolerance = .0001, .tested = true, .tilt = .00003, .u = .00001};
		for (int i = 0; i < SETUPS; i++)
			run.count += any_setup(&state, i, sights + run.count);
		run.count -= (size_t)(round % 2); /* the last setup, or standing, stays open */
		ck_assert(level_reduce(&run, 0, &terms, &page));
		level_parts(&run, &page, &terms, part);
		sums = &level_page_sums(&page)->drop;
		added = sums_of(part, run.count, &known);
		ck_assert_double_eq_tol(added.drop, sums->drop, 1e-9);
		ck_assert_double_eq_tol(added.s_d2, sums->s_d2, 1e-3);
		ck_assert_double_eq_tol(added.reading_bound, sums->reading_bound, 1e-12);
		ck_assert_double_eq_tol(added.reading_variance, sums->reading_variance, 1e-12);
		ck_assert_double_eq_tol(added.d2, sums->d2, 1e-9 * sums->d2);
		ck_assert_double_eq_tol(added.d4, sums->d4, 1e-9 * sums->d4);
		ck_assert_double_eq_tol(added.setup_d4, sums->setup_d4, 1e-9 * sums->d4);
		ck_assert_double_eq_tol(known, level_known_error(sums, &terms), 1e-12);
		level_page_free(&page);
	}
}
END_TEST

/* In a setup that stands twice each sight counts half; a struck one, an IS and the BS of an open
 * setup count nothing. */
START_TEST(test_weights)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1000), METRES(30)),
	                               sight(LEVEL_IS, "P", MM(1100), METRES(10)),
	                               as(sight(LEVEL_FS, "B", MM(9), METRES(30)), LEVEL_STRUCK),
	                               sight(LEVEL_FS, "B", MM(900), METRES(30)),
	                               sight(LEVEL_BS, "A", MM(1200), METRES(30)),
	                               sight(LEVEL_FS, "B", MM(1100), METRES(30)),
	                               sight(LEVEL_BS, "B", MM(1000), METRES(30))};
	static const double weight[] = {.5, 0, 0, .5, .5, .5, 0};
	static const int sign[] = {1, 0, 0, -1, 1, -1, 0}, setup[] = {1, 0, 0, 1, 1, 1, 0};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	struct level_part part[7];
	sights[4].again = true;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	level_parts(&run, &page, &terms, part);
	for (int i = 0; i < 7; i++) {
		ck_assert_double_eq(part[i].weight, weight[i]);
		ck_assert_int_eq(part[i].sign, sign[i]);
		ck_assert_int_eq(part[i].setup, setup[i]);
	}
	level_page_free(&page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("parts", test_sums, test_weights);
}
