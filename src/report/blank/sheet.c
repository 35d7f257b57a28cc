#include "report/blank/sheet.h"

#include <stddef.h>

static const char *const page_heads[] = {"run",     "date",    "from", "to",   "party",
                                         "weather", "level",   "rods", "unit", "place",
                                         "datum",   "purpose", NULL};

static const char *const test_heads[] = {"level", "date", "observer", "sky", "rods", "unit", NULL};

static const char *const standings[] = {"1 midway", "1 near A", "2 midway", "2 near A",
                                        "3 midway", "3 near A", "4 midway", "4 near A"};

/* The formula is that of trade handbooks, common practice, no source; the limits are FGCC 1984,
 * sec. 3.5 (recalled). */
static const char page_below[] =
    "HI = elevation + BS; elevation = HI - FS. A TP has FS and BS in one line.\n"
    "Page check: sum BS less sum FS is the end less the start.\n"
    "Strike a wrong figure out so that it stays legible, and write the right one\n"
    "beside it. Never point the telescope at the sun; keep rods off overhead lines.\n";

static const char test_words[] =
    "  A                                                        B\n"
    "  |-------------- dA --------(level)-------- dB ------------|   midway\n"
    "  |-- dA --(level)------------------ dB --------------------|   near A\n"
    "\n"
    "Two firm pegs, 50 to 60 m apart. Read both rods midway, then near A.\n"
    "Four sets, each standing at another height of the level.\n";

static const char test_below[] =
    "tilt = (a - b near A, less a - b midway) / (dA - dB near A, less that midway)\n"
    "Above 0 the line of sight points up. Times 1000 it is in mm for each m.\n"
    "Allowed is 0.10 mm/m in third order, and 0.05 mm/m in the orders above it.\n"
    "Near A the rods should have read a - tilt x dA and b - tilt x dB.\n"
    "rodbook pegtest takes curvature and refraction off, and says how well the\n"
    "sets agree. Never point the telescope at the sun.\n";

static const struct blank_sheet sheets[] = {
    [REPORT_BLANK_PAGE] = {.title = "Field book",
                           .heads = page_heads,
                           .words = "",
                           .column = {{"station", 9},
                                      {"BS", 6},
                                      {"HI", 7},
                                      {"IS", 6},
                                      {"FS", 6},
                                      {"rise", 6},
                                      {"elev.", 7},
                                      {"to BS", 5},
                                      {"to FS", 5},
                                      {"remark", 12}},
                           .columns = 10,
                           .rows = 16,
                           .last = "sums",
                           .below = page_below},
    [REPORT_BLANK_PEGTEST] = {.title = "Peg test",
                              .heads = test_heads,
                              .words = test_words,
                              .column = {{"set", 10},
                                         {"dA", 9},
                                         {"a, on A", 11},
                                         {"dB", 9},
                                         {"b, on B", 11},
                                         {"a - b", 11},
                                         {"tilt", 10}},
                              .columns = 7,
                              .rows = 8,
                              .first = standings,
                              .below = test_below},
};

const struct blank_sheet *blank_sheet(enum report_blank sheet)
{
	return &sheets[sheet];
}

const char *blank_first(const struct blank_sheet *sheet, int row)
{
	if (sheet->first)
		return sheet->first[row];
	return sheet->last && row == sheet->rows - 1 ? sheet->last : "";
}
