/* Reports that are made of a value alone: whole texts, as they leave the program. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/report/report.h"
#include "kept.h"
#include "sights.h"
#include "suite.h"

static char text[4000];

static FILE *begin(void)
{
	FILE *out = fmemopen(text, sizeof text, "w");
	ck_assert_ptr_nonnull(out);
	return out;
}

static void is(FILE *out, const char *wanted)
{
	ck_assert_int_eq(fclose(out), 0);
	ck_assert_str_eq(text, wanted);
}

static void has(FILE *out, const char *wanted)
{
	ck_assert_int_eq(fclose(out), 0);
	ck_assert_msg(strstr(text, wanted) != NULL, "no \"%s\" in:\n%s", wanted, text);
}

static void has_not(const char *unwanted)
{
	ck_assert_msg(strstr(text, unwanted) == NULL, "\"%s\" in:\n%s", unwanted, text);
}

#define EIGHT "0123456701234567012345670123456701234567012345670123456701234567"
#define GROUPS "01234567 01234567 01234567 01234567 01234567 01234567 01234567 01234567"

START_TEST(test_verified)
{
	struct book_verified v = {.entries = 12,
	                          .last = 14,
	                          .rows = 9,
	                          .runs = 1,
	                          .sights = 1,
	                          .digest = EIGHT,
	                          .digest_at = EIGHT};
	FILE *out = begin();
	report_verified(out, &v, 0, "", true);
	is(out, "quantity,value,unit\nverified,yes,\ndifference,,\nentries,12,\nlast_seq,14,\n"
	        "time_backwards,0,\ndigest," EIGHT ",\n");
	report_verified(out = begin(), &v, 5, "", true);
	has(out, "\nat,5,\ndigest_at," EIGHT ",\n");
	has_not("against");
	report_verified(out = begin(), &v, 5, EIGHT, true);
	has(out, "\nagainst,yes,\n");
	report_verified(out = begin(), &v, 5, "other", true);
	has(out, "\nagainst,no,\n");
	report_verified(out = begin(), &v, 0, "", false);
	is(out,
	   "verified: the journal's 12 entries yield exactly the 9 rows of the tables\n"
	   "readings are as typed; sums and elevations follow from them: 1 run with 1 "
	   "sight\n"
	   "last entry: 14\n"
	   "digest of the entries 1 to 14:\n  " GROUPS "\n"
	   "to publish: " EIGHT "@14\n"
	   "A consistent forger is not seen from inside the file: keep the digest on paper.\n");
	v.gaps = 1;
	v.backward = 1;
	v.backward_at = 7;
	v.runs = v.sights = 2;
	report_verified(out = begin(), &v, 5, "", false);
	has(out, "2 runs with 2 sights\n"
	         "remark: 1 run has a line with a gap, which has no page check\n"
	         "remark: time runs backwards at entry 7: ");
	has_not("NOT");
	ck_assert_ptr_nonnull(strstr(text, "digest of the entries 1 to 5:\n  " GROUPS "\n"));
	v.sights = 1;
	v.gaps = 2;
	v.backward = 2;
	report_verified(out = begin(), &v, 5, EIGHT, false);
	has(out, "the entries 1 to 5 are those that the digest was taken of; 9 came since\n");
	ck_assert_ptr_nonnull(strstr(text, "follow from them: 2 runs with 1 sight\n"));
	ck_assert_ptr_nonnull(strstr(text, "remark: 2 runs have a line with a gap"));
	ck_assert_ptr_nonnull(strstr(text, "time runs backwards 2 times,"));
	has_not("digest of the entries 1 to 5");
	report_verified(out = begin(), &v, 5, "other", false);
	has(out,
	    "NOT THOSE: the entries 1 to 5 are others than those that the digest was taken of\n");
	v.digest_at[0] = '\0';
	report_verified(out = begin(), &v, 50, "other", false);
	has(out, "the journal ends at entry 14: there is no entry 50; if somebody");
	has_not("NOT THOSE");
	strcpy(v.difference, "mark 1");
	report_verified(out = begin(), &v, 0, "", false);
	is(out, "NOT VERIFIED: mark 1\n");
	report_verified(out = begin(), &v, 0, "", true);
	has(out, "verified,no,\ndifference,mark 1,\n");
}
END_TEST

START_TEST(test_pegtests)
{
	struct book_pegtest tests[2] = {0};
	struct level_peg_result r = {.tilt = 0.00005,
	                             .u = 0.00001,
	                             .sets = 1,
	                             .own = 0.000008,
	                             .air = 0.000002,
	                             .g = 60,
	                             .should_a = 1.5,
	                             .should_b = 1.25};
	struct level_style style = level_style_default(LEVEL_M);
	const struct level_tolerance *set = level_tolerance_find("third-order", NULL);
	FILE *out = begin();
	strcpy(tests[0].instrument, "small");
	strcpy(tests[0].time, "2026-05-04");
	strcpy(tests[0].tilt, "0.05 mm/m");
	strcpy(tests[0].tilt_u, "0.01 mm/m");
	strcpy(tests[0].standings, "30,1.5,30,1.25");
	strcpy(tests[1].instrument, "large");
	report_pegtests_csv(out, tests, 2);
	is(out, "quantity,value,unit\ninstrument,small,\ntime,2026-05-04,\ntilt,0.05 mm/m,\n"
	        "u_tilt,0.01 mm/m,\nstandings,\"30,1.5,30,1.25\",\n"
	        "instrument,large,\ntime,,\ntilt,,\nu_tilt,,\nstandings,,\n");
	report_pegtests_csv(out = begin(), tests, 0);
	is(out, "quantity,value,unit\n");
	/* 0.05 mm/m: 10.313" (206 264.8 x 0.00005), 2.5 mm over 50 m, 0.005 ft over 100 ft */
	report_pegtest(out = begin(), &r, set, &style, false);
	is(out, "tilt                 +0.0500 mm/m, standard uncertainty 0.0100, 1 set\n"
	        "                     +10.31 arc seconds; +2.50 mm over 50 m; +0.0050 ft over 100 "
	        "ft\n"
	        "should have read on A          1.5000   at the last standing\n"
	        "should have read on B          1.2500\n"
	        "passes: third order allows 0.1 mm/m\n"
	        "one set shows no spread: repeat it, with the instrument set up anew\n");
	r.sets = 2;
	r.tilt = 0.0002;
	report_pegtest(out = begin(), &r, set, &style, false);
	has(out, "standard uncertainty 0.0100, 2 sets\n");
	has_not("one set");
	ck_assert_ptr_nonnull(strstr(text, "FAILS: "));
	r.tilt = 0.00005;
	report_pegtest(out = begin(), &r, set, &style, true);
	has(out, "quantity,value,unit\ntilt_mm_per_m,0.05,mm/m\ntilt_arcsec,10.3132");
	ck_assert_ptr_nonnull(strstr(
	    text, "tilt_per_50m,2.5,mm\ntilt_per_100ft,0.005,ft\nu_tilt,0.01,mm/m\npasses,yes,\n"
	          "should_read_a,1.500,m\nshould_read_b,1.250,m\nsets,2,\nu_own,0.008,mm/m\n"
	          "u_air,0.002,mm/m\npegs,60.000,m\n"));
}
END_TEST

