/* What a book must not take, and must not believe: small tests for slips that were in it once. */
#include "books.h"
#include "suite.h"

#include "rodbook/book/journal.h"

/* Texts are checked on the way in, whoever hands them over. */
START_TEST(test_texts_on_the_way_in)
{
	struct shelf s;
	struct book_note note = {.reading = "1"};
	struct level_sight sight = {.kind = LEVEL_BS, .reading = LEVEL_NM_PER_M};
	struct book_draft draft[2] = {{.used = true, .station = "A\x1b"}};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	strcpy(sight.station, "A\x1b[2J");
	ck_assert(!book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	strcpy(sight.station, "   ");
	ck_assert(!book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	strcpy(sight.station, "A");
	sight.reading = -LEVEL_NM_PER_M;
	ck_assert(!book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	/* a reading that is not what was typed */
	sight.reading = 2 * LEVEL_NM_PER_M;
	ck_assert(!book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	ck_assert(!book_draft_save(s.book, s.run.info.id, draft, &s.why));
	sight.reading = LEVEL_NM_PER_M;
	ck_assert_msg(book_add(s.book, &s.run, 0, &sight, &note, &s.why), "%s", s.why.text);
	shelf_close(&s);
}
END_TEST

/* Wires that only the caller looked at: 1.0, 1.5 and 0.9. */
START_TEST(test_wires_in_order)
{
	struct shelf s;
	struct book_note note = {.upper = "1.0", .middle = "1.5", .lower = "0.9"};
	struct level_sight sight = {.kind = LEVEL_BS,
	                            .station = "A",
	                            .wires = true,
	                            .distance_by = LEVEL_WIRED,
	                            .distance = 10 * LEVEL_NM_PER_M,
	                            .upper = 1000000000,
	                            .middle = 1500000000,
	                            .lower = 900000000,
	                            .reading = 1133333333};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(!book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	strcpy(note.upper, "1.5");
	strcpy(note.middle, "1.0");
	sight.upper = 1500000000;
	sight.middle = 1000000000;
	ck_assert_msg(book_add(s.book, &s.run, 0, &sight, &note, &s.why), "%s", s.why.text);
	shelf_close(&s);
}
END_TEST

/* What an action did to a mark or to another run is not this run's to take back. */
START_TEST(test_undo_stays_in_its_run)
{
	struct shelf s;
	int64_t other, mine;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "other", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "Z", "1"));
	other = s.run.info.id;
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_mark_set(s.book, "M", "10", NULL, NULL, &s.why));
	shelf_begin(&s, "mine", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "M", "1"));
	ck_assert(book_finish(s.book, true, &s.why));
	mine = s.run.info.id;
	shelf_take(&s, mine);
	ck_assert_msg(shelf_undo(&s), "%s", s.why.text);
	ck_assert_int_eq(s.run.run.sight[0].state, LEVEL_STRUCK);
	shelf_take(&s, other);
	ck_assert_int_eq(s.run.run.sight[0].state, LEVEL_BOOKED);
	shelf_close(&s);
}
END_TEST

START_TEST(test_undo_of_a_name_given_away)
{
	struct shelf s;
	int64_t id, other;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	id = s.run.info.id;
	ck_assert(book_run_rename(s.book, id, "b", &s.why));
	ck_assert(book_run_add(s.book, "a", LEVEL_OPEN, &other, &s.why));
	shelf_take(&s, id);
	ck_assert(!shelf_undo(&s));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	ck_assert_ptr_nonnull(strstr(s.why.text, "another run is named a by now"));
	shelf_close(&s);
}
END_TEST

START_TEST(test_struck_stays_struck)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_strike(&s, 1));
	ck_assert(!shelf_change(&s, 1, LEVEL_IS, "P", "3"));
	ck_assert_str_eq(s.run.note[1].why, "struck");
	shelf_close(&s);
}
END_TEST

