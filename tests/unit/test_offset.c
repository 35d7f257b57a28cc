/* Offsets: heights that no instrument carried. By hand:
 *
 *     BS A     1.432   A 50.000, HI 51.432
 *     FS TP1   2.718   48.714
 *     OFF C  +12.345   61.059   a tape up a shaft
 *     BS C     0.754   HI 61.813
 *     FS TP2   2.296   59.517
 *     OFF E   -0.650   58.867   a ruler down from TP2
 *
 * sum BS 2.186, sum FS 5.014, sum of offsets 11.695: 2.186 - 5.014 + 11.695 = 8.867 = 58.867 - 50.
 * Standard uncertainties by method: tape as the terms say, 1 mm; ruler 0.5 mm; tube 2 mm (common
 * practice, no source). */
#include <math.h>

#include "closed.h"
#include "rodbook/level/determination.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/parts.h"
#include "rodbook/level/sections.h"
#include "rodbook/level/spread.h"

static struct level_sight offset(const char *to, level_nm height, enum level_method method)
{
	struct level_sight out = sight(LEVEL_OFF, to, height, 0);
	out.method = method;
	return out;
}

struct worked {
	struct level_sight sight[6];
	struct level_run run;
	struct level_page page;
	struct level_terms terms;
};

static void work_out(struct worked *w, level_nm end)
{
	const struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1432), METRES(30)), METRES(50), 0),
	    sight(LEVEL_FS, "TP1", MM(2718), METRES(30)),
	    offset("C", MM(12345), LEVEL_TAPE),
	    sight(LEVEL_BS, "C", MM(754), METRES(30)),
	    sight(LEVEL_FS, "TP2", MM(2296), METRES(30)),
	    end ? known(offset("E", -MM(650), LEVEL_RULER), end, 0)
	        : offset("E", -MM(650), LEVEL_RULER)};
	*w = (struct worked){.terms = usual_terms()};
	memcpy(w->sight, sights, sizeof sights);
	w->run = (struct level_run){.kind = LEVEL_LINK, .count = 6, .sight = w->sight};
	ck_assert(level_reduce(&w->run, 0, &w->terms, &w->page));
}

START_TEST(test_page)
{
	static const level_nm elevation[] = {50000, 48714, 61059, 61059, 59517, 58867};
	struct worked w;
	struct level_closing c;
	const struct level_sums *sums;
	work_out(&w, MM(58870));
	for (size_t i = 0; i < 6; i++) {
		ck_assert(w.page.row[i].has_elevation);
		ck_assert_int_eq(w.page.row[i].elevation, MM(elevation[i]));
	}
	ck_assert_int_eq(w.page.row[2].setup, 0);
	ck_assert(!w.page.row[2].has_step);
	ck_assert_int_eq(w.page.row[3].setup, 2);
	sums = level_page_sums(&w.page);
	ck_assert_int_eq(sums->offsets, MM(11695));
	ck_assert_int_eq(sums->offset_count, 2);
	ck_assert_int_eq(sums->setups, 2);
	ck_assert_int_eq(sums->unknown_distances, 0);
	ck_assert_int_eq(sums->bs_length + sums->fs_length, METRES(120));
	c = closed_with(&w.run, &w.terms, "third-order", 0);
	ck_assert_int_eq(c.sum_bs, MM(2186));
	ck_assert_int_eq(c.sum_fs, MM(5014));
	ck_assert_int_eq(c.sum_offsets, MM(11695));
	ck_assert_int_eq(c.page_check, 0);
	ck_assert(c.page_holds);
	ck_assert_str_eq(c.end_station, "E");
	ck_assert_int_eq(c.misclosure, -MM(3));
	/* 12 mm sqrt 0.12: the length is that of the sights */
	ck_assert_int_eq(c.allowable, 4156922);
	ck_assert_int_eq(c.closes, LEVEL_YES);
	level_page_free(&w.page);
}
END_TEST

/* A reduction that goes on from any row is the whole one. */
START_TEST(test_goes_on)
{
	struct worked w;
	struct level_page whole = {0};
	work_out(&w, 0);
	ck_assert(level_reduce(&w.run, 0, &w.terms, &whole));
	for (size_t from = 0; from < 6; from++) {
		ck_assert(level_reduce(&w.run, from, &w.terms, &w.page));
		for (size_t i = 0; i < 6; i++) {
			ck_assert_int_eq(w.page.row[i].elevation, whole.row[i].elevation);
			ck_assert_int_eq(w.page.row[i].sums.offsets, whole.row[i].sums.offsets);
		}
	}
	level_page_free(&whole);
	level_page_free(&w.page);
}
END_TEST

