/* Lists of a book, for people and as CSV: marks, instruments, water, air, stations; and what a
 * statement says of rods and of a grade. */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/report/stations.h"
#include "rodbook/work/run.h"
#include "suite.h"

static char *text;
static size_t size;

static FILE *begin(void)
{
	free(text);
	return open_memstream(&text, &size);
}

static void is(FILE *out, const char *wanted)
{
	ck_assert_int_eq(fclose(out), 0);
	ck_assert_str_eq(text, wanted);
}

static void has(const char *line)
{
	ck_assert_msg(strstr(text, line) != NULL, "no \"%s\" in:\n%s", line, text);
}

static void has_not(const char *line)
{
	ck_assert_msg(strstr(text, line) == NULL, "\"%s\" in:\n%s", line, text);
}

START_TEST(test_marks)
{
	struct shelf s;
	FILE *out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "2 mm", "city list", &s.why));
	ck_assert(book_mark_describe(s.book, "A", "bolt in a wall", "left of the door", &s.why));
	ck_assert(book_mark_set(s.book, "B", "-1.5", NULL, NULL, &s.why));
	ck_assert(report_marks(out = begin(), s.book, true, &s.why));
	is(out, "quantity,value,unit\nmark,A,\nelevation,10.000,m\nu,0.002,m\nsource,city list,\n"
	        "description,bolt in a wall,\nreach,left of the door,\n"
	        "mark,B,\nelevation,-1.500,m\nu,,m\nsource,,\n");
	ck_assert(report_marks(out = begin(), s.book, false, &s.why));
	ck_assert_int_eq(fclose(out), 0);
	has("  u 0.002 m  city list  bolt in a wall  found: left of the door\n");
	shelf_close(&s);
}
END_TEST

START_TEST(test_instruments)
{
	struct shelf s;
	struct book_instrument level = {.name = "small", .tolerance = "0.1 mm/m"};
	FILE *out;
	shelf_open(&s, LEVEL_M);
	ck_assert(report_instruments(out = begin(), s.book, false, &s.why));
	is(out, "no instruments by name: the level is the one of the setting instrument\n");
	ck_assert(report_instruments(out = begin(), s.book, true, &s.why));
	is(out, "quantity,value,unit\n");
	ck_assert_msg(book_instrument_set(s.book, &level, &s.why), "%s", s.why.text);
	strcpy(level.name, "tested");
	strcpy(level.tilt, "0.02 mm/m");
	strcpy(level.tilt_u, "0.01 mm/m");
	strcpy(level.remark, "blue box");
	ck_assert_msg(book_instrument_set(s.book, &level, &s.why), "%s", s.why.text);
	ck_assert(report_instruments(out = begin(), s.book, true, &s.why));
	is(out, "quantity,value,unit\ninstrument,small,\ntolerance,0.1 mm/m,\ntilt,,\ntilt_u,,\n"
	        "instrument,tested,\ntolerance,0.1 mm/m,\ntilt,0.02 mm/m,\ntilt_u,0.01 mm/m,\n");
	ck_assert(report_instruments(out = begin(), s.book, false, &s.why));
	is(out, "small            tolerance 0.1 mm/m\n"
	        "tested           tolerance 0.1 mm/m  tilt 0.02 mm/m +- 0.01 mm/m (standard "
	        "uncertainty)  blue box\n");
	shelf_close(&s);
}
END_TEST

START_TEST(test_waters)
{
	struct shelf s;
	FILE *out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	shelf_begin(&s, "pond", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "10", ""));
	ck_assert(report_waters(out = begin(), s.book, &s.run.info, false, &s.why));
	is(out, "no water was read in this run\n");
	ck_assert_msg(book_water_add(s.book, s.run.info.id, "A", "0.412", "", "calm", &s.why), "%s",
	              s.why.text);
	ck_assert(report_waters(out = begin(), s.book, &s.run.info, true, &s.why));
	is(out, "quantity,value,unit\nstation,A,\nwater,0.412,m\n"
	        "time,2026-05-04T09:30:00+02:00,\n");
	ck_assert(report_waters(out = begin(), s.book, &s.run.info, false, &s.why));
	is(out, "A                       0.412  2026-05-04T09:30:00+02:00  calm\n");
	ck_assert(report_airs(out = begin(), s.book, &s.run.info, false, &s.why));
	ck_assert_int_eq(fclose(out), 0);
	has("no air was booked in this run\n");
	shelf_close(&s);
}
END_TEST