START_TEST(test_scaled)
{
	struct level_scaled scaled = {.reading = 700000000, .limit = 2000000};
	struct level_style style = level_style_default(LEVEL_M);
	FILE *out = begin();
	report_scaled(out, &scaled, &style, true);
	has(out, "quantity,value,unit\n");
	ck_assert_ptr_nonnull(strstr(text, ",0.700,m\n"));
	ck_assert_ptr_nonnull(strstr(text, ",0.002,m\n"));
}
END_TEST

static const char *left(const struct work_run *run)
{
	return report_left_behind(run, text, sizeof text);
}

START_TEST(test_left_behind)
{
	struct level_sight sights[2] = {sight(LEVEL_BS, "A", MM(1500), 0),
	                                sight(LEVEL_FS, "B", MM(1500), 0)};
	struct book_note notes[2] = {0};
	struct book_kept kept[2];
	struct work_gauge gauges[3] = {0};
	struct work_setout setouts[3] = {0};
	struct work_head heads[3] = {{.stands = true}, {.stands = false}, {.stands = true}};
	struct work_run run = {0};
	run.book.run = (struct level_run){.kind = LEVEL_LINK, .count = 2, .sight = sights};
	run.book.note = keep_notes(kept, notes, 2);
	run.gauges = gauges;
	run.setouts = setouts;
	ck_assert_str_eq(left(&run), "");
	run.book.instruments = 1;
	ck_assert_str_eq(left(&run), "");
	sights[0].state = LEVEL_STRUCK;
	ck_assert_str_eq(left(&run), "1 struck sight");
	sights[1].state = LEVEL_STRUCK;
	ck_assert_str_eq(left(&run), "2 struck sights");
	run.gauge_count = run.setout_count = 3;
	strcpy(gauges[1].gauge.struck, "2026-05-04");
	strcpy(setouts[0].setout.struck, "2026-05-04");
	strcpy(setouts[2].setout.struck, "2026-05-04");
	ck_assert_str_eq(left(&run), "2 struck sights, 2 gauge readings, 1 set-out");
	strcpy(gauges[0].gauge.struck, "2026-05-04");
	setouts[0].setout.struck[0] = '\0';
	run.aside_count = 1;
	ck_assert_str_eq(left(&run),
	                 "2 struck sights, 1 gauge reading, 2 set-outs, 1 mark set aside");
	run.gauge_count = run.setout_count = 0;
	run.aside_count = 0;
	sights[0].state = sights[1].state = LEVEL_BOOKED;
	/* a head that is only carried over stands in another run */
	run.heads = heads;
	run.head_count = 2;
	ck_assert_str_eq(left(&run), "1 head of a page");
	run.head_count = 3;
	ck_assert_str_eq(left(&run), "2 heads of pages");
	run.head_count = 0;
	run.aside_count = 2;
	run.book.info.closed = true;
	strcpy(run.book.info.grade, "12; 0; 0");
	run.book.instruments = 2;
	strcpy(notes[1].rod, "long rod");
	ck_assert_str_eq(left(&run),
	                 "2 times that a mark was set aside, that it is closed, its grade, the "
	                 "figures of its levels, the figures of its rods");
	run.book.run.kind = LEVEL_CROSSING;
	ck_assert_str_eq(left(&run), "the journal of its changes");
}
END_TEST

