/* Crossings of a day whose truth is known and is not what the program supposes: a surface that is
 * round or flat, air from worlds.h, a level that drifts after its peg test, pegs over the same
 * surface in air of their own, waves, and lengths that are typed wrong.
 *
 *	struct true_level level = draw_level(rng, &outing, radius);
 *	struct true_kit kit = draw_kit(rng, &outing);
 *	struct true_place place = draw_true_place(rng, &outing);
 *
 * What several crossings share is drawn once and handed on (coverage_booked.h). */
#ifndef ORACLE_COVERAGE_WORLDS_H
#define ORACLE_COVERAGE_WORLDS_H

#include "light.h"
#include "rodbook/level/page.h"
#include "rodbook/level/pegtest.h"
#include "worlds.h"
#include "level/wide.h"

enum coverage_shape {
	LONG_FS,
	LONG_BS,
	LONG_BS_AND_MORE, /* and a second, short setup to the end mark */
	THERE_AND_BACK,   /* a loop, the far reading an FS both times */
	ISLAND,           /* two long FS in a row, the second 0.8 times as long */
};

enum coverage_air {
	BY_DEFAULT,
	BY_PAIR,     /* thermometers at 1 and 6 m */
	BY_LOW_PAIR, /* at 1 and 2.2 m */
	BY_WATER,    /* the thermometer dipped, then at 2 m, and the wind there */
	BY_BOTH,
};

enum coverage_far { FAR_BY_TARGET, FAR_BY_ROD, FAR_BY_TAPE };

/* How a crossing is made. */
struct outing {
	const char *name;
	bool brief; /* in the short form too */
	enum coverage_shape shape;
	double far, line; /* long sight, and height of the line at the instrument, m */
	int sets;         /* of pegs; 0: untested */
	double tilt;      /* that the level may have; 0: the tolerance, else beyond it */
	bool sunny;       /* the peg test was made in sun */
	bool target_pegs; /* read by target */
	double scatter;   /* readings of pegs err by so many times their u; 0: once */
	bool hard;        /* weather */
	double apart;     /* share by which the air of each sight is another than at the mast */
	enum coverage_air air;
	bool compared;   /* thermometers side by side: 0.1 K, else 0.2 */
	int airs;        /* readings of the air; 0: one */
	int waters[2];   /* readings at start and end; 0: known marks */
	double waves[2]; /* standard deviation, m; 0: drawn */
	bool correlated; /* readings within a minute */
	enum coverage_far far_by;
	int set;          /* readings of the long sight; 0: one */
	bool taped;       /* distances, else stepped */
	double marks;     /* declared bound, m */
	double slope;     /* declared, m/m */
	double flow;      /* declared slope of the water, m/m */
	double depth;     /* m; 0: not given, and no wind set-up */
	double known_u;   /* of each mark */
	double power;     /* percent of usual days on which a round surface is to be shown */
	bool only_report; /* a corner beyond what is claimed */
};

#define COVERAGE_TOLERANCE 0.0001

/* A new book's settings: common practice, no source. */
static inline struct level_terms coverage_terms(void)
{
	return (struct level_terms){
	    .radius = LEVEL_MEAN_RADIUS,
	    .instrument = {{.tolerance = COVERAGE_TOLERANCE}},
	    .drift = 0.00001,
	    .reading_fixed = {[LEVEL_ROD] = 0.0005, [LEVEL_TAPE] = 0.001, [LEVEL_TARGET] = 0.0003},
	    .reading_slope = {[LEVEL_ROD] = 0.00001, [LEVEL_TARGET] = 0.000005},
	    .distance_u = {[LEVEL_STEPPED] = 0.01,
	                   [LEVEL_MAPPED] = 0.01,
	                   [LEVEL_TAPED] = 0.001,
	                   [LEVEL_WIRED] = 0.01},
	    .water_floor = 0.002,
	    .decides = LEVEL_BY_U95};
}

static inline double normal(gsl_rng *rng, double u)
{
	return gsl_ran_gaussian_ziggurat(rng, 1) * u;
}

/* As it is written down, to 0.1 mm. */
static inline level_nm written(double meters)
{
	return (level_nm)llround(meters * 1e4) * 100000;
}

