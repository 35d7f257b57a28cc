/* Design grades and places along a line: what is kept of them is read again as the same. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/level/grade.h"

static const char *const seeds[] = {"12.345",
                                    "12.345; 0+000; -0.5 %",
                                    "12.345; 12+50; 1:200",
                                    "40 ft; 0+050; -5 mm/m",
                                    "1.5 m; 100; 0.003",
                                    "0+050",
                                    "12+50.25",
                                    "87.5",
                                    "100 km",
                                    "12' 3 1/8\"; 0+00; 1",
                                    NULL};
static const char *const dictionary[] = {"; ",  ";",   "+", "0+000", "12+50", " %",
                                         "%",   "1:",  ":", " mm/m", "mm/m",  " m",
                                         " ft", " in", "-", "0.000", NULL};

static void check_grade(const char *text, const struct level_grade *grade, const char *kept)
{
	static const level_nm places[] = {0, LEVEL_NM_PER_M, 1000 * LEVEL_NM_PER_M,
	                                  LEVEL_DISTANCE_LIMIT};
	struct level_grade back;
	char again[LEVEL_GRADE_BYTES];
	for (int here = 0; here < 4; here++) {
		if (!FUZZ_LAW(level_parse_grade(kept, (enum level_unit)here, &back, again, NULL),
		              "the grade \"%s\" is kept as \"%s\", which cannot be read", text,
		              kept))
			return;
		FUZZ_LAW(strcmp(kept, again) == 0,
		         "the grade kept as \"%s\" is then kept as \"%s\"", kept, again);
		FUZZ_LAW(grade->elevation == back.elevation && grade->from == back.from,
		         "the grade \"%s\" is kept as \"%s\", which is another", text, kept);
		for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
			level_nm a = level_grade_at(grade, places[i]);
			level_nm b = level_grade_at(&back, places[i]);
			FUZZ_LAW(a - b <= 1 && b - a <= 1,
			         "the grade \"%s\" is %lld at %lld, and kept as \"%s\" it is %lld",
			         text, (long long)a, (long long)places[i], kept, (long long)b);
		}
	}
	/* The table of runs has room for this many. */
	FUZZ_LAW(strlen(kept) <= 120, "the grade \"%s\" is kept as \"%s\", which has no room", text,
	         kept);
}

static bool check_along(const char *text, enum level_unit unit)
{
	level_nm along = -7, back;
	char carried[FUZZ_INPUT_MOST + 16];
	struct fault why = {0};
	if (!level_parse_along(text, unit, &along, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text, "\"%s\" is refused without a reason",
		         text);
		return false;
	}
	FUZZ_LAW(along >= 0 && along <= LEVEL_DISTANCE_LIMIT, "\"%s\" is %lld nm along the line",
	         text, (long long)along);
	for (int here = 0; here < 4; here++) {
		level_carry_along(carried, sizeof carried, text, unit, (enum level_unit)here);
		back = -1;
		FUZZ_LAW(level_parse_along(carried, (enum level_unit)here, &back, NULL) &&
		             back == along,
		         "\"%s\" of unit %d is carried along to unit %d as \"%s\"", text, (int)unit,
		         here, carried);
	}
	return true;
}

static bool one(const char *text, unsigned options)
{
	enum level_unit unit = (enum level_unit)(options & 3);
	struct level_grade grade;
	char kept[LEVEL_GRADE_BYTES];
	struct fault why = {0};
	bool along = check_along(text, unit);
	if (!level_parse_grade(text, unit, &grade, kept, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
		         "the grade \"%s\" is refused without a reason", text);
		return along;
	}
	FUZZ_LAW(fabs(grade.slope) <= 1, "the grade \"%s\" has a slope of %g", text, grade.slope);
	check_grade(text, &grade, kept);
	return true;
}

const struct fuzz_target fuzz_target = {
    .name = "grade",
    .words = "design grades and places along a line, kept, carried to other units and read again",
    .seeds = seeds,
    .dictionary = dictionary,
    .tries = 60000,
    .one = one,
};
