/* Several crossings together, on paper. */
#include <math.h>
#include <string.h>

#include "report/drop/drop.h"
#include "report/html/sheet.h"
#include "report/lines.h"
#include "report/picture/picture.h"
#include "report/quantities.h"
#include "text/columns.h"

/* What a reader must know of how its figures came about. */
static const char *seal_words(const struct crossing_row *row)
{
	if (!row->sealed)
		return "not sealed";
	if (row->late)
		return row->amended ? "late, amended" : "late";
	return row->amended ? "amended" : "";
}

static const char *left_words(char *text, size_t size, const struct crossing_left *left)
{
	if (left->unread.kind)
		snprintf(text, size, "%.470s", left->unread.text);
	else if (!report_no_drop(left->run, text, size))
		report_no_answer(&left->run->closing, text, size);
	return text;
}

static void add_row(struct columns *table, const struct crossings *c,
                    const struct crossing_row *row)
{
	const double lengths[] = {row->flat, row->predicted, row->observed, row->allowance};
	const struct level_style finer = lines_finer(&c->style);
	char reach[LEVEL_LENGTH_BYTES], length[4][LEVEL_LENGTH_BYTES], answer[80];
	const char *cells[] = {row->run,  row->day,  reach,     length[0],
	                       length[1], length[2], length[3], answer};
	level_format_distance_unit(reach, level_from_meters(row->reach), &c->style);
	for (int i = 0; i < 4; i++)
		level_format_length(length[i], level_from_meters(lengths[i]), &finer, false);
	snprintf(answer, sizeof answer, "%s%s%s%s", level_answer_code(row->answer),
	         *seal_words(row) ? "; " : "", seal_words(row),
	         row->closed     ? "; closed"
	         : row->reopened ? "; reopened"
	                         : "");
	columns_add(table, cells);
}

/* False where memory was short. */
static bool put_rows(FILE *out, const struct crossings *c)
{
	static const char *const head[] = {"run",   "day",  "reach",     "flat",
	                                   "round", "seen", "allowance", "answer"};
	struct columns table = {.columns = sizeof head / sizeof *head};
	bool ok;
	columns_add(&table, head);
	for (size_t i = 0; i < c->count; i++)
		add_row(&table, c, &c->row[i]);
	ok = columns_put(out, &table, "llrrrrrl");
	columns_free(&table);
	return ok;
}

/* Those of the book that do not count here. */
static void put_left(FILE *out, const struct crossings *c)
{
	char text[480];
	for (size_t i = 0; i < c->left_count; i++) {
		fprintf(out, "%s  left out: %s\n", c->left[i].name,
		        left_words(text, sizeof text, &c->left[i]));
	}
}

static void put_radius(FILE *out, const struct level_radius *radius)
{
	char low[40], middle[40], high[40];
	lines_radius(low, sizeof low, radius->low);
	lines_radius(middle, sizeof middle, radius->middle);
	lines_radius(high, sizeof high, radius->high);
	if (radius->low <= 0)
		fprintf(out,
		        "radius that would fit: none, the surface would have to curve the other "
		        "way\n");
	else
		fprintf(out, "radius that would fit: from %s, middle %s, %s%s\n", low, middle,
		        isinf(radius->high) ? "" : "to ", high);
}

static void put_agreement(FILE *out, double chi_square, int freedom, double chance)
{
	if (freedom == 0)
		fprintf(out, "consistency: nothing is left over to compare\n");
	else
		fprintf(
		    out,
		    "consistency: chi-square %.2f, %d degree%s of freedom, chance of so much %.2f: "
		    "%s\n",
		    chi_square, freedom, freedom == 1 ? "" : "s", chance,
		    chance >= 0.05 ? "they agree"
		                   : "THEY DISAGREE by more than their allowances carry");
}

static void put_none(FILE *out, const struct level_finding *finding)
{
	const struct level_closing none = {.finding = *finding};
	char text[200];
	report_no_answer(&none, text, sizeof text);
	fprintf(out, "no answer: %s\n", text);
}

