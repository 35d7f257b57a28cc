/* Nets gathered from a book, and results kept beside the readings. */
#include "rodbook/report/adjustment.h"

#include "work/net.h"

#include "books.h"
#include "suite.h"

/* A run of setups with sights of 50 m: BS 1.500 each, FS so that it rises by the mm given. */
struct leg {
	const char *from, *to;
	int rise;
};

static void run_of(struct shelf *s, const char *name, enum level_run_kind kind,
                   const struct leg *legs, size_t count)
{
	shelf_begin(s, name, kind);
	for (size_t i = 0; i < count; i++) {
		char reading[16];
		int mm = 1500 - legs[i].rise;
		snprintf(reading, sizeof reading, "%d.%03d", mm / 1000, mm % 1000);
		ck_assert_msg(shelf_sight(s, LEVEL_BS, legs[i].from, "1.500", "50", ""), "%s",
		              s->why.text);
		ck_assert_msg(shelf_sight(s, LEVEL_FS, legs[i].to, reading, "50", ""), "%s",
		              s->why.text);
	}
}

#define RUN_OF(s, name, kind, ...)                                                                 \
	run_of(s, name, kind, (const struct leg[]){__VA_ARGS__},                                   \
	       sizeof((const struct leg[]){__VA_ARGS__}) / sizeof(struct leg))

static char *adjusted(struct shelf *s, struct report_adjust how)
{
	char *text = NULL;
	size_t size = 0;
	bool passes;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(report_adjust(out, s->book, &how, &passes, &s->why), "%s", s->why.text);
	ck_assert_int_eq(fclose(out), 0);
	return text;
}

static void holds(const char *text, const char *line)
{
	ck_assert_msg(strstr(text, line) != NULL, "no \"%s\" in:\n%s", line, text);
}

static void refused(struct shelf *s, struct report_adjust how, const char *words)
{
	bool passes;
	ck_assert(!report_adjust(stdout, s->book, &how, &passes, &s->why));
	FAULT(s, FAULT_INPUT, words);
}

START_TEST(test_broken_at_shared_marks)
{
	/* One long run past P, one that begins on it, and turning points of the same name in both:
	 * P is a mark of the net, TP1 none. By hand: from A to P 100 by one setup, P to Q by 0.2 km
	 * 200 and from Q back 204 by one: the loop of 0.3 km misses 4 mm, each setup 4/3 mm. */
	struct shelf s;
	struct report_adjust how = {.net = true, .csv = true};
	char *csv;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "long", LEVEL_OPEN, {"A", "P", 100}, {"P", "TP1", 50}, {"TP1", "Q", 150});
	RUN_OF(&s, "back", LEVEL_OPEN, {"Q", "P", -204});
	RUN_OF(&s, "spur", LEVEL_OPEN, {"P", "TP1", 30});
	csv = adjusted(&s, how);
	holds(csv, "mark,elevation,sd,fixed\nA,10.000,,yes\nP,10.100,");
	holds(csv, "\nQ,10.302666667,");
	/* The spur ends on a turning point of its own. */
	holds(csv, "\nTP1 of spur,10.130,");
	holds(csv, "\nlong,A,P,100.000,0.100,0.100,0.000,,1,0\n");
	holds(csv, "\nlong,P,Q,200.000,0.200,0.202666667,0.002666667,");
	holds(csv, "\nback,Q,P,100.000,-0.204,-0.202666667,0.001333333,");
	holds(csv, "\nspur,P,TP1 of spur,100.000,0.030,0.030,0.000,,1,0\n");
	holds(csv, "\nfreedom,1,\n");
	free(csv);
	shelf_close(&s);
}
END_TEST

START_TEST(test_broken_at_known_marks)
{
	/* A known turning point holds the run on the way, were it named TP and a number. */
	struct shelf s;
	struct report_adjust how = {.net = true, .csv = true};
	char *csv;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "1 mm", NULL, &s.why));
	ck_assert(book_mark_set(s.book, "TP1", "10.101", NULL, NULL, &s.why));
	RUN_OF(&s, "line", LEVEL_OPEN, {"A", "TP1", 100}, {"TP1", "B", 100});
	csv = adjusted(&s, how);
	holds(csv, "\nline,A,TP1,100.000,0.100,0.101,0.001,");
	holds(csv, "\nB,10.201,");
	free(csv);
	how.csv = false;
	csv = adjusted(&s, how);
	holds(csv, "their u is ignored");
	holds(csv, "nothing checks this run: line from TP1 to B");
	free(csv);
	shelf_close(&s);
}
END_TEST

