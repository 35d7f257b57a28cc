/* Crossings observed in a world whose truth is known, their errors drawn at random. */
#ifndef ORACLE_OBSERVE_H
#define ORACLE_OBSERVE_H

#include "rodbook/page.h"
#include "rodbook/quantile.h"
#include "errors.h"
#include "light.h"

#define SETUPS_MOST 4

struct standing {
	double bs, fs; /* distances, m */
	enum level_method bs_method, fs_method;
	int instrument;
};

/* What is true of a crossing, and how it is observed. */
struct scene {
	const char *name;
	struct level_terms terms;
	double radius; /* of the true Earth; INFINITY: flat */
	size_t setups;
	struct standing setup[SETUPS_MOST];
	bool home;       /* ends on its start mark */
	bool back;       /* from the far mark to the near one: marks err the other way */
	bool same_air;   /* one k for all setups, not one each */
	int waters[2];   /* water readings at start and end; 0: none */
	double waves[2]; /* standard deviation of one of them, m */
	double known_u;  /* of the elevation of either end; 0: not known */
};

/* Errors that crossings can share. */
struct shared {
	double tilt[LEVEL_INSTRUMENTS];  /* true tilts ... */
	double found[LEVEL_INSTRUMENTS]; /* ... and as a peg test finds them */
	double dk;                       /* of the day's air */
	double marks; /* how far the far mark stands above where it is declared */
};

/* Sights and terms as they would be booked. */
struct booked {
	struct level_terms terms;
	struct level_sight sight[2 * SETUPS_MOST];
	struct level_run run;
};

static inline struct shared draw_shared(gsl_rng *rng, const struct level_terms *terms,
                                        enum draw draw)
{
	struct shared out = {.dk = normal_error(rng, terms->dk / 2, draw)};
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		const struct level_instrument *with = &terms->instrument[i];
		out.tilt[i] = flat_error(rng, with->tolerance, draw);
		if (with->tested)
			out.found[i] = out.tilt[i] + normal_error(rng, with->u, draw);
	}
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		out.marks += flat_error(rng, terms->declared[i].bound, draw);
	return out;
}

/* What perfect readings would show in air of the nominal k: what an observed drop estimates. */
static inline double true_drop(const struct scene *scene)
{
	double sum = 0, hi = 1.6, k = scene->terms.k;
	for (size_t i = 0; i < scene->setups; i++)
		sum += line_height(scene->radius, hi, 0, k, scene->setup[i].fs) -
		       line_height(scene->radius, hi, 0, k, scene->setup[i].bs);
	return sum;
}

/* A mean of water readings, for a mark `height` above the still water. Its bound is t95 x sd / sqrt
 * n, or twice the tape's where that stands for the spread. */
static inline void read_water(gsl_rng *rng, const struct scene *scene, int end, double height,
                              enum draw draw, struct level_sight *sight)
{
	static double t95[64];
	int n = scene->waters[end];
	double mean, sd, tape = scene->terms.reading_fixed[LEVEL_TAPE], bound;
	if (n > 1 && t95[n - 1] == 0)
		t95[n - 1] = level_t95(n - 1);
	do {
		double sum = 0, squares = 0;
		for (int i = 0; i < n; i++) {
			double wave = normal_error(rng, scene->waves[end], FREE);
			sum += wave;
			squares += wave * wave;
		}
		mean = sum / n;
		sd = n > 1 ? sqrt(fmax(0, squares - n * mean * mean) / (n - 1)) : 0;
		bound = (sd > tape ? t95[n - 1] * sd : 2 * tape) / sqrt(n);
	} while (draw == INSIDE && fabs(mean) > bound);
	if (draw == CORNER)
		mean = either(rng, bound);
	sight->water_count = n;
	sight->water = level_from_meters(height + mean);
	sight->water_sd = sd;
}

static inline struct level_sight read_rod(gsl_rng *rng, const struct scene *scene, double line,
                                          const struct standing *at, enum level_kind kind,
                                          double mark, enum draw draw)
{
	const struct level_terms *terms = &scene->terms;
	double distance = kind == LEVEL_BS ? at->bs : at->fs;
	enum level_method method = kind == LEVEL_BS ? at->bs_method : at->fs_method;
	double u = terms->reading_fixed[method] + terms->reading_slope[method] * distance;
	return (struct level_sight){.kind = kind,
	                            .method = method,
	                            .reading =
	                                level_from_meters(line - mark + normal_error(rng, u, draw)),
	                            .distance = level_from_meters(distance),
	                            .instrument = at->instrument};
}

static inline void know(gsl_rng *rng, const struct scene *scene, double height, enum draw draw,
                        struct level_sight *sight)
{
	sight->has_known = true;
	sight->known = level_from_meters(height + normal_error(rng, scene->known_u, draw));
	sight->known_u = level_from_meters(scene->known_u);
}

/* Observes the scene. Heights are above the level surface through the still water at the start. */
static inline void observe(gsl_rng *rng, const struct scene *scene, const struct shared *shared,
                           enum draw draw, struct booked *out)
{
	const struct level_terms *terms = &scene->terms;
	size_t n = scene->setups;
	/* Ends stand at the water unless that is measured. */
	double base[SETUPS_MOST + 1], mark[SETUPS_MOST + 1];
	bool measured = scene->waters[0] || scene->waters[1] || scene->known_u > 0;
	for (size_t i = 0; i <= n; i++)
		mark[i] = base[i] = measured || (i > 0 && i < n) ? gsl_ran_flat(rng, 0.1, 0.5) : 0;
	if (scene->home) {
		mark[n] = base[n] = base[0];
	} else {
		mark[n] += flat_error(rng, fmax(terms->water, terms->water_floor), draw);
		mark[scene->back ? 0 : n] += shared->marks;
	}
	out->terms = *terms;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		out->terms.instrument[i].tilt = shared->found[i];
	for (size_t i = 0; i < n; i++) {
		const struct standing *at = &scene->setup[i];
		struct level_sight *bs = &out->sight[2 * i], *fs = bs + 1;
		double hi = gsl_ran_flat(rng, 1.4, 1.8), tilt = shared->tilt[at->instrument];
		double k = terms->k +
		           (scene->same_air ? shared->dk : normal_error(rng, terms->dk / 2, draw));
		*bs = read_rod(rng, scene, line_height(scene->radius, hi, tilt, k, at->bs), at,
		               LEVEL_BS, mark[i], draw);
		*fs = read_rod(rng, scene, line_height(scene->radius, hi, tilt, k, at->fs), at,
		               LEVEL_FS, mark[i + 1], draw);
		bs->station[0] = (char)('A' + i);
		fs->station[0] = (char)(scene->home && i + 1 == n ? 'A' : 'B' + i);
	}
	for (int end = 0; end < 2; end++) {
		struct level_sight *sight = &out->sight[end ? 2 * n - 1 : 0];
		if (scene->waters[end])
			read_water(rng, scene, end, base[end ? n : 0], draw, sight);
		if (scene->known_u > 0)
			know(rng, scene, base[end ? n : 0], draw, sight);
	}
	out->run = (struct level_run){LEVEL_CROSSING, 2 * n, out->sight};
}

#endif
