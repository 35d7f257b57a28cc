/* What a field test says. */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "report/quantities.h"
#include "rodbook/report/report.h"

/* A small length with its unit, finer than a page has it: 0.01 mm, 0.00001 ft, 0.0001 in. */
static const char *fine(char text[LEVEL_LENGTH_BYTES], double meters,
                        const struct level_style *style)
{
	struct level_style finer = {.unit = style->unit, .decimals = 5};
	if (style->unit == LEVEL_M || style->unit == LEVEL_FT)
		level_format_length(text, level_from_meters(meters), &finer, false);
	else
		snprintf(text, LEVEL_LENGTH_BYTES, "%.4f", meters / 0.0254);
	return text;
}

static void line(FILE *out, const char *name, double meters, const struct level_style *style,
                 const char *note)
{
	char text[LEVEL_LENGTH_BYTES];
	fprintf(out, "%-24s %12s%s%s\n", name, fine(text, meters, style), *note ? "   " : "", note);
}

static const char *word(bool passes)
{
	return passes ? "passes" : "FAILS";
}

static void figures(FILE *out, const struct level_fieldtest *t, const struct level_style *style)
{
	size_t asked = t->full ? LEVEL_FIELDTEST_FULL : LEVEL_FIELDTEST_SIMPLIFIED;
	bool inches = style->unit == LEVEL_IN || style->unit == LEVEL_FTIN;
	char note[80];
	fprintf(out, "%s test, 2 series of %zu pairs, in %s\n", t->full ? "full" : "simplified",
	        t->pairs, inches ? "inches" : level_unit_name(style->unit));
	if (2 * t->pairs != asked)
		fprintf(out, "the procedure asks for %zu pairs each\n", asked / 2);
	line(out, t->full ? "mean of series 1" : "mean, midway", t->mean[0], style, "BS less FS");
	line(out, t->full ? "mean of series 2" : "mean, near one rod", t->mean[1], style, "");
	snprintf(note, sizeof note, "of one height difference, %.0f degree%s of freedom",
	         t->freedom, t->freedom > 1 ? "s" : "");
	line(out, "standard deviation s", t->s, style, note);
	if (t->s == 0)
		fprintf(out, "the readings show no spread at all: read finer, and estimate "
		             "tenths\n");
	if (t->full)
		line(out, "s of 1 km double run", t->s_km, style, "2.887 s, sights of 30 m");
}

static void simplified_words(FILE *out, const struct level_fieldtest *t,
                             const struct level_style *style)
{
	char limit[LEVEL_LENGTH_BYTES];
	line(out, "difference of means", t->difference, style, "");
	fprintf(out, "means: %s: they may differ by %s, 2.5 s\n", word(t->difference_passes),
	        fine(limit, t->limit, style));
	fprintf(out, "  %s\n",
	        t->difference_passes
	            ? "no tilt shows beyond the scatter of the readings"
	            : "the line of sight tilts, or a rod moved: test it by two pegs, have it "
	              "adjusted,\n  and balance every sight until then");
}

static void zeros_words(FILE *out, const struct level_fieldtest *t, const struct level_style *style)
{
	char limit[LEVEL_LENGTH_BYTES];
	line(out, "delta", t->difference, style, "mean of series 1 less that of series 2");
	fprintf(out, "delta: %s: it may be %s, %.2f s, at 95 %%\n", word(t->difference_passes),
	        fine(limit, t->limit, style), t->s > 0 ? t->limit / t->s : 0);
	fprintf(
	    out, "  %s\n",
	    t->difference_passes
	        ? "the zeros of the rods do not differ beyond the scatter"
	        : "the zeros of the rods differ, by half of delta where they were exchanged, or\n"
	          "  something moved: use one rod, or an even number of setups");
}

static void sigma_words(FILE *out, const struct level_fieldtest *t, const struct level_style *style)
{
	char sigma[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	if (!t->has_sigma) {
		fprintf(out, "sigma: not tested: no standard deviation is stated (--sigma S)\n");
		return;
	}
	fprintf(out, "sigma: %s: s may be %s, %.2f of the stated %s, at 95 %%\n",
	        word(t->sigma_passes), fine(limit, t->chi_factor * t->sigma, style), t->chi_factor,
	        fine(sigma, t->sigma, style));
	fprintf(out, "  %s\n",
	        t->sigma_passes
	            ? "nothing speaks against the stated figure"
	            : "level, rods, air and observer together do not reach the stated figure");
}

static void ratio_words(FILE *out, const struct level_fieldtest *t, bool other)
{
	if (!other) {
		fprintf(out, "ratio: not tested: no other test is given (--other FILE)\n");
		return;
	}
	if (!t->has_ratio) {
		fprintf(out, "ratio: not tested: one of both tests shows no spread at all\n");
		return;
	}
	fprintf(out,
	        "ratio: %s: s^2 is %.3f of the other one's, and may be %.2f to %.2f at 95 %%\n",
	        word(t->ratio_passes), t->f_ratio, t->f_low, t->f_high);
	fprintf(out, "  %s\n",
	        t->ratio_passes
	            ? "both tests may have one and the same standard deviation"
	            : "the two tests differ: look at what was not alike, level, air or observer");
}

static const char *answer(bool made, bool passes)
{
	return !made ? "" : passes ? "yes" : "no";
}

static void write_csv(FILE *out, const struct level_fieldtest *t, const struct level_style *style)
{
	bool full = t->full, sigma = t->has_sigma, ratio = t->has_ratio;
	quantity_header(out);
	quantity_meters(out, "s", true, t->s, style);
	quantity_meters(out, "s_km", full, t->s_km, style);
	quantity_meters(out, "mean_1", true, t->mean[0], style);
	quantity_meters(out, "mean_2", true, t->mean[1], style);
	quantity_meters(out, "difference", !full, t->difference, style);
	quantity_meters(out, "limit", !full, t->limit, style);
	quantity_text(out, "passes_difference", answer(!full, t->difference_passes));
	quantity_real(out, "chi_factor", sigma, t->chi_factor, "");
	quantity_text(out, "passes_sigma", answer(sigma, t->sigma_passes));
	quantity_real(out, "f_low", ratio, t->f_low, "");
	quantity_real(out, "f_ratio", ratio, t->f_ratio, "");
	quantity_real(out, "f_high", ratio, t->f_high, "");
	quantity_text(out, "passes_ratio", answer(ratio, t->ratio_passes));
	quantity_meters(out, "delta", full, t->difference, style);
	quantity_meters(out, "delta_limit", full, t->limit, style);
	quantity_text(out, "passes_delta", answer(full, t->difference_passes));
	quantity_text(out, "passes", answer(true, level_fieldtest_passes(t)));
}

void report_fieldtest(FILE *out, const struct level_fieldtest *t, bool other,
                      const struct level_style *style, bool csv)
{
	if (csv) {
		write_csv(out, t, style);
		return;
	}
	figures(out, t, style);
	if (t->full)
		zeros_words(out, t, style);
	else
		simplified_words(out, t, style);
	sigma_words(out, t, style);
	ratio_words(out, t, other);
	fprintf(out, "%s\n",
	        level_fieldtest_passes(t) ? "passes what was tested"
	                                  : "FAILS: repeat the test before you act on it");
}