static inline double method_u(enum level_method method, double distance)
{
	struct level_terms terms = coverage_terms();
	return terms.reading_fixed[method] + terms.reading_slope[method] * distance;
}

/* A level: what the pegs said of it, and what its line of sight does on the day. */
struct true_level {
	struct level_instrument found;
	double at_pegs, tilt;
};

struct true_pegs {
	double radius, tilt, k, scatter;
	enum level_method method;
};

static inline level_nm read_peg(gsl_rng *rng, const struct true_pegs *pegs, double distance,
                                double height)
{
	double off = distance * normal(rng, 0.005);
	double truth = line_height(pegs->radius, 1.5, pegs->tilt, pegs->k, distance + off) - height;
	return written(truth + normal(rng, pegs->scatter * method_u(pegs->method, distance)));
}

/* Pegs 60 m apart: from midway, then 5 m from one of them. Distances are half a per cent off. */
static inline struct level_instrument test_by_pegs(gsl_rng *rng, const struct outing *outing,
                                                   double radius, double tilt)
{
	static const double from[2][2] = {{30, 30}, {5, 55}};
	double dk = outing->sunny ? LEVEL_PEG_DK_SUN : LEVEL_PEG_DK_CLOUD;
	struct true_pegs pegs = {radius, tilt, LEVEL_PEG_K + normal(rng, dk / 2),
	                         outing->scatter > 0 ? outing->scatter : 1,
	                         outing->target_pegs ? LEVEL_TARGET : LEVEL_ROD};
	struct level_peg_way way = {LEVEL_PEG_K, dk, pegs.method};
	struct level_terms terms = coverage_terms();
	struct level_standing standing[LEVEL_STANDINGS_MOST];
	struct level_peg_result result;
	struct fault why;
	int count = 2 * outing->sets;
	for (int i = 0; i < count; i++) {
		double a = from[i % 2][0], b = from[i % 2][1];
		standing[i] =
		    (struct level_standing){level_from_meters(a), read_peg(rng, &pegs, a, 0),
		                            level_from_meters(b), read_peg(rng, &pegs, b, 0.25)};
	}
	if (!level_peg_test(standing, (size_t)count, &terms, &way, &result, &why)) {
		printf("%s\n", why.text);
		abort();
	}
	return (struct level_instrument){.tolerance = COVERAGE_TOLERANCE,
	                                 .tested = true,
	                                 .tilt = result.tilt,
	                                 .u = result.u,
	                                 .sets = result.by_spread ? result.sets : 0,
	                                 .g = result.g};
}

static inline struct true_level draw_level(gsl_rng *rng, const struct outing *outing, double radius)
{
	double most = outing->tilt > 0 ? outing->tilt : COVERAGE_TOLERANCE;
	double tilt = flat_error(rng, most, FREE);
	struct true_level out = {.found = {.tolerance = COVERAGE_TOLERANCE}, .at_pegs = tilt};
	if (outing->sets)
		out.found = test_by_pegs(rng, outing, radius, tilt);
	out.tilt = tilt + normal(rng, coverage_terms().drift);
	return out;
}

/* What one shore's thermometers read wrong, always; K. */
struct true_kit {
	double u, low, high, dipped, at;
};

static inline struct true_kit draw_kit(gsl_rng *rng, const struct outing *outing)
{
	double u = outing->compared ? 0.1 : 0.2;
	return (struct true_kit){u, normal(rng, u), normal(rng, u), normal(rng, 0.3),
	                         normal(rng, u)};
}

static inline struct level_air_reading read_air(gsl_rng *rng, const struct outing *outing,
                                                const struct true_kit *kit,
                                                const struct air_world *world)
{
	struct level_air_reading air = level_air_nothing();
	air.pressure = world->weather.pressure;
	air.thermometer_u = kit->u;
	air.from = LEVEL_WIND_FROM_WATER;
	air.wind_height = 2;
	air.wind = read_wind(rng, world_wind(world, air.wind_height));
	if (outing->air != BY_WATER) {
		air.low_height = 1;
		air.high_height = outing->air == BY_LOW_PAIR ? 2.2 : 6;
		air.low = world_celsius(world, air.low_height) + kit->low;
		air.high = world_celsius(world, air.high_height) + kit->high;
	}
	if (outing->air == BY_WATER || outing->air == BY_BOTH) {
		air.water = world->weather.water + kit->dipped;
		air.at_height = 2;
		air.at = world_celsius(world, air.at_height) + kit->at;
	}
	return air;
}

