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

/* The names offered, parted by blanks. */
static const char *ahead(const struct level_run *run, enum level_kind kind)
{
	static const struct book_mark marks[] = {
	    {.name = "BM1"}, {.name = "GATE"}, {.name = "SILL"}};
	static char text[5 * LEVEL_STATION_BYTES];
	const char *out[WORK_OFFERS_MOST];
	size_t count = work_offers_ahead(marks, 3, run, kind, out);
	text[0] = '\0';
	for (size_t i = 0; i < count; i++)
		sprintf(text + strlen(text), "%s%s", i ? " " : "", out[i]);
	return text;
}

START_TEST(test_ahead)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "GATE", 1, 0), sight(LEVEL_FS, "TP1", 1, 0),
	    sight(LEVEL_BS, "TP1", 1, 0),  sight(LEVEL_FS, "PEG", 1, 0),
	    sight(LEVEL_BS, "PEG", 1, 0),
	};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	/* a loop ends where it began, and a known mark may be met on the way */
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "GATE BM1 SILL");
	ck_assert_str_eq(ahead(&run, LEVEL_IS), "GATE BM1 SILL");
	ck_assert_str_eq(ahead(&run, LEVEL_BS), "");
	/* one that is leveled out and back turns first */
	strcpy(run.turn, "OAK");
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "OAK GATE BM1 SILL");
	strcpy(run.turn, "PEG");
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "GATE BM1 SILL");
	run.turn[0] = '\0';
	/* a link ends on another mark */
	run.kind = LEVEL_LINK;
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "BM1 SILL GATE");
	run.kind = LEVEL_OPEN;
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "GATE BM1 SILL");
	/* not where the setup began */
	run.count = 1;
	ck_assert_str_eq(ahead(&run, LEVEL_FS), "BM1 SILL");
	run.count = 3;
	sights[2].state = LEVEL_STRUCK;
	sights[0].state = LEVEL_STRUCK;
	sights[1].state = LEVEL_STRUCK;
	/* the first BS */
	ck_assert_str_eq(ahead(&run, LEVEL_BS), "BM1 GATE SILL");
}
END_TEST

/* 50 is a reading in inches; where points are numbered it may be one of them. */
START_TEST(test_numbers)
{
	struct book_mark marks[] = {{.name = "BM1"}};
	struct level_sight sights[] = {sight(LEVEL_BS, "BM1", 1, 0), sight(LEVEL_FS, "12", 1, 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	sights[1].state = LEVEL_STRUCK;
	ck_assert(work_number_is_reading(marks, 1, &run, "TP1", LEVEL_IN));
	ck_assert(work_number_is_reading(marks, 1, &run, "TP1", LEVEL_FTIN));
	ck_assert(!work_number_is_reading(marks, 1, &run, "TP1", LEVEL_M));
	ck_assert(!work_number_is_reading(marks, 1, &run, "", LEVEL_IN));
	ck_assert(!work_number_is_reading(marks, 1, &run, "0+50", LEVEL_IN) &&
	          !work_number_is_reading(marks, 1, &run, "49", LEVEL_IN));
	sights[1].state = LEVEL_BOOKED;
	ck_assert(!work_number_is_reading(marks, 1, &run, "TP1", LEVEL_IN));
	sights[1].state = LEVEL_STRUCK;
	strcpy(marks[0].name, "7");
	ck_assert(!work_number_is_reading(marks, 1, &run, "TP1", LEVEL_IN));
}
END_TEST

int main(void)
{
	return RUN_TESTS("offers", test_offers, test_ahead, test_numbers);
}
