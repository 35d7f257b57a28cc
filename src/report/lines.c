#include "report/lines.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/quantities.h"
#include "rodbook/level/warnings.h"
#include "rodbook/work/wires.h"
#include "text/cells.h"

struct level_style lines_finer(const struct level_style *style)
{
	struct level_style finer = *style;
	if (finer.decimals < 6)
		finer.decimals++;
	return finer;
}

struct level_style lines_telling(level_nm figure, level_nm limit, const struct level_style *style)
{
	struct level_style finer = *style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], zero[LEVEL_LENGTH_BYTES];
	for (; llabs(figure) != limit && finer.decimals < 6; finer.decimals++) {
		level_format_length(a, llabs(figure), &finer, false);
		level_format_length(b, limit, &finer, false);
		level_format_length(zero, 0, &finer, false);
		if (strcmp(a, b) != 0 && (limit == 0 || strcmp(b, zero) != 0))
			break;
	}
	return finer;
}

void lines_length(FILE *out, const char *name, double meters, const struct level_style *style,
                  bool plus, const char *note)
{
	struct level_style finer = lines_finer(style);
	char text[LEVEL_LENGTH_BYTES];
	level_format_length(text, level_from_meters(meters), &finer, plus);
	cells_put(out, name, 24);
	fprintf(out, " %12s%s%s\n", text, *note ? "   " : "", note);
}

char *lines_whole_up(char text[LEVEL_LENGTH_BYTES], double meters, const struct level_style *style)
{
	struct level_style whole = level_distance_style(style);
	level_nm unit = whole.unit == LEVEL_M ? LEVEL_NM_PER_M : LEVEL_NM_PER_FT;
	whole.decimals = 0;
	return level_format_length(text, (level_from_meters(meters) + unit - 1) / unit * unit,
	                           &whole, false);
}

/* One part of the allowance: its limit, its size at 95 %, and u. */
static void part(FILE *out, const struct level_allowance *a, const char *name, double bound,
                 double u, const char *note, const struct level_style *style)
{
	struct level_style finer = lines_finer(style);
	char limit[LEVEL_LENGTH_BYTES], size[LEVEL_LENGTH_BYTES], one[LEVEL_LENGTH_BYTES];
	fputs("  ", out);
	cells_put(out, name, 22);
	fprintf(out, " %12s %10s %10s%s%s\n",
	        level_format_length(limit, level_from_meters(bound), &finer, false),
	        level_format_length(size, level_from_meters(level_size_at_95(a, bound, u)), &finer,
	                            false),
	        level_format_length(one, level_from_meters(u), &finer, false), *note ? "   " : "",
	        note);
}

void lines_instrument(const struct level_terms *terms, const struct book_figures *figures,
                      const char *name, int index, char *text, size_t size)
{
	char tolerance[BOOK_VALUE_BYTES], source[BOOK_VALUE_BYTES] = "", tilt[BOOK_VALUE_BYTES],
	                                  figure[LEVEL_NAME_BYTES + 20];
	const char *blank = *name ? " " : "";
	char counted[80] = "";
	snprintf(figure, sizeof figure, "instrument%s%s", blank, name);
	book_figure(figures, figure, tolerance);
	if (!*name)
		book_figure(figures, "instrument_source", source);
	/* of an amendment without its reason, which stands below */
	source[strcspn(source, ":")] = '\0';
	snprintf(figure, sizeof figure, "tilt%s%s", blank, name);
	book_figure(figures, figure, tilt);
	/* Who redoes the drop needs the tilt that its readings were freed of. */
	if (terms->instrument[index].g > 0 || terms->instrument[index].g < 0)
		snprintf(counted, sizeof counted, "; %+.6f counts, curvature left in",
		         level_light_tilt(terms, index) * 1000);
	if (level_test_counts(terms, index))
		snprintf(text, size, "%.30s%stilted %.20s%s", name, blank, tilt, counted);
	else
		snprintf(text, size, "%.30s%s%.30s%s%.20s%s", name, blank, tolerance,
		         *source ? ", " : "", source,
		         *tilt ? ", its test too coarse to count" : "");
}

/* What one declared entry limits a drop to, m. */
static double declared_bound(const struct level_declared *declared, double reach)
{
	return declared->bound + declared->slope * fabs(reach);
}