START_TEST(test_what_is_left_out)
{
	struct shelf s;
	const char *const half[] = {"half"}, *const pond[] = {"pond"}, *const none[] = {"none"},
	                  *const twice[] = {"line", "line"};
	struct report_adjust how = {.net = true};
	char *text;
	shelf_open(&s, LEVEL_M);
	refused(&s, how, "no run of this book is complete");
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "line", LEVEL_OPEN, {"A", "B", 100});
	shelf_begin(&s, "half", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "1.5"));
	RUN_OF(&s, "pond", LEVEL_CROSSING, {"A", "B", 90});
	text = adjusted(&s, how);
	holds(text, "net of 1 run, in m: 1 mark adjusted, 1 held");
	holds(text, "not complete or not readable, and left out: half\n");
	holds(text, "nothing is checked");
	free(text);
	how.count = 1;
	how.runs = half;
	refused(&s, how, "run half is not complete");
	how.runs = pond;
	refused(&s, how, "run pond is a crossing");
	how.runs = none;
	refused(&s, how, "there is no run none");
	how.runs = twice;
	how.count = 2;
	refused(&s, how, "run line is named twice");
	how.count = 1;
	how.sd = "-1 mm";
	refused(&s, how, "above 0");
	shelf_close(&s);
}
END_TEST

/* A run that was closed and opened again stands in the net, and is named. */
START_TEST(test_opened_again)
{
	struct shelf s;
	struct work_net net;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "line", LEVEL_OPEN, {"A", "B", 100});
	RUN_OF(&s, "round", LEVEL_LOOP, {"A", "C", 100}, {"C", "A", -100});
	ck_assert_msg(book_run_close(s.book, &s.run, "", &s.why), "%s", s.why.text);
	ck_assert(book_run_reopen(s.book, s.run.info.id, "the rod stood on a stone", &s.why));
	ck_assert_msg(work_net_load(s.book, &(struct work_net_wish){0}, &net, &s.why), "%s",
	              s.why.text);
	ck_assert_uint_eq(net.runs, 2);
	ck_assert_uint_eq(net.reopened, 1);
	ck_assert_str_eq(net.again[0], "round");
	ck_assert_uint_eq(net.left_out, 0);
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

START_TEST(test_loose_parts)
{
	struct shelf s;
	struct report_adjust how = {.net = true};
	shelf_open(&s, LEVEL_M);
	RUN_OF(&s, "north", LEVEL_OPEN, {"A", "B", 100});
	RUN_OF(&s, "south", LEVEL_OPEN, {"C", "D", 100});
	refused(&s, how, "no mark of this net has a known elevation");
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	refused(&s, how, "not tied to a held mark: C and D");
	shelf_close(&s);
}
END_TEST

/* The fractions told so far: in order, and how many. */
struct told {
	double last;
	int calls;
};

static void tell(void *context, double fraction)
{
	struct told *told = context;
	ck_assert_double_ge(fraction, told->last);
	ck_assert_double_le(fraction, 1);
	told->last = fraction;
	told->calls++;
}

START_TEST(test_progress)
{
	/* Gathering and solving are one way from 0 to 1. */
	struct shelf s;
	struct told told = {0};
	struct report_adjust how = {.net = true, .progress = tell, .context = &told};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "a", LEVEL_OPEN, {"A", "B", 100});
	RUN_OF(&s, "b", LEVEL_OPEN, {"B", "C", 100});
	RUN_OF(&s, "c", LEVEL_OPEN, {"C", "A", -200});
	free(adjusted(&s, how));
	ck_assert_double_eq(told.last, 1);
	ck_assert_int_ge(told.calls, 5);
	shelf_close(&s);
}
END_TEST

START_TEST(test_missing_distance)
{
	/* Without a distance the net goes by setups, unless distances are asked for. */
	struct shelf s;
	enum level_by by = LEVEL_BY_DISTANCE;
	struct report_adjust how = {.net = true};
	char *text;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "line", LEVEL_OPEN, {"A", "B", 100});
	shelf_begin(&s, "short", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.5"));
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1.398"));
	text = adjusted(&s, how);
	holds(text, "weights 1/setups: not all distances are known, as in run short");
	holds(text, "where all distances are known: 1 of 2");
	holds(text, "\nB       10.1010  0.0010");
	free(text);
	how.by = &by;
	refused(&s, how, "a distance of run short is not known");
	shelf_close(&s);
}
END_TEST

START_TEST(test_corrected_as_the_page)
{
	/* A piece has off what the page's corrected elevations have off: to 1 nm for each end. */
	struct shelf s;
	struct work_run run;
	struct report_adjust how = {.net = true, .csv = true};
	char *csv, line[120], height[LEVEL_LENGTH_BYTES];
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "0", NULL, NULL, &s.why));
	shelf_begin(&s, "line", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "10", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.000", "300", ""));
	ck_assert(work_run_load(s.book, "line", NULL, &run, &s.why));
	ck_assert(run.page.row[1].has_corrected);
	level_format_exact(height, run.page.row[1].corrected, &run.settings.style);
	ck_assert_str_ne(height, "0.500");
	snprintf(line, sizeof line, "\nB,%s,,no\n", height);
	work_run_free(&run);
	csv = adjusted(&s, how);
	holds(csv, line);
	free(csv);
	shelf_close(&s);
}
END_TEST

