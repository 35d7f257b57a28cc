/* Names offered while a station is typed: expected by eye. */
#include "rodbook/work/offers.h"
#include "unit/sights.h"
#include "unit/suite.h"

START_TEST(test_offers)
{
	struct book_mark marks[] = {{.name = "BM1"}, {.name = "BM12"}, {.name = "GATE"}};
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "BM1", 1, 0),  sight(LEVEL_FS, "barn", 1, 0),
	    sight(LEVEL_BS, "barn", 1, 0), sight(LEVEL_FS, "BANK", 1, 0),
	    sight(LEVEL_IS, "B4", 1, 0),   sight(LEVEL_IS, "B5", 1, 0),
	    sight(LEVEL_IS, "BOLT", 1, 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	const char *out[WORK_OFFERS_MOST];
	ck_assert_uint_eq(work_offers(marks, 3, &run, "", out), 0);
	ck_assert_uint_eq(work_offers(marks, 3, &run, "X", out), 0);
	ck_assert_uint_eq(work_offers(marks, 3, &run, "bm", out), 2);
	ck_assert_str_eq(out[0], "BM1");
	ck_assert_str_eq(out[1], "BM12");
	/* the whole name is no offer any more */
	ck_assert_uint_eq(work_offers(marks, 3, &run, "BM1", out), 1);
	ck_assert_str_eq(out[0], "BM12");
	ck_assert_uint_eq(work_offers(marks, 3, &run, "ba", out), 2);
	ck_assert_str_eq(out[0], "barn");
	ck_assert_str_eq(out[1], "BANK");
	/* no more than there is room for */
	ck_assert_uint_eq(work_offers(marks, 3, &run, "b", out), WORK_OFFERS_MOST);
	ck_assert_str_eq(out[4], "B4");
	sights[1].state = LEVEL_STRUCK;
	sights[2].state = LEVEL_STRUCK;
	ck_assert_uint_eq(work_offers(marks, 3, &run, "bar", out), 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("offers", test_offers);
}
