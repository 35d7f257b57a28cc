/* Names found by their hash, held against a list that is looked through. */
#include "csv/names.h"

#include <check.h>
#include <string.h>

#include "chance.h"
#include "suite.h"

#define NAMES 500

START_TEST(test_found)
{
	static char list[NAMES][LEVEL_NAME_BYTES];
	struct csv_names names = {0};
	uint64_t seed = chance_seed("names found");
	size_t count = 0;
	ck_assert_uint_eq(csv_name_find(&names, "A", 7), 7);
	while (count < NAMES) {
		char name[LEVEL_NAME_BYTES];
		size_t at = 0;
		snprintf(name, sizeof name, "%s%d", chance(&seed, 0, 1) ? "TP" : "Ä ",
		         (int)chance(&seed, 0, 2 * NAMES));
		while (at < count && strcmp(list[at], name) != 0)
			at++;
		ck_assert_uint_eq(csv_name_find(&names, name, NAMES), at < count ? at : NAMES);
		if (at < count)
			continue;
		ck_assert(csv_name_add(&names, name, count));
		strcpy(list[count++], name);
	}
	for (size_t i = 0; i < NAMES; i++)
		ck_assert_uint_eq(csv_name_find(&names, list[i], NAMES), i);
	ck_assert_uint_eq(csv_name_find(&names, "", NAMES), NAMES);
	free(names.slot);
}
END_TEST

int main(void)
{
	return RUN_TESTS("names_found", test_found);
}
