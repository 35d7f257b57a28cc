/* A run that cannot be read keeps nobody from the others: lists go on without it and count it; who
 * asks for it by name hears what is wrong. */
#include <math.h>

#include "book/store.h"
#include "books.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"
#include "rodbook/work/leave.h"
#include "rodbook/work/repeat.h"
#include "rodbook/work/sight.h"
#include "rodbook/work/stations.h"
#include "suite.h"
#include "work/crossing/crossings.h"
#include "work/epochs.h"

#define SAYS "does not say what was typed"

static void cross(struct shelf *s, const char *name, const char *fs)
{
	shelf_begin(s, name, LEVEL_CROSSING);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "4", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "C", fs, "800", ""));
}

static void join(struct shelf *s, const char *name, const char *fs)
{
	shelf_begin(s, name, LEVEL_LINK);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "B", fs, "40", ""));
	ck_assert(book_gauge_add(s->book, s->run.info.id, "B", "1", "", "", &s->why));
	ck_assert(book_setout_set(s->book, s->run.info.id, "B", "10.5", &s->why));
}

/* The runs good and bad, over and under: of the second ones the FS is not what was typed. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	ck_assert(book_mark_set(s->book, "C", "10", NULL, NULL, &s->why));
	join(s, "bad", "1.25");
	join(s, "good", "1.25");
	cross(s, "under", "1.55");
	cross(s, "over", "1.55");
	sqlite3_db_config(s->book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
	ck_assert_int_eq(sqlite3_exec(s->book->db,
	                              "UPDATE sight SET reading = 7 WHERE kind = 'FS' AND run IN "
	                              "(SELECT id FROM run WHERE name IN ('bad', 'under'))",
	                              NULL, NULL, NULL),
	                 SQLITE_OK);
	s->why = (struct fault){0};
}

static const char *const bad[] = {"bad"}, *const good[] = {"good"}, *const under[] = {"under"},
                         *const over[] = {"over"};

START_TEST(test_net)
{
	struct shelf s;
	struct work_net net;
	make(&s);
	ck_assert_msg(work_net_load(s.book, &(struct work_net_wish){0}, &net, &s.why), "%s",
	              s.why.text);
	ck_assert_uint_eq(net.runs, 1);
	ck_assert_uint_eq(net.left_out, 1);
	ck_assert_str_eq(net.left[0], "bad");
	work_net_free(&net);
	ck_assert(
	    !work_net_load(s.book, &(struct work_net_wish){.runs = bad, .count = 1}, &net, &s.why));
	FAULT(&s, FAULT_SPOILED, SAYS);
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

START_TEST(test_epochs)
{
	const struct work_names both[2] = {{good, 1}, {bad, 1}}, turned[2] = {{bad, 1}, {good, 1}};
	struct shelf s;
	struct work_epochs *epochs = calloc(1, sizeof *epochs);
	ck_assert_ptr_nonnull(epochs);
	make(&s);
	ck_assert(!work_epochs_load(s.book, &(struct work_epochs_wish){.epoch = both, .epochs = 2},
	                            epochs, &s.why));
	FAULT(&s, FAULT_SPOILED, "second epoch: ");
	FAULT(&s, FAULT_SPOILED, SAYS);
	work_epochs_free(epochs);
	ck_assert(!work_epochs_load(
	    s.book, &(struct work_epochs_wish){.epoch = turned, .epochs = 2}, epochs, &s.why));
	FAULT(&s, FAULT_SPOILED, "first epoch: ");
	work_epochs_free(epochs);
	free(epochs);
	shelf_close(&s);
}
END_TEST

START_TEST(test_crossings)
{
	struct shelf s;
	struct crossings *got = calloc(1, sizeof *got);
	ck_assert_ptr_nonnull(got);
	make(&s);
	ck_assert_msg(crossings_load(s.book, NULL, 0, got, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(got->count, 1);
	ck_assert_str_eq(got->row[0].run, "over");
	ck_assert_uint_eq(got->left_count, 1);
	ck_assert_str_eq(got->left[0].name, "under");
	ck_assert_int_eq(got->left[0].unread.kind, FAULT_SPOILED);
	ck_assert_ptr_nonnull(strstr(got->left[0].unread.text, SAYS));
	crossings_free(got);
	ck_assert(!crossings_load(s.book, under, 1, got, &s.why));
	FAULT(&s, FAULT_SPOILED, SAYS);
	crossings_free(got);
	ck_assert(crossings_load(s.book, over, 1, got, &s.why));
	ck_assert_uint_eq(got->count, 1);
	ck_assert_uint_eq(got->left_count, 0);
	crossings_free(got);
	free(got);
	shelf_close(&s);
}
END_TEST

START_TEST(test_stations)
{
	struct shelf s;
	struct work_stations got;
	make(&s);
	ck_assert_msg(work_stations(s.book, NULL, &got, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(got.unreadable, 1);
	ck_assert_uint_eq(got.crossings, 2);
	ck_assert_uint_eq(got.count, 3);
	work_stations_free(&got);
	ck_assert(work_stations(s.book, "B", &got, &s.why));
	ck_assert_uint_eq(got.count, 1);
	ck_assert_str_eq(got.station[0].name, "B");
	ck_assert_uint_eq(got.station[0].count, 1);
	/* 10 + 1.5 - 1.25 */
	ck_assert_int_eq(got.station[0].latest, INT64_C(10250000000));
	ck_assert_int_eq(got.station[0].mean, INT64_C(10250000000));
	ck_assert_int_eq(got.station[0].spread, 0);
	work_stations_free(&got);
	ck_assert(!work_stations(s.book, "none", &got, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no station none");
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* The gauge at B stands at 10.25 - 1 = 9.25 by the run that can be read; 10.25 is 0.25 below 10.5.
 */
START_TEST(test_gauges_and_setouts)
{
	struct shelf s;
	struct work_gauges gauges;
	struct work_setouts setouts;
	make(&s);
	ck_assert_msg(work_gauges(s.book, &gauges, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(gauges.count, 2);
	ck_assert_uint_eq(gauges.unreadable, 1);
	ck_assert_str_eq(gauges.list[0].run, "bad");
	ck_assert_int_eq(gauges.list[0].lack, WORK_GAUGE_NO_RUN);
	ck_assert_str_eq(gauges.list[1].run, "good");
	ck_assert_int_eq(gauges.list[1].lack, WORK_GAUGE_WHOLE);
	ck_assert_int_eq(gauges.list[1].difference, INT64_C(9250000000));
	work_gauges_free(&gauges);
	ck_assert_msg(work_setouts(s.book, &setouts, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(setouts.count, 2);
	ck_assert_uint_eq(setouts.unreadable, 1);
	ck_assert(setouts.list[0].unreadable && !setouts.list[0].has_set);
	ck_assert(!setouts.list[1].unreadable && setouts.list[1].has_set);
	ck_assert_str_eq(setouts.list[0].run, "bad");
	ck_assert_str_eq(setouts.list[1].run, "good");
	ck_assert_int_eq(setouts.list[1].set, INT64_C(10250000000));
	ck_assert_int_eq(setouts.list[1].difference, INT64_C(-250000000));
	work_setouts_free(&setouts);
	shelf_close(&s);
}
END_TEST

START_TEST(test_leave)
{
	struct shelf s;
	struct work_leave list;
	int unreadable = 0;
	make(&s);
	ck_assert_msg(work_leave(s.book, NULL, 0, &list, &s.why), "%s", s.why.text);
	for (size_t i = 0; i < list.count; i++)
		if (list.item[i].code == WORK_RUN_UNREADABLE) {
			unreadable++;
			ck_assert_ptr_nonnull(strstr(list.item[i].text, "altered outside"));
		}
	ck_assert_int_eq(unreadable, 2);
	work_leave_free(&list);
	ck_assert(work_leave(s.book, bad, 1, &list, &s.why));
	ck_assert_uint_eq(list.count, 1);
	ck_assert_int_eq(list.item[0].code, WORK_RUN_UNREADABLE);
	ck_assert_str_eq(list.item[0].run, "bad");
	work_leave_free(&list);
	shelf_close(&s);
}
END_TEST

/* The one that can be read is proposed, though the other is the later one. */
START_TEST(test_repeat)
{
	const struct level_style style = level_style_default(LEVEL_M);
	struct shelf s;
	struct book_run_info info;
	struct book_draft far;
	bool found;
	make(&s);
	ck_assert(!work_repeat(s.book, "under", "", &info, &s.why));
	FAULT(&s, FAULT_SPOILED, SAYS);
	sqlite3_db_config(s.book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 1, NULL);
	shelf_begin(&s, "again", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "4", ""));
	ck_assert_msg(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why), "%s",
	              s.why.text);
	ck_assert(found);
	ck_assert_str_eq(far.station, "C");
	shelf_close(&s);
}
END_TEST

START_TEST(test_one)
{
	struct shelf s;
	struct work_run run;
	struct work_typed typed = {
	    .text[WORK_SIGHT] = "BS", .text[WORK_STATION] = "B", .text[WORK_READING] = "1"};
	struct work_booked booked;
	make(&s);
	ck_assert(!work_run_load(s.book, "bad", NULL, &run, &s.why));
	FAULT(&s, FAULT_SPOILED, SAYS);
	work_run_free(&run);
	ck_assert(!work_run_load(s.book, "none", NULL, &run, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	work_run_free(&run);
	ck_assert(!work_book_sight(s.book, "bad", &typed, &booked, &s.why));
	FAULT(&s, FAULT_SPOILED, SAYS);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("spoiled_runs", test_net, test_epochs, test_crossings, test_stations,
	                 test_gauges_and_setouts, test_leave, test_repeat, test_one);
}
