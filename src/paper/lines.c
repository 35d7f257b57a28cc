#include "paper/lines.h"

#include <math.h>
#include <string.h>

#include "paper/quantities.h"

struct level_style lines_finer(const struct level_style *style)
{
	struct level_style finer = *style;
	if (finer.decimals < 6)
		finer.decimals++;
	return finer;
}

void lines_length(FILE *out, const char *name, double meters, const struct level_style *style,
                  bool plus, const char *note)
{
	struct level_style finer = lines_finer(style);
	char text[LEVEL_LENGTH_BYTES];
	level_format_length(text, level_from_meters(meters), &finer, plus);
	fprintf(out, "%-24s %12s%s%s\n", name, text, *note ? "   " : "", note);
}

static void two(FILE *out, const char *name, double bound, double u, const char *note,
                const struct level_style *style)
{
	struct level_style finer = lines_finer(style);
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES];
	fprintf(out, "  %-22s %12s %12s%s%s\n", name,
	        level_format_length(a, level_from_meters(bound), &finer, false),
	        level_format_length(b, level_from_meters(u), &finer, false), *note ? "   " : "",
	        note);
}

void lines_instrument(const struct level_terms *terms, const struct book_figures *figures,
                      const char *name, int index, char *text, size_t size)
{
	char tolerance[BOOK_VALUE_BYTES], source[BOOK_VALUE_BYTES] = "", tilt[BOOK_VALUE_BYTES],
	                                  figure[LEVEL_NAME_BYTES + 20];
	const char *blank = *name ? " " : "";
	snprintf(figure, sizeof figure, "instrument%s%s", blank, name);
	book_figure(figures, figure, tolerance);
	if (!*name)
		book_figure(figures, "instrument_source", source);
	/* of an amendment without its reason, which stands below */
	source[strcspn(source, ":")] = '\0';
	snprintf(figure, sizeof figure, "tilt%s%s", blank, name);
	book_figure(figures, figure, tilt);
	if (level_test_counts(&terms->instrument[index]))
		snprintf(text, size, "%.30s%stilted %.20s", name, blank, tilt);
	else
		snprintf(text, size, "%.30s%s%.30s%s%.20s%s", name, blank, tolerance,
		         *source ? ", " : "", source,
		         *tilt ? ", its test too coarse to count" : "");
}

static void declared_lines(FILE *out, const struct level_terms *terms,
                           const struct level_style *style)
{
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (*terms->declared[i].name && terms->declared[i].bound > 0)
			two(out, terms->declared[i].name, terms->declared[i].bound,
			    terms->declared[i].bound / sqrt(3.0), "declared", style);
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

static double plain_declared_u(const struct level_terms *terms)
{
	double sum = 0;
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (!*terms->declared[i].name)
			sum += terms->declared[i].bound * terms->declared[i].bound / 3;
	return sqrt(sum);
}

void lines_allowance(FILE *out, const struct level_allowance *a, const struct level_terms *terms,
                     const char *instruments, const struct level_style *style)
{
	char note[BOOK_VALUE_BYTES + 40];
	bool by_bound = terms->decides == LEVEL_BY_BOUND;
	fprintf(out, "%-24s %12s %12s\n", "allowance", "bound", "u");
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		double bound = a->bound[i], u = a->u[i];
		note[0] = '\0';
		if (i == LEVEL_LINE_INSTRUMENT)
			snprintf(note, sizeof note, "%.300s", instruments);
		if (i == LEVEL_LINE_DECLARED) {
			bound = plain_declared(terms);
			u = plain_declared_u(terms);
		}
		two(out, level_allowance_name((enum level_allowance_line)i), bound, u, note, style);
		if (i == LEVEL_LINE_DECLARED)
			declared_lines(out, terms, style);
	}
	lines_length(out, "  all at once", a->total_bound, style, false, by_bound ? "decides" : "");
	snprintf(note, sizeof note, "%.2f x root of the sum of u^2%s",
	         a->u_total > 0 ? a->total_u95 / a->u_total : 2, by_bound ? "" : "; decides");
	if (a->total_u95 >= a->total_bound)
		snprintf(note, sizeof note, "the bound, which it never exceeds%s",
		         by_bound ? "" : "; decides");
	lines_length(out, "  at 95 %", a->total_u95, style, false, note);
}

void lines_allowance_csv(FILE *out, const struct level_allowance *a,
                         const struct level_terms *terms, const struct level_style *style)
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
			snprintf(name, sizeof name, "allowance_%s", terms->declared[i].name);
			quantity_meters(out, name, true, terms->declared[i].bound, style);
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

void paper_k(const struct level_terms *terms, const struct book_figures *figures, char *text,
             size_t size)
{
	char k_source[BOOK_VALUE_BYTES], dk_source[BOOK_VALUE_BYTES];
	book_figure(figures, "k_source", k_source);
	book_figure(figures, "dk_source", dk_source);
	if (strcmp(k_source, dk_source) == 0 || !*dk_source)
		snprintf(text, size, "k %.4g +- %.4g, %.120s", terms->k, terms->dk, k_source);
	else
		snprintf(text, size, "k %.4g, %.100s, +- %.4g, %.40s", terms->k, k_source,
		         terms->dk, dk_source);
}

const char *paper_remedy(enum level_allowance_line line)
{
	static const char *const remedies[] = {
	    "a peg test, or a longer sight",
	    "a target, more readings, or a longer sight",
	    "thermometers farther apart, a higher line, another day",
	    "redo the transfers, or sight back from the other shore",
	    "more stilled readings, on both shores at once",
	    "level the two marks again"};
	return remedies[line];
}
