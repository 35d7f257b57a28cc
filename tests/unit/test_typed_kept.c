/* What a changed sight keeps of the booked one, and what makes a typed sight none. */
#include "books.h"
#include "rodbook/work/sight.h"
#include "kept.h"
#include "sights.h"
#include "suite.h"

START_TEST(test_kept)
{
	static const struct {
		enum level_unit unit; /* of the form; the note is in m */
		bool wires, now_wires, declared;
		const char *photo; /* as the form has it */
		const char *u, *digest, *limit, *says_declared;
	} cases[] = {
	    {LEVEL_M, false, false, false, "p.jpg", "0.001", "ab", NULL, NULL},
	    {LEVEL_FT, false, false, false, "p.jpg", "0.001 m", "ab", NULL, NULL},
	    {LEVEL_M, false, false, false, "q.jpg", "0.001", NULL, NULL, NULL},
	    {LEVEL_M, false, false, false, NULL, "0.001", NULL, NULL, NULL},
	    /* the limit of a reading by wires is in no field; once it is read by one wire it is */
	    {LEVEL_M, true, true, false, "p.jpg", "0.001", "ab", "0.004", ""},
	    {LEVEL_FT, true, true, true, "p.jpg", "0.001 m", "ab", "0.004 m", "declared"},
	    {LEVEL_M, true, false, true, "p.jpg", "0.001", "ab", NULL, NULL},
	    {LEVEL_M, false, true, true, "p.jpg", "0.001", "ab", NULL, NULL},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_note note = {.unit = LEVEL_M,
		                         .reading = "1.5",
		                         .u = "0.001",
		                         .limit = "0.004",
		                         .photo = "p.jpg",
		                         .photo_digest = "ab"};
		struct level_sight sight = {.wires = cases[i].wires, .declared = cases[i].declared};
		struct work_typed typed = {.wires = cases[i].now_wires};
		struct work_parted parted;
		typed.text[WORK_PHOTO] = cases[i].photo;
		work_typed_keep(&typed, &sight, KEPT(note), cases[i].unit, &parted);
		ck_assert_str_eq(typed.text[WORK_U], cases[i].u);
		ck_assert_pstr_eq(typed.text[WORK_PHOTO_DIGEST], cases[i].digest);
		ck_assert_pstr_eq(typed.text[WORK_LIMIT], cases[i].limit);
		ck_assert_pstr_eq(typed.text[WORK_DECLARED], cases[i].says_declared);
		ck_assert_ptr_null(typed.text[WORK_ENDS]);
	}
}
END_TEST

