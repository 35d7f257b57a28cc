/* Quantiles against the GNU Scientific Library. Its own quantiles stop early, so ours are put into
 * its distribution functions: what is left, over the density, is ours minus the true one. */
#include "rodbook/level/quantile.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#include "unit/chance.h"
#include "unit/suite.h"

#define DRAWS 20000

/* From low to high, as likely in each decade. */
static double any_size(uint64_t *state, double low, double high)
{
	double part = (double)chance(state, 0, 1000000) / 1000000;
	return low * pow(high / low, part);
}

/* Anywhere from 0 to 1, near its ends, and what tables hold. */
static double any_probability(uint64_t *state)
{
	static const double tabled[] = {0.005, 0.01, 0.025, 0.05, 0.5, 0.95, 0.975, 0.99, 0.995};
	switch (chance(state, 0, 3)) {
	case 0:
		return tabled[chance(state, 0, 8)];
	case 1:
		return any_size(state, 1e-9, 0.5);
	case 2:
		return 1 - any_size(state, 1e-9, 0.5);
	default:
		return (double)chance(state, 1, 999999) / 1000000;
	}
}

/* Asserts that a quantile is right to a relative error, given what lies below and above it and the
 * density there. */
static void check_quantile(const char *what, double value, double p, double below, double above,
                           double density, double tolerance)
{
	double missed = p < 0.5 ? below - p : (1 - p) - above;
	ck_assert_msg(fabs(missed / (density * value)) < tolerance,
	              "%s, p = %.17g: %.17g is off by %g of itself", what, p, value,
	              missed / (density * value));
}

START_TEST(test_t)
{
	uint64_t state = chance_seed("t");
	for (int i = 0; i < DRAWS; i++) {
		double nu = i < 200 ? i + 1 : any_size(&state, 1, 1e6), t = level_t95(nu);
		check_quantile("t", t, 0.975, gsl_cdf_tdist_P(t, nu), gsl_cdf_tdist_Q(t, nu),
		               gsl_ran_tdist_pdf(t, nu), 1e-10);
	}
}
END_TEST

/* What GSL's incomplete gamma function can tell: less below 0.5 degrees of freedom, and beyond 2e4
 * too little to ask. */
static double gamma_tolerance(double nu)
{
	return nu < 0.5 ? 1e-9 : 1e-10;
}

START_TEST(test_chi_square)
{
	uint64_t state = chance_seed("chi-square");
	for (int i = 0; i < DRAWS; i++) {
		double nu = i < 200 ? i + 1 : any_size(&state, 0.1, 2e4);
		double p = any_probability(&state), x = level_chi_square(p, nu);
		check_quantile("chi-square", x, p, gsl_cdf_chisq_P(x, nu), gsl_cdf_chisq_Q(x, nu),
		               gsl_ran_chisq_pdf(x, nu), gamma_tolerance(nu));
	}
}
END_TEST

START_TEST(test_chi_square_above)
{
	uint64_t state = chance_seed("chi-square above");
	for (int i = 0; i < DRAWS; i++) {
		double nu = i < 200 ? i + 1 : any_size(&state, 0.1, 2e4);
		double x = nu * any_size(&state, 0.01, 1) + any_size(&state, 0.001, 20) * sqrt(nu);
		double theirs = gsl_cdf_chisq_Q(x, nu), ours = level_chi_square_above(x, nu);
		ck_assert_msg(fabs(ours - theirs) <= gamma_tolerance(nu) * theirs,
		              "%.17g, %.17g: %.17g, %.17g", x, nu, ours, theirs);
	}
}
END_TEST

/* Above 2e4, the Cornish-Fisher expansion of chi-square about the normal's z (Goldberg and Levine
 * 1946, Ann. Math. Statist. 17, 216, recalled); what it leaves out is of the order of nu^-3 of the
 * quantile. */
START_TEST(test_chi_square_of_many)
{
	uint64_t state = chance_seed("chi-square of many");
	for (int i = 0; i < DRAWS; i++) {
		double nu = any_size(&state, 2e4, 1e6), root = sqrt(2 * nu);
		double p = any_probability(&state);
		double z = p < 0.5 ? gsl_cdf_ugaussian_Pinv(p) : gsl_cdf_ugaussian_Qinv(1 - p);
		double x = nu + z * root + 2.0 / 3 * (z * z - 1) + (z * z - 7) * z / (9 * root) -
		           ((6 * z * z + 14) * z * z - 32) / (405 * nu) +
		           ((9 * z * z + 256) * z * z - 433) * z / (4860 * root * nu);
		check_quantile("chi-square of many", x, p, 1 - level_chi_square_above(x, nu),
		               level_chi_square_above(x, nu), gsl_ran_chisq_pdf(x, nu), 1e-10);
		ck_assert_msg(fabs(level_chi_square(p, nu) / x - 1) < 1e-10, "p %.17g, %.17g", p,
		              nu);
	}
}
END_TEST

/* Up to 1e5, beyond which GSL's incomplete beta function is the worse one for some. */
START_TEST(test_f)
{
	uint64_t state = chance_seed("F");
	for (int i = 0; i < DRAWS; i++) {
		double f1 = i < 200 ? i + 1 : any_size(&state, 0.1, 1e5);
		double f2 = any_size(&state, 0.1, 1e5);
		double p = any_probability(&state), x = level_f_quantile(p, f1, f2);
		check_quantile("F", x, p, gsl_cdf_fdist_P(x, f1, f2), gsl_cdf_fdist_Q(x, f1, f2),
		               gsl_ran_fdist_pdf(x, f1, f2), 1e-10);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("quantiles", test_t, test_chi_square, test_chi_square_above,
	                 test_chi_square_of_many, test_f);
}
