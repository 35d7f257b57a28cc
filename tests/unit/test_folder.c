/* Names of files out of texts of a book, and the photographs that a sight names: expected by eye.
 */
#include "rodbook/book/folder.h"
#include "rodbook/book/photos.h"
#include "suite.h"

#include <string.h>

START_TEST(test_names)
{
	struct book_folder_file files[] = {{.name = "run-Pond_1.csv"},
	                                   {.name = "run-POND_1-2.csv"}};
	struct book_folder folder = {.file = files, .count = 2};
	char name[256];
	book_folder_name(&folder, "run-", "a b/../c\"\xc3\xa9", ".csv", name);
	ck_assert_str_eq(name, "run-a_b_.._c___.csv");
	/* names are one where only their case differs: some file systems hold them so */
	book_folder_name(&folder, "run-", "pond/1", ".csv", name);
	ck_assert_str_eq(name, "run-pond_1-3.csv");
	book_folder_name(&folder, "", "..", "", name);
	ck_assert_str_eq(name, "..");
}
END_TEST

START_TEST(test_photos)
{
	char name[LEVEL_REMARK_BYTES], hex[BOOK_HEX_BYTES], one[BOOK_HEX_BYTES], two[2 * 65];
	memset(one, 'a', 64);
	one[64] = '\0';
	snprintf(two, sizeof two, "%s -", one);
	ck_assert(book_photo_at("x.jpg y.jpg", two, 0, name, hex));
	ck_assert_str_eq(name, "x.jpg");
	ck_assert_str_eq(hex, one);
	ck_assert(book_photo_at("x.jpg  y.jpg", two, 1, name, hex));
	ck_assert_str_eq(name, "y.jpg");
	ck_assert_str_eq(hex, "");
	ck_assert(!book_photo_at("x.jpg y.jpg", two, 2, name, hex));
	/* one digest of two words: the name of one file */
	ck_assert(book_photo_at("far shore.jpg", one, 0, name, hex));
	ck_assert_str_eq(name, "far shore.jpg");
	ck_assert_str_eq(hex, one);
	ck_assert(!book_photo_at("far shore.jpg", one, 1, name, hex));
	ck_assert(book_photo_at("x.jpg", "", 0, name, hex));
	ck_assert_str_eq(hex, "");
	ck_assert(!book_photo_at("", "", 0, name, hex));
}
END_TEST

int main(void)
{
	return RUN_TESTS("folder", test_names, test_photos);
}