/* An offset keeps the ends of its tube as long as its height is the one that they made. */
START_TEST(test_ends)
{
	static const struct {
		const char *kind, *reading;
		enum level_unit unit;
		bool kept;
	} cases[] = {
	    {"OFF", "0.445", LEVEL_M, true},   {"OFF", "0.445 +- 2 mm", LEVEL_M, true},
	    {"OFF", "0.446", LEVEL_M, false},  {"FS", "0.445", LEVEL_M, false},
	    {"OFF", "0.445", LEVEL_FT, false}, {NULL, "0.445", LEVEL_M, false},
	    {"OFF", NULL, LEVEL_M, false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_note note = {
		    .unit = LEVEL_M, .reading = "0.445", .ends = "1.432; 0.987"};
		struct level_sight sight = {.kind = LEVEL_OFF};
		struct work_typed typed = {.text[WORK_SIGHT] = cases[i].kind,
		                           .text[WORK_READING] = cases[i].reading};
		struct work_parted parted;
		work_typed_keep(&typed, &sight, KEPT(note), cases[i].unit, &parted);
		ck_assert_pstr_eq(typed.text[WORK_ENDS], cases[i].kept ? "1.432; 0.987" : NULL);
	}
}
END_TEST

/* A reading with its limit behind it is carried to another unit, both with theirs. */
START_TEST(test_limit_in_a_form)
{
	static const struct level_style meters = {.unit = LEVEL_M, .distance = LEVEL_M},
	                                feet = {.unit = LEVEL_FT, .distance = LEVEL_FT};
	struct book_note note = {.unit = LEVEL_M, .reading = "1.5", .limit = "0.004"};
	struct level_sight sight = {.id = 3, .kind = LEVEL_FS, .station = "B", .again = true};
	struct book_draft draft;
	work_draft_of(&sight, KEPT(note), &meters, &draft);
	ck_assert(draft.used && draft.again && !draft.wires);
	ck_assert_int_eq(draft.at, 3);
	ck_assert(draft.unit == LEVEL_M && draft.distance_unit == LEVEL_M);
	ck_assert_str_eq(draft.kind, "FS");
	ck_assert_str_eq(draft.method, "rod");
	ck_assert_str_eq(draft.station, "B");
	ck_assert_ptr_nonnull(strstr(draft.reading, "1.5 "));
	ck_assert_ptr_nonnull(strstr(draft.reading, "0.004"));
	work_draft_carry(&draft, &feet);
	ck_assert_ptr_nonnull(strstr(draft.reading, "1.5 m "));
	ck_assert_ptr_nonnull(strstr(draft.reading, "0.004 m"));
	ck_assert(draft.unit == LEVEL_FT && draft.distance_unit == LEVEL_FT);
	/* read by wires it has none behind it */
	sight.wires = true;
	strcpy(note.middle, "1.5");
	note.reading[0] = '\0';
	work_draft_of(&sight, KEPT(note), &meters, &draft);
	ck_assert_str_eq(draft.reading, "");
	ck_assert_str_eq(draft.middle, "1.5");
	sight.wires = false;
	/* given apart it is in the unit of the book, not in that of the reading */
	strcpy(note.reading, "1500 mm");
	work_draft_of(&sight, KEPT(note), &meters, &draft);
	ck_assert_str_eq(draft.reading, "1500 mm +- 0.004 m");
	work_draft_of(&sight, KEPT(note), &feet, &draft);
	ck_assert_str_eq(draft.reading, "1500 mm +- 0.004 m");
}
END_TEST

/* Only a BS stands again. */
START_TEST(test_again)
{
	struct book_draft draft = {.again = true, .kind = "BS", .distance = "20 m tape"};
	struct work_parted parted;
	struct work_typed typed = work_draft_typed(&draft, &parted);
	ck_assert_str_eq(typed.text[WORK_AGAIN], "again");
	ck_assert_str_eq(typed.text[WORK_DISTANCE], "20 m");
	ck_assert_str_eq(typed.text[WORK_DISTANCE_BY], "tape");
	strcpy(draft.kind, "FS");
	typed = work_draft_typed(&draft, &parted);
	ck_assert_ptr_null(typed.text[WORK_AGAIN]);
	draft = (struct book_draft){.kind = "BS"};
	typed = work_draft_typed(&draft, &parted);
	ck_assert_ptr_null(typed.text[WORK_AGAIN]);
}
END_TEST

/* One text beside a sound sight "BS A 1.5". */
START_TEST(test_refused)
{
	static const struct {
		enum work_text text;
		const char *value, *words;
	} cases[] = {
	    {WORK_SIGHT, "XS", "a sight is BS, IS or FS, or OFF"},
	    {WORK_SIGHT, "", "a sight is BS, IS or FS"},
	    {WORK_METHOD, "eye", "a method is rod, tape or target"},
	    {WORK_METHOD, "tube", "a method is rod, tape or target"},
	    {WORK_UNIT, "yd", "a unit is m, ft, ftin or in"},
	    {WORK_TIME, "noon", "a time is written"},
	    {WORK_DECLARED, "yes", "declared, or nothing"},
	    {WORK_DISTANCE_UNIT, "yd", "a unit is m, ft, ftin or in"},
	    {WORK_AGAIN, "yes", "again, or nothing"},
	    {WORK_INSTRUMENT, "L9", "the book has no instrument of that name"},
	    {WORK_ROD, "R9", "the book has no rod of that name"},
	    {WORK_READING, "1.5 +- ", ""},
	    {WORK_READING, "scaled", NULL},
	    {WORK_STATION, "", "station"},
	    {WORK_STATION, " A", "station"},
	    {WORK_READING, "abc", ""},
	    {WORK_DISTANCE, "far", ""},
	};
	struct shelf s;
	struct work_reader reader;
	struct level_sight sight;
	struct book_note note;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R1", .zero = "1 mm"}, &s.why));
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R2", .zero = "1 mm"}, &s.why));
	for (int i = 1; i < 3; i++)
		ck_assert(
		    book_instrument_set(s.book,
		                        &(struct book_instrument){.name = {'L', (char)('0' + i)},
		                                                  .tolerance = "0.1 mm/m"},
		                        &s.why));
	ck_assert(work_reader_open(s.book, &reader, &s.why));
	ck_assert(reader.rod_count == 2 && reader.instrument_count == 2);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct work_typed typed = {.text[WORK_SIGHT] = "BS",
		                           .text[WORK_STATION] = "A",
		                           .text[WORK_READING] = "1.5"};
		typed.text[cases[i].text] = cases[i].value;
		s.why = (struct fault){0};
		ck_assert_msg(!work_read_sight(&reader, &typed, &sight, &note, &s.why), "case %zu",
		              i);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		if (!cases[i].words) {
			ck_assert_str_eq(s.why.field, work_text_name(WORK_SCALED));
			continue;
		}
		FAULT(&s, FAULT_INPUT, cases[i].words);
		ck_assert_str_eq(s.why.field, work_text_name(cases[i].text));
	}
	for (int i = 1; i < 3; i++) {
		char level[3] = {'L', (char)('0' + i)}, rod[3] = {'R', (char)('0' + i)};
		struct work_typed typed = {.text[WORK_SIGHT] = "fs",
		                           .text[WORK_STATION] = "A",
		                           .text[WORK_READING] = "1.5 +- 0.004",
		                           .text[WORK_DECLARED] = "declared",
		                           .text[WORK_INSTRUMENT] = level,
		                           .text[WORK_ROD] = rod};
		ck_assert_msg(work_read_sight(&reader, &typed, &sight, &note, &s.why), "%s",
		              s.why.text);
		ck_assert_int_eq(sight.kind, LEVEL_FS);
		ck_assert(sight.declared && !sight.again && !sight.wires);
		ck_assert_int_eq(sight.reading, MM(1500));
		ck_assert_int_eq(sight.limit, MM(4));
		ck_assert_str_eq(note.reading, "1.5");
		ck_assert_str_eq(note.limit, "0.004");
		/* given twice */
		typed.text[WORK_LIMIT] = "0.005";
		ck_assert(!work_read_sight(&reader, &typed, &sight, &note, &s.why));
		FAULT(&s, FAULT_INPUT, "give it once");
		ck_assert_str_eq(s.why.field, work_text_name(WORK_LIMIT));
	}
	work_reader_free(&reader);
	shelf_close(&s);
}
END_TEST

