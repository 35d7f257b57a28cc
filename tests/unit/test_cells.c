/* How many cells of a terminal texts take, and columns made of such texts. */
#include "text/cells.h"

#include <limits.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#include "suite.h"
#include "text/columns.h"
#include "text/wrap.h"

/* Two ideographs of two cells each (wide in Unicode's East Asian widths). */
#define WIDE "\xe6\xb0\xb4\xe6\xba\x96"

/* The C library's widths of all characters that draw something. */
START_TEST(test_as_the_c_library)
{
	size_t twos = 0;
	ck_assert_ptr_nonnull(setlocale(LC_CTYPE, "C.UTF-8"));
	for (wchar_t c = ' '; c < 0x110000; c++) {
		char text[MB_LEN_MAX + 1] = "";
		int cells, width = wcwidth(c);
		if (width < 1 || wctomb(text, c) < 1)
			continue;
		ck_assert_uint_eq(cells_first(text, &cells), strlen(text));
		ck_assert_msg(cells == width, "U+%04X: %d cells, not %d", (unsigned)c, cells,
		              width);
		twos += width == 2;
	}
	ck_assert_uint_gt(twos, 100000);
}
END_TEST

START_TEST(test_sums)
{
	int cells;
	ck_assert_int_eq(cells_of(""), 0);
	ck_assert_int_eq(cells_of("TP1"), 3);
	ck_assert_int_eq(cells_of("M\xc3\xbchle"), 5);
	ck_assert_int_eq(cells_of(WIDE "-1"), 6);
	ck_assert_uint_eq(cells_first("", &cells), 0);
	ck_assert_int_eq(cells, 0);
	/* bytes that are no UTF-8 are passed over one by one */
	ck_assert_uint_eq(cells_first("\xff", &cells), 1);
}
END_TEST

/* What was written, which the caller frees. */
static char *put(const char *text, int width)
{
	char *written = NULL;
	size_t size = 0;
	FILE *out = open_memstream(&written, &size);
	wrap_put(out, text, width);
	ck_assert_int_eq(fclose(out), 0);
	return written;
}

START_TEST(test_put)
{
	static const struct {
		const char *text;
		int width;
		const char *written;
	} table[] = {{WIDE, 4, WIDE},
	             {WIDE, 6, WIDE "  "},
	             {WIDE, 3, "\xe6\xb0\xb4 "}, /* half of a character cannot be shown */
	             {WIDE, 1, " "},
	             {"ab" WIDE, 3, "ab "},
	             {"", 2, "  "}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		char *written = put(table[i].text, table[i].width);
		ck_assert_str_eq(written, table[i].written);
		free(written);
	}
}
END_TEST

START_TEST(test_fit)
{
	const char *next;
	ck_assert_uint_eq(wrap_fit(WIDE WIDE, 4, &next), 6);
	ck_assert_str_eq(next, WIDE);
	ck_assert_uint_eq(wrap_fit(WIDE, 3, &next), 3);
	ck_assert_uint_eq(wrap_fit("a " WIDE, 5, &next), 1);
	ck_assert_str_eq(next, WIDE);
	/* at least one character, or nothing would ever come to its end */
	ck_assert_uint_eq(wrap_fit(WIDE, 1, &next), 3);
}
END_TEST

/* A number and its fraction are one figure. */
START_TEST(test_fit_fraction)
{
	const char *next;
	ck_assert_uint_eq(wrap_fit("flat 2 11/64 seen", 8, &next), 4);
	ck_assert_str_eq(next, "2 11/64 seen");
	ck_assert_uint_eq(wrap_fit("seen 4' 9 3/8\" now", 10, &next), 4);
	ck_assert_str_eq(next, "4' 9 3/8\" now");
	/* no fraction follows */
	ck_assert_uint_eq(wrap_fit("of 2 11 readings", 6, &next), 4);
	ck_assert_str_eq(next, "11 readings");
	/* a line of nothing else is broken where it must */
	ck_assert_uint_eq(wrap_fit("2 11/64", 4, &next), 4);
}
END_TEST

START_TEST(test_columns)
{
	const char *head[] = {"mark", "u"}, *wide[] = {WIDE WIDE, "1"}, *plain[] = {"A", "12"};
	struct columns table = {.columns = 2};
	char *written = NULL;
	size_t size = 0;
	FILE *out = open_memstream(&written, &size);
	columns_add(&table, head);
	columns_add(&table, wide);
	columns_add(&table, plain);
	ck_assert(columns_put(out, &table, "lr"));
	ck_assert_int_eq(fclose(out), 0);
	ck_assert_str_eq(written, "mark       u\n" WIDE WIDE "   1\nA         12\n");
	free(written);
	columns_free(&table);
}
END_TEST

int main(void)
{
	return RUN_TESTS("cells", test_as_the_c_library, test_sums, test_put, test_fit,
	                 test_fit_fraction, test_columns);
}
