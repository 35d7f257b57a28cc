/* The field test: two series, and what they are held against. */
#include "rodbook/level/fieldtest.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "rodbook/level/quantile.h"

#define READING_LIMIT (100 * LEVEL_NM_PER_M)
#define SIGMA_LIMIT 0.1
/* How far the means of the simplified procedure may differ, in s. */
#define MEANS_LIMIT 2.5

static level_nm difference_of(const struct level_pair *pair)
{
	return pair->backsight - pair->foresight;
}

static bool is_reading(level_nm reading)
{
	return reading >= 0 && reading <= READING_LIMIT;
}

static bool check(const struct level_pair *pairs, size_t count, struct fault *why)
{
	if (count % 2 || count < LEVEL_FIELDTEST_LEAST || count > LEVEL_FIELDTEST_MOST)
		return fault_say(why, FAULT_INPUT,
		                 "%zu pair%s: a test has two series of as many pairs each, %d in "
		                 "all for the simplified one and %d for the full one (%d to %d are "
		                 "taken)",
		                 count, count == 1 ? "" : "s", LEVEL_FIELDTEST_SIMPLIFIED,
		                 LEVEL_FIELDTEST_FULL, LEVEL_FIELDTEST_LEAST, LEVEL_FIELDTEST_MOST);
	for (size_t i = 0; i < count; i++)
		if (!is_reading(pairs[i].backsight) || !is_reading(pairs[i].foresight))
			return fault_say(why, FAULT_INPUT,
			                 "pair %zu: readings are 0 or more and at most 100 m",
			                 i + 1);
	return true;
}

/* Mean of a series, m, and the sum of its squared residuals, m^2. Residuals are whole nm times the
 * count, so that none is lost beside a large mean. */
static double take_series(const struct level_pair *pairs, size_t count, double *mean)
{
	level_nm n = (level_nm)count, sum = 0;
	double squares = 0;
	for (size_t i = 0; i < count; i++)
		sum += difference_of(&pairs[i]);
	for (size_t i = 0; i < count; i++) {
		double r = level_to_meters(n * difference_of(&pairs[i]) - sum) / (double)n;
		squares += r * r;
	}
	*mean = level_to_meters(sum) / (double)n;
	return squares;
}

bool level_fieldtest(const struct level_pair *pairs, size_t count, bool full,
                     struct level_fieldtest *out, struct fault *why)
{
	double squares[2], n;
	*out = (struct level_fieldtest){.full = full, .pairs = count / 2};
	if (!check(pairs, count, why))
		return false;
	n = (double)out->pairs;
	for (int i = 0; i < 2; i++)
		squares[i] = take_series(pairs + (i ? out->pairs : 0), out->pairs, &out->mean[i]);
	out->freedom = full ? 2 * n - 2 : n - 1;
	out->s = sqrt((squares[0] + (full ? squares[1] : 0)) / out->freedom);
	out->s_km = level_double_run_factor() * out->s;
	out->difference = out->mean[0] - out->mean[1];
	out->limit = (full ? level_t95(out->freedom) * sqrt(2 / n) : MEANS_LIMIT) * out->s;
	out->difference_passes = fabs(out->difference) <= out->limit;
	return true;
}

void level_fieldtest_hold(struct level_fieldtest *test, double sigma)
{
	test->has_sigma = true;
	test->sigma = sigma;
	test->chi_factor = sqrt(level_chi_square(0.95, test->freedom) / test->freedom);
	test->sigma_passes = test->s <= test->chi_factor * sigma;
}

void level_fieldtest_compare(struct level_fieldtest *test, const struct level_fieldtest *other)
{
	test->has_ratio = test->s > 0 && other->s > 0;
	if (!test->has_ratio)
		return;
	test->f_ratio = test->s / other->s * (test->s / other->s);
	test->f_low = level_f_quantile(0.025, test->freedom, other->freedom);
	test->f_high = level_f_quantile(0.975, test->freedom, other->freedom);
	test->ratio_passes = test->f_low <= test->f_ratio && test->f_ratio <= test->f_high;
}

bool level_fieldtest_passes(const struct level_fieldtest *test)
{
	return test->difference_passes && (!test->has_sigma || test->sigma_passes) &&
	       (!test->has_ratio || test->ratio_passes);
}

double level_double_run_factor(void)
{
	/* 1000 m of setups of 2 x 30 m, and the mean of two runs. */
	return sqrt(1000.0 / 60) / sqrt(2.0);
}

/* The bytes of text before a "/km" or " per km" that ends it; 0 where it has none. */
static size_t before_km(const char *text)
{
	static const char *const ends[] = {"/km", " per km", " / km"};
	size_t size = strlen(text);
	for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
		size_t end = strlen(ends[i]);
		if (size > end && strcmp(text + size - end, ends[i]) == 0)
			return size - end;
	}
	return 0;
}

bool level_parse_sigma(const char *text, enum level_unit bare, double *sigma, struct fault *why)
{
	char length[64];
	size_t km = before_km(text), size = km ? km : strlen(text);
	level_nm value;
	if (size >= sizeof length)
		return fault_say(why, FAULT_INPUT, "the stated standard deviation is too long");
	memcpy(length, text, size);
	length[size] = '\0';
	if (km && level_is_bare(length))
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\" lacks its unit: write 0.7 mm/km for 1 km of double run",
		                 text);
	if (!level_parse_length(length, bare, &value, why))
		return false;
	*sigma = level_to_meters(value) / (km ? level_double_run_factor() : 1);
	return (*sigma > 0 && *sigma <= SIGMA_LIMIT) ||
	       fault_say(why, FAULT_INPUT,
	                 "a stated standard deviation is above 0 and at most 0.1 m: write 0.3 mm "
	                 "for one height difference, or 0.7 mm/km for 1 km of double run");
}
