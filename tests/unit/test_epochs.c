/* Epochs gathered from a book: names, held marks, marks that are in both. */
#include "work/epochs.h"

#include "books.h"
#include "suite.h"
#include "rodbook/book/aside.h"

/* A run of setups with sights of 50 m: BS 1.500 each, FS so that it rises by the mm given. */
struct leg {
	const char *from, *to;
	int rise;
};

static void run_of(struct shelf *s, const char *name, const struct leg *legs, size_t count)
{
	shelf_begin(s, name, LEVEL_OPEN);
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

#define RUN_OF(s, name, ...)                                                                       \
	run_of(s, name, (const struct leg[]){__VA_ARGS__},                                         \
	       sizeof((const struct leg[]){__VA_ARGS__}) / sizeof(struct leg))

static void known(struct shelf *s, const char *name, const char *elevation)
{
	ck_assert_msg(book_mark_set(s->book, name, elevation, "", "", &s->why), "%s", s->why.text);
}

static bool load(struct shelf *s, const char *first, const char *second, const char *hold,
                 struct work_epochs *out)
{
	const struct work_names names[] = {{&first, 1}, {&second, 1}};
	const struct work_epochs_wish wish = {
	    .epoch = names, .epochs = 2, .hold = {&hold, hold ? 1 : 0}, .sigma = 0.001};
	return work_epochs_load(s->book, &wish, out, &s->why);
}

static void loaded(struct shelf *s, const char *first, const char *second, const char *hold,
                   struct work_epochs *out)
{
	ck_assert_msg(load(s, first, second, hold, out), "%s", s->why.text);
}

static void refused(struct shelf *s, const char *first, const char *second, const char *hold,
                    const char *words)
{
	struct work_epochs out;
	ck_assert(!load(s, first, second, hold, &out));
	work_epochs_free(&out);
	FAULT(s, FAULT_INPUT, words);
}

/* The change of a mark, mm; 999 where it is not compared. */
static double mm_of(const struct work_epochs *e, const char *name)
{
	const struct level_changes *changes = &e->compared[1].changes;
	for (size_t i = 0; i < changes->count; i++) {
		const struct level_change *c = &changes->change[i];
		ck_assert_str_eq(e->net[0].mark[c->mark.first].name,
		                 e->net[1].mark[c->mark.second].name);
		if (strcmp(e->net[0].mark[c->mark.first].name, name) == 0)
			return (double)c->change / 1e6;
	}
	return 999;
}

START_TEST(test_parts)
{
	const char *const known_names[] = {"a,b", "a", "c"};
	const char *const given[] = {"a,b", " c , a ", "x"};
	const char *const bad[] = {"", ",", "a,", ",a", "a,,c", "a, ,c"};
	struct work_names names = {given, 3};
	struct work_parts parts;
	struct fault why = {0};
	ck_assert(work_part(&names, known_names, 3, &parts, &why));
	ck_assert_uint_eq(parts.count, 4);
	ck_assert_str_eq(parts.name[0], "a,b");
	ck_assert_str_eq(parts.name[1], "c");
	ck_assert_str_eq(parts.name[2], "a");
	ck_assert_str_eq(parts.name[3], "x");
	work_parts_free(&parts);
	/* Not whole a name: parted. */
	ck_assert(work_part(&names, known_names + 1, 2, &parts, &why));
	ck_assert_uint_eq(parts.count, 5);
	ck_assert_str_eq(parts.name[1], "b");
	work_parts_free(&parts);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		names = (struct work_names){&bad[i], 1};
		why = (struct fault){0};
		ck_assert(!work_part(&names, known_names, 3, &parts, &why));
		ck_assert_int_eq(why.kind, FAULT_INPUT);
		work_parts_free(&parts);
	}
}
END_TEST

