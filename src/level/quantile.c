/* Quantiles, from incomplete gamma and beta functions. Numbers in comments are sections of the NIST
 * Digital Library of Mathematical Functions (recalled). */
#include "rodbook/level/quantile.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846
#define MOST_FREEDOM 1e12
#define MOST_TERMS 100000000
#define SMALL 1e-300
/* A factor this close to 1 adds nothing any more; smaller differences may be rounding only. */
#define SETTLED 4.5e-16
/* The logarithms of what is looked for stay within this. */
#define WIDEST 690.0

/* A distribution over the logarithm of its variable, seen from one place: the probabilities below
 * and above, and the density. */
struct tails {
	double below, above, density;
};
typedef struct tails view(double log_variable, double a, double b);

/* ln r - (r - 1), from r and r - 1; 4.6.4 near 1, where the difference would cancel. */
static double log_less_linear(double r, double less_one)
{
	double s = less_one / (2 + less_one), power = s * s * s, sum = 0;
	if (fabs(less_one) > 0.3)
		return log(r) - less_one;
	for (int n = 3; n < 40; n += 2, power *= s * s)
		sum += power / n;
	return 2 * sum - s * less_one;
}

/* ln of the gamma function over Stirling's formula; 5.11.1 (asymptotic) for large a. */
static double log_scaled_gamma(double a)
{
	double b = 1 / (a * a);
	if (a < 10)
		return log(tgamma(a)) - (a - 0.5) * log(a) + a - 0.5 * log(2 * PI);
	return (1.0 / 12 -
	        b * (1.0 / 360 -
	             b * (1.0 / 1260 - b * (1.0 / 1680 - b * (1.0 / 1188 - b * 691.0 / 360360))))) /
	       a;
}

/* P(a,x) as a series, 8.11.4, over x^a e^-x / gamma(a). */
static double gamma_series(double a, double x)
{
	double term = 1 / a, sum = term;
	for (int n = 1; n < MOST_TERMS && term > 1e-17 * sum; n++) {
		term *= x / (a + n);
		sum += term;
	}
	return sum;
}

static double not_zero(double value)
{
	return fabs(value) < SMALL ? SMALL : value;
}

/* Q(a,x) as the even part of the continued fraction 8.9.2, over the same; evaluated forward by the
 * modified Lentz algorithm (3.10(iii)). */
static double gamma_fraction(double a, double x)
{
	double b = x - a + 1, f = not_zero(b), c = f, d = 0, change = 0;
	for (int n = 1; n < MOST_TERMS && fabs(change - 1) > SETTLED; n++) {
		double numerator = n * (a - n);
		b += 2;
		d = 1 / not_zero(b + numerator * d);
		c = not_zero(b + numerator / c);
		change = c * d;
		f *= change;
	}
	return 1 / f;
}

/* A gamma variable of shape a; density 8.2.1 times x, by way of Stirling's formula. */
static struct tails gamma_tails(double x, double a)
{
	double density =
	    sqrt(a / (2 * PI)) * exp(a * log_less_linear(x / a, (x - a) / a) - log_scaled_gamma(a));
	if (x < a + 1) {
		double below = density * gamma_series(a, x);
		return (struct tails){below, 1 - below, density};
	}
	double above = density * gamma_fraction(a, x);
	return (struct tails){1 - above, above, density};
}

static struct tails view_gamma(double log_x, double a, double unused)
{
	(void)unused;
	return gamma_tails(exp(log_x), a);
}

/* I_x(a,b) over x^a y^b / B(a,b), y = 1 - x, as the even part of the continued fraction 8.17.22,
 * which keeps its digits near x = 1 (DiDonato and Morris 1992, ACM Trans. Math. Softw. 18, 360,
 * eq. 9, recalled). over = a y - b x. */
