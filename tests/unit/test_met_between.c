/* A station that a run meets twice with others between is compared with itself all the same,
 * whatever the names and the order of the others. */
#include "books.h"
#include "rodbook/work/leave.h"
#include "rodbook/work/stations.h"
#include "suite.h"
#include "work/net.h"

/* A at 10 is read at 1.5: the line stands at 11.5. P at 10.5 first, then 10.0 in the same setup. */
static void make(struct shelf *s, const char *between)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.5", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_IS, "P", "1", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_IS, between, "1.2", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_IS, "P", "1.5", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "Z", "1", "30", ""));
}

static const char *const others[] = {"B", "Q"};

START_TEST(test_stations)
{
	for (size_t i = 0; i < 2; i++) {
		struct shelf s;
		struct work_stations got;
		const struct work_determination *d;
		const struct work_station *p;
		make(&s, others[i]);
		ck_assert_msg(work_stations(s.book, NULL, &got, &s.why), "%s", s.why.text);
		/* A, P, Z and the one between, by name */
		ck_assert_uint_eq(got.count, 4);
		p = &got.station[strcmp(others[i], "P") < 0 ? 2 : 1];
		ck_assert_str_eq(p->name, "P");
		ck_assert_uint_eq(p->count, 2);
		d = &got.determination[p->first];
		ck_assert_int_eq(d[0].elevation, INT64_C(10500000000));
		ck_assert_int_eq(d[1].elevation, INT64_C(10000000000));
		ck_assert(!d[0].has_before && d[1].has_before);
		ck_assert_int_eq(d[1].less_before, INT64_C(-500000000));
		/* both hang on one BS, so only two readings are between them, of 0.5 mm + 0.010
		 * mm/m x 30 m = 0.8 mm each, and a little of the air: 0.8 root 2 = 1.13 mm, not 0.8
		 * x 2 */
		ck_assert_double_eq_tol(d[1].before_u, 0.00113, 3e-5);
		ck_assert_int_eq(p->state, WORK_STATION_DIFFERS);
		work_stations_free(&got);
		shelf_close(&s);
	}
}
END_TEST

START_TEST(test_leave)
{
	for (size_t i = 0; i < 2; i++) {
		struct shelf s;
		struct work_leave list;
		int apart = 0;
		make(&s, others[i]);
		ck_assert(work_leave(s.book, NULL, 0, &list, &s.why));
		for (size_t j = 0; j < list.count; j++)
			if (list.item[j].code == WORK_STATION_APART) {
				apart++;
				ck_assert_str_eq(list.item[j].station, "P");
			}
		ck_assert_int_eq(apart, 1);
		work_leave_free(&list);
		shelf_close(&s);
	}
}
END_TEST

static void hear(void *context, double fraction)
{
	double **at = context;
	*(*at)++ = fraction;
}

/* Reading the runs is 0.6 of the whole, in equal parts; the rest is the solver's. */
START_TEST(test_progress)
{
	struct shelf s;
	struct work_net net;
	double heard[100] = {0}, *at = heard;
	make(&s, "Q");
	shelf_begin(&s, "b", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "30", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "Z", "1", "30", ""));
	ck_assert_msg(work_net_load(s.book,
	                            &(struct work_net_wish){.progress = hear, .context = &at}, &net,
	                            &s.why),
	              "%s", s.why.text);
	ck_assert_double_eq_tol(heard[0], 0.3, 1e-12);
	ck_assert_double_eq_tol(heard[1], 0.6, 1e-12);
	for (double *one = heard + 2; one < at; one++)
		ck_assert(*one >= 0.6 && *one <= 1 + 1e-12);
	work_net_free(&net);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("met_between", test_stations, test_leave, test_progress);
}