START_TEST(test_passed_marks)
{
	/* P is passed once in each epoch and is compared all the same; TP1 of both is not, and A, B
	 * are held. 4 and 2 km alike: P takes half of the miss of -2 mm. */
	struct shelf s;
	struct work_epochs e;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	known(&s, "B", "10.2");
	RUN_OF(&s, "then", {"A", "TP1", 50}, {"TP1", "P", 50}, {"P", "TP2", 50}, {"TP2", "B", 50});
	RUN_OF(&s, "now", {"A", "TP1", 50}, {"TP1", "P", 42}, {"P", "TP2", 50}, {"TP2", "B", 56});
	loaded(&s, "then", "now", NULL, &e);
	ck_assert_uint_eq(e.compared[1].changes.count, 1);
	ck_assert_double_eq_tol(mm_of(&e, "P"), -7, 1e-6);
	ck_assert_uint_eq(e.compared[1].changes.held_count, 2);
	ck_assert_uint_eq(e.compared[1].alone_count[0], 0);
	ck_assert_str_eq(e.net[0].first_day, "2026-05-04");
	work_epochs_free(&e);
	shelf_close(&s);
}
END_TEST

START_TEST(test_held)
{
	struct shelf s;
	struct work_epochs e;
	struct book_run_info info;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	known(&s, "B", "10.1");
	known(&s, "C", "10.2");
	RUN_OF(&s, "then", {"A", "B", 100}, {"B", "C", 100}, {"C", "P", 100});
	RUN_OF(&s, "now", {"A", "B", 100}, {"B", "P", 190});
	/* C is known, and only one epoch reaches it: it is not held, and not compared. */
	loaded(&s, "then", "now", NULL, &e);
	ck_assert_uint_eq(e.compared[1].changes.held_count, 2);
	ck_assert_uint_eq(e.compared[1].alone_count[0], 1);
	ck_assert_str_eq(e.net[0].mark[e.compared[1].alone[0][0]].name, "C");
	ck_assert_double_eq_tol(mm_of(&e, "P"), -10, 1e-6);
	work_epochs_free(&e);
	/* A mark that is named is held, and known ones that are not are compared. */
	loaded(&s, "then", "now", "B", &e);
	ck_assert_uint_eq(e.compared[1].changes.held_count, 1);
	ck_assert_double_eq_tol(mm_of(&e, "A"), 0, 1e-6);
	work_epochs_free(&e);
	/* Another elevation since: both epochs have it. */
	known(&s, "A", "20");
	loaded(&s, "then", "now", "A", &e);
	for (int i = 0; i < 2; i++)
		ck_assert_int_eq(e.net[i].mark[e.compared[1].changes.held[0].mark.first].elevation,
		                 20 * LEVEL_NM_PER_M);
	work_epochs_free(&e);
	/* Set aside by one run: not held by itself. */
	ck_assert(book_run_find(s.book, "now", &info, &s.why));
	shelf_take(&s, info.id);
	ck_assert_msg(book_aside_set(s.book, &s.run, "B", true, "frost", &s.why), "%s", s.why.text);
	loaded(&s, "then", "now", NULL, &e);
	ck_assert_uint_eq(e.compared[1].changes.held_count, 1);
	ck_assert_uint_eq(e.aside_count, 1);
	ck_assert_str_eq(e.net[0].mark[e.aside[0]].name, "B");
	ck_assert_double_eq_tol(mm_of(&e, "B"), 0, 1e-6);
	work_epochs_free(&e);
	/* Struck: it has no elevation any more. */
	ck_assert(book_mark_strike(s.book, "A", &s.why));
	refused(&s, "then", "now", "A", "mark A is struck");
	refused(&s, "then", "now", NULL, "reached by every epoch and not set aside");
	refused(&s, "then", "now", "P", "mark P has no known elevation");
	refused(&s, "then", "now", "C", "the second epoch does not reach mark C");
	refused(&s, "then", "now", "B,B", "mark B is named twice");
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	RUN_OF(&s, "then", {"A", "P", 100});
	RUN_OF(&s, "now", {"A", "P", 90});
	shelf_begin(&s, "half", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "50", ""));
	shelf_begin(&s, "pond", LEVEL_CROSSING);
	refused(&s, "then", "then", NULL, "run then is named in the first and in the second epoch");
	refused(&s, "then,then", "now", NULL, "first epoch: run then is named twice");
	refused(&s, "then", "half", NULL, "second epoch: run half is not complete");
	refused(&s, "pond", "now", NULL, "first epoch: run pond is a crossing");
	refused(&s, "then", "none", NULL, "second epoch: there is no run none");
	shelf_close(&s);
}
END_TEST