/* Own u, own limit over root 3, a declared one nothing; the limit counts whole where all is off at
 * once. */
START_TEST(test_uncertainty)
{
	struct level_terms terms = usual_terms();
	struct level_sight at = offset("C", METRES(12), LEVEL_TAPE);
	struct level_mean_u mean = level_sight_u(&terms, &at);
	ck_assert_double_eq_tol(mean.u, 0.001, 1e-12);
	ck_assert_double_eq_tol(mean.bound, 0.002, 1e-12);
	at.method = LEVEL_RULER;
	ck_assert_double_eq_tol(level_sight_u(&terms, &at).u, 0.0005, 1e-12);
	at.method = LEVEL_TUBE;
	ck_assert_double_eq_tol(level_sight_u(&terms, &at).u, 0.002, 1e-12);
	at.u = MM(3);
	mean = level_sight_u(&terms, &at);
	ck_assert_double_eq_tol(mean.u, 0.003, 1e-12);
	ck_assert_double_eq_tol(mean.bound, 0.006, 1e-12);
	at.u = 0;
	at.limit = MM(6);
	mean = level_sight_u(&terms, &at);
	ck_assert_double_eq_tol(mean.u, 0.006 / sqrt(3.0), 1e-12);
	ck_assert_double_eq_tol(mean.bound, 0.006, 1e-12);
	ck_assert(isinf(mean.freedom));
	at.declared = true;
	terms.declared[0].bound = 0.01;
	mean = level_sight_u(&terms, &at);
	ck_assert_double_eq(mean.u, 0);
	ck_assert_double_eq(mean.bound, 0);
}
END_TEST

/* Four readings of 0.5 mm + 0.010 mm/m x 30 m = 0.8 mm, a tape of 1 mm, a ruler of 0.5 mm:
 * 4 x 0.64 + 1 + 0.25 = 3.81 mm^2; bounds 4 x 1.6 + 2 + 1 = 9.4 mm. */
START_TEST(test_allowance)
{
	struct worked w;
	struct level_source source[LEVEL_SOURCES_MOST];
	const struct level_ends ends = {0};
	const struct level_identity nobody = {0};
	struct level_determination at;
	const struct level_drop_sums *sums;
	size_t count;
	bool found = false;
	work_out(&w, 0);
	sums = &level_page_sums(&w.page)->drop;
	ck_assert_double_eq_tol(sums->reading_variance, 3.81e-6, 1e-15);
	ck_assert_double_eq_tol(sums->reading_bound, 0.0094, 1e-12);
	ck_assert_double_eq_tol(level_page_sums(&w.page)->offset_variance, 1.25e-6, 1e-15);
	ck_assert_double_eq(sums->length, 120);
	count = level_sources(sums, &w.terms, &ends, &nobody, source);
	for (size_t i = 0; i < count; i++)
		if (source[i].line == LEVEL_LINE_READING) {
			ck_assert_double_eq_tol(source[i].u, sqrt(3.81e-6), 1e-12);
			ck_assert_double_eq_tol(source[i].bound, 0.0094, 1e-12);
			found = true;
		}
	ck_assert(found);
	/* C: two readings and the tape, and the level's tilt over balanced sights does nothing */
	ck_assert(level_determine(&w.run, &w.page, &w.terms, 2, &at));
	ck_assert_int_eq(at.how, LEVEL_OFF);
	ck_assert_int_eq(at.standings, 1);
	ck_assert_double_eq_tol(at.path.sums.reading_variance, 2.28e-6, 1e-15);
	level_page_free(&w.page);
}
END_TEST

/* In a crossing D takes the offset as it is: known end less known start less what was carried. */
START_TEST(test_drop)
{
	struct worked w;
	struct level_closing c;
	work_out(&w, METRES(59));
	w.run.kind = LEVEL_CROSSING;
	c = closed_with(&w.run, &w.terms, "third-order", 0);
	ck_assert(c.has_observed);
	/* 59.000 - 50.000 - 8.867 */
	ck_assert_double_eq_tol(c.observed, 0.133, 1e-9);
	ck_assert_double_eq(level_page_sums(&w.page)->drop.s_d2, 0);
	level_page_free(&w.page);
}
END_TEST

