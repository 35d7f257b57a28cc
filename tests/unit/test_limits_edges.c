/* Each limit of a set at its edge: just kept, just broken, not known, not asked for. */
#include "rodbook/work/limits.h"

#include "kept.h"
#include "sights.h"
#include "suite.h"

/* A loop of one setup: 30 m back and 28 m forth, the BS read by wires whose half intervals are
 * 52 and 50 mm; so sight 30 m, imbalance 2 m, difference of the half intervals 2 mm. */
struct bench {
	struct level_sight sights[4];
	struct book_note notes[4];
	struct book_kept note[4];
	struct level_tolerance set;
	struct work_run run;
	enum work_kept kept[WORK_LIMITS];
};

static struct level_sight by_wires(enum level_kind kind, int middle, int half, int distance)
{
	struct level_sight out = sight(kind, "A", MM(middle), METRES(distance));
	out.wires = true;
	out.upper = MM(middle + half);
	out.middle = MM(middle);
	out.lower = MM(middle - half);
	return out;
}

static void begin(struct bench *b)
{
	*b = (struct bench){
	    .sights = {by_wires(LEVEL_BS, 1500, 50, 30), by_wires(LEVEL_FS, 1500, 48, 28)},
	    .notes = {{.unit = LEVEL_M, .middle = "1.5"}, {.unit = LEVEL_M, .middle = "1.500"}}};
	b->sights[0].has_known = true;
	b->sights[0].upper += MM(2);
	b->run.book.run = RUN(LEVEL_LOOP, b->sights);
	b->run.book.run.count = 2;
	b->run.book.note = keep_notes(b->note, b->notes, 4);
}

static enum work_kept kept(struct bench *b, enum work_limit limit)
{
	struct level_terms terms = usual_terms();
	ck_assert(level_reduce(&b->run.book.run, 0, &terms, &b->run.page));
	b->run.closing = level_close(&b->run.book.run, &b->run.page, &terms, &b->set, 0.002);
	work_limits(&b->run, b->kept);
	level_page_free(&b->run.page);
	b->run.page = (struct level_page){0};
	return b->kept[limit];
}

START_TEST(test_figures)
{
	static const struct {
		enum work_limit limit;
		size_t member;
		double figure; /* of the run, m */
	} cases[] = {
	    {WORK_LIMIT_SIGHT, offsetof(struct level_tolerance, sight), 30},
	    {WORK_LIMIT_SETUP_IMBALANCE, offsetof(struct level_tolerance, setup_imbalance), 2},
	    {WORK_LIMIT_IMBALANCE, offsetof(struct level_tolerance, imbalance), 2},
	    {WORK_LIMIT_HALF, offsetof(struct level_tolerance, half), 0.002},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct bench b;
		double *limit = (double *)((char *)&b.set + cases[i].member);
		begin(&b);
		ck_assert_int_eq(kept(&b, cases[i].limit), WORK_NOT_ASKED);
		*limit = cases[i].figure;
		ck_assert_int_eq(kept(&b, cases[i].limit), WORK_KEPT);
		for (int other = 0; other < WORK_LIMITS; other++)
			if (other != (int)cases[i].limit && other != WORK_LIMIT_MISCLOSURE)
				ck_assert_msg(b.kept[other] == WORK_NOT_ASKED, "%s",
				              work_limit_name((enum work_limit)other));
		*limit = cases[i].figure - 1e-6;
		ck_assert_int_eq(kept(&b, cases[i].limit), WORK_BROKEN);
		/* what is missing makes nothing kept, and what is broken stays so */
		*limit = cases[i].figure + 1;
		b.sights[1].wires = false;
		b.sights[1].distance = 0;
		ck_assert_int_eq(kept(&b, cases[i].limit), WORK_NOT_KNOWN);
	}
}
END_TEST

/* A struck sight without wires leaves the half intervals known. */
START_TEST(test_struck)
{
	struct bench b;
	begin(&b);
	b.set.half = 0.002;
	b.sights[2] = as(sight(LEVEL_IS, "B", MM(1000), 0), LEVEL_STRUCK);
	b.run.book.run.count = 3;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_HALF), WORK_KEPT);
	b.sights[2].state = 0;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_HALF), WORK_NOT_KNOWN);
}
END_TEST