START_TEST(test_weighed_alike)
{
	/* One distance is missing in the second epoch: both go by setups. */
	struct shelf s;
	struct work_epochs e;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	RUN_OF(&s, "then", {"A", "P", 100});
	shelf_begin(&s, "now", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "P", "1.4", "50", ""));
	loaded(&s, "then", "now", NULL, &e);
	for (int i = 0; i < 2; i++) {
		ck_assert_int_eq(e.net[i].by, LEVEL_BY_SETUPS);
		ck_assert(e.net[i].fallback);
	}
	/* 1 mm a setup stated, one setup each: sqrt 2 mm. */
	ck_assert_double_eq_tol(e.compared[1].changes.change[0].sd, 0.00141421, 1e-8);
	work_epochs_free(&e);
	shelf_close(&s);
}
END_TEST

/* Sights of 50 m: a setup is 0.1 km. 1 mm a root of a km stated makes 1 mm x sqrt 0.1 an epoch, and
 * sqrt 2 times that for the change. */
START_TEST(test_weighed_by_distance)
{
	struct shelf s;
	struct work_epochs e;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	RUN_OF(&s, "then", {"A", "P", 100});
	RUN_OF(&s, "now", {"A", "P", 90});
	loaded(&s, "then", "now", NULL, &e);
	for (int i = 0; i < 2; i++) {
		ck_assert_int_eq(e.net[i].by, LEVEL_BY_DISTANCE);
		ck_assert_double_eq_tol(e.net[i].line[0].measure, 0.1, 1e-12);
	}
	ck_assert_double_eq_tol(e.compared[1].changes.change[0].sd, 0.000447214, 1e-9);
	work_epochs_free(&e);
	shelf_close(&s);
}
END_TEST

/* Those that both epochs reach are in the order of the first one's line, not of their names; behind
 * the last name of one epoch the other may have more. */
START_TEST(test_order)
{
	struct shelf s;
	struct work_epochs e;
	const struct level_changes *changes = &e.compared[1].changes;
	shelf_open(&s, LEVEL_M);
	known(&s, "A", "10");
	RUN_OF(&s, "then", {"A", "P", 10}, {"P", "D", 10}, {"D", "C", 10}, {"C", "B", 10});
	RUN_OF(&s, "now", {"A", "P", 10}, {"P", "C", 20}, {"C", "Y", 10}, {"Y", "Z", 10});
	loaded(&s, "then", "now", NULL, &e);
	ck_assert_uint_eq(changes->count, 2);
	ck_assert_str_eq(e.net[0].mark[changes->change[0].mark.first].name, "P");
	ck_assert_str_eq(e.net[0].mark[changes->change[1].mark.first].name, "C");
	ck_assert_uint_eq(e.compared[1].alone_count[0], 2);
	ck_assert_str_eq(e.net[0].mark[e.compared[1].alone[0][0]].name, "B");
	ck_assert_str_eq(e.net[0].mark[e.compared[1].alone[0][1]].name, "D");
	ck_assert_uint_eq(e.compared[1].alone_count[1], 2);
	ck_assert_str_eq(e.net[1].mark[e.compared[1].alone[1][0]].name, "Y");
	ck_assert_str_eq(e.net[1].mark[e.compared[1].alone[1][1]].name, "Z");
	work_epochs_free(&e);
	shelf_close(&s);
}
END_TEST

/* So many marks that some of them lie in one place of the table of names: each is a mark of its
 * own.
 */
START_TEST(test_many_marks)
{
	static char text[20000];
	size_t used;
	struct shelf s;
	struct work_net net;
	struct work_net_wish wish = {.every = true, .sigma = 0.001};
	struct work_taken counts;
	shelf_open(&s, LEVEL_M);
	known(&s, "M0", "10");
	used = (size_t)snprintf(text, sizeof text, "run,kind,sight,station,reading,distance\n");
	for (int i = 0; i < 200; i++)
		used += (size_t)snprintf(text + used, sizeof text - used,
		                         "a,open,BS,M%d,1.5,30\na,open,FS,M%d,1.4,30\n", i, i + 1);
	ck_assert_msg(shelf_import(&s, text, &counts), "%s", s.why.text);
	ck_assert_msg(work_net_load(s.book, &wish, &net, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(net.net.marks, 201);
	ck_assert_uint_eq(net.net.lines, 200);
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("epochs", test_parts, test_passed_marks, test_held, test_refused,
	                 test_weighed_alike, test_weighed_by_distance, test_order, test_many_marks);
}
