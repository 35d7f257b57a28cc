/* Offsets in a book: what is taken and refused, what hangs on them, CSV and back. */
#include "books.h"
#include "rodbook/work/sight.h"
#include "sights.h"
#include "suite.h"
#include "work/net.h"

static bool book(struct shelf *s, struct work_typed typed, struct work_booked *out)
{
	if (!work_book_sight(s->book, "up", &typed, out, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static bool offset(struct shelf *s, const char *from, const char *to, const char *height)
{
	struct work_booked out;
	return book(s,
	            (struct work_typed){.text[WORK_SIGHT] = "OFF",
	                                .text[WORK_STATION] = to,
	                                .text[WORK_READING] = height,
	                                .from = from},
	            &out);
}

/* A run from A to TP1. */
static void begin(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "50", NULL, NULL, &s->why));
	shelf_begin(s, "up", LEVEL_OPEN);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.432", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "TP1", "2.718", "30", ""));
}

START_TEST(test_where_from)
{
	struct shelf s;
	begin(&s);
	ck_assert(!offset(&s, "A", "C", "12.345"));
	FAULT(&s, FAULT_INPUT, "the line stands on TP1: an offset goes on from there, not from A");
	ck_assert(offset(&s, "TP1", "C", "12.345"));
	ck_assert(!offset(&s, "TP1", "D", "1"));
	FAULT(&s, FAULT_INPUT, "the line stands on C");
	ck_assert(offset(&s, "C", "D", "-1.5"));
	ck_assert(offset(&s, NULL, "E", "0"));
	COUNTED(&s, "BS A 1.432, FS TP1 2.718, OFF C 12.345, OFF D -1.5, OFF E 0");
	ck_assert_int_eq(s.run.run.sight[2].method, LEVEL_TAPE);
	ck_assert_str_eq(s.run.note[3].overridden, "");
	shelf_begin(&s, "empty", LEVEL_OPEN);
	ck_assert(!work_book_sight(s.book, "empty",
	                           &(struct work_typed){.text[WORK_SIGHT] = "OFF",
	                                                .text[WORK_STATION] = "C",
	                                                .text[WORK_READING] = "1",
	                                                .from = "A"},
	                           &(struct work_booked){0}, &s.why));
	FAULT(&s, FAULT_INPUT, "sight to that mark first");
	shelf_close(&s);
}
END_TEST

static void refused(struct shelf *s, struct work_typed typed, const char *field, const char *words)
{
	struct work_reader with;
	struct level_sight sight;
	struct book_note note;
	ck_assert(work_reader_open(s->book, &with, &s->why));
	ck_assert_msg(!work_read_sight(&with, &typed, &sight, &note, &s->why), "%s", words);
	FAULT(s, FAULT_INPUT, words);
	ck_assert_str_eq(s->why.field, field);
	work_reader_free(&with);
}

START_TEST(test_what_it_says)
{
	struct shelf s;
	struct work_booked out;
	begin(&s);
#define OFFSET(...)                                                                                \
	((struct work_typed){.text[WORK_SIGHT] = "OFF", .text[WORK_STATION] = "C", __VA_ARGS__})
	refused(&s, OFFSET(.text[WORK_READING] = "1", .text[WORK_DISTANCE] = "30"), "distance",
	        "no distance");
	refused(&s, OFFSET(.text[WORK_READING] = "1", .text[WORK_METHOD] = "rod"), "method",
	        "tape, ruler or tube");
	refused(
	    &s,
	    OFFSET(.text[WORK_READING] = "1", .text[WORK_U] = "1 mm", .text[WORK_LIMIT] = "2 mm"),
	    "limit", "not both");
	refused(&s, OFFSET(.text[WORK_READING] = "1", .text[WORK_U] = "-1 mm"), "u", "above 0");
	refused(&s, OFFSET(.text[WORK_READING] = "1", .text[WORK_LIMIT] = "0"), "limit", "above 0");
	refused(&s, OFFSET(.text[WORK_READING] = "100.001"), "reading", "over 100 m");
	refused(&s,
	        OFFSET(.text[WORK_UPPER] = "1", .text[WORK_MIDDLE] = "1", .text[WORK_LOWER] = "1"),
	        "upper", "no wires");
	refused(&s,
	        OFFSET(.text[WORK_READING] = "1", .text[WORK_ENDS] = "2; 1",
	               .text[WORK_METHOD] = "tape"),
	        "ends", "method tube");
	refused(&s, OFFSET(.text[WORK_READING] = "1", .text[WORK_ENDS] = "2; 1; 3"), "ends",
	        "two readings");
	refused(&s, OFFSET(.text[WORK_READING] = "1.001", .text[WORK_ENDS] = "2; 1"), "ends",
	        "less the second");
	refused(&s,
	        (struct work_typed){.text[WORK_SIGHT] = "BS",
	                            .text[WORK_STATION] = "C",
	                            .text[WORK_READING] = "1",
	                            .text[WORK_METHOD] = "tube"},
	        "method", "rod, tape or target");
	/* 1.432 - 0.987 = 0.445, with u; an instrument and a rod in use are not the offset's */
	ck_assert_msg(book(&s,
	                   OFFSET(.text[WORK_ENDS] = "1.432; 0.987", .text[WORK_U] = "3 mm",
	                          .text[WORK_INSTRUMENT] = "L9", .wires = true),
	                   &out),
	              "%s", s.why.text);
	ck_assert_int_eq(s.run.run.sight[2].reading, MM(445));
	ck_assert_int_eq(s.run.run.sight[2].method, LEVEL_TUBE);
	ck_assert_int_eq(s.run.run.sight[2].u, MM(3));
	ck_assert_double_eq_tol(out.reading_u, 0.003, 1e-12);
	ck_assert_str_eq(s.run.note[2].reading, "0.445");
	ck_assert_str_eq(s.run.note[2].ends, "1.432; 0.987");
	ck_assert_str_eq(s.run.note[2].instrument, "");
	/* 4 ft 8 in less 1 ft is 3 ft 8 in, 1.1176 m */
	typedef struct work_typed typed;
	typed feet = OFFSET(.text[WORK_ENDS] = "4' 8\"; 1'", .text[WORK_UNIT] = "ftin");
	feet.text[WORK_STATION] = "D";
	ck_assert_msg(book(&s, feet, &out), "%s", s.why.text);
	ck_assert_int_eq(s.run.run.sight[3].reading, INT64_C(1117600000));
#undef OFFSET
	shelf_close(&s);
}
END_TEST

START_TEST(test_strike_and_change)
{
	struct shelf s;
	begin(&s);
	ck_assert(offset(&s, "TP1", "C", "12.345"));
	ck_assert(offset(&s, "C", "D", "1"));
	ck_assert(shelf_sight(&s, LEVEL_BS, "D", "0.754", "30", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "TP2", "2.296", "30", ""));
	ck_assert(!shelf_strike(&s, 2));
	FAULT(&s, FAULT_INPUT, "the offset to D is measured from");
	ck_assert(!shelf_strike(&s, 1));
	ck_assert(!book_strike(s.book, &s.run, 1, true, "", &s.why));
	FAULT(&s, FAULT_INPUT, "the offset to C is measured from");
	ck_assert(!book_strike(s.book, &s.run, 2, true, "", &s.why));
	FAULT(&s, FAULT_INPUT, "belongs to no setup");
	ck_assert(!shelf_insert(&s, 2, LEVEL_BS, "TP1", "1"));
	FAULT(&s, FAULT_INPUT, "is measured from");
	/* another name goes along to the BS on it */
	struct level_sight changed = s.run.run.sight[3];
	struct book_note note = book_note_of(&s.run.note[3]);
	strcpy(changed.station, "DD");
	note.time[0] = '\0';
	ck_assert_msg(book_change(s.book, &s.run, 3, &changed, &note, &s.why), "%s", s.why.text);
	shelf_take(&s, s.run.info.id);
	COUNTED(&s, "BS A 1.432, FS TP1 2.718, OFF C 12.345, OFF DD 1, BS DD 0.754, FS TP2 2.296");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1.432, FS TP1 2.718, OFF C 12.345, OFF D 1, BS D 0.754, FS TP2 2.296");
	/* alone; the gap shows at the BS behind it */
	ck_assert(shelf_strike(&s, 3));
	COUNTED(&s, "BS A 1.432, FS TP1 2.718, OFF C 12.345, BS D 0.754, FS TP2 2.296");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1.432, FS TP1 2.718, OFF C 12.345, OFF D 1, BS D 0.754, FS TP2 2.296");
	shelf_close(&s);
}
END_TEST

static const char up_csv[] = "run,sight,station,reading,distance,method,unit,u,limit,ends\n"
                             "in,BS,A,1.432,30,,,,,\n"
                             "in,FS,TP1,2.718,30,,,,,\n"
                             "in,OFF,C,12.345,,,,,4 mm,\n"
                             "in,OFF,D,,,,,2 mm,,1.432; 0.987\n"
                             "in,BS,D,-0.754,30,,,,,\n"
                             "in,FS,A,2.296,30,,,,,\n";

START_TEST(test_csv)
{
	struct shelf s, other;
	struct work_taken counts;
	char *text, *again;
	begin(&s);
	ck_assert_msg(shelf_import(&s, up_csv, &counts), "%s", s.why.text);
	ck_assert_uint_eq(counts.below, 1);
	text = shelf_export(&s, "in");
	shelf_open(&other, LEVEL_FT);
	ck_assert_msg(shelf_import(&other, text, &counts), "%s", other.why.text);
	again = shelf_export(&other, "in");
	ck_assert_str_eq(again, text);
	free(again);
	shelf_take(&other, 1);
	ck_assert_int_eq(other.run.run.sight[2].limit, MM(4));
	ck_assert_int_eq(other.run.run.sight[3].reading, MM(445));
	ck_assert_int_eq(other.run.run.kind, LEVEL_LOOP);
	ck_assert_str_eq(other.run.note[4].overridden, "below zero");
	free(text);
	shelf_close(&other);
	ck_assert(!shelf_import(&s, "run,sight,station,reading\nx,OFF,A,1\n", &counts));
	FAULT(&s, FAULT_INPUT, "sight to that mark first");
	shelf_close(&s);
}
END_TEST

/* Two lines of 60 m between the same marks, in one of which a tape of 4 mm stands. Stated 2 mm a
 * root of a km: 0.06 km and 0.06 + 16/4 = 4.06. Without: four readings of 0.8 mm a line make 2 x 2
 * x 0.64 = 2.56 mm^2 over 0.12 km, 21.333 mm^2/km; 16/21.333 = 0.75. */
START_TEST(test_net)
{
	struct shelf s;
	struct work_net net;
	struct work_net_wish wish = {.sigma = 0.002};
	struct work_taken counts;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "50", NULL, NULL, &s.why));
	ck_assert(shelf_import(&s,
	                       "run,kind,sight,station,reading,distance,u\n"
	                       "one,open,BS,A,1,30,\none,open,FS,B,2,30,\n"
	                       "two,open,BS,A,1,30,\ntwo,open,FS,TP1,2.1,30,\n"
	                       "two,open,OFF,B,0.1,,4 mm\n",
	                       &counts));
	ck_assert_msg(work_net_load(s.book, &wish, &net, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(net.net.lines, 2);
	ck_assert(net.offsets);
	ck_assert_double_eq_tol(net.line[0].measure, 0.06, 1e-12);
	ck_assert_double_eq_tol(net.line[1].measure, 4.06, 1e-12);
	ck_assert_int_eq(net.line[1].rise, -METRES(1));
	ck_assert_int_eq(net.piece[1].length, METRES(60));
	work_net_free(&net);
	wish.sigma = 0;
	ck_assert(work_net_load(s.book, &wish, &net, &s.why));
	ck_assert_double_eq_tol(net.line[1].measure, 0.06 + 0.75, 1e-9);
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("offsets booked", test_where_from, test_what_it_says,
	                 test_strike_and_change, test_csv, test_net);
}