/* -w = 3 mm over 60 m + 60 m: half of it at TP1, and C, which no sight carried, has the same; all
 * of it at TP2 and at E. */
START_TEST(test_spread)
{
	struct worked w;
	struct level_closing c;
	struct level_spread s;
	enum level_by by = LEVEL_BY_SETUPS;
	struct fault why = {0};
	work_out(&w, MM(58870));
	c = closed_with(&w.run, &w.terms, "third-order", 0);
	ck_assert_msg(level_spread(&w.run, &w.page, &c, NULL, &s, &why), "%s", why.text);
	ck_assert_int_eq(s.row[1].correction, 1500000);
	ck_assert_int_eq(s.row[2].correction, 1500000);
	ck_assert_int_eq(s.row[4].correction, MM(3));
	ck_assert_int_eq(s.row[5].correction, MM(3));
	ck_assert(s.row[5].fixed && !s.row[4].fixed);
	ck_assert_int_eq(s.row[5].adjusted, MM(58870));
	level_spread_free(&s);
	ck_assert(level_spread(&w.run, &w.page, &c, &by, &s, &why));
	ck_assert_int_eq(s.row[2].correction, 1500000);
	ck_assert(isfinite(level_spread_u(&w.run, &w.page, &w.terms, &s, 2)));
	level_spread_free(&s);
	level_page_free(&w.page);
}
END_TEST

/* Two known marks with nothing but a tape between them: 12.345 against 12.343 given. No rule by
 * length or setups says anything there; twice the tape's 1 mm does. */
START_TEST(test_section_of_an_offset)
{
	struct worked w;
	struct level_closing c;
	struct level_section section;
	struct level_spread s;
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct fault why = {0};
	work_out(&w, MM(58867));
	w.sight[1] = known(w.sight[1], MM(48714), 0);
	w.sight[2] = known(w.sight[2], MM(61057), 0);
	ck_assert(level_reduce(&w.run, 0, &w.terms, &w.page));
	ck_assert(level_section_before(&w.run, &w.page, &w.terms, &rule, 2, &section));
	ck_assert_int_eq(section.difference, MM(2));
	ck_assert(section.has_allowable && !section.provisional);
	ck_assert_int_eq(section.allowable, MM(2));
	ck_assert_int_eq(section.holds, LEVEL_YES);
	c = closed_with(&w.run, &w.terms, "third-order", 0);
	ck_assert_int_eq(c.failing, 0);
	ck_assert_msg(level_spread(&w.run, &w.page, &c, NULL, &s, &why), "%s", why.text);
	ck_assert_int_eq(s.row[1].correction, 0);
	ck_assert_int_eq(s.row[2].correction, -MM(2));
	ck_assert_int_eq(s.row[2].adjusted, MM(61057));
	level_spread_free(&s);
	w.sight[2].known = MM(61056);
	ck_assert(level_section_before(&w.run, &w.page, &w.terms, &rule, 2, &section));
	ck_assert_int_eq(section.holds, LEVEL_NO);
	level_page_free(&w.page);
}
END_TEST

START_TEST(test_parts)
{
	struct worked w;
	struct level_part part[6];
	work_out(&w, 0);
	level_parts(&w.run, &w.page, &w.terms, part);
	ck_assert_int_eq(part[2].sign, 0);
	ck_assert_double_eq_tol(part[2].mean.u, 0.001, 1e-12);
	ck_assert_int_eq(part[4].setup, 2);
	level_page_free(&w.page);
}
END_TEST

static void refused(struct worked *w, size_t at, bool replace, struct level_sight draft,
                    const char *said)
{
	struct fault why = {0};
	bool good = level_check_place(&w->run, at, replace, &draft, &why);
	ck_assert_msg(good == !said, "%zu: %s", at, why.text);
	if (said)
		ck_assert_msg(strstr(why.text, said) != NULL, "%s", why.text);
}

