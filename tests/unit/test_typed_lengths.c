/* How long a text may be that is booked beside a sight, what it may hold, and the unit that it
 * keeps.
 */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"
#include "suite.h"

static bool water(struct shelf *s, const char *station, const char *typed, const char *time,
                  const char *remark)
{
	return book_water_add(s->book, s->run.info.id, station, typed, time, remark, &s->why);
}

static bool gauge(struct shelf *s, const char *station, const char *typed, const char *time,
                  const char *remark)
{
	return book_gauge_add(s->book, s->run.info.id, station, typed, time, remark, &s->why);
}

static bool setout(struct shelf *s, const char *station, const char *typed, const char *time,
                   const char *remark)
{
	(void)time;
	(void)remark;
	return book_setout_set(s->book, s->run.info.id, station, typed, &s->why);
}

typedef bool book_row(struct shelf *, const char *, const char *, const char *, const char *);
static const struct {
	book_row *book;
	const char *field; /* of what is typed */
	bool timed;
} ways[] = {{water, "reading", true}, {gauge, "reading", true}, {setout, "", false}};

/* A length of 60 characters, of which 4 are kept free for a unit. */
START_TEST(test_lengths)
{
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		struct shelf s;
		char typed[70], remark[130];
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_OPEN);
		snprintf(typed, sizeof typed, "%-57s", "1.5");
		memset(remark, 'r', sizeof remark);
		remark[121] = '\0';
		s.why = (struct fault){0};
		ck_assert_msg(!ways[i].book(&s, "P", typed, "", ""), "way %zu", i);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		if (*ways[i].field)
			ck_assert_str_eq(s.why.field, ways[i].field);
		typed[56] = '\0';
		ck_assert_msg(ways[i].book(&s, "P", typed, "", ""), "way %zu: %s", i, s.why.text);
		if (ways[i].timed) {
			ck_assert(!ways[i].book(&s, "P", "1.5", "", remark));
			ck_assert_str_eq(s.why.field, "remark");
			remark[120] = '\0';
			ck_assert(ways[i].book(&s, "P", "1.5", "", remark));
			ck_assert(!ways[i].book(&s, "P", "1.5", "\x1b", ""));
			ck_assert_str_eq(s.why.field, "time");
			ck_assert(!ways[i].book(&s, "P", "1.5", "noon", ""));
			ck_assert_str_eq(s.why.field, "time");
			ck_assert(!ways[i].book(&s, "P", "1.5", "", "\x1b"));
			ck_assert_str_eq(s.why.field, "remark");
		}
		ck_assert(!ways[i].book(&s, "", "1.5", "", ""));
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		ck_assert(!ways[i].book(&s, " P", "1.5", "", ""));
		ck_assert(!ways[i].book(&s, "P", "high", "", ""));
		ck_assert(!ways[i].book(&s, "P", "1.5\x1b", "", ""));
		shelf_close(&s);
	}
}
END_TEST

