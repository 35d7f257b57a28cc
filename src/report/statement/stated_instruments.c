/* The instruments of a run, and how they were tested. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/statement/stated.h"

/* Why a test stands in place of the tolerance, or does not. */
static void why_it_counts(const struct level_terms *terms, int instrument, char *text, size_t size)
{
	const struct level_instrument *with = &terms->instrument[instrument];
	double limit = with->tolerance / sqrt(3.0), t = level_tilt_coverage(with);
	if (!with->tested)
		snprintf(text, size,
		         "no tilt is known: the tolerance is a word, not a measurement");
	else if (t * with->u / 2 < limit)
		snprintf(text, size,
		         "the tilt counts: t u/2 = %.4g mm/m is below tolerance / sqrt 3 = %.4g "
		         "mm/m",
		         t * with->u / 2 * 1000, limit * 1000);
	else if (level_test_counts(terms, instrument))
		snprintf(
		    text, size,
		    "the tilt counts: less t u = %.4g mm/m it is above the tolerance %.4g mm/m",
		    t * with->u * 1000, with->tolerance * 1000);
	else
		snprintf(
		    text, size,
		    "the tilt is too coarse to count, so the tolerance does: t u/2 = %.4g mm/m "
		    "is not below tolerance / sqrt 3 = %.4g mm/m",
		    t * with->u / 2 * 1000, limit * 1000);
}

/* How many sights that count were taken with it. */
static size_t sights_of(const struct work_run *run, int instrument)
{
	size_t count = 0;
	for (size_t i = 0; i < run->book.run.count; i++)
		count += level_counted(&run->book.run.sight[i]) &&
		         run->book.run.sight[i].kind != LEVEL_OFF &&
		         run->book.run.sight[i].instrument == instrument;
	return count;
}

static void figure_of(const struct work_run *run, const char *what, const char *name,
                      char value[BOOK_VALUE_BYTES])
{
	char figure[LEVEL_NAME_BYTES + 20];
	snprintf(figure, sizeof figure, "%s%s%s", what, *name ? " " : "", name);
	book_figure(&run->terms.figures, figure, value);
}

/* The last test that gave the tilt of the figures; count where none did. */
static size_t source_of(const struct book_pegtest *tests, size_t count, const char *tilt)
{
	for (size_t i = count; i-- > 0;)
		if (strcmp(tests[i].tilt, tilt) == 0)
			return i;
	return count;
}

static bool put_tests(FILE *out, struct book *book, const struct work_run *run, const char *name,
                      const char *tilt, struct fault *why)
{
	char late[REPORT_TESTED_BYTES];
	struct book_pegtest *tests;
	size_t count, source;
	if (!book_pegtests(book, name, &tests, &count, why))
		return false;
	source = source_of(tests, count, tilt);
	for (size_t i = 0; i < count; i++) {
		struct level_peg_way way;
		if (!book_pegtest_way(&tests[i], &way, why)) {
			free(tests);
			return false;
		}
		fprintf(out,
		        "      peg test %s: tilt %s, u %s; air k %g, dk %g; by %s; standings in "
		        "%s: %s%s\n",
		        tests[i].time, tests[i].tilt, tests[i].tilt_u, way.k, way.dk,
		        level_method_name(way.method), level_unit_name(tests[i].unit),
		        tests[i].standings, i == source ? "; this one gave the tilt" : "");
	}
	if (*run->tested.late && strcmp(run->tested.late, name) == 0)
		fprintf(out, "      %s\n", report_late_test(late, &run->tested));
	if (count == 0 && !*tilt)
		fprintf(out, "      no peg test is booked\n");
	if (*tilt && source == count)
		fprintf(
		    out,
		    "      the tilt and its u were declared, as no booked peg test gives them\n");
	free(tests);
	return true;
}

static bool put_instrument(FILE *out, struct book *book, const struct work_run *run, int i,
                           struct fault *why)
{
	const char *name = run->book.instrument[i];
	char tolerance[BOOK_VALUE_BYTES], tilt[BOOK_VALUE_BYTES], u[BOOK_VALUE_BYTES], counts[200],
	    source[BOOK_VALUE_BYTES] = "";
	size_t sights = sights_of(run, i);
	if (sights == 0)
		return true;
	figure_of(run, "instrument", name, tolerance);
	figure_of(run, "tilt", name, tilt);
	figure_of(run, "tilt_u", name, u);
	if (!*name)
		book_figure(&run->terms.figures, "instrument_source", source);
	why_it_counts(&run->terms.terms, i, counts, sizeof counts);
	fprintf(out, "  %s, %zu sight%s: tolerance %s%s%s", *name ? name : "a level without a name",
	        sights, sights == 1 ? "" : "s", tolerance, *source ? ", " : "", source);
	if (*tilt)
		fprintf(out, "; tilt %s, u %s", tilt, u);
	fprintf(out, "; %s\n", counts);
	return !*name || put_tests(out, book, run, name, tilt, why);
}

bool stated_instruments(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	bool ok = true;
	fprintf(out, "instruments and their peg tests:\n");
	if (level_counted_from(&run->book.run, 0) == run->book.run.count)
		fprintf(out, "  none: no sight counts\n");
	for (int i = 0; ok && i < run->book.instruments; i++)
		ok = put_instrument(out, book, run, i, why);
	return ok;
}