static double beta_fraction(double a, double b, double x, double y, double over)
{
	double f = not_zero(a / (a + 1) * (over + 1)), c = f, d = 0, change = 0;
	for (int n = 1; n < MOST_TERMS && fabs(change - 1) > SETTLED; n++) {
		double odd = a + 2.0 * n - 1;
		double numerator =
		    (a + n - 1) / odd * ((a + b + n - 1) / odd) * n * (b - n) * x * x;
		double denominator =
		    n + n * (b - n) * x / odd + (a + n) / (odd + 2) * (over + 1 + n * (1 + y));
		d = 1 / not_zero(denominator + numerator * d);
		c = not_zero(denominator + numerator / c);
		change = c * d;
		f *= change;
	}
	return 1 / f;
}

/* A beta variable y = 1 - x of shapes b and a, by its odds y / x; density 8.17.1 times x y. */
static struct tails view_beta(double log_odds, double a, double b)
{
	double odds = exp(log_odds), x = 1 / (1 + odds), y = odds / (1 + odds);
	double over = (a * odds - b) / (1 + odds);
	double density = sqrt(a / (a + b) * b / (2 * PI)) *
	                 exp(a * log_less_linear(x * ((a + b) / a), -over / a) +
	                     b * log_less_linear(y * ((a + b) / b), over / b) +
	                     log_scaled_gamma(a + b) - log_scaled_gamma(a) - log_scaled_gamma(b));
	if (x < (a + 1) / (a + b + 2)) {
		double above = density * beta_fraction(a, b, x, y, over);
		return (struct tails){1 - above, above, density};
	}
	double below = density * beta_fraction(b, a, y, x, -over);
	return (struct tails){below, 1 - below, density};
}

/* Where the tail, the one below or the one above, holds this probability. Over the logarithm both
 * gamma and beta variables have log-concave densities, and so log-concave tails: Newton's method on
 * the logarithm of a tail overshoots once at most; bisection helps where that is out of sight. */
static double find(view *look, double a, double b, double start, double probability, bool above)
{
	double low = -WIDEST, high = WIDEST, at = start;
	for (int i = 0; i < 200 && high - low > 1e-10; i++) {
		struct tails tails = look(at, a, b);
		double tail = above ? tails.above : tails.below;
		double step = log(tail / probability) * (tail / tails.density);
		double next = above ? at + step : at - step;
		if (fabs(step) < 1e-10)
			return next;
		if ((tail > probability) == above)
			low = at;
		else
			high = at;
		at = next > low && next < high ? next : (low + high) / 2;
	}
	if (fabs(at) > WIDEST - 1)
		return copysign(INFINITY, at);
	return at;
}

static double chi_square(double probability, double freedom, bool above)
{
	return 2 * exp(find(view_gamma, freedom / 2, 0, log(freedom / 2), probability, above));
}

double level_chi_square(double p, double freedom)
{
	if (!(p > 0 && p < 1 && freedom > 0 && freedom <= MOST_FREEDOM))
		return NAN;
	return p > 0.5 ? chi_square(1 - p, freedom, true) : chi_square(p, freedom, false);
}

double level_chi_square_above(double value, double freedom)
{
	if (isnan(value) || !(freedom > 0 && freedom <= MOST_FREEDOM))
		return NAN;
	if (value <= 0)
		return 1;
	if (isinf(value))
		return 0;
	return gamma_tails(value / 2, freedom / 2).above;
}

double level_f_quantile(double p, double f1, double f2)
{
	bool above = p > 0.5;
	double tail = above ? 1 - p : p;
	if (!(p > 0 && p < 1 && f1 > 0 && f2 > 0))
		return NAN;
	/* A variance that is known is no variable any more. */
	if (f1 > MOST_FREEDOM && f2 > MOST_FREEDOM)
		return 1;
	if (f2 > MOST_FREEDOM)
		return chi_square(tail, f1, above) / f1;
	if (f1 > MOST_FREEDOM)
		return f2 / chi_square(tail, f2, !above);
	return exp(find(view_beta, f2 / 2, f1 / 2, log(f1 / f2), tail, above)) * f2 / f1;
}

double level_t95(double freedom)
{
	/* The square of Student's t is F with 1 degree of freedom above. */
	return sqrt(level_f_quantile(0.95, 1, freedom));
}

double level_coverage(double freedom)
{
	return isinf(freedom) ? 2 : fmax(2, level_t95(freedom));
}