/* Each value of the air with its own unit where none was typed. */
START_TEST(test_air)
{
	struct book_air air = {.pressure = "1013",
	                       .low = "15.2",
	                       .low_height = "1 m",
	                       .high = "59 F",
	                       .high_height = "6 m",
	                       .water = "14",
	                       .at = "16",
	                       .at_height = "2 m",
	                       .wind_speed = "3",
	                       .wind_height = "2 m",
	                       .wind_from = "water",
	                       .wind = "light",
	                       .sky = "overcast"};
	char line[REPORT_AIR_BYTES];
	report_air_text(&air, line, sizeof line);
	ck_assert_str_eq(line,
	                 "1013 hPa  15.2 C at 1 m  59 F at 6 m  water 14 C  above it 16 C at 2 m "
	                 " wind 3 m/s at 2 m  wind from water  wind: light  sky: overcast");
	air = (struct book_air){.sky = "overcast", .struck = "2026-05-04", .why = "misread"};
	report_air_text(&air, line, sizeof line);
	ck_assert_str_eq(line, "sky: overcast  struck 2026-05-04: misread");
	air = (struct book_air){.low = "15 C"};
	report_air_text(&air, line, sizeof line);
	ck_assert_str_eq(line, "15 C");
}
END_TEST

static void setup(struct shelf *s, const char *from, const char *back, const char *to,
                  const char *fore)
{
	ck_assert(shelf_sight(s, LEVEL_BS, from, back, "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, to, fore, "40", ""));
}

/* P is found twice, 2 mm apart, and A is given. */
START_TEST(test_stations)
{
	struct shelf s;
	FILE *out;
	size_t unreadable;
	shelf_open(&s, LEVEL_M);
	ck_assert(report_stations(out = begin(), s.book, false, &unreadable, &s.why));
	ck_assert_int_eq(fclose(out), 0);
	has("no stations yet: a run or a mark makes the first one\n");
	ck_assert(book_mark_set(s.book, "A", "10", NULL, "city list", &s.why));
	shelf_begin(&s, "one", LEVEL_OPEN);
	setup(&s, "A", "1.500", "P", "1.400");
	shelf_begin(&s, "two", LEVEL_OPEN);
	setup(&s, "A", "1.502", "P", "1.400");
	setup(&s, "P", "1.500", "Q", "1.400");
	ck_assert(report_stations(out = begin(), s.book, true, &unreadable, &s.why));
	ck_assert_int_eq(fclose(out), 0);
	has("station,given,source,determinations,mean,spread,latest,state\n");
	has("A,10.000,city list,0,,,,");
	has("P,,,2,10.101,0.002,10.102,agrees\n");
	/* found once, it has no spread */
	has("Q,,,1,10.202,,10.202,single\n");
	ck_assert_uint_eq(unreadable, 0);
	has_not("left out");
	shelf_close(&s);
}
END_TEST

/* A statement names the rods that were read, the grade, and how far the ground lies from it. */
START_TEST(test_statement)
{
	struct shelf s;
	struct work_run run;
	struct book_rod rod = {.name = "long", .zero = "2 mm", .scale = "20", .longest = "5 m"};
	struct level_sight sight = {.kind = LEVEL_FS, .station = "P"};
	struct book_note note = {.unit = LEVEL_M, .reading = "1.400", .distance = "40"};
	struct book_settings settings;
	FILE *out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	ck_assert_msg(book_rod_set(s.book, &rod, &s.why), "%s", s.why.text);
	strcpy(rod.name, "unread");
	ck_assert(book_rod_set(s.book, &rod, &s.why));
	shelf_begin(&s, "road", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "40", ""));
	ck_assert_msg(book_run_set_grade(s.book, s.run.info.id, "10; 0+000; -1 %", &s.why), "%s",
	              s.why.text);
	shelf_take(&s, s.run.info.id);
	ck_assert(book_settings(s.book, &settings, &s.why));
	strcpy(note.rod, "long");
	strcpy(note.along, "0+080");
	ck_assert_msg(book_read_sight(&settings, &note, &sight, &s.why), "%s", s.why.text);
	ck_assert_msg(book_add(s.book, &s.run, 1, &sight, &note, &s.why), "%s", s.why.text);
	ck_assert(work_run_load(s.book, "road", NULL, &run, &s.why));
	ck_assert_msg(report_statement(out = begin(), s.book, &run, REPORT_STATEMENT_TEXT, &s.why),
	              "%s", s.why.text);
	ck_assert_int_eq(fclose(out), 0);
	has("ground held against the grade 10 m; 0 m; -0.01\n");
	has("rods:\n  a rod without a name, taken as true\n  long; reads too high at zero by 2 mm; "
	    "units too long by ppm 20; length 5 m\n");
	has_not("unread");
	/* 10 - 0.8 m at 80 m. The FS stands at 10.1, and higher by what the rod reads too high by:
	 * 2 mm less 20 ppm of 1.398 m, 1.97204 mm. */
	has("; design 9.200 m; cut 0.90197204 m\n");
	has("the rod reads too high there by e = 0.001972040\n");
	has("\n  sum w s e = -0.001972040\n");
	has("rod long");
	has("rod without a name");
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("lists_printed", test_marks, test_instruments, test_waters, test_air,
	                 test_stations, test_statement);
}
