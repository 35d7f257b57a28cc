/* Runs broken into the lines of a net: at which marks, with what rise, length and setups, and which
 * runs stay out. */
#include <math.h>

#include "books.h"
#include "rodbook/book/closings.h"
#include "sights.h"
#include "suite.h"
#include "work/net.h"

/* CSV rows of a run "kind,sight,station,reading,distance" behind its name. */
static void import(struct shelf *s, const char *rows)
{
	static char text[60000];
	struct work_taken counts;
	snprintf(text, sizeof text, "run,kind,sight,station,reading,distance,time\n%s", rows);
	ck_assert_msg(shelf_import(s, text, &counts), "%s", s->why.text);
}

static void load(struct shelf *s, const struct work_net_wish *wish, struct work_net *net)
{
	s->why = (struct fault){0};
	ck_assert_msg(work_net_load(s->book, wish, net, &s->why), "%s", s->why.text);
}

/* "A-B 0.500, ..." of each line, in m. */
static const char *lines_of(const struct work_net *net)
{
	static char text[600];
	size_t used = 0;
	text[0] = '\0';
	for (size_t i = 0; i < net->net.lines; i++)
		used += (size_t)snprintf(
		    text + used, sizeof text - used, "%s%s %s-%s %.4f", used ? ", " : "",
		    net->piece[i].run, net->mark[net->line[i].from].name,
		    net->mark[net->line[i].to].name, level_to_meters(net->line[i].rise));
	return text;
}

/* A run is broken at a known mark, at one that another run stands on, and at one met twice; not at
 * a turning point, nor at a mark met once. Balanced sights, so h drops out: A up 0.5 to P, 0.25 to
 * TP1, 0.125 to B. */
static const char two_runs[] = "one,link,BS,A,1.5,40,2026-05-04T10:00:00+02:00\n"
                               "one,link,IS,N,1.2,10,2026-05-03T10:00:00+02:00\n"
                               "one,link,FS,P,1.0,40,2026-05-04T10:00:00+02:00\n"
                               "one,link,BS,P,1.5,30,2026-05-05T10:00:00+02:00\n"
                               "one,link,FS,TP1,1.25,30,2026-05-04T10:00:00+02:00\n"
                               "one,link,BS,TP1,1.5,20,\n"
                               "one,link,FS,Q,1.375,20,\n"
                               "one,link,BS,Q,1.5,20,\n"
                               "one,link,FS,B,1.5,20,\n"
                               "two,link,BS,P,1.5,50,2026-05-06T10:00:00+02:00\n"
                               "two,link,FS,TP1,1.0,50,\n"
                               "two,link,BS,TP1,1.0,50,\n"
                               "two,link,FS,B,1.124,50,2026-05-02T10:00:00+02:00\n";

static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	import(s, two_runs);
}

START_TEST(test_broken)
{
	struct shelf s;
	struct work_net net;
	make(&s);
	load(&s, &(struct work_net_wish){0}, &net);
	ck_assert_str_eq(lines_of(&net), "one A-P 0.5000, one P-B 0.3750, two P-B 0.3760");
	ck_assert_uint_eq(net.runs, 2);
	ck_assert_str_eq(work_net_run(&net, 0), "one");
	ck_assert_str_eq(work_net_run(&net, 1), "two");
	ck_assert_uint_eq(net.net.marks, 3);
	ck_assert(net.mark[0].fixed && !net.mark[1].fixed && !net.mark[2].fixed);
	ck_assert_int_eq(net.mark[0].elevation, METRES(10));
	/* 80 m; 60 + 40 + 40 m; 200 m */
	ck_assert_int_eq(net.piece[0].length, METRES(80));
	ck_assert_int_eq(net.piece[1].length, METRES(140));
	ck_assert_int_eq(net.piece[2].length, METRES(200));
	ck_assert_int_eq(net.piece[0].setups, 1);
	ck_assert_int_eq(net.piece[1].setups, 3);
	ck_assert_int_eq(net.piece[2].setups, 2);
	for (size_t i = 0; i < 3; i++) {
		ck_assert(net.piece[i].corrected && !net.piece[i].misses);
		ck_assert_double_eq(net.piece[i].offset_variance, 0);
		/* each reading by its method, two of them a setup, alike at these distances */
		ck_assert(net.piece[i].reading_variance > 0);
	}
	ck_assert_double_eq_tol(net.line[0].measure, 0.08, 1e-12);
	ck_assert_double_eq_tol(net.line[2].measure, 0.2, 1e-12);
	ck_assert(net.by == LEVEL_BY_DISTANCE && !net.fallback && !*net.no_distance);
	ck_assert(!net.offsets && net.misses == 0 && net.left_out == 0 && net.reopened == 0);
	/* days of counted BS, FS and IS alike */
	ck_assert_str_eq(net.first_day, "2026-05-02");
	ck_assert_str_eq(net.last_day, "2026-05-06");
	work_net_free(&net);
	/* at every mark that is no run's own */
	load(&s, &(struct work_net_wish){.every = true}, &net);
	ck_assert_str_eq(lines_of(&net), "one A-P 0.5000, one P-Q 0.3750, one Q-B 0.0000, two P-B "
	                                 "0.3760");
	work_net_free(&net);
	/* by setups, and one run alone, whose end is a mark of the net too */
	{
		const enum level_by setups = LEVEL_BY_SETUPS;
		const char *const names[] = {"one"};
		load(&s, &(struct work_net_wish){.by = &setups, .runs = names, .count = 1}, &net);
		ck_assert_str_eq(lines_of(&net), "one A-B 0.8750");
		ck_assert_double_eq(net.line[0].measure, 4);
		ck_assert_int_eq(net.by, LEVEL_BY_SETUPS);
		ck_assert(!net.fallback);
		work_net_free(&net);
	}
	shelf_close(&s);
}
END_TEST