/* 800 m, 10 m near, with nothing but the air: k 0.13, 0.2 either way. */
static struct report_plan plan(void)
{
	struct report_plan out = {.style = level_style_default(LEVEL_M)};
	out.plan.distance = 800;
	out.plan.near = 10;
	out.plan.k_source = LEVEL_K_SET;
	out.plan.terms = (struct level_terms){.radius = LEVEL_MEAN_RADIUS,
	                                      .k = 0.13,
	                                      .dk_low = 0.2,
	                                      .dk_high = 0.2,
	                                      .instrument = {{.tolerance = 0.00001}},
	                                      .decides = LEVEL_BY_U95};
	return out;
}

static const char *verdict(const struct report_plan *p)
{
	struct level_planned planned = level_plan_of(&p->plan);
	report_plan_verdict(p, &planned, text, sizeof text);
	return text;
}

START_TEST(test_plan_verdicts)
{
	struct report_plan p = plan();
	/* 50.2 mm against 2 sqrt(5.02^2 + 4.56^2) = 13.6: 36.6 over 6.8 is 5.4 u */
	ck_assert_str_eq(verdict(&p), "this sight would tell flat from round on more than 99 "
	                              "of 100 such days");
	/* dk 1.6: u 40.2 + 4.6: 80.9 is more than 50.2 */
	p.plan.terms.dk_low = p.plan.terms.dk_high = 1.6;
	ck_assert_ptr_nonnull(strstr(verdict(&p), "and no longer one on half of them"));
	p.plan.k_source = LEVEL_K_DEFAULT;
	ck_assert_ptr_nonnull(strstr(verdict(&p), "no sight can tell, however long"));
	p.plan.k_source = LEVEL_K_SET;
	/* dk 0.9: u = sqrt(22.6^2 + 4.56^2) = 23.1, U 46.1; 4.1 over 23.1 is 0.177 u: 57 of 100 */
	p.plan.terms.dk_low = p.plan.terms.dk_high = 0.9;
	ck_assert_str_eq(verdict(&p), "this sight would tell flat from round on 57 of 100 "
	                              "such days");
	/* dk 1.0: U is as large as the curvature at any distance */
	p.plan.terms.dk_low = p.plan.terms.dk_high = 1.0;
	ck_assert_ptr_nonnull(strstr(verdict(&p),
	                             "on 49 of 100 such days, and no longer one on half "
	                             "of them: what the air alone may do"));
	p.plan.terms.dk_low = p.plan.terms.dk_high = 0.9;
	/* 0.03 mm/m over 790 m: u = sqrt(22.6^2 + 13.7^2) = 26.4, U 52.8: -2.6 over 26.4 is -0.099
	 * u: 46 of 100 */
	p.plan.terms.instrument[0].tolerance = 0.00003;
	ck_assert_ptr_nonnull(strstr(verdict(&p), "this sight would tell flat from round on 46 of "
	                                          "100 such days, one of "));
	ck_assert_ptr_nonnull(strstr(text, " m on half of them. Largest line: refraction: "));
	p.plan.terms.instrument[0].tolerance = 0.00001;
	p.plan.k_source = LEVEL_K_DEFAULT;
	ck_assert_str_eq(verdict(&p), "this sight could tell flat from round, if the air is as the "
	                              "default says; measure the air to know the chance");
	p.plan.terms.flow = -1;
	p.plan.waters = 10;
	ck_assert_str_eq(verdict(&p),
	                 "this sight cannot tell: flowing water is not level; declare its "
	                 "slope (often 0.1 mm/m), or sight back");
	p.plan.waters = 0;
	p.plan.has_hi = true;
	p.plan.hi = 4;
	p.plan.pole = 4;
	/* 4 + 43.7 mm */
	ck_assert_str_eq(verdict(&p),
	                 "this sight cannot tell: the cross-hair may meet the far pole at "
	                 "4.044 m above the water, over its top at 4.000 m; take a "
	                 "longer pole or a lower line");
	/* with dk 1.6 no sight can tell, see above */
	p.plan.terms.dk_low = p.plan.terms.dk_high = 1.6;
	ck_assert_ptr_nonnull(strstr(verdict(&p),
	                             "longer pole or a lower line; in this air no sight "
	                             "tells on half of such days: know k better"));
	p.plan.by_air = true;
	p.plan.air = level_air_nothing();
	p.plan.over = LEVEL_OVER_LAND;
	p.plan.hi = 2;
	ck_assert_str_eq(verdict(&p), "over land below 3 m nothing is known of the air without "
	                              "measuring it: hang two thermometers");
}
END_TEST

