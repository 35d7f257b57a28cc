/* Three wires typed without a key between: expected by eye. */
#include "rodbook/work/wires.h"
#include "rodbook/level/warnings.h"
#include "unit/kept.h"
#include "unit/sights.h"
#include "unit/suite.h"

static const struct {
	const char *typed;
	int decimals;
	enum level_unit unit;
	const char *wire, *rest; /* NULL: not parted */
} cases[] = {
    {"1.4321.", 3, LEVEL_M, "1.432", "1."},
    {"1.432.", 3, LEVEL_M, "1.432", "."},
    {".9980.", 3, LEVEL_M, ".998", "0."},
    {"14.1612.", 2, LEVEL_FT, "14.16", "12."},
    {"4.164.", 2, LEVEL_FT, "4.16", "4."},
    {"1.43.", 1, LEVEL_M, "1.4", "3."},
    /* one mark only; a comma; a third one */
    {"1.4321", 3, LEVEL_M, NULL, NULL},
    {"1.", 3, LEVEL_M, NULL, NULL},
    {".", 3, LEVEL_M, NULL, NULL},
    {"", 3, LEVEL_M, NULL, NULL},
    {"1,4321.", 3, LEVEL_M, NULL, NULL},
    {"1.432.1.", 3, LEVEL_M, NULL, NULL},
    {"x1.4321.", 3, LEVEL_M, NULL, NULL},
    {"1.43 1.", 3, LEVEL_M, NULL, NULL},
    /* a decimal too many would make a rod of 51 m; a decimal too few is no wire */
    {"1.43251.", 3, LEVEL_M, NULL, NULL},
    {"1.43.", 3, LEVEL_M, NULL, NULL},
    {"4.160112.", 2, LEVEL_FT, NULL, NULL},
    /* nobody knows how many decimals; fractions */
    {"1.4321.", -1, LEVEL_M, NULL, NULL},
    {"1.4321.", 0, LEVEL_M, NULL, NULL},
    {"1.4321.", 3, LEVEL_IN, NULL, NULL},
    {"1.4321.", 3, LEVEL_FTIN, NULL, NULL},
};

START_TEST(test_part)
{
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char wire[BOOK_TYPED_BYTES] = "w", rest[BOOK_TYPED_BYTES] = "r";
		bool parted =
		    work_part_wires(cases[i].typed, cases[i].decimals, cases[i].unit, wire, rest);
		ck_assert_msg(parted == (cases[i].wire != NULL), "%s", cases[i].typed);
		ck_assert_str_eq(wire, parted ? cases[i].wire : "w");
		ck_assert_str_eq(rest, parted ? cases[i].rest : "r");
	}
}
END_TEST

START_TEST(test_decimals)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", 1, 0), sight(LEVEL_FS, "B", 1, 0),
	                               sight(LEVEL_BS, "B", 1, 0)};
	struct book_note notes[3] = {
	    {.unit = LEVEL_M, .upper = "1.432", .middle = "1.300", .lower = "1.168"},
	    {.unit = LEVEL_M, .reading = "1.30"}};
	struct book_kept kept[3];
	struct book_run run = {.run = RUN(LEVEL_OPEN, sights), .note = keep_notes(kept, notes, 3)};
	sights[0].wires = true;
	/* the run's first sight has none before it; a single reading says nothing of wires */
	ck_assert_int_eq(work_wire_decimals(&run, 0), -1);
	ck_assert_int_eq(work_wire_decimals(&run, 1), 3);
	ck_assert_int_eq(work_wire_decimals(&run, 2), 3);
	strcpy(notes[0].lower, "1.16");
	ck_assert_int_eq(work_wire_decimals(&run, 2), -1);
	strcpy(notes[0].lower, "1.168 m");
	ck_assert_int_eq(work_wire_decimals(&run, 2), -1);
	strcpy(notes[0].lower, "1168");
	ck_assert_int_eq(work_wire_decimals(&run, 2), -1);
	strcpy(notes[0].lower, "1.168");
	kept[0].unit = LEVEL_IN;
	ck_assert_int_eq(work_wire_decimals(&run, 2), -1);
	kept[0].unit = LEVEL_FT;
	ck_assert_int_eq(work_wire_decimals(&run, 2), 3);
	sights[0].state = LEVEL_STRUCK;
	ck_assert_int_eq(work_wire_decimals(&run, 2), -1);
}
END_TEST

/* Wires 1.600 and 1.400 make 100 x 0.200 m = 20 m: half a meter and a hundredth of that, 0.7 m, may
 * be between. */
START_TEST(test_make)
{
	struct book_settings settings = {.stadia_multiplier = 100};
	struct level_sight sight = {.wires = true,
	                            .upper = 1600 * (LEVEL_NM_PER_M / 1000),
	                            .lower = 1400 * (LEVEL_NM_PER_M / 1000)};
	level_nm made = work_wires_make(&settings, &sight);
	ck_assert_int_eq(made, 20 * LEVEL_NM_PER_M);
	ck_assert(!level_wires_differ(&sight, made));
	sight.distance = 207 * (LEVEL_NM_PER_M / 10);
	ck_assert(!level_wires_differ(&sight, made));
	sight.distance++;
	ck_assert(level_wires_differ(&sight, made));
	sight.wires = false;
	ck_assert_int_eq(work_wires_make(&settings, &sight), 0);
	ck_assert(!level_wires_differ(&sight, made));
}
END_TEST

int main(void)
{
	return RUN_TESTS("wires_typed", test_make, test_part, test_decimals);
}