static void put_fit(FILE *out, const struct crossings *c, const struct level_combined *r)
{
	bool by_bound = c->decides == LEVEL_BY_ALL;
	if (!r->has_fit) {
		fprintf(out, "tilt and curvature apart: no: %s\n", r->no_fit);
		return;
	}
	fprintf(out, "tilt and curvature apart, fitted to the crossings themselves:\n");
	for (int t = 0; t < r->tilts; t++) {
		const char *name = c->instrument[r->tilt_instrument[t]];
		fprintf(out,
		        "  tilt%s%s %+.4f +- %.4f mm/m, correlation with the curvature %+.3f\n",
		        *name ? " of " : "", name, r->tilt[t].value * 1000,
		        (by_bound ? r->tilt[t].bound : r->tilt[t].u95) * 1000, r->correlation[t]);
	}
	fputs("  ", out);
	if (r->fit.none)
		put_none(out, &r->fit);
	else
		put_radius(out, &r->fit.radius);
	fputs("  ", out);
	put_agreement(out, r->fit_chi_square, r->fit_freedom, r->fit_chance);
}

/* 1/R as a share of the prediction's. */
static void put_share(FILE *out, const struct crossings *c, const struct level_combined *r)
{
	const struct level_finding *f = &r->finding;
	fprintf(out,
	        "weighted mean: %.3f of the predicted curvature, from %.3f to %.3f %s (0 is flat, "
	        "1 the prediction)\n",
	        f->middle / r->prediction, f->low / r->prediction, f->high / r->prediction,
	        c->decides == LEVEL_BY_ALL ? "if all add up" : "at 95 %");
}

static bool put_drops(FILE *out, const struct crossings *c, const struct level_combined *r,
                      struct fault *why)
{
	fprintf(out, "crossings together, in %s\n", level_unit_words(c->style.unit));
	if (!put_rows(out, c))
		return fault_memory(why);
	put_left(out, c);
	if (!r->finding.none || r->finding.none == LEVEL_NO_ACCORD)
		put_share(out, c, r);
	put_agreement(out, r->chi_square, r->freedom, r->chance);
	if (r->finding.none) {
		put_none(out, &r->finding);
	} else {
		fprintf(out, "%s: %s%s\n", level_answer_code(r->finding.answer),
		        level_answer_sentence(r->finding.answer),
		        level_answer_reserve(&r->finding));
		put_radius(out, &r->finding.radius);
	}
	put_fit(out, c, r);
	fprintf(out,
	        "tilt, marks, water and the air of one day are shared errors: more crossings do "
	        "not shrink them.\n");
	return true;
}

static void csv_estimate(FILE *out, const char *name, const struct level_estimate *e,
                         const char *unit)
{
	char text[80];
	quantity_real(out, name, true, e->value, unit);
	snprintf(text, sizeof text, "%s_u95", name);
	quantity_real(out, text, true, e->u95, unit);
	snprintf(text, sizeof text, "%s_bound", name);
	quantity_real(out, text, true, e->bound, unit);
}

static struct level_estimate scaled(const struct level_estimate *e, double by)
{
	return (struct level_estimate){e->value * by, e->u * by, e->u95 * by, e->bound * by};
}

static void csv_fit(FILE *out, const struct crossings *c, const struct level_combined *r)
{
	quantity_text(out, "fit", r->has_fit ? "yes" : "no");
	if (!r->has_fit)
		return;
	csv_estimate(out, "fit_curvature", &r->fitted, "1/m");
	drop_interval_csv(out, "fit_", &r->fit);
	for (int t = 0; t < r->tilts; t++) {
		quantity_text(out, "instrument", c->instrument[r->tilt_instrument[t]]);
		csv_estimate(out, "tilt", &r->tilt[t], "m/m");
		quantity_real(out, "correlation", true, r->correlation[t], "");
	}
	quantity_real(out, "fit_chi_square", r->fit_freedom > 0, r->fit_chi_square, "");
	quantity_count(out, "fit_freedom", r->fit_freedom);
	quantity_real(out, "fit_chance", r->fit_freedom > 0, r->fit_chance, "");
}