/* 12 mm per root of km on 58 m: 12 sqrt 0.058 = 2.89 mm. */
START_TEST(test_misclosure)
{
	struct bench b;
	begin(&b);
	b.set.per_km[0] = b.set.per_km[1] = 0.012;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_MISCLOSURE), WORK_KEPT);
	b.sights[1] = by_wires(LEVEL_FS, 1502, 48, 28);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_MISCLOSURE), WORK_KEPT);
	b.sights[1] = by_wires(LEVEL_FS, 1503, 48, 28);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_MISCLOSURE), WORK_BROKEN);
	b.sights[1] = by_wires(LEVEL_FS, 1497, 48, 28);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_MISCLOSURE), WORK_BROKEN);
}
END_TEST

/* Two standings whose rises differ by 3 mm; one standing leaves nothing to compare. */
START_TEST(test_standings)
{
	struct bench b;
	begin(&b);
	b.set.standings = 0.003;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_STANDINGS), WORK_NOT_ASKED);
	b.sights[1] = by_wires(LEVEL_FS, 1400, 48, 30);
	strcpy(b.sights[1].station, "B");
	b.sights[2] = by_wires(LEVEL_BS, 1600, 50, 30);
	b.sights[2].again = true;
	b.sights[3] = by_wires(LEVEL_FS, 1503, 48, 30);
	strcpy(b.sights[3].station, "B");
	b.run.book.run.count = 4;
	b.run.book.run.kind = LEVEL_OPEN;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_STANDINGS), WORK_KEPT);
	b.set.standings = 0.0029;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_STANDINGS), WORK_BROKEN);
	b.set.standings = 0;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_STANDINGS), WORK_NOT_ASKED);
}
END_TEST

/* No record shows how far the line of sight was above the ground. */
START_TEST(test_clearance)
{
	struct bench b;
	begin(&b);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_CLEARANCE), WORK_NOT_ASKED);
	b.set.clearance = 0.5;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_CLEARANCE), WORK_NOT_KNOWN);
}
END_TEST

START_TEST(test_level)
{
	static const struct {
		double tilt, days;
		bool unnamed;
		enum work_test state;
		enum work_kept kept;
	} cases[] = {
	    {0, 0, false, WORK_TESTED, WORK_NOT_ASKED},
	    {0, 0, false, WORK_TEST_FAILED, WORK_NOT_ASKED},
	    {1e-4, 0, false, WORK_TESTED, WORK_KEPT},
	    {0, 7, false, WORK_TESTED, WORK_KEPT},
	    {1e-4, 7, false, WORK_NO_TEST, WORK_NOT_KNOWN},
	    {1e-4, 7, false, WORK_TEST_OLD, WORK_NOT_KNOWN},
	    {1e-4, 7, false, WORK_TEST_FAILED, WORK_BROKEN},
	    {1e-4, 7, true, WORK_TESTED, WORK_NOT_KNOWN},
	    {1e-4, 7, true, WORK_TEST_FAILED, WORK_BROKEN},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct bench b;
		begin(&b);
		b.set.tilt = cases[i].tilt;
		b.set.days = cases[i].days;
		b.run.tested.state = cases[i].state;
		b.sights[0].instrument = 1;
		b.sights[1].instrument = !cases[i].unnamed;
		/* a struck sight by the unnamed level does not count */
		b.sights[2] = as(sight(LEVEL_IS, "B", MM(1000), 0), LEVEL_STRUCK);
		b.run.book.run.count = 3;
		ck_assert_msg(kept(&b, WORK_LIMIT_TEST) == cases[i].kept, "case %zu: %d", i,
		              (int)b.kept[WORK_LIMIT_TEST]);
	}
}
END_TEST

/* 2 mm a setup are known by readings to 1 or 2 mm, not to 5; an IS and a struck sight carry nothing
 * on. */