/* A bare distance is in the unit of the readings where that is named, else in the book's own. */
START_TEST(test_distance_units)
{
	static const struct {
		const char *unit, *distance_unit, *distance, *kept;
		int mm;
	} cases[] = {
	    {"", "", "10", "ft", 3048},    {"in", "", "100", "", 2540},
	    {"m", "", "10", "", 10000},    {"", "m", "10", "m", 10000},
	    {"m", "ft", "10", "ft", 3048}, {"m", "m", "10", "", 10000},
	    {"", "", "10 m", "", 10000},   {"in", "ft", "10 m", "", 10000},
	    {"", "in", "100", "", 2540},
	};
	struct shelf s;
	struct work_reader reader;
	shelf_open(&s, LEVEL_IN);
	ck_assert(work_reader_open(s.book, &reader, &s.why));
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct work_typed typed = {.text[WORK_SIGHT] = "BS",
		                           .text[WORK_STATION] = "A",
		                           .text[WORK_READING] = "1",
		                           .text[WORK_UNIT] = cases[i].unit,
		                           .text[WORK_DISTANCE] = cases[i].distance,
		                           .text[WORK_DISTANCE_UNIT] = cases[i].distance_unit};
		struct level_sight sight;
		struct book_note note;
		ck_assert_msg(work_read_sight(&reader, &typed, &sight, &note, &s.why), "%s",
		              s.why.text);
		ck_assert_msg(strcmp(note.distance_unit, cases[i].kept) == 0, "case %zu: %s", i,
		              note.distance_unit);
		ck_assert_int_eq(sight.distance, MM(cases[i].mm));
	}
	work_reader_free(&reader);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("typed_kept", test_kept, test_ends, test_limit_in_a_form, test_again,
	                 test_refused, test_distance_units);
}