/* Without one distance all go by setups, unless that was refused. */
START_TEST(test_no_distance)
{
	const enum level_by distance = LEVEL_BY_DISTANCE;
	struct shelf s;
	struct work_net net;
	make(&s);
	import(&s, "three,link,BS,P,1.5,40,\nthree,link,FS,B,1.125,,\n");
	load(&s, &(struct work_net_wish){0}, &net);
	ck_assert_int_eq(net.by, LEVEL_BY_SETUPS);
	ck_assert(net.fallback);
	ck_assert_str_eq(net.no_distance, "three");
	ck_assert_double_eq(net.line[1].measure, 3);
	ck_assert(!net.piece[3].corrected && net.piece[2].corrected);
	work_net_free(&net);
	ck_assert(!work_net_load(s.book, &(struct work_net_wish){.by = &distance}, &net, &s.why));
	FAULT(&s, FAULT_INPUT, "a distance of run three is not known: add it, or weigh by setups");
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

/* A line between known marks is held to the rule of sections: 12 mm sqrt 0.08 = 3.39 mm. */
START_TEST(test_misses)
{
	static const struct {
		const char *elevation;
		int miss; /* um */
		bool misses;
	} cases[] = {{"10.5", 0, false},
	             {"10.4967", 3300, false},
	             {"10.4966", 3400, true},
	             {"10.5033", -3300, false},
	             {"10.5034", -3400, true}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct work_net net;
		shelf_open(&s, LEVEL_M);
		ck_assert(book_set(s.book, "tolerance", "third-order", &s.why));
		ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
		ck_assert(book_mark_set(s.book, "P", cases[i].elevation, NULL, NULL, &s.why));
		import(&s, two_runs);
		load(&s, &(struct work_net_wish){0}, &net);
		ck_assert_int_eq(net.piece[0].miss, (level_nm)cases[i].miss * 1000);
		ck_assert_int_eq(net.piece[0].allowable / 10000, 339);
		ck_assert(net.piece[0].misses == cases[i].misses);
		ck_assert_uint_eq(net.misses, cases[i].misses);
		ck_assert(!net.piece[1].misses && net.piece[1].allowable == 0);
		work_net_free(&net);
		shelf_close(&s);
	}
}
END_TEST

/* What stays out: a run without any FS, a crossing; those that were
 * opened again are named. */
START_TEST(test_left_out)
{
	struct shelf s;
	struct work_net net;
	struct book_run_info info;
	make(&s);
	import(&s, "begun,open,BS,A,1.5,40,\n"
	           "lake,crossing,BS,P,1.5,40,\nlake,crossing,FS,B,1.5,40,\n");
	ck_assert(book_mark_set(s.book, "B", "10.875", NULL, NULL, &s.why));
	ck_assert(book_run_find(s.book, "one", &info, &s.why));
	shelf_take(&s, info.id);
	ck_assert_msg(book_run_close(s.book, &s.run, "paced", &s.why), "%s", s.why.text);
	ck_assert(book_run_reopen(s.book, info.id, "a look", &s.why));
	load(&s, &(struct work_net_wish){0}, &net);
	ck_assert_uint_eq(net.runs, 2);
	ck_assert_uint_eq(net.left_out, 1);
	ck_assert_str_eq(net.left[0], "begun");
	ck_assert_uint_eq(net.reopened, 1);
	ck_assert_str_eq(net.again[0], "one");
	work_net_free(&net);
	{
		const char *const names[] = {"begun"}, *const none[] = {"none"};
		struct work_net_wish wish = {.runs = names, .count = 1};
		ck_assert(!work_net_load(s.book, &wish, &net, &s.why));
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		work_net_free(&net);
		wish.runs = none;
		ck_assert(!work_net_load(s.book, &wish, &net, &s.why));
		FAULT(&s, FAULT_INPUT, "none");
		work_net_free(&net);
	}
	shelf_close(&s);
}
END_TEST

/* Three hundred marks in a row, each found again under its name on the way back. */
START_TEST(test_many)
{
	static char rows[60000];
	struct shelf s;
	struct work_net net;
	size_t used = 0;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "M0", "10", NULL, NULL, &s.why));
	for (int i = 0; i < 600; i++) {
		int from = i < 300 ? i : 600 - i, to = i < 300 ? i + 1 : 599 - i;
		used += (size_t)snprintf(rows + used, sizeof rows - used,
		                         "l,loop,BS,M%d,%s,9,\nl,loop,FS,M%d,1,9,\n", from,
		                         i < 300 ? "1.01" : "0.99", to);
		ck_assert_uint_lt(used, sizeof rows - 80);
	}
	import(&s, rows);
	load(&s, &(struct work_net_wish){.every = true}, &net);
	ck_assert_uint_eq(net.net.marks, 301);
	ck_assert_uint_eq(net.net.lines, 600);
	for (size_t i = 0; i < 600; i++) {
		char from[8], to[8];
		snprintf(from, sizeof from, "M%zu", i < 300 ? i : 600 - i);
		snprintf(to, sizeof to, "M%zu", i < 300 ? i + 1 : 599 - i);
		ck_assert_str_eq(net.mark[net.line[i].from].name, from);
		ck_assert_str_eq(net.mark[net.line[i].to].name, to);
		ck_assert_int_eq(net.line[i].rise, i < 300 ? MM(10) : MM(-10));
	}
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("net_gathered", test_broken, test_no_distance, test_misses, test_left_out,
	                 test_many);
}
