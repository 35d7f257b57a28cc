/* Quantiles against published tables, closed forms, and what must hold between them. */
#include "rodbook/level/quantile.h"

#include <math.h>

#include "chance.h"
#include "suite.h"

#define PI 3.14159265358979323846

/* JCGM 100:2008 (GUM), table G.2, 95 %; G.2's last row is the normal distribution. */
START_TEST(test_t_table)
{
	static const double table[][2] = {{1, 12.71}, {2, 4.30},  {5, 2.57},        {10, 2.23},
	                                  {20, 2.09}, {50, 2.01}, {INFINITY, 1.960}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_double_eq_tol(level_t95(table[i][0]), table[i][1], 0.005);
}
END_TEST

/* Student's t has closed forms for 1 (Cauchy) and 2 degrees of freedom, and 1.959963984540054 is
 * the normal's (Abramowitz and Stegun, table 26.5, recalled: 1.95996 39845). */
START_TEST(test_t_closed_forms)
{
	ck_assert_double_eq_tol(level_t95(1), tan(0.475 * PI), 1e-12);
	ck_assert_double_eq_tol(level_t95(2), 0.95 * sqrt(2 / (1 - 0.95 * 0.95)), 1e-12);
	ck_assert_double_eq_tol(level_t95(INFINITY), 1.9599639845, 0.00000000005);
	ck_assert_double_eq(level_t95(1e30), level_t95(INFINITY));
}
END_TEST

/* Freedoms between whole ones are in order, and join the normal's without a step: the first term of
 * the expansion in 1/freedom is (z^3 + z)/4 (Abramowitz and Stegun, 26.7.5, recalled). */
START_TEST(test_t_between)
{
	double z = 1.9599639845400545, last = INFINITY;
	for (double freedom = 1; freedom < 1e9; freedom *= 1.07) {
		double t = level_t95(freedom);
		ck_assert_double_lt(t, last);
		last = t;
	}
	for (double freedom = 1e7; freedom < 1e14; freedom *= 7)
		ck_assert_double_eq_tol(level_t95(freedom), z + (z * z * z + z) / (4 * freedom),
		                        4e-12);
}
END_TEST

/* Published tables of chi-square, e.g. Abramowitz and Stegun, table 26.8 (recalled). */
START_TEST(test_chi_square_table)
{
	static const double table[][3] = {
	    {0.95, 1, 3.841},   {0.95, 2, 5.991},  {0.95, 3, 7.815},
	    {0.95, 10, 18.307}, {0.05, 10, 3.940}, {0.99, 1, 6.635},
	    {0.975, 5, 12.833}, {0.025, 5, 0.831}, {0.95, 100, 124.342}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double p = table[i][0], freedom = table[i][1], value = table[i][2];
		ck_assert_double_eq_tol(level_chi_square(p, freedom), value, 0.0005);
		ck_assert_double_eq_tol(level_chi_square_above(value, freedom), 1 - p, 0.0001);
	}
}
END_TEST

/* Two degrees of freedom are an exponential distribution: both directions in closed form. */
START_TEST(test_chi_square_of_two)
{
	for (double p = 1e-12; p < 1; p = p < 0.01 ? 10 * p : p + 0.01)
		ck_assert_double_eq_tol(level_chi_square(p, 2) / (-2 * log1p(-p)), 1, 1e-12);
	for (double value = 1e-6; value < 1300; value *= 1.5)
		ck_assert_double_eq_tol(level_chi_square_above(value, 2) / exp(-value / 2), 1,
		                        1e-12);
}
END_TEST

/* Published tables of F, 95 %, e.g. Abramowitz and Stegun, table 26.9 (recalled). */
START_TEST(test_f_table)
{
	static const double table[][3] = {{1, 10, 4.96}, {5, 10, 3.33},       {10, 20, 2.35},
	                                  {4, 4, 6.39},  {5, INFINITY, 2.21}, {INFINITY, 5, 4.36}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_double_eq_tol(level_f_quantile(0.95, table[i][0], table[i][1]),
		                        table[i][2], 0.0051);
	ck_assert_double_eq(level_f_quantile(0.3, INFINITY, INFINITY), 1);
}
END_TEST

/* ISO 17123-2:2001 (recalled) gives its tests as finished factors: with 38 degrees of freedom 1.19
 * for a standard deviation, 1.91 for the ratio of two variances, and t = 2.02. */
START_TEST(test_iso_factors)
{
	ck_assert_double_eq_tol(sqrt(level_chi_square(0.95, 38) / 38), 1.19, 0.005);
	ck_assert_double_eq_tol(level_f_quantile(0.975, 38, 38), 1.91, 0.005);
	ck_assert_double_eq_tol(level_f_quantile(0.025, 38, 38), 1 / 1.91, 0.0014);
	ck_assert_double_eq_tol(level_t95(38), 2.02, 0.005);
}
END_TEST

/* F turned over is F with its freedoms exchanged, and p is a probability once more. */
START_TEST(test_f_turned_over)
{
	uint64_t state = chance_seed("F turned over");
	for (int i = 0; i < 2000; i++) {
		double f1 = pow(10, (double)chance(&state, -100, 500) / 100);
		double f2 = pow(10, (double)chance(&state, -100, 500) / 100);
		double p = (double)chance(&state, 1, 1023) / 1024;
		double product = level_f_quantile(p, f1, f2) * level_f_quantile(1 - p, f2, f1);
		ck_assert_msg(fabs(product - 1) < 1e-10, "p %g, %.17g and %.17g: %.17g", p, f1, f2,
		              product);
	}
}
END_TEST

START_TEST(test_chi_square_there_and_back)
{
	uint64_t state = chance_seed("chi-square there and back");
	for (int i = 0; i < 2000; i++) {
		double freedom = pow(10, (double)chance(&state, -100, 600) / 100);
		double p = (double)chance(&state, 1, 1023) / 1024;
		double above = level_chi_square_above(level_chi_square(p, freedom), freedom);
		ck_assert_msg(fabs(above - (1 - p)) < 1e-10, "p %g, %.17g: above %.17g", p, freedom,
		              above);
	}
}
END_TEST

START_TEST(test_out_of_range)
{
	static const double bad[] = {0, -1, NAN, -INFINITY};
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_double_nan(level_t95(bad[i]));
		ck_assert_double_nan(level_chi_square(0.5, bad[i]));
		ck_assert_double_nan(level_chi_square(bad[i], 3));
		ck_assert_double_nan(level_chi_square_above(1, bad[i]));
		ck_assert_double_nan(level_f_quantile(bad[i], 3, 4));
		ck_assert_double_nan(level_f_quantile(0.5, bad[i], 4));
		ck_assert_double_nan(level_f_quantile(0.5, 3, bad[i]));
	}
	ck_assert_double_nan(level_chi_square(1, 3));
	ck_assert_double_nan(level_chi_square(0.5, INFINITY));
	ck_assert_double_nan(level_chi_square_above(NAN, 3));
	ck_assert_double_nan(level_chi_square_above(1, INFINITY));
	ck_assert_double_nan(level_f_quantile(1, 3, 4));
}
END_TEST

START_TEST(test_edges)
{
	ck_assert_double_eq(level_chi_square_above(0, 3), 1);
	ck_assert_double_eq(level_chi_square_above(-1, 3), 1);
	ck_assert_double_eq(level_chi_square_above(INFINITY, 3), 0);
	ck_assert_double_eq(level_chi_square_above(1e308, 1e6), 0);
	ck_assert_double_eq(level_chi_square_above(1e-320, 1e6), 1);
	/* (1e-300)^(2/0.1) is nothing, and t of so little freedom has no bound */
	ck_assert_double_eq(level_chi_square(1e-300, 0.1), 0);
	ck_assert_double_eq(level_chi_square(0.5, 5e-324), 0);
	ck_assert_double_infinite(level_t95(0.001));
	ck_assert_double_infinite(level_f_quantile(0.99, 3, 1e-4));
	/* 1e12 degrees of freedom: mean and standard deviation sqrt(2 x 1e12), times 1.6449 */
	ck_assert_double_eq_tol(level_chi_square(0.95, 1e12), 1e12 + 1.6449 * 1414214, 100);
}
END_TEST

int main(void)
{
	return RUN_TESTS("quantiles", test_t_table, test_t_closed_forms, test_t_between,
	                 test_chi_square_table, test_chi_square_of_two, test_f_table,
	                 test_iso_factors, test_f_turned_over, test_chi_square_there_and_back,
	                 test_out_of_range, test_edges);
}
