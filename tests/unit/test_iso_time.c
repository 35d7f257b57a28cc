/* Times by themselves: what is one, and how far two lie apart. Seconds since 1970 are those of
 * POSIX, The Open Group Base Specifications, sec. 4.16 (recalled). */
#include "rodbook/level/time.h"

#include <stdio.h>

#include "suite.h"

START_TEST(test_dates)
{
	static const char *const good[] = {"2026-01-01", "2026-01-31", "2026-04-30", "2026-10-01",
	                                   "2026-12-31", "2026-02-28", "2024-02-29", "2000-02-29",
	                                   "2400-02-29", "1996-02-29", "2026-11-10", "2026-09-30"};
	static const char *const bad[] = {
	    "2026-00-10", "2026-13-10", "2026-01-00", "2026-01-32", "2026-04-31", "2026-06-31",
	    "2026-09-31", "2026-11-31", "2026-02-29", "2100-02-29", "1900-02-29", "2024-02-30",
	    "2025-02-29", "2500-02-29", "2026-1-10",  "2026-01-1",  "2026/01/10", "26-01-10",
	    "",           "x026-01-10", "2026-01-10x"};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++)
		ck_assert_msg(level_is_time(good[i]), "%s", good[i]);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		ck_assert_msg(!level_is_time(bad[i]), "%s", bad[i]);
}
END_TEST

START_TEST(test_times_of_day)
{
	static const char *const good[] = {
	    "2026-03-01T00:00",       "2026-03-01T23:59",          "2026-03-01 12:30",
	    "2026-03-01T12:30:00",    "2026-03-01T12:30:59Z",      "2026-03-01T23:59:60Z",
	    "2026-03-01T12:30Z",      "2026-03-01T12:30+00:00",    "2026-03-01T12:30-23:59",
	    "2026-03-01T12:30+05:45", "2026-03-01T12:30:15+23:00", "2026-03-01T12:30:15-00:59"};
	static const char *const bad[] = {"2026-03-01T24:00",
	                                  "2026-03-01T12:60",
	                                  "2026-03-01T12:30:61",
	                                  "2026-03-01t12:30",
	                                  "2026-03-01T",
	                                  "2026-03-01T12",
	                                  "2026-03-01T12:3",
	                                  "2026-03-01T12:30z",
	                                  "2026-03-01T12:30ZZ",
	                                  "2026-03-01T12:30+24:00",
	                                  "2026-03-01T12:30+05:60",
	                                  "2026-03-01T12:30+0545",
	                                  "2026-03-01T12:30+05",
	                                  "2026-03-01T12:30+05:45x",
	                                  "2026-03-01T12:30:",
	                                  "2026-03-01T12:30:1",
	                                  "2026-03-01T12:30 +05:45",
	                                  "2026-03-01T12.30"};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++)
		ck_assert_msg(level_is_time(good[i]), "%s", good[i]);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		ck_assert_msg(!level_is_time(bad[i]), "%s", bad[i]);
}
END_TEST

/* The clock alone is a time to type, not one to keep; what is kept has 25 or 26 characters. */
START_TEST(test_typed)
{
	static const char *const good[] = {"00:00", "23:59", "12:30", "2026-03-01",
	                                   "2026-03-01T12:30:15+05:45"};
	static const char *const bad[] = {"24:00", "12:60", "12:3", "12:30:15", "12", "1230", ""};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++)
		ck_assert_msg(level_is_typed_time(good[i]), "%s", good[i]);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		ck_assert_msg(!level_is_typed_time(bad[i]), "%s", bad[i]);
	ck_assert(!level_is_time("12:30"));
}
END_TEST

START_TEST(test_seconds)
{
	static const struct {
		const char *time;
		int64_t since_1970;
	} table[] = {
	    {"1970-01-01T00:00Z", 0},
	    {"1970-01-01T00:00:01Z", 1},
	    {"1969-12-31T23:59:59Z", -1},
	    {"2001-09-09T01:46:40Z", 1000000000},
	    {"2009-02-13T23:31:30Z", 1234567890},
	    {"2038-01-19T03:14:07Z", 2147483647},
	    {"2009-02-14T05:16:30+05:45", 1234567890},
	    {"2009-02-13T20:01:30-03:30", 1234567890},
	    {"2009-02-13T23:31", 1234567860},
	    /* 146 097 days are 400 years */
	    {"2370-01-01T00:00Z", INT64_C(146097) * 86400},
	    {"2000-02-29T00:00Z", INT64_C(951782400)},
	    {"2000-03-01T00:00Z", INT64_C(951868800)},
	    {"1900-03-01T00:00Z", -INT64_C(2203891200)},
	    {"1900-02-28T00:00Z", -INT64_C(2203977600)},
	};
	int64_t zero, got;
	ck_assert(level_time_seconds(table[0].time, &zero));
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert(level_time_seconds(table[i].time, &got));
		ck_assert_msg(got - zero == table[i].since_1970, "%s: %lld", table[i].time,
		              (long long)(got - zero));
	}
	ck_assert(!level_time_seconds("2026-03-01", &got));
	ck_assert(!level_time_seconds("2026-13-01T00:00", &got));
}
END_TEST

/* The first of each month, by adding up the months: of 2025, and of 2024, which has a leap day. */
START_TEST(test_days)
{
	static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	for (int leap = 0; leap < 2; leap++) {
		long at = level_day_number(leap ? "2024-01-01" : "2025-01-01");
		for (int month = 1; month <= 12; month++) {
			char date[16];
			snprintf(date, sizeof date, "%d-%02d-01", leap ? 2024 : 2025, month);
			ck_assert_int_eq(level_day_number(date), at);
			at += days[month - 1] + (leap && month == 2);
			snprintf(date, sizeof date, "%d-%02d-%02d", leap ? 2024 : 2025, month,
			         days[month - 1] + (leap && month == 2));
			ck_assert_int_eq(level_day_number(date), at - 1);
		}
	}
}
END_TEST

/* Two clocks by the second; where one has only a date, whole days. */
START_TEST(test_between)
{
	static const struct {
		const char *from, *to;
		int64_t seconds;
	} table[] = {
	    {"2026-03-01T12:00", "2026-03-01T12:00:05", 5},
	    {"2026-03-01T12:00", "2026-03-01T11:59", -60},
	    {"2026-03-01T12:00Z", "2026-03-01T12:00+01:00", -3600},
	    {"2026-02-28", "2026-03-01", 86400},
	    {"2026-02-28T23:00", "2026-03-01", 86400},
	    {"2026-03-02", "2026-03-01T23:00", -86400},
	};
	int64_t got;
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert(level_time_between(table[i].from, table[i].to, &got));
		ck_assert_int_eq(got, table[i].seconds);
	}
	ck_assert(!level_time_between("noon", "2026-03-01", &got));
	ck_assert(!level_time_between("2026-03-01", "noon", &got));
}
END_TEST

int main(void)
{
	return RUN_TESTS("iso_time", test_dates, test_times_of_day, test_typed, test_seconds,
	                 test_days, test_between);
}