/* 100 m either way, and not a nanometer more. */
START_TEST(test_water_limit)
{
	static const struct {
		const char *typed;
		bool taken;
	} cases[] = {
	    {"100", true}, {"-100", true}, {"100.000000001", false}, {"-100.000000001", false}};
	struct shelf s;
	struct book_water *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(water(&s, "P", cases[i].typed, "", "") == cases[i].taken, "%s",
		              cases[i].typed);
		if (!cases[i].taken) {
			FAULT(&s, FAULT_INPUT, "the water is over 100 m from the station");
			ck_assert_str_eq(s.why.field, "reading");
		}
	}
	ck_assert(water(&s, "P", "1.5", "2026-05-04T08:00", "calm"));
	ck_assert(book_waters(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_int_eq(list[0].reading, INT64_C(100000000000));
	ck_assert_int_eq(list[1].reading, INT64_C(-100000000000));
	ck_assert_str_eq(list[0].time, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(list[0].booked, "");
	ck_assert_str_eq(list[2].station, "P");
	ck_assert_str_eq(list[2].typed, "1.5");
	ck_assert_str_eq(list[2].remark, "calm");
	ck_assert_int_eq(strncmp(list[2].time, "2026-05-04T08:00", 16), 0);
	ck_assert_str_eq(list[2].booked, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(list[2].struck, "");
	free(list);
	shelf_close(&s);
}
END_TEST

/* The mean of those that count at a station, and what scatter they have: 0.4 and 0.406 m are 0.403
 * m with a standard deviation of 6/sqrt 2 = 4.2426 mm. */
START_TEST(test_water_mean)
{
	const struct book_water list[] = {{.station = "P", .reading = 400000000},
	                                  {.station = "Q", .reading = 900000000},
	                                  {.station = "P", .reading = 7, .struck = "t"},
	                                  {.station = "P", .reading = 406000000}};
	struct level_sight sight = {.station = "P"};
	book_water_mean(list, 4, &sight);
	ck_assert_int_eq(sight.water_count, 2);
	ck_assert_int_eq(sight.water, 403000000);
	ck_assert_double_eq_tol(sight.water_sd, 0.0042426, 1e-6);
	book_water_mean(list, 2, &sight);
	ck_assert_int_eq(sight.water_count, 1);
	ck_assert_int_eq(sight.water, 400000000);
	ck_assert_double_eq(sight.water_sd, 0);
	/* the surface itself is read once, at 0, unless it was read otherwise */
	strcpy(sight.station, "R");
	book_water_mean(list, 4, &sight);
	ck_assert_int_eq(sight.water_count, 0);
	ck_assert_int_eq(sight.water, 0);
	sight.surface = true;
	book_water_mean(list, 4, &sight);
	ck_assert_int_eq(sight.water_count, 1);
	ck_assert_int_eq(sight.water, 0);
	strcpy(sight.station, "Q");
	book_water_mean(list, 4, &sight);
	ck_assert_int_eq(sight.water, 900000000);
}
END_TEST

/* The figures that every book begins with do not hang on what stood there before. */
START_TEST(test_default_figures)
{
	static struct book_figures clean, dirty;
	char value[BOOK_VALUE_BYTES], name[BOOK_VALUE_BYTES];
	memset(&dirty, 'x', sizeof dirty - 1);
	book_default_figures(&clean);
	book_default_figures(&dirty);
	ck_assert_str_eq(dirty.text, clean.text);
	ck_assert(book_figure(&clean, "k", value));
	ck_assert_str_eq(value, "0.13");
	ck_assert(book_figure(&clean, "k_source", value));
	ck_assert_str_eq(value, "default");
	ck_assert(book_figure(&clean, "instrument_source", value));
	ck_assert_str_eq(value, "a default");
	ck_assert(!book_figure(&clean, "title", value));
	ck_assert_str_eq(value, "");
	/* by number, the first and one behind the last */
	ck_assert(book_figure_at(&clean, 0, name, value));
	ck_assert_str_eq(name, "instrument");
	ck_assert_str_eq(value, "0.1 mm/m");
	ck_assert(!book_figure_at(&clean, 99, name, value));
}
END_TEST

/* Putting a figure takes the place of the one there was; an empty value takes it away. */
START_TEST(test_figures_put)
{
	struct book_figures figures = {.text = "a\t1\nab\t2\nb\t3\n"};
	struct shelf s = {0};
	char name[2 * BOOK_VALUE_BYTES];
	int put = 0;
	ck_assert(book_figure_put(&figures, "ab", "20", &s.why));
	ck_assert_str_eq(figures.text, "a\t1\nab\t20\nb\t3\n");
	ck_assert(book_figure_put(&figures, "a", "", &s.why));
	ck_assert_str_eq(figures.text, "ab\t20\nb\t3\n");
	ck_assert(book_figure_put(&figures, "b", "", &s.why));
	ck_assert(book_figure_put(&figures, "c", "", &s.why));
	ck_assert_str_eq(figures.text, "ab\t20\n");
	ck_assert(book_figure_put(&figures, "c", "4", &s.why));
	ck_assert_str_eq(figures.text, "ab\t20\nc\t4\n");
	ck_assert(!book_figure_put(&figures, "d\t", "4", &s.why));
	ck_assert(!book_figure_put(&figures, "d", "4\n", &s.why));
	ck_assert_str_eq(figures.text, "ab\t20\nc\t4\n");
	/* 4000 bytes and a NUL: 100 lines of 40 */
	figures.text[0] = '\0';
	for (;; put++) {
		snprintf(name, sizeof name, "figure %031d", put);
		if (!book_figure_put(&figures, name, "", &s.why) ||
		    !book_figure_put(&figures, name + 7, "123456", &s.why))
			break;
	}
	/* each is 31 + 1 + 6 + 1 = 39 bytes: 4000/39 = 102.6 */
	ck_assert_int_eq(put, 102);
	FAULT(&s, FAULT_INPUT, "there is no room for more figures");
	ck_assert_uint_eq(strlen(figures.text), 102 * 39);
	/* one takes the place of another of its length, or of a shorter one while there is room for
	 * the rest: 4000 - 3978 = 22 */
	snprintf(name, sizeof name, "%031d", 50);
	ck_assert_msg(book_figure_put(&figures, name, "654321", &s.why), "%s", s.why.text);
	ck_assert(book_figure_put(&figures, name, "6543210123456789012345678901", &s.why));
	ck_assert_uint_eq(strlen(figures.text), BOOK_FIGURES_BYTES - 1);
	ck_assert(!book_figure_put(&figures, name, "65432101234567890123456789012", &s.why));
	ck_assert_uint_eq(strlen(figures.text), BOOK_FIGURES_BYTES - 1);
}
END_TEST

/* A peg test has so many standings, each of at most 299 characters. */
START_TEST(test_standings)
{
	static const struct level_style meters = {.unit = LEVEL_M, .distance = LEVEL_M};
	struct level_standing got[LEVEL_STANDINGS_MOST];
	struct shelf s = {0};
	char text[400 + LEVEL_STANDINGS_MOST * 24] = "";
	size_t count;
	for (int i = 0; i < LEVEL_STANDINGS_MOST; i++)
		strcat(strcat(text, i ? "; " : ""), "30,1.5,30,1.2");
	ck_assert_msg(book_read_standings(text, &meters, got, &count, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(count, LEVEL_STANDINGS_MOST);
	ck_assert_int_eq(got[count - 1].reading_b, INT64_C(1200000000));
	strcat(text, "; 30,1.5,30,1.2");
	ck_assert(!book_read_standings(text, &meters, got, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "a peg test has at most");
	snprintf(text, sizeof text, "%-299s", "30,1.5,30,1.2");
	s.why = (struct fault){0};
	if (!book_read_standings(text, &meters, got, &count, &s.why))
		ck_assert_ptr_null(strstr(s.why.text, "at most"));
	snprintf(text, sizeof text, "%-300s", "30,1.5,30,1.2");
	ck_assert(!book_read_standings(text, &meters, got, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "a peg test has at most");
}
END_TEST

int main(void)
{
	return RUN_TESTS("typed_lengths", test_lengths, test_water_limit, test_water_mean,
	                 test_default_figures, test_figures_put, test_standings);
}
