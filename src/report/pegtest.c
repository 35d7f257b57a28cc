/* A peg test on paper. */
#include <math.h>
#include <string.h>

#include "report/lines.h"
#include "report/quantities.h"

static const char *passes(const struct level_peg_result *r, const struct level_tolerance *set)
{
	return set->tilt <= 0 ? "unknown" : fabs(r->tilt) <= set->tilt ? "yes" : "no";
}

bool report_pegtest_passes(const struct level_peg_result *r, const struct level_tolerance *set)
{
	return strcmp(passes(r, set), "no") != 0;
}

/* A set that was misread says nothing of the level. */
static void odd_words(const struct level_peg_result *r, char *text, size_t size)
{
	if (r->odd == LEVEL_PEG_EITHER)
		snprintf(text, size,
		         "the two sets differ by %.3f mm/m, readings make %.3f: one is misread",
		         fabs(r->odd_off) * 1000, r->odd_u * 1000);
	else
		snprintf(text, size,
		         "set %d is %.3f mm/m off the others, readings make %.3f: misread?", r->odd,
		         fabs(r->odd_off) * 1000, r->odd_u * 1000);
}

void report_pegtest_words(const struct level_peg_result *r, const struct level_tolerance *set,
                          char *text, size_t size)
{
	if (r->odd)
		odd_words(r, text, size);
	else if (set->tilt <= 0)
		snprintf(text, size, "%s says nothing about the tilt", set->title);
	else if (fabs(r->tilt) <= set->tilt)
		snprintf(text, size, "passes: %s allows %.3g mm/m", set->title, set->tilt * 1000);
	else
		snprintf(text, size,
		         "FAILS: %s allows %.3g mm/m; have it adjusted, or balance every sight",
		         set->title, set->tilt * 1000);
}

void report_pegtest_counts(const struct level_peg_result *r, const char *tolerance, char *text,
                           size_t size)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS};
	struct level_instrument *with = &terms.instrument[0];
	double allowed, off;
	*text = '\0';
	*with = (struct level_instrument){.tested = true,
	                                  .tilt = r->tilt,
	                                  .u = r->u,
	                                  .sets = r->by_spread ? r->sets : 0,
	                                  .g = r->g};
	if (!level_parse_tilt(tolerance, &with->tolerance, NULL))
		return;
	allowed = with->tolerance / sqrt(3.0) * 1000;
	off = level_tilt_coverage(with) * r->u / 2 * 1000;
	if (!level_test_counts(&terms, 0))
		snprintf(text, size,
		         "drop: the tolerance counts, u %.3f mm/m; this test is coarser, u %.3f",
		         allowed, off);
	else if (off < allowed)
		snprintf(text, size,
		         "drop: this tilt counts, u %.3f mm/m; the tolerance is coarser, u %.3f",
		         off, allowed);
	else
		snprintf(text, size,
		         "drop: this tilt counts, u %.3f mm/m: it is beyond the tolerance %.3f",
		         off, with->tolerance * 1000);
}

const char *report_tilt(char text[REPORT_TILT_BYTES], double tilt, double u)
{
	int decimals = u > 0 ? 1 - (int)floor(log10(u * 1000)) : 6;
	decimals = decimals < 0 ? 0 : decimals > 6 ? 6 : decimals;
	snprintf(text, REPORT_TILT_BYTES, "tilt %+.*f mm/m, u %.*f", decimals, tilt * 1000,
	         decimals, u * 1000);
	return text;
}

const char *report_tilt_over(char text[REPORT_TILT_BYTES], double tilt,
                             const struct level_style *style)
{
	if (style->unit == LEVEL_M)
		snprintf(text, REPORT_TILT_BYTES, "%+.2f mm over 50 m", tilt * 50000);
	else if (style->unit == LEVEL_FT)
		snprintf(text, REPORT_TILT_BYTES, "%+.4f ft over 100 ft", tilt * 100);
	else
		snprintf(text, REPORT_TILT_BYTES, "%+.3f in over 100 ft", tilt * 1200);
	return text;
}

