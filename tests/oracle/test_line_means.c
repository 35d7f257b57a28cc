/* Means along a line of sight against the adaptive quadrature of the GNU Scientific Library. */
#include <gsl/gsl_integration.h>

#include "errors.h"
#include "level/drop/light_integral.h"
#include "level/drop/surface_layer.h"
#include "unit/suite.h"

#define LINES 3000

struct task {
	struct level_sightline line;
	double share, power;
	struct surface_layer layer;
	quantity_at *f;
};

static double to_power(double z, const void *with)
{
	return pow(z, -((const struct task *)with)->power);
}

static double gradient(double z, const void *with)
{
	return surface_gradient(z, &((const struct task *)with)->layer);
}

/* By the definition, over x/d. */
static double integrand(double t, void *with)
{
	const struct task *task = with;
	double x = t * task->line.distance;
	return 2 * (1 - t) *
	       task->f(task->line.height + task->share * x * x / task->line.radius, task);
}

static double by_gsl(gsl_integration_workspace *space, struct task *task, double share)
{
	gsl_function f = {integrand, task};
	double result, error;
	task->share = share;
	gsl_integration_qag(&f, 0, 1, 0, 1e-12, 1000, GSL_INTEG_GAUSS61, space, &result, &error);
	return result;
}

static void compare(gsl_integration_workspace *space, struct task *task, double *worst)
{
	struct line_means means = line_means(&task->line, task->f, task);
	double off[] = {means.flat / by_gsl(space, task, 0) - 1,
	                means.between / by_gsl(space, task, 0.25) - 1,
	                means.round / by_gsl(space, task, 0.5) - 1,
	                line_mean(&task->line, task->f, task) / means.between - 1};
	for (size_t i = 0; i < sizeof off / sizeof *off; i++)
		*worst = fmax(*worst, fabs(off[i]));
}

static double spread_over(gsl_rng *rng, double low, double high)
{
	return exp(gsl_ran_flat(rng, log(low), log(high)));
}

START_TEST(test_against_gsl)
{
	gsl_rng *rng = fixed_chance("line means");
	gsl_integration_workspace *space = gsl_integration_workspace_alloc(1000);
	double worst = 0;
	for (int i = 0; i < LINES; i++) {
		struct task task = {
		    .line = {spread_over(rng, 0.05, 100), spread_over(rng, 1, 200000), 6371000},
		    .power = i % 3 * 0.75,
		    .f = to_power};
		compare(space, &task, &worst);
		task.layer = (struct surface_layer){
		    .scale = 0.1, .obukhov = either(rng, spread_over(rng, 1, 1e4))};
		task.f = gradient;
		compare(space, &task, &worst);
	}
	printf("line means: off by at most %.1e of the value\n", worst);
	ck_assert_double_lt(worst, 1e-11);
	gsl_integration_workspace_free(space);
	gsl_rng_free(rng);
}
END_TEST

int main(void)
{
	return RUN_TESTS("line means", test_against_gsl);
}