static inline struct air_world draw_outing_air(gsl_rng *rng, const struct outing *outing)
{
	struct world_weather weather = outing->hard ? draw_hard_weather(rng) : draw_weather(rng);
	return air_world_in(rng, &weather);
}

/* A length, and what is typed for it. */
struct true_length {
	double truth;
	level_nm typed;
};

#define COVERAGE_NEARS 4
/* Two shores: lengths, and what is declared of them, all signed from the first to the second. */
struct true_place {
	struct true_length far[2], near[COVERAGE_NEARS]; /* near: 2 and 3 of a short setup */
	double transfer; /* the second mark less than it is taken for */
	double slope;    /* beside the tilt, not seen by pegs */
	double flow;     /* the second shore's water stands higher, for each m */
	double mark[2];  /* known elevations less the true ones */
};

static inline struct true_length draw_length(gsl_rng *rng, const struct outing *outing,
                                             double truth)
{
	struct level_terms terms = coverage_terms();
	double u = terms.distance_u[outing->taped ? LEVEL_TAPED : LEVEL_STEPPED];
	double typed = truth * (1 + normal(rng, u));
	return (struct true_length){truth, (level_nm)llround(typed * 1000) * 1000000};
}

static inline struct true_place draw_true_place(gsl_rng *rng, const struct outing *outing)
{
	struct true_place out = {.transfer = flat_error(rng, outing->marks, FREE),
	                         .slope = flat_error(rng, outing->slope, FREE),
	                         .flow = flat_error(rng, outing->flow, FREE)};
	for (int i = 0; i < 2; i++) {
		out.far[i] = draw_length(rng, outing, outing->far * (i ? 0.8 : 1));
		out.mark[i] = normal(rng, outing->known_u);
	}
	for (int i = 0; i < COVERAGE_NEARS; i++)
		out.near[i] = draw_length(rng, outing, gsl_ran_flat(rng, 8, 40));
	return out;
}

/* The surface of one shore's water while it is read. */
struct true_water {
	double waves, seiche, keeps; /* keeps: how much of a wave is there at the next reading */
};

/* Independent waves; or readings of which ten are no more than two: off all alike by up to 2 mm, or
 * low waves that hardly change between readings. */
static inline struct true_water draw_water(gsl_rng *rng, const struct outing *outing, int end)
{
	struct true_water out = {.waves = outing->waves[end]};
	if (outing->correlated && gsl_rng_uniform_int(rng, 2)) {
		out.keeps = 0.8;
		if (out.waves == 0)
			out.waves = log_flat(rng, 0.0005, 0.002);
	} else if (outing->correlated) {
		out.seiche = flat_error(rng, coverage_terms().water_floor, FREE);
	}
	if (out.waves == 0)
		out.waves = log_flat(rng, 0.001, 0.010);
	return out;
}

/* Books n readings of how far a mark stands above the water. */
static inline void read_waters(gsl_rng *rng, const struct true_water *water, int n, double above,
                               struct level_sight *sight)
{
	double wave = normal(rng, water->waves), squares = 0, mean = 0;
	double fresh = sqrt(1 - water->keeps * water->keeps);
	level_wide sum = 0;
	for (int i = 1; i <= n; i++) {
		level_nm one =
		    written(above + water->seiche + wave + normal(rng, method_u(LEVEL_TAPE, 0)));
		double off = level_to_meters(one) - mean;
		mean += off / i;
		squares += off * (level_to_meters(one) - mean);
		sum += one;
		wave = water->keeps * wave + fresh * normal(rng, water->waves);
	}
	sight->water_count = n;
	sight->water = n ? level_round_ratio(sum, n) : 0;
	sight->water_sd = n > 1 ? sqrt(squares / (n - 1)) : 0;
}

#endif