static void declared_lines(FILE *out, const struct level_allowance *a,
                           const struct level_terms *terms, double reach,
                           const struct level_style *style)
{
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++) {
		double bound = declared_bound(&terms->declared[i], reach);
		char note[60] = "declared";
		if (terms->declared[i].slope > 0)
			snprintf(note, sizeof note, "declared, %.4g mm/m",
			         terms->declared[i].slope * 1000);
		if (*terms->declared[i].name && bound > 0)
			part(out, a, terms->declared[i].name, bound, bound / sqrt(3.0), note,
			     style);
	}
}

/* What is declared without a name. */
static double plain_declared(const struct level_terms *terms)
{
	double sum = 0;
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (!*terms->declared[i].name)
			sum += terms->declared[i].bound;
	return sum;
}

void lines_allowance(FILE *out, const struct level_allowance *a, const struct level_terms *terms,
                     double reach, const char *instruments, const struct level_style *style)
{
	char note[BOOK_VALUE_BYTES + 40];
	bool by_all = terms->decides == LEVEL_BY_ALL;
	fprintf(out, "%-24s %12s %10s %10s\n", "allowance", "limit", "at 95 %", "u");
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		double bound = a->bound[i], u = a->u[i];
		note[0] = '\0';
		if (i == LEVEL_LINE_INSTRUMENT)
			snprintf(note, sizeof note, "%.300s", instruments);
		if (i == LEVEL_LINE_DECLARED) {
			bound = plain_declared(terms);
			u = bound / sqrt(3.0);
		}
		/* A line that nothing enters is none. */
		if (bound > 0)
			part(out, a, level_allowance_name((enum level_allowance_line)i), bound, u,
			     note, style);
		if (i == LEVEL_LINE_DECLARED)
			declared_lines(out, a, terms, reach, style);
	}
	lines_length(out, "  if all add up", a->total_bound, style, false, by_all ? "decides" : "");
	snprintf(note, sizeof note, "%.2f x root of the sum of u^2%s",
	         a->u_total > 0 ? a->total_u95 / a->u_total : 2, by_all ? "" : "; decides");
	if (a->total_u95 >= a->total_bound)
		snprintf(note, sizeof note, "if all add up, which it never exceeds%s",
		         by_all ? "" : "; decides");
	lines_length(out, "  at 95 %", a->total_u95, style, false, note);
}

/* A declared name that became a line later stays apart from it. */
static const char *apart(const char *name)
{
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		if (strcmp(name, level_allowance_name((enum level_allowance_line)i)) == 0)
			return "declared_";
	return "";
}

void lines_allowance_csv(FILE *out, const struct level_allowance *a,
                         const struct level_terms *terms, double reach,
                         const struct level_style *style)
{
	char name[60];
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		snprintf(name, sizeof name, "allowance_%s",
		         level_allowance_name((enum level_allowance_line)i));
		quantity_meters(out, name, true,
		                i == LEVEL_LINE_DECLARED ? plain_declared(terms) : a->bound[i],
		                style);
	}
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (*terms->declared[i].name) {
			snprintf(name, sizeof name, "allowance_%s%s",
			         apart(terms->declared[i].name), terms->declared[i].name);
			quantity_meters(out, name, true, declared_bound(&terms->declared[i], reach),
			                style);
		}
}

void lines_radius(char *text, size_t size, double radius)
{
	if (radius <= 0)
		snprintf(text, size, "none");
	else if (isinf(radius))
		snprintf(text, size, "no upper limit");
	else
		snprintf(text, size, "%.*f km", radius < 1e5 ? 3 : 0, radius / 1000);
}

const char *report_k_source(enum level_k_source source)
{
	static const char *const words[LEVEL_K_SOURCES] = {
	    [LEVEL_K_DEFAULT] = "a default",
	    [LEVEL_K_THERMOMETERS] = "two thermometers",
	    [LEVEL_K_WATER] = "the water's surface",
	    [LEVEL_K_SET] = "set by the observer",
	    [LEVEL_K_PLAN] = "the plan",
	    [LEVEL_K_PLAN_AIR] = "the plan's air, not booked air",
	};
	return words[source];
}

void report_k(const struct level_terms *terms, enum level_k_source source, char *text, size_t size)
{
	snprintf(text, size, "k %.4g, from %.4g to %.4g, %s", terms->k, terms->k - terms->dk_low,
	         terms->k + terms->dk_high, report_k_source(source));
}

const char *report_air_words(double k, double radius)
{
	if (k < 0)
		return "light bends up in this air: even a flat surface would show a drop";
	if (k >= LEVEL_MEAN_RADIUS / radius)
		return "light bends down as much as the Earth in this air, or more: the far shore "
		       "is lifted, and even a round surface shows no drop";
	return "";
}