/* What is said of the result that was kept last. */
static bool changed(struct shelf *s)
{
	struct book_result *list;
	size_t count;
	bool out;
	ck_assert_msg(book_results(s->book, &list, &count, &s->why), "%s", s->why.text);
	ck_assert_uint_gt(count, 0);
	out = list[0].changed;
	free(list);
	return out;
}

START_TEST(test_kept)
{
	struct shelf s;
	const char *const names[] = {"line", "back"};
	struct report_adjust how = {.net = true, .csv = true, .keep = true};
	struct book_result *list, one;
	size_t count;
	char *csv, *figures;
	int64_t run;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "other", LEVEL_OPEN, {"A", "C", 300});
	RUN_OF(&s, "line", LEVEL_OPEN, {"A", "B", 100});
	RUN_OF(&s, "back", LEVEL_OPEN, {"B", "A", -102});
	run = s.run.info.id;
	how.runs = names;
	how.count = 2;
	csv = adjusted(&s, how);
	ck_assert_msg(book_result_find(s.book, 1, &one, &figures, &s.why), "%s", s.why.text);
	ck_assert_str_eq(figures, csv);
	ck_assert_str_eq(one.subject, "line\nback\n");
	ck_assert(one.net && !one.changed);
	ck_assert_str_eq(one.time, "2026-05-04T09:30:00+02:00");
	free(csv);
	free(figures);
	/* Keeping makes no run stale for those who have it open. */
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.5"));
	ck_assert(changed(&s));
	/* The newest first; of all runs, and of one. */
	ck_assert(shelf_undo(&s));
	how.count = 0;
	free(adjusted(&s, how));
	ck_assert(!changed(&s));
	ck_assert(book_result_find(s.book, 2, &one, &figures, &s.why));
	ck_assert_str_eq(one.subject, BOOK_ALL_RUNS);
	free(figures);
	ck_assert(book_run_rename(s.book, run, "return", &s.why));
	ck_assert(changed(&s));
	ck_assert(book_results(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_int_eq(list[0].id, 2);
	free(list);
	ck_assert(!book_result_find(s.book, 3, &one, &figures, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no result 3");
	shelf_close(&s);
}
END_TEST

START_TEST(test_what_changes_a_result)
{
	struct shelf s;
	const char *const names[] = {"loop"};
	struct report_adjust how = {.runs = names, .count = 1, .keep = true};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	RUN_OF(&s, "loop", LEVEL_LOOP, {"A", "B", 100}, {"B", "A", -98});
	/* Other runs, and what was kept, are nothing to it; marks and settings are. */
	free(adjusted(&s, how));
	RUN_OF(&s, "other", LEVEL_OPEN, {"A", "C", 300});
	free(adjusted(&s, how));
	ck_assert(!changed(&s));
	ck_assert(book_mark_set(s.book, "C", "10.3", NULL, NULL, &s.why));
	ck_assert(changed(&s));
	free(adjusted(&s, how));
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	ck_assert(changed(&s));
	shelf_close(&s);
}
END_TEST

/* Marks 200 000 km apart over sights of 1 nm: the standard deviation of a km, 2e8 m times the root
 * of 1 km over 2e-12 km, is no length that nanometers hold, and is not shown as one. */
START_TEST(test_beyond_all_lengths)
{
	struct shelf s;
	char *text;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "-100000000", NULL, "", &s.why));
	ck_assert(book_mark_set(s.book, "Z", "100000000", NULL, "", &s.why));
	shelf_begin(&s, "r", LEVEL_LINK);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1", "0.000000001", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "P", "1", "0.000000001", ""));
	ck_assert(shelf_sight(&s, LEVEL_BS, "P", "1", "1", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "Z", "1", "1", ""));
	shelf_begin(&s, "s", LEVEL_LINK);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1", "0.000000001", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "Z", "1", "0.000000001", ""));
	ck_assert(shelf_sight(&s, LEVEL_BS, "Z", "1", "900", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "P", "1", "900", ""));
	text = adjusted(&s, (struct report_adjust){.net = true});
	holds(text, "standard deviation beyond all lengths per root of a km\n");
	ck_assert_ptr_null(strstr(text, "-922337"));
	free(text);
	text = adjusted(&s, (struct report_adjust){.net = true, .csv = true});
	ck_assert_ptr_null(strstr(text, "-922337"));
	free(text);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("results", test_broken_at_shared_marks, test_broken_at_known_marks,
	                 test_what_is_left_out, test_opened_again, test_loose_parts, test_progress,
	                 test_missing_distance, test_corrected_as_the_page, test_kept,
	                 test_what_changes_a_result, test_beyond_all_lengths);
}
