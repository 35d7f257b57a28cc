/* The next place along a line, of a series with equal steps: sums by hand. */
#include "rodbook/level/along.h"
#include "unit/suite.h"

START_TEST(test_next)
{
	static const struct {
		const char *before, *last, *next; /* "": none */
		enum level_unit unit;
	} cases[] = {
	    {"0+20", "0+40", "0+60", LEVEL_M},
	    {"0+80", "1+00", "1+20", LEVEL_M},
	    {"0+980", "1+000", "1+020", LEVEL_M},
	    {"12+50", "12+75", "13+00", LEVEL_FT},
	    {"99+80", "99+90", "100+00", LEVEL_FTIN},
	    {"00+20", "00+40", "00+60", LEVEL_IN},
	    {"0+060", "0+040", "0+020", LEVEL_M},
	    {"0+40", "0+20", "0+00", LEVEL_M},
	    {"0+20", "0+00", "", LEVEL_M},
	    {"0+20", "0+20", "", LEVEL_M},
	    {"0+020.5", "0+040", "0+059.5", LEVEL_M},
	    {"0+20.00001", "0+20.00002", "0+20.00003", LEVEL_FT},
	    {"0+20.000001", "0+20.000002", "", LEVEL_FT},
	    {"87.5", "90", "92.5", LEVEL_M},
	    {"80", "100", "120", LEVEL_FT},
	    {"0+080", "100", "120", LEVEL_M},
	    {"80", "0+100", "0+120", LEVEL_M},
	    {"80 m", "100 m", "", LEVEL_M},
	    {"GATE", "0+20", "", LEVEL_M},
	    {"0+20", "GATE", "", LEVEL_M},
	    {"0+20", "", "", LEVEL_M},
	    /* a line ends at 100 km */
	    {"98+000", "99+000", "100+000", LEVEL_M},
	    {"99+000", "100+000", "", LEVEL_M},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char next[LEVEL_STATION_BYTES] = "untouched";
		bool has = level_next_along(cases[i].before, cases[i].last, cases[i].unit, next,
		                            sizeof next);
		ck_assert_msg(strcmp(next, cases[i].next) == 0 && has == (*next != '\0'),
		              "%s, %s: %s", cases[i].before, cases[i].last, next);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("next along", test_next);
}
