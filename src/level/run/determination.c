#include "rodbook/level/determination.h"

#include <math.h>
#include <string.h>

/* Half of the 10 mm that a setup may miss by where distances are not known, m. */
#define UNKNOWN_SETUP_U 0.005

static double squared(double value)
{
	return value * value;
}

/* What the errors of a sum of sights make of its uncertainty. */
struct errors {
	double readings;               /* variance, m^2 */
	double s_d[LEVEL_INSTRUMENTS]; /* m */
	double s_d2, d4;               /* m^2, m^4 */
	double unknown;                /* setups */
};

static double variance_of(const struct errors *e, const struct level_terms *terms)
{
	double dk = (terms->dk_low + terms->dk_high) / 4 / (2 * LEVEL_MEAN_RADIUS);
	double sum = e->readings + e->unknown * squared(UNKNOWN_SETUP_U);
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		const struct level_instrument *with = &terms->instrument[i];
		double u = level_test_counts(terms, i) ? with->u : with->tolerance / sqrt(3.0);
		sum += (squared(u) + squared(terms->drift)) * squared(e->s_d[i]);
	}
	return sum + squared(dk) * fmax(squared(e->s_d2), e->d4);
}

static struct errors errors_of(const struct level_drop_sums *sums)
{
	struct errors out = {
	    .readings = sums->reading_variance, .s_d2 = sums->s_d2, .d4 = sums->d4};
	memcpy(out.s_d, sums->s_d, sizeof out.s_d);
	return out;
}

double level_path_variance(const struct level_path *path, const struct level_terms *terms)
{
	struct errors e = errors_of(&path->sums);
	e.unknown = path->setups_unknown;
	return variance_of(&e, terms);
}

double level_path_variance_between(const struct level_path *earlier, const struct level_path *later,
                                   const struct level_terms *terms)
{
	const struct level_drop_sums *a = &earlier->sums, *b = &later->sums;
	double shared = a->reading_variance - earlier->loose_readings,
	       shared_d4 = a->d4 - earlier->loose_d4;
	struct errors e = {.readings = a->reading_variance + b->reading_variance - 2 * shared,
	                   .s_d2 = b->s_d2 - a->s_d2,
	                   .d4 = a->d4 + b->d4 - 2 * shared_d4};
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		e.s_d[i] = b->s_d[i] - a->s_d[i];
	/* Two sights of one setup on one station are as long as each other. */
	if (earlier->first_row != later->first_row)
		e.unknown =
		    later->setups_unknown - earlier->setups_unknown + 2 * earlier->loose_unknown;
	return variance_of(&e, terms);
}

/* The variance of e(to) - p e(whole) of which both share a part. */
static double spread(double to, double loose, double whole, double p)
{
	double shared = to - loose;
	return squared(1 - p) * shared + loose + squared(p) * (whole - shared);
}

double level_spread_variance(const struct level_spread_at *at, const struct level_terms *terms)
{
	const struct level_path *to = &at->to, *whole = &at->whole;
	double p = at->p, rest = 1 - p;
	struct errors e = {
	    .readings = spread(to->sums.reading_variance, to->loose_readings,
	                       whole->sums.reading_variance, p),
	    .s_d2 = to->sums.s_d2 - p * whole->sums.s_d2,
	    .d4 = spread(to->sums.d4, to->loose_d4, whole->sums.d4, p),
	    .unknown = spread(to->setups_unknown, to->loose_unknown, whole->setups_unknown, p)};
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		e.s_d[i] = to->sums.s_d[i] - p * whole->sums.s_d[i];
	return variance_of(&e, terms) +
	       (at->one_mark ? squared(at->start_u)
	                     : squared(rest * at->start_u) + squared(p * at->end_u));
}

bool level_differs(level_nm difference, double u)
{
	return fabs(level_to_meters(difference)) > 2 * u;
}

int level_setups_unknown(const struct level_sums *sums)
{
	return sums->unknown_distances < sums->setups ? sums->unknown_distances : sums->setups;
}

/* The sums before the setup of a row. */
static struct level_sums sums_before(const struct level_page *page, size_t first_row)
{
	return first_row ? page->row[first_row - 1].sums : (struct level_sums){0};
}

/* Whether the setup that begins at row `first` stands more than once: its last row tells. */
static bool stands_again(const struct level_page *page, size_t first)
{
	size_t last = first, behind = page->count;
	while (behind - last > 1) {
		size_t middle = last + (behind - last) / 2;
		if (page->row[middle].line.first_row == first)
			last = middle;
		else
			behind = middle;
	}
	return page->row[last].line.standings > 1 ||
	       (page->row[last].line.bs_row != SIZE_MAX && page->row[last].line.bs_row != first);
}

/* An IS shares the BS of its setup with what comes after it; where the setup stands again, the line
 * goes on by a mean, and not even that is shared. */
static void hang(const struct level_run *run, const struct level_page *page,
                 const struct level_terms *terms, size_t row, struct level_path *path)
{
	const struct level_sight *bs = &run->sight[path->bs_row], *is = &run->sight[row];
	struct level_sums before = sums_before(page, path->first_row);
	struct level_reach from = level_reach_of(bs), to = level_reach_of(is);
	from.declared = to.declared = false;
	path->sums = before.drop;
	level_drop_add(&path->sums, terms, &from, &to);
	path->setups_unknown =
	    before.unknown_distances < before.setups ? before.unknown_distances : before.setups;
	path->loose_readings = squared(level_reading_u(terms, &to).u);
	path->loose_d4 = squared(squared(to.distance));
	if (stands_again(page, path->first_row)) {
		path->loose_readings += squared(level_reading_u(terms, &from).u);
		path->loose_d4 += squared(squared(from.distance));
	}
	path->loose_unknown = !bs->distance || !is->distance;
	path->setups_unknown += path->loose_unknown;
}

bool level_determine(const struct level_run *run, const struct level_page *page,
                     const struct level_terms *terms, size_t row, struct level_determination *out)
{
	const struct level_sight *sight = &run->sight[row];
	const struct level_row *at = &page->row[row];
	if (!level_counted(sight) || sight->kind == LEVEL_BS || !at->has_elevation ||
	    at->line.broken_row != SIZE_MAX)
		return false;
	*out = (struct level_determination){
	    .row = row,
	    .how = sight->kind,
	    .standings = 1,
	    .elevation = at->has_corrected ? at->corrected : at->elevation,
	    .corrected = at->has_corrected,
	    .path = {.first_row = at->line.first_row, .bs_row = at->line.bs_row}};
	if (sight->kind == LEVEL_IS) {
		hang(run, page, terms, row, &out->path);
		return true;
	}
	if (!level_carries(run, page, row))
		return false;
	if (sight->kind == LEVEL_FS)
		out->standings = at->line.standings;
	out->path.sums = at->sums.drop;
	out->path.setups_unknown = level_setups_unknown(&at->sums);
	return true;
}

bool level_determined_before(const struct level_run *run, const struct level_page *page,
                             const struct level_terms *terms, const struct level_determination *of,
                             struct level_determination *out)
{
	for (size_t i = of->row; i-- > 0;)
		if (strcmp(run->sight[i].station, run->sight[of->row].station) == 0 &&
		    level_determine(run, page, terms, i, out))
			return true;
	return false;
}
