/* Pages that begin where a text says so: 56 lines a sheet, 54 below a heading of one line. */
#include <string.h>

#include "report/page/sheets.h"
#include "suite.h"

static char *print(const char *text)
{
	struct sheets sheets = {.heading = "a run"};
	char *out = NULL;
	size_t size;
	FILE *stream = open_memstream(&out, &size);
	ck_assert_ptr_nonnull(stream);
	sheets_text(&sheets, text);
	ck_assert(sheets_put(stream, &sheets));
	sheets_free(&sheets);
	ck_assert_int_eq(fclose(stream), 0);
	return out;
}

START_TEST(test_form_feed)
{
	char *out = print("one\ntwo\n\f\nthree\n");
	const char *feed = strchr(out, '\f');
	ck_assert_ptr_nonnull(feed);
	ck_assert_ptr_null(strchr(feed + 1, '\f'));
	ck_assert(strstr(out, "two\n\fa run"));
	ck_assert(strstr(feed, "page 2 of 2\n\nthree\n"));
	free(out);
	/* what is longer than a page goes on on the next, and the break still holds */
	{
		char text[200] = "";
		for (int i = 0; i < 60; i++)
			strcat(text, "x\n");
		strcat(text, "\f\nlast\n");
		out = print(text);
		ck_assert(strstr(out, "page 3 of 3\n\nlast\n"));
		free(out);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("sheets", test_form_feed);
}
