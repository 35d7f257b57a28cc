/* The texts of a sight: from a note to a half-typed form and back. */
#include "rodbook/work/sight.h"

#include <string.h>

#include "kept.h"
#include "suite.h"

/* A note with another text in each place, written out by hand. */
static const struct book_note noted = {.unit = LEVEL_M,
                                       .reading = "1.5",
                                       .distance = "20",
                                       .distance_by = "map",
                                       .instrument = "L1",
                                       .rod = "R1",
                                       .along = "0+40",
                                       .photo = "p.jpg",
                                       .remark = "windy"};
static const struct level_sight sight = {
    .id = 7, .kind = LEVEL_BS, .method = LEVEL_TAPE, .station = "A", .again = true};

static const struct level_style meters = {.unit = LEVEL_M, .distance = LEVEL_M},
                                feet = {.unit = LEVEL_FT, .distance = LEVEL_FT},
                                inches = {.unit = LEVEL_IN, .distance = LEVEL_FT};

START_TEST(test_note_to_form_and_back)
{
	struct book_draft draft;
	struct work_parted parted;
	struct work_typed typed;
	const char *const expected[WORK_TEXTS] = {
	    [WORK_SIGHT] = "BS",     [WORK_STATION] = "A",       [WORK_READING] = "1.5",
	    [WORK_DISTANCE] = "20",  [WORK_DISTANCE_BY] = "map", [WORK_METHOD] = "tape",
	    [WORK_REMARK] = "windy", [WORK_INSTRUMENT] = "L1",   [WORK_ROD] = "R1",
	    [WORK_AGAIN] = "again",  [WORK_ALONG] = "0+40",      [WORK_PHOTO] = "p.jpg"};
	work_draft_of(&sight, KEPT(noted), &meters, &draft);
	ck_assert_int_eq(draft.at, 7);
	ck_assert_str_eq(draft.distance, "20 map");
	typed = work_draft_typed(&draft, &parted);
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		ck_assert_msg(
		    strcmp(typed.text[t] ? typed.text[t] : "", expected[t] ? expected[t] : "") == 0,
		    "%s: %s", work_text_name(t), typed.text[t]);
}
END_TEST

/* 1.5 m stays what it is when the book goes over to feet: it takes its unit along. */
START_TEST(test_lengths_keep_their_unit)
{
	struct book_draft draft;
	work_draft_of(&sight, KEPT(noted), &feet, &draft);
	ck_assert_str_eq(draft.reading, "1.5 m");
	ck_assert_str_eq(draft.distance, "20 m map");
	ck_assert_str_eq(draft.remark, "windy");
	work_draft_of(&sight, KEPT(noted), &meters, &draft);
	work_draft_carry(&draft, &inches);
	ck_assert_str_eq(draft.reading, "1.5 m");
	ck_assert_str_eq(draft.station, "A");
	ck_assert_int_eq(draft.unit, LEVEL_IN);
}
END_TEST

/* A distance has a unit of its own: feet beside inches. What was typed bare in inches, before that
 * was so, stays in inches. */
START_TEST(test_distances_keep_their_own_unit)
{
	struct book_draft draft;
	struct book_note note = noted;
	note.unit = LEVEL_IN;
	strcpy(note.distance_unit, "ft");
	work_draft_of(&sight, KEPT(note), &inches, &draft);
	ck_assert_str_eq(draft.distance, "20 map");
	work_draft_of(&sight, KEPT(note), &meters, &draft);
	ck_assert_str_eq(draft.distance, "20 ft map");
	work_draft_carry(&draft, &inches);
	ck_assert_str_eq(draft.distance, "20 map");
	ck_assert_str_eq(draft.reading, "1.5 in");
	strcpy(note.distance_unit, "");
	work_draft_of(&sight, KEPT(note), &inches, &draft);
	ck_assert_str_eq(draft.distance, "20 in map");
	work_draft_carry(&draft, &inches);
	ck_assert_str_eq(draft.distance, "20 in map");
	work_draft_carry(&draft, &meters);
	ck_assert_str_eq(draft.distance, "20 in map");
	/* thousands stay legible only with the unit behind them */
	strcpy(draft.distance, "2,550 ft map");
	work_draft_carry(&draft, &inches);
	ck_assert_str_eq(draft.distance, "2,550 ft map");
}
END_TEST

/* Each text alone makes a form another one; those of the way of reading that is not used do not. */
START_TEST(test_each_text_makes_a_difference)
{
	struct book_draft a, b;
	work_draft_of(&sight, KEPT(noted), &meters, &a);
	ck_assert(!work_drafts_differ(&a, &a));
	for (enum work_text t = 0; t < WORK_TEXTS; t++) {
		char *text;
		b = a;
		text = work_draft_text(&b, t, NULL);
		if (!text)
			continue;
		text[0] ^= 1;
		ck_assert_msg(work_drafts_differ(&a, &b) == (t < WORK_UPPER || t > WORK_LOWER),
		              "%s", work_text_name(t));
	}
	b = a;
	b.wires = true;
	ck_assert(work_drafts_differ(&a, &b));
}
END_TEST

START_TEST(test_names)
{
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		ck_assert_int_eq(work_text_named(work_text_name(t)), t);
	ck_assert_int_eq(work_text_named("nothing"), WORK_TEXTS);
	ck_assert_int_eq(work_text_named(NULL), WORK_TEXTS);
	/* As half-typed forms of earlier books number their focus. */
	ck_assert_int_eq(WORK_REMARK, 8);
}
END_TEST

/* The first of the marks and the last are found, and one that is none of them is not. */
START_TEST(test_find_known)
{
	static const struct book_mark marks[] = {
	    {.name = "A", .elevation = 10 * LEVEL_NM_PER_M, .u = 1000000},
	    {.name = "B", .elevation = 11 * LEVEL_NM_PER_M, .u = 2000000}};
	struct level_sight found = {.station = "A"};
	work_find_known(marks, 2, &found);
	ck_assert(found.has_known);
	ck_assert_int_eq(found.known, 10 * LEVEL_NM_PER_M);
	ck_assert_int_eq(found.known_u, 1000000);
	strcpy(found.station, "B");
	work_find_known(marks, 2, &found);
	ck_assert(found.has_known);
	ck_assert_int_eq(found.known, 11 * LEVEL_NM_PER_M);
	strcpy(found.station, "C");
	work_find_known(marks, 2, &found);
	ck_assert(!found.has_known);
}
END_TEST

int main(void)
{
	return RUN_TESTS("typed", test_note_to_form_and_back, test_lengths_keep_their_unit,
	                 test_distances_keep_their_own_unit, test_each_text_makes_a_difference,
	                 test_names, test_find_known);
}
