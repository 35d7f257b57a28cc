/* Text of a paper as HTML: nothing is cut, whatever its length. */
#include "html/html.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST(test_long_line)
{
	enum { SIZE = 20000 };
	char *line = malloc(SIZE + 2), *html = NULL;
	size_t size;
	FILE *out = open_memstream(&html, &size);
	ck_assert_ptr_nonnull(line);
	ck_assert_ptr_nonnull(out);
	memset(line, 'a', SIZE);
	strcpy(line + SIZE - 4, "end\n");
	html_lines(out, "", line);
	fclose(out);
	ck_assert_uint_gt(size, SIZE);
	ck_assert_ptr_nonnull(strstr(html, "aaend\n"));
	free(html);
	free(line);
}
END_TEST

int main(void)
{
	return RUN_TESTS("html", test_long_line);
}