void report_pegtest(FILE *out, const struct level_peg_result *r, const struct level_tolerance *set,
                    const struct level_style *style, bool csv)
{
	const struct level_style own = level_distance_style(style);
	char words[200];
	if (csv) {
		quantity_header(out);
		quantity_real(out, "tilt_mm_per_m", true, r->tilt * 1000, "mm/m");
		quantity_real(out, "tilt_arcsec", true, level_tilt_arcsec(r->tilt), "arcsec");
		quantity_real(out, "tilt_per_50m", true, r->tilt * 50000, "mm");
		quantity_real(out, "tilt_per_100ft", true, r->tilt * 100, "ft");
		quantity_real(out, "u_tilt", true, r->u * 1000, "mm/m");
		quantity_text(out, "passes", passes(r, set));
		quantity_meters(out, "should_read_a", true, r->should_a, style);
		quantity_meters(out, "should_read_b", true, r->should_b, style);
		quantity_count(out, "sets", r->sets);
		quantity_real(out, "u_own", true, r->own * 1000, "mm/m");
		quantity_real(out, "u_air", true, r->air * 1000, "mm/m");
		quantity_meters(out, "pegs", true, r->g, &own);
		return;
	}
	fprintf(out, "tilt                 %+.4f mm/m, standard uncertainty %.4f, %d set%s\n",
	        r->tilt * 1000, r->u * 1000, r->sets, r->sets == 1 ? "" : "s");
	fprintf(
	    out,
	    "                     %+.2f arc seconds; %+.2f mm over 50 m; %+.4f ft over 100 ft\n",
	    level_tilt_arcsec(r->tilt), r->tilt * 50000, r->tilt * 100);
	lines_length(out, "should have read on A", r->should_a, style, false,
	             "at the last standing");
	lines_length(out, "should have read on B", r->should_b, style, false, "");
	report_pegtest_words(r, set, words, sizeof words);
	fprintf(out, "%s\n", words);
	if (r->sets == 1)
		fprintf(out,
		        "one set shows no spread: repeat it, with the instrument set up anew\n");
}

/* The next standing of a text, "DA,A,DB,B;", as "A at 30: 1.432, B at 30: 1.567"; the text behind
 * it. */
static const char *put_standing(FILE *out, const char *text)
{
	static const char *const before[] = {"A at ", ": ", ", B at ", ": "};
	for (int i = 0; i < 4 && *text; i++) {
		int size;
		text += strspn(text, " ,");
		size = (int)strcspn(text, ",;");
		fprintf(out, "%s%.*s", before[i], size, text);
		text += size;
	}
	return *text == ';' ? text + 1 : text;
}

void report_pegtest_kept(FILE *out, const struct book_pegtest *test,
                         const struct level_terms *terms)
{
	const struct level_style style = book_pegtest_style(test);
	struct level_standing standings[LEVEL_STANDINGS_MOST];
	struct level_peg_result set;
	struct level_peg_way way;
	const char *text = test->standings;
	size_t count;
	fprintf(out, "%.16s  %s  tilt %s +- %s\n", test->time, test->instrument, test->tilt,
	        test->tilt_u);
	if (!book_read_standings(test->standings, &style, standings, &count, NULL) ||
	    !book_pegtest_way(test, &way, NULL)) {
		fprintf(out, "  %s\n", test->standings);
		return;
	}
	for (size_t i = 0; i + 1 < count; i += 2) {
		char tilt[REPORT_TILT_BYTES] = "";
		if (level_peg_test(standings + i, 2, terms, &way, &set, NULL))
			report_tilt(tilt, set.tilt, set.u);
		fprintf(out, "  set %zu: ", i / 2 + 1);
		text = put_standing(out, text);
		fputs("; ", out);
		text = put_standing(out, text);
		fprintf(out, "; %s\n", tilt);
	}
}

void report_pegtests_csv(FILE *out, const struct book_pegtest *tests, size_t count)
{
	quantity_header(out);
	for (size_t i = 0; i < count; i++) {
		quantity_text(out, "instrument", tests[i].instrument);
		quantity_text(out, "time", tests[i].time);
		quantity_text(out, "tilt", tests[i].tilt);
		quantity_text(out, "u_tilt", tests[i].tilt_u);
		quantity_text(out, "standings", tests[i].standings);
	}
}

const char *report_tested(char text[REPORT_TESTED_BYTES], const struct work_tested *tested,
                          const struct level_tolerance *set)
{
	const char *name = tested->instrument;
	text[0] = '\0';
	switch (tested->state) {
	case WORK_TESTED:
		break;
	case WORK_NO_TEST:
		snprintf(text, REPORT_TESTED_BYTES, "%s: no peg test before this run is booked",
		         name);
		break;
	case WORK_TEST_FAILED:
		snprintf(text, REPORT_TESTED_BYTES,
		         "%s FAILED its last peg test: tilt %.30s, %s allows %.3g mm/m", name,
		         tested->tilt, set->title, set->tilt * 1000);
		break;
	case WORK_TEST_OLD:
		snprintf(text, REPORT_TESTED_BYTES,
		         "%s was tested by pegs %ld days before this run: %s asks for %g", name,
		         tested->days, set->title, set->days);
		break;
	}
	return text;
}

const char *report_late_test(char text[REPORT_TESTED_BYTES], const struct work_tested *tested)
{
	const char *time = tested->late_time;
	text[0] = '\0';
	if (*tested->late)
		snprintf(text, REPORT_TESTED_BYTES,
		         "%s: tested %.10s%s%.5s, booked after the seal: not counted", tested->late,
		         time, time[10] ? " " : "", time[10] ? time + 11 : "");
	return text;
}