/* A bare length in a setting must not change its meaning with the unit. */
START_TEST(test_bare_reading_figures)
{
	struct shelf s;
	struct book_settings got;
	shelf_open(&s, LEVEL_M);
	ck_assert(!book_set(s.book, "tape_reading", "0.001", &s.why));
	ck_assert(!book_set(s.book, "rod_reading", "0.0005 + 0.01 mm/m", &s.why));
	ck_assert(book_set(s.book, "tape_reading", "2 mm", &s.why));
	ck_assert(book_set(s.book, "unit", "ft", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert_double_eq_tol(got.terms.reading_fixed[LEVEL_TAPE], 0.002, 1e-15);
	ck_assert(!book_set(s.book, "radius", "6371", &s.why));
	shelf_close(&s);
}
END_TEST

/* 55 blanks and prime signs: cut in the middle of a character it would spoil the whole book. */
START_TEST(test_mark_is_not_cut)
{
	struct shelf s;
	struct book_mark *marks;
	size_t count;
	char text[80];
	memset(text, ' ', 55);
	strcpy(text + 55, "8\xe2\x80\xb2 0\xe2\x80\xb3");
	shelf_open(&s, LEVEL_M);
	ck_assert(!book_mark_set(s.book, "A", text, NULL, NULL, &s.why));
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	free(marks);
	shelf_close(&s);
}
END_TEST

/* 20 m by wires stay 20 m in a book of other stadia constants. */
START_TEST(test_wire_distance_travels)
{
	struct shelf from, to;
	struct work_taken counts;
	struct book_run_info info;
	char *csv;
	shelf_open(&from, LEVEL_M);
	shelf_open(&to, LEVEL_FT);
	ck_assert(book_set(to.book, "stadia_multiplier", "50", &to.why));
	ck_assert(shelf_import(&from,
	                       "run,sight,station,reading,upper,middle,lower\n"
	                       "n,BS,A,,1.5,1.4,1.3\n",
	                       &counts));
	csv = shelf_export(&from, "n");
	ck_assert_msg(shelf_import(&to, csv, &counts), "%s", to.why.text);
	ck_assert(book_run_find(to.book, "n", &info, &to.why));
	shelf_take(&to, info.id);
	ck_assert_int_eq(to.run.run.sight[0].distance, 20 * LEVEL_NM_PER_M);
	free(csv);
	shelf_close(&from);
	shelf_close(&to);
}
END_TEST

/* Another program was first: that is said, not that the sight does not fit. */
START_TEST(test_stale_comes_first)
{
	struct shelf s;
	struct book_run theirs;
	struct level_sight sight;
	struct book_note note;
	struct book *other;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	other = book_open(s.path, shelf_clock, &s.why);
	ck_assert(book_load(other, s.run.info.id, &theirs, &s.why));
	ck_assert(shelf_read(&s, LEVEL_FS, "B", "2", &sight, &note));
	ck_assert(book_add(other, &theirs, 1, &sight, &note, &s.why));
	book_run_free(&theirs);
	book_close(other);
	ck_assert(!shelf_book(&s, LEVEL_BS, "B", "2"));
	ck_assert_int_eq(s.why.kind, FAULT_STALE);
	shelf_close(&s);
}
END_TEST

/* Whoever takes a whole run cannot walk past the order of its sights, nor past how many a run may
 * have: more could not be read again. */
START_TEST(test_taken_run_is_one_that_can_be_booked)
{
	struct shelf s;
	size_t many = LEVEL_SIGHTS_LIMIT + 1;
	struct level_sight *sights = calloc(many, sizeof *sights);
	struct book_note *notes = calloc(many, sizeof *notes);
	struct level_run run = {.kind = LEVEL_OPEN, .sight = sights, .count = 1};
	ck_assert_ptr_nonnull(sights);
	ck_assert_ptr_nonnull(notes);
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < many; i++) {
		sights[i].kind = i % 2 ? LEVEL_FS : LEVEL_BS;
		snprintf(sights[i].station, sizeof sights[i].station, "T%zu", (i + 1) / 2);
		sights[i].reading = LEVEL_NM_PER_M;
		strcpy(notes[i].reading, "1");
	}
	sights[0].kind = LEVEL_FS;
	ck_assert(!book_take_run(s.book, "a", &run, notes, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	sights[0].kind = LEVEL_BS;
	sights[0].state = LEVEL_STRUCK;
	ck_assert(!book_take_run(s.book, "a", &run, notes, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	sights[0].state = LEVEL_BOOKED;
	strcpy(notes[0].time, "yesterday");
	ck_assert(!book_take_run(s.book, "a", &run, notes, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	strcpy(notes[0].time, "2026-05-03");
	ck_assert_msg(book_take_run(s.book, "a", &run, notes, &s.why), "%s", s.why.text);
	run.count = many;
	ck_assert(!book_take_run(s.book, "many", &run, notes, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	free(sights);
	free(notes);
	shelf_close(&s);
}
END_TEST

static void assert_verified(struct shelf *s)
{
	struct book_verified held;
	ck_assert_msg(book_verify(s->book, 0, &held, &s->why), "%s", s->why.text);
	ck_assert_str_eq(held.difference, "");
}

/* A sight that was loaded, and is booked again elsewhere, stands for no other one there. */
START_TEST(test_loaded_note_replaces_nothing)
{
	struct shelf s;
	struct level_sight sight;
	struct book_note note;
	struct level_run run = {.kind = LEVEL_OPEN, .sight = &sight, .count = 1};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_change(&s, 0, LEVEL_BS, "A", "1.1"));
	ck_assert_int_ne(s.run.note[1].replaces, 0);
	sight = s.run.run.sight[1];
	note = book_note_of(&s.run.note[1]);
	ck_assert_msg(book_take_run(s.book, "b", &run, &note, &s.why), "%s", s.why.text);
	assert_verified(&s);
	shelf_begin(&s, "c", LEVEL_OPEN);
	ck_assert_msg(book_add(s.book, &s.run, 0, &sight, &note, &s.why), "%s", s.why.text);
	assert_verified(&s);
	shelf_close(&s);
}
END_TEST

/* Whatever time a caller gives, the book says when it was typed, and is verified. */
START_TEST(test_time_of_booking_is_kept)
{
	struct shelf s;
	struct level_sight sight;
	struct book_note note;
	struct level_run run = {.kind = LEVEL_OPEN, .sight = &sight, .count = 1};
	shelf_open(&s, LEVEL_M);
	ck_assert(shelf_read(&s, LEVEL_BS, "A", "1", &sight, &note));
	strcpy(note.time, "2026-05-01T08:00:00+02:00");
	ck_assert_msg(book_take_run(s.book, "b", &run, &note, &s.why), "%s", s.why.text);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(book_add(s.book, &s.run, 0, &sight, &note, &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_str_eq(s.run.note[0].booked, "2026-05-04T09:30:00+02:00");
	strcpy(note.time, "2026-05-01T08:20:00+02:00");
	ck_assert(book_change(s.book, &s.run, 0, &sight, &note, &s.why));
	strcpy(note.time, "2026-05-01T08:00:00+02:00");
	assert_verified(&s);
	/* an imported sight may keep its time when it is changed */
	struct book_run_info info;
	ck_assert(book_run_find(s.book, "b", &info, &s.why));
	shelf_take(&s, info.id);
	ck_assert_msg(book_change(s.book, &s.run, 0, &sight, &note, &s.why), "%s", s.why.text);
	assert_verified(&s);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("hardness", test_texts_on_the_way_in, test_wires_in_order,
	                 test_undo_stays_in_its_run, test_undo_of_a_name_given_away,
	                 test_struck_stays_struck, test_bare_reading_figures, test_mark_is_not_cut,
	                 test_wire_distance_travels, test_stale_comes_first,
	                 test_taken_run_is_one_that_can_be_booked,
	                 test_loaded_note_replaces_nothing, test_time_of_booking_is_kept);
}