START_TEST(test_readings)
{
	static const struct {
		const char *back, *fore;
		enum work_kept kept;
	} cases[] = {
	    {"1.500", "1.500", WORK_KEPT},
	    {"1.50", "1.500", WORK_NOT_KNOWN},
	    {"1.500", "1.5", WORK_NOT_KNOWN},
	    {"59.05 in", "1.500", WORK_KEPT},
	    {"59 1/8 in", "1.500", WORK_NOT_KNOWN},
	    /* 1/16 in is 1.6 mm */
	    {"59 1/16 in", "1.500", WORK_KEPT},
	    {"150.0 cm", "1500 mm", WORK_KEPT},
	    {"1.499", "1.999", WORK_KEPT},
	    {" 1.500 ; 1.5", "1.500", WORK_KEPT},
	    {"1,500", "1.500", WORK_KEPT},
	};
	struct bench b;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		begin(&b);
		b.set.per_setup = 0.002;
		strcpy(b.notes[0].middle, cases[i].back);
		strcpy(b.notes[1].middle, cases[i].fore);
		b.sights[2] = sight(LEVEL_IS, "B", MM(1000), 0);
		strcpy(b.notes[2].reading, "1");
		b.sights[3] = as(sight(LEVEL_FS, "B", MM(1000), 0), LEVEL_STRUCK);
		strcpy(b.notes[3].reading, "1");
		b.run.book.run.count = 4;
		ck_assert_msg(kept(&b, WORK_LIMIT_READINGS) == cases[i].kept, "%s %s",
		              cases[i].back, cases[i].fore);
	}
	/* by length: 12 mm sqrt 0.058 = 2.9 mm for the only setup, and none without a length */
	begin(&b);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_READINGS), WORK_NOT_ASKED);
	strcpy(b.notes[0].middle, "1.500");
	b.set.per_km[0] = 0.012;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_READINGS), WORK_KEPT);
	b.set.per_km[0] = 0.004;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_READINGS), WORK_NOT_KNOWN);
	b.set.per_km[0] = 0.012;
	b.sights[1].distance = 0;
	ck_assert_int_eq(kept(&b, WORK_LIMIT_READINGS), WORK_NOT_KNOWN);
}
END_TEST

/* What one section says beside those before it. */
START_TEST(test_sections)
{
	static const struct {
		enum level_answer section[2], there_and_back;
		bool provisional;
		enum work_kept kept;
	} cases[] = {
	    {{LEVEL_YES, LEVEL_YES}, LEVEL_YES, false, WORK_KEPT},
	    {{LEVEL_YES, LEVEL_YES}, LEVEL_YES, true, WORK_NOT_KNOWN},
	    {{LEVEL_NO, LEVEL_YES}, LEVEL_YES, false, WORK_BROKEN},
	    {{LEVEL_YES, LEVEL_NO}, LEVEL_YES, false, WORK_BROKEN},
	    {{LEVEL_YES, LEVEL_YES}, LEVEL_NO, false, WORK_BROKEN},
	    {{LEVEL_YES, LEVEL_YES}, LEVEL_NO, true, WORK_BROKEN},
	    {{LEVEL_UNKNOWN, LEVEL_YES}, LEVEL_YES, false, WORK_NOT_KNOWN},
	    {{LEVEL_YES, LEVEL_UNKNOWN}, LEVEL_YES, false, WORK_NOT_KNOWN},
	    {{LEVEL_UNKNOWN, LEVEL_NO}, LEVEL_YES, false, WORK_BROKEN},
	    {{LEVEL_YES, LEVEL_YES}, LEVEL_UNKNOWN, false, WORK_NOT_KNOWN},
	};
	struct bench b;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct level_section sections[2] = {{.holds = cases[i].section[0]},
		                                    {.holds = cases[i].section[1]}};
		struct level_double both = {.holds = cases[i].there_and_back,
		                            .provisional = cases[i].provisional};
		begin(&b);
		b.run.sections = sections;
		b.run.section_count = 2;
		b.run.doubles = &both;
		b.run.double_count = 1;
		ck_assert_msg(kept(&b, WORK_LIMIT_SECTIONS) == cases[i].kept, "case %zu", i);
		sections[1].provisional = true;
		ck_assert_int_ne(kept(&b, WORK_LIMIT_SECTIONS), WORK_KEPT);
	}
	begin(&b);
	ck_assert_int_eq(kept(&b, WORK_LIMIT_SECTIONS), WORK_NOT_ASKED);
}
END_TEST

START_TEST(test_names)
{
	static const char *const names[] = {
	    "misclosure", "sight", "setup_imbalance", "imbalance", "half", "standings",
	    "clearance",  "test",  "readings",        "sections"};
	for (int i = 0; i < WORK_LIMITS; i++)
		ck_assert_str_eq(work_limit_name((enum work_limit)i), names[i]);
}
END_TEST

int main(void)
{
	return RUN_TESTS("limits_edges", test_figures, test_struck, test_misclosure, test_standings,
	                 test_clearance, test_level, test_readings, test_sections, test_names);
}