void lines_k_csv(FILE *out, const struct level_k *k, enum level_k_source source)
{
	quantity_real(out, "k", true, k->k, "");
	quantity_real(out, "dk_low", true, k->low, "");
	quantity_real(out, "dk_high", true, k->high, "");
	quantity_text(out, "k_source", level_k_source_name(source));
}

static void put_way(FILE *out, const char *name, const struct level_k *k)
{
	fprintf(out, "  by %s: k %.4f, from %.4f to %.4f\n", name, k->k, k->k - k->low,
	        k->k + k->high);
}

void lines_found(FILE *out, const struct level_k_found *found)
{
	if (found->has_pair && found->has_surface) {
		put_way(out, report_k_source(LEVEL_K_THERMOMETERS), &found->pair.k);
		put_way(out, report_k_source(LEVEL_K_WATER), &found->surface.k);
	}
	if (found->disagree)
		fprintf(out, "the two ways disagree: what k may be reaches to the outer ends of "
		             "both\n");
	if (found->from_land)
		fprintf(out, "the wind comes from land: a mast on this shore measures the land, "
		             "so its readings do not count\n");
	if (found->calm_and_cold)
		fprintf(out, "calm air over colder water: the worst hour for this; wait until the "
		             "water is warmer than the air\n");
}

static void csv_way(FILE *out, const char *name, const struct level_k *k)
{
	char text[40];
	snprintf(text, sizeof text, "k_%s", name);
	quantity_real(out, text, true, k->k, "");
	snprintf(text, sizeof text, "dk_low_%s", name);
	quantity_real(out, text, true, k->low, "");
	snprintf(text, sizeof text, "dk_high_%s", name);
	quantity_real(out, text, true, k->high, "");
}

const char *lines_way(const struct work_run *run, size_t i, char text[LINES_WAY_BYTES])
{
	const struct level_sight *sight = &run->book.run.sight[i];
	const char *way = sight->distance_by == LEVEL_WIRED ? level_distance_way_name(LEVEL_WIRED)
	                                                    : run->book.note[i].distance_by;
	char plan[BOOK_VALUE_BYTES];
	text[0] = '\0';
	if (sight->distance == 0)
		return text;
	if (*way)
		snprintf(text, LINES_WAY_BYTES, ", by %.12s", way);
	else if (book_figure(&run->terms.figures, "distance_by", plan))
		snprintf(text, LINES_WAY_BYTES, ", by %.12s in the plan", plan);
	return text;
}

const char *lines_wires(const struct work_run *run, size_t i, char text[LEVEL_LENGTH_BYTES + 20])
{
	const struct level_sight *sight = &run->book.run.sight[i];
	level_nm made = work_wires_make(&run->settings, sight);
	char length[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (level_wires_differ(sight, made))
		snprintf(text, LEVEL_LENGTH_BYTES + 20, "the wires make %s",
		         level_format_distance_unit(length, made, &run->settings.style));
	return text;
}

void lines_found_csv(FILE *out, const struct level_k_found *found)
{
	if (!found->has_pair || !found->has_surface)
		return;
	csv_way(out, level_k_source_name(LEVEL_K_THERMOMETERS), &found->pair.k);
	csv_way(out, level_k_source_name(LEVEL_K_WATER), &found->surface.k);
	quantity_text(out, "disagree", found->disagree ? "yes" : "no");
}

const char *report_remedy(enum level_allowance_line line, const struct work_done *done)
{
	static const char *const words[] = {
	    [WORK_PEGS_IN_SETS] = "a peg test in several sets, or a longer sight",
	    [WORK_MORE_SETS] = "more sets of the peg test, or pegs farther apart",
	    [WORK_SIGHT_A_TARGET] = "a target, more readings, or a longer sight",
	    [WORK_READ_MORE] = "more readings, or a longer sight",
	    [WORK_MEASURE_AIR] = "measure the air, warmer water, a higher line",
	    [WORK_WATER_TOO] = "the water's temperature and the wind, another hour, a higher line",
	    [WORK_ANOTHER_HOUR] = "another hour or day, warmer water, a higher line",
	    [WORK_TRANSFER_AGAIN] = "redo the transfers, or sight back from the other shore",
	    [WORK_STILL_WATER] = "more stilled readings, on both shores at once",
	    [WORK_LEVEL_MARKS] = "level the two marks again",
	    [WORK_TEST_THAT_DAY] = "test the level on the day, just before the sight",
	    [WORK_TEST_AFTER] = "test the level again, just after the sight",
	    [WORK_MEASURE_DISTANCES] = "measure the distances",
	};
	return words[work_remedy(line, done)];
}
