/* What a run's CSV says where the book alone would know. */
#define _GNU_SOURCE /* fopencookie */
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

#include "books.h"
#include "suite.h"

#define HEAD                                                                                       \
	"run,kind,sight,station,known,reading,upper,middle,lower,distance,method,time,remark,"     \
	"unit\r\n"
#define TIME "2026-05-04T09:30:00+02:00"

/* Bare numbers keep their meaning: a mark typed in meters, a run booked in feet. */
START_TEST(test_units)
{
	struct shelf s;
	char *text;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "29.230", NULL, NULL, &s.why));
	ck_assert(book_set(s.book, "unit", "ft", &s.why));
	ck_assert(book_mark_set(s.book, "B", "95.8", NULL, NULL, &s.why));
	shelf_begin(&s, "a", LEVEL_LINK);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "4.16"));
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1.2 m"));
	text = shelf_export(&s, "a");
	ck_assert_str_eq(text, HEAD "a,link,BS,A,29.230 m,4.16,,,,,rod," TIME ",,ft\r\n"
	                            "a,link,FS,B,95.8,1.2 m,,,,,rod," TIME ",,ft\r\n");
	free(text);
	shelf_close(&s);
}
END_TEST

/* A distance that this book's own stadia constants gave is written out: 50 (1.5 - 1.3) m + 0.3 m =
 * 10.3 m. */
START_TEST(test_stadia)
{
	struct shelf here, there;
	struct work_taken counts;
	struct book_run_info info;
	char *text;
	shelf_open(&here, LEVEL_M);
	shelf_open(&there, LEVEL_M);
	ck_assert(book_set(here.book, "stadia_multiplier", "50", &here.why));
	ck_assert(book_set(here.book, "stadia_constant", "0.3", &here.why));
	ck_assert(shelf_import(&here,
	                       "run,sight,station,reading,upper,middle,lower\n"
	                       "n,BS,A,,1.5,1.4,1.3\n",
	                       &counts));
	text = shelf_export(&here, "n");
	ck_assert_str_eq(text, HEAD "n,open,BS,A,,,1.5,1.4,1.3,10.3 m,rod,,,m\r\n");
	ck_assert(shelf_import(&there, text, &counts));
	ck_assert(book_run_find(there.book, "n", &info, &there.why));
	shelf_take(&there, info.id);
	ck_assert_int_eq(there.run.run.sight[0].distance, 10300000000);
	free(text);
	shelf_close(&here);
	shelf_close(&there);
}
END_TEST

/* Struck sights stay in the book, and what replaced them goes out. */
START_TEST(test_struck)
{
	struct shelf s;
	char *text;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	text = shelf_export(&s, "a");
	ck_assert_str_eq(text, HEAD);
	free(text);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_change(&s, 0, LEVEL_BS, "A", "1.1"));
	ck_assert(shelf_strike(&s, 2));
	text = shelf_export(&s, "a");
	ck_assert_str_eq(text, HEAD "a,open,BS,A,,1.1,,,,,rod," TIME ",,m\r\n");
	free(text);
	shelf_close(&s);
}
END_TEST

/* A stream that books by another door as soon as the runs have come through it. */
struct meddler {
	struct shelf *shelf;
	char *text;
	size_t size;
	bool done;
};

static ssize_t meddle(void *context, const char *text, size_t size)
{
	struct meddler *m = context;
	m->text = realloc(m->text, m->size + size + 1);
	ck_assert_ptr_nonnull(m->text);
	memcpy(m->text + m->size, text, size);
	m->text[m->size += size] = '\0';
	if (!m->done && strstr(m->text, "\r\ncolumns,run,")) {
		struct shelf other = {0};
		m->done = true;
		other.book = book_open(m->shelf->path, shelf_clock, &other.why);
		ck_assert_ptr_nonnull(other.book);
		shelf_begin(&other, "late", LEVEL_OPEN);
		ck_assert_msg(shelf_book(&other, LEVEL_BS, "LATE", "1"), "%s", other.why.text);
		book_run_free(&other.run);
		book_close(other.book);
	}
	return (ssize_t)size;
}

/* A whole book leaves in one state: a sight that is booked meanwhile must not go without its run,
 * and whoever books is not held up. */
START_TEST(test_whole_in_one_state)
{
	struct shelf s;
	struct meddler m = {.shelf = &s};
	FILE *out = fopencookie(&m, "w", (cookie_io_functions_t){.write = meddle});
	ck_assert_ptr_nonnull(out);
	setvbuf(out, NULL, _IONBF, 0);
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert_msg(csv_export_whole(out, s.book, &s.why), "%s", s.why.text);
	fclose(out);
	ck_assert(m.done);
	ck_assert_ptr_nonnull(strstr(m.text, "BS,A,"));
	ck_assert_ptr_null(strstr(m.text, "LATE"));
	free(m.text);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("export", test_units, test_stadia, test_struck, test_whole_in_one_state);
}