START_TEST(test_place)
{
	struct worked w;
	struct level_sight off = offset("X", MM(100), LEVEL_TAPE), bs, changed;
	work_out(&w, 0);
	refused(&w, 6, false, off, NULL);
	/* between two setups it leaves a gap that the page shows, as a forgotten setup does */
	refused(&w, 3, false, off, NULL);
	refused(&w, 0, false, off, "sight to");
	refused(&w, 1, false, off, "between setups");
	refused(&w, 4, false, off, "between setups");
	/* the mark that an offset goes on from is the one before it: nothing comes between */
	refused(&w, 2, false, off, "the offset to C is measured from the mark before it");
	bs = sight(LEVEL_BS, "TP1", MM(1000), 0);
	refused(&w, 2, false, bs, "the offset to C is measured from the mark before it");
	refused(&w, 6, false, sight(LEVEL_BS, "E", MM(1000), 0), NULL);
	refused(&w, 6, false, sight(LEVEL_BS, "TP2", MM(1000), 0), "stands on E");
	refused(&w, 6, false, sight(LEVEL_FS, "F", MM(1000), 0), "no BS");
	refused(&w, 6, false, sight(LEVEL_IS, "F", MM(1000), 0), "no BS");
	refused(&w, 6, false, offset("E", MM(100), LEVEL_TAPE), "another mark");
	bs = sight(LEVEL_BS, "C", MM(1000), 0);
	bs.again = true;
	refused(&w, 6, false, bs, "second standing");
	/* changed it stays an offset, and its BS goes along with its name */
	changed = w.sight[2];
	changed.reading = MM(12344);
	refused(&w, 2, true, changed, NULL);
	strcpy(changed.station, "D");
	refused(&w, 2, true, changed, NULL);
	ck_assert_uint_eq(level_partner(&w.run, 2), 3);
	ck_assert_uint_eq(level_partner(&w.run, 3), 2);
	ck_assert_uint_eq(level_partner(&w.run, 1), 6);
	changed.kind = LEVEL_FS;
	refused(&w, 2, true, changed, "stays one");
	refused(&w, 1, true, offset("TP1", MM(1), LEVEL_TAPE), "stays");
	changed = w.sight[1];
	changed.reading = MM(2717);
	refused(&w, 1, true, changed, NULL);
	changed.kind = LEVEL_IS;
	refused(&w, 1, true, changed, "the line goes on from this FS");
	level_page_free(&w.page);
}
END_TEST

START_TEST(test_suggested)
{
	struct worked w;
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];
	work_out(&w, 0);
	level_suggest(&w.run, 6, &kind, station);
	ck_assert_int_eq(kind, LEVEL_BS);
	ck_assert_str_eq(station, "E");
	ck_assert_uint_eq(level_may_repeat(&w.run, 6), 6);
	ck_assert_uint_eq(level_may_repeat(&w.run, 2), 0);
	ck_assert_uint_eq(level_first_standing(&w.run, 5), 6);
	level_page_free(&w.page);
}
END_TEST

static void check(struct level_sight at, const char *said)
{
	struct level_style style = level_style_default(LEVEL_M);
	struct fault why = {0};
	bool good = level_check_sight(&at, METRES(5), &style, &why);
	ck_assert_msg(good == !said, "%s", why.text);
	if (said)
		ck_assert_msg(strstr(why.text, said) != NULL, "%s", why.text);
}

START_TEST(test_sound)
{
	struct level_sight at = offset("C", METRES(100), LEVEL_TAPE);
	check(at, NULL);
	at.reading = -METRES(100);
	check(at, NULL);
	at.reading--;
	check(at, "over 100 m");
	at = offset("C", MM(1), LEVEL_TUBE);
	check(at, NULL);
	at.distance = 1;
	check(at, "no distance");
	at = offset("C", MM(1), LEVEL_ROD);
	check(at, "by tape, ruler or tube");
	at = sight(LEVEL_FS, "C", MM(1), 0);
	at.method = LEVEL_TUBE;
	check(at, "by rod, tape or target");
	at = offset("C", MM(1), LEVEL_TAPE);
	at.wires = true;
	check(at, "no wires");
}
END_TEST

/* Without the setup before it an offset hangs on nothing. */
START_TEST(test_hangs_on_nothing)
{
	struct worked w;
	struct level_closing c;
	work_out(&w, 0);
	w.sight[0].state = w.sight[1].state = LEVEL_STRUCK;
	ck_assert(level_reduce(&w.run, 0, &w.terms, &w.page));
	ck_assert(!w.page.row[2].has_elevation);
	c = closed_with(&w.run, &w.terms, "third-order", 0);
	ck_assert(!c.page_holds);
	level_page_free(&w.page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("offset", test_page, test_goes_on, test_uncertainty, test_allowance,
	                 test_drop, test_spread, test_section_of_an_offset, test_parts, test_place,
	                 test_suggested, test_sound, test_hangs_on_nothing);
}