/* c = 800^2/12 742 000 = 50.2276 mm; r 0.13 of it, 6.5296; near 10 m: 0.0078 of c. */
START_TEST(test_plan_csv)
{
	static const char *const rows[] = {
	    "quantity,value,unit\ndistance,800.000,m\nradius,6371000.000,m\nk,0.13,\n"
	    "dk_low,0.2,\ndk_high,0.2,\nk_source,set,\ncurvature,0.050227594,m\n",
	    "\nrefraction,0.006529587,m\n",
	    "\nvisible_drop,0.043698006,m\n",
	    "\npredicted_drop,0.043691179,m\n",
	    "\nflat_drop,-0.006528567,m\n",
	    "\nseparation,0.050219746,m\n",
	    "\nhidden,,m\nclearance,,m\n",
	    "\ncrosshair_flat,,m\ncrosshair_round,,m\ncannot_tell,,\n"};
	struct report_plan p = plan();
	FILE *out = begin();
	report_plan(out, &p, true);
	has(out, "chance,");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_msg(strstr(text, rows[i]) != NULL, "no \"%s\" in:\n%s", rows[i], text);
	p.plan.has_hi = true;
	p.plan.hi = 2;
	report_plan(out = begin(), &p, true);
	/* 2 - 0.0065, 2 + 0.0437 */
	has(out, "\ncrosshair_flat,1.993470413,m\ncrosshair_round,2.043698006,m\n");
	has_not("no_answer");
	p.plan.by_air = true;
	p.plan.air = level_air_nothing();
	p.plan.over = LEVEL_OVER_LAND;
	report_plan(out = begin(), &p, true);
	has(out, "\nrefraction,,m\nvisible_drop,,m\npredicted_drop,,m\nallowance_bound,,m\n");
	has_not("\nk,");
	ck_assert_ptr_nonnull(
	    strstr(text, "\ncannot_tell,no-default-k,\nno_answer,no-default-k,\n"));
}
END_TEST

int main(void)
{
	return RUN_TESTS("stated", test_verified, test_pegtests, test_scaled, test_left_behind,
	                 test_plan_verdicts, test_plan_csv);
}