static void csv_drops(FILE *out, const struct crossings *c, const struct level_combined *r)
{
	struct level_estimate share = scaled(&r->curvature, 1 / r->prediction);
	const struct level_style own = level_distance_style(&c->style);
	quantity_header(out);
	for (size_t i = 0; i < c->count; i++) {
		const struct crossing_row *row = &c->row[i];
		quantity_text(out, "run", row->run);
		quantity_text(out, "day", row->day);
		quantity_meters(out, "reach", true, row->reach, &own);
		quantity_meters(out, "observed_drop", true, row->observed, &c->style);
		quantity_meters(out, "predicted_drop", true, row->predicted, &c->style);
		quantity_meters(out, "allowance", true, row->allowance, &c->style);
		quantity_text(out, "answer", level_answer_code(row->answer));
		quantity_text(out, "seal", seal_words(row));
		quantity_meters(out, "flat_drop", true, row->flat, &c->style);
		lines_k_csv(out, &row->k, row->k_source);
	}
	csv_estimate(out, "share", &share, "");
	quantity_real(out, "share_low", !r->finding.none, r->finding.low / r->prediction, "");
	quantity_real(out, "share_high", !r->finding.none, r->finding.high / r->prediction, "");
	quantity_text(out, "decides", c->decides == LEVEL_BY_ALL ? "all" : "u95");
	drop_answer_csv(out, "together", &r->finding);
	quantity_real(out, "chi_square", r->freedom > 0, r->chi_square, "");
	quantity_count(out, "freedom", r->freedom);
	quantity_real(out, "chance", r->freedom > 0, r->chance, "");
	csv_estimate(out, "curvature", &r->curvature, "1/m");
	drop_interval_csv(out, "", &r->finding);
	csv_fit(out, c, r);
}

/* The picture, in characters below the table, or as a file of its own. */
static bool draw(FILE *out, struct book *book, const struct crossings *c,
                 const struct level_combined *r, bool svg, struct fault *why)
{
	struct picture picture = {0};
	struct book_settings settings;
	bool ok = book_settings(book, &settings, why);
	if (ok) {
		picture_drops(c, r, settings.title, svg, &picture);
		if (!svg)
			fputc('\n', out);
		ok = picture_draw(out, &picture, svg ? REPORT_AS_SVG : REPORT_AS_TEXT, why);
	}
	picture_free(&picture);
	return ok;
}

/* Crossings and what they make together. */
struct together {
	struct book *book;
	struct crossings crossings;
	struct level_combined combined;
};

static bool write_part(FILE *out, void *of, enum sheet_part part, struct fault *why)
{
	struct together *t = of;
	if (part == SHEET_DRAWING)
		return draw(out, t->book, &t->crossings, &t->combined, true, why);
	if (part == SHEET_WORDS)
		return put_drops(out, &t->crossings, &t->combined, why);
	csv_drops(out, &t->crossings, &t->combined);
	return true;
}

static bool write_form(FILE *out, struct together *t, enum report_form form, struct fault *why)
{
	char title[LEVEL_REMARK_BYTES + 80];
	switch (form) {
	case REPORT_AS_CSV:
		csv_drops(out, &t->crossings, &t->combined);
		return true;
	case REPORT_AS_SVG:
		return draw(out, t->book, &t->crossings, &t->combined, true, why);
	case REPORT_AS_HTML:
		return sheet_title(t->book, "crossings together", title, sizeof title, why) &&
		       sheet_html(out, t->book, title, write_part, t, why);
	case REPORT_AS_TEXT:
		break;
	}
	return put_drops(out, &t->crossings, &t->combined, why) &&
	       draw(out, t->book, &t->crossings, &t->combined, false, why);
}

bool report_drops(FILE *out, struct book *book, const char *const *names, size_t count,
                  enum report_form form, struct fault *why)
{
	struct together t = {.book = book};
	struct crossings *crossings = &t.crossings;
	char text[480];
	bool ok = crossings_load(book, names, count, crossings, why);
	if (ok && count && crossings->left_count)
		ok = fault_say(why, FAULT_INPUT, "%.100s: %s", crossings->left[0].name,
		               left_words(text, sizeof text, &crossings->left[0]));
	if (ok && crossings->count == 0)
		ok = fault_say(why, FAULT_INPUT,
		               "no crossing of this book says anything yet: rodbook drop BOOK RUN "
		               "says why");
	ok = ok &&
	     level_combine(crossings->ready, crossings->count, crossings->decides, &t.combined,
	                   why) &&
	     write_form(out, &t, form, why);
	crossings_free(crossings);
	return ok;
}
