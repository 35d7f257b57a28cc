/* The worked answers for a long sight over 800 m, level tested by four sets of pegs, reckoned by
 * two programs that share nothing with this one: booked values rounded to 0.01 mm, everything after
 * them unrounded. Flat and round surfaces in air of four k, and five answers. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/level/page.h"
#include "rodbook/level/pegtest.h"
#include "suite.h"
#include "worked_crossing.h"

#define COLUMNS 8

/* What is booked in each column, mm. */
static const struct {
	bool round;
	double k, bs, fs;
} column[COLUMNS] = {
    {false, -0.5, 1500.10, 1536.11}, {false, 0, 1500.10, 1511.00},
    {false, 0.13, 1500.10, 1504.47}, {false, 1.2, 1500.09, 1450.73},
    {true, -0.5, 1500.11, 1586.34},  {true, 0, 1500.11, 1561.23},
    {true, 0.13, 1500.11, 1554.70},  {true, 1.2, 1500.10, 1500.95},
};

/* Each figure of the table, as it is printed there, column by column. */
static const char *const expected[][COLUMNS + 1] = {
    {"gamma", "+0.01001", "+0.01001", "+0.01001", "+0.01001", "+0.01481", "+0.01481", "+0.01481",
     "+0.01481"},
    {"D", "28.10", "2.99", "-3.54", "-57.27", "74.53", "49.42", "42.89", "-10.85"},
    {"F", "25.11", "0.00", "-6.53", "-60.26", "25.11", "0.00", "-6.53", "-60.26"},
    {"P", "71.61", "46.50", "39.97", "-13.76", "71.61", "46.50", "39.97", "-13.76"},
    {"C", "2.99", "2.99", "2.99", "2.99", "49.42", "49.42", "49.42", "49.41"},
    {"S'/2R", "46.50", "46.50", "46.50", "46.50", "46.50", "46.50", "46.50", "46.50"},
    {"refraction B", "20.09", "20.09", "20.09", "20.09", "20.09", "20.09", "20.09", "20.09"},
    {"refraction u", "10.05", "10.05", "10.05", "10.05", "10.05", "10.05", "10.05", "10.05"},
    {"distance B", "1.17", "0.16", "0.10", "2.25", "1.24", "0.24", "0.03", "2.18"},
    {"distance u", "0.58", "0.08", "0.05", "1.13", "0.62", "0.12", "0.01", "1.09"},
    {"u(0)", "15.88", "15.87", "15.87", "15.91", "15.88", "15.87", "15.87", "15.90"},
    {"nu", "43.9", "43.8", "43.8", "44.3", "44.0", "43.8", "43.8", "44.2"},
    {"t", "2.015", "2.016", "2.016", "2.015", "2.015", "2.016", "2.016", "2.015"},
    {"B(0)", "80.68", "79.67", "79.61", "81.76", "80.76", "79.75", "79.54", "81.69"},
    {"U(0)", "32.00", "31.98", "31.98", "32.05", "32.00", "31.98", "31.98", "32.05"},
    {"margin U", "-29.01", "-28.99", "-28.99", "-29.06", "17.42", "17.44", "17.44", "17.36"},
    {"margin B", "-77.69", "-76.68", "-76.63", "-78.77", "-31.34", "-30.33", "-30.12", "-32.28"},
    {"low U", "-0.6234", "-0.6239", "-0.6241", "-0.6274", "0.3737", "0.3747", "0.3748", "0.3744"},
    {"high U", "0.9094", "0.9080", "0.9077", "0.9068", "1.9125", "1.9100", "1.9094", "1.9058"},
    {"R low", "7006", "7016", "7019", "7026", "3331", "3336", "3337", "3343"},
    {"R high", "inf", "inf", "inf", "inf", "17048", "17004", "16999", "17018"},
    {"answer U", "none-shown", "none-shown", "none-shown", "none-shown", "shown-compatible",
     "shown-compatible", "shown-compatible", "shown-compatible"},
    {"low B", "-1.6938", "-1.7164", "-1.7223", "-1.7705", "-0.6485", "-0.6711", "-0.6770",
     "-0.7254"},
    {"high B", "2.1064", "2.0838", "2.0779", "2.0297", "3.1517", "3.1291", "3.1232", "3.0748"},
    {"answer B", "not-separated", "not-separated", "not-separated", "not-separated",
     "not-separated", "not-separated", "not-separated", "not-separated"},
};

static void check(const char *name, int at, const char *want, const char *format, double value)
{
	char got[40];
	snprintf(got, sizeof got, format, value);
	if (strcmp(got, "-0.00") == 0)
		memmove(got, got + 1, 5);
	ck_assert_msg(strcmp(got, want) == 0, "%s, column %d: %s, not %s", name, at, got, want);
}

/* The figure of a row by its name. */
static void check_row(const char *const *row, int at, const struct level_closing *c,
                      const struct level_closing *all, const struct level_peg_result *pegs)
{
	const char *name = row[0], *want = row[at + 1];
	const struct level_allowance *a = &c->allowance;
	const double r0 = 6371000;
	const struct {
		const char *name, *format;
		double value;
	} figures[] = {
	    {"gamma", "%+.5f", (pegs->tilt + pegs->g / (2 * r0)) * 1000},
	    {"D", "%.2f", c->observed * 1000},
	    {"F", "%.2f", c->flat * 1000},
	    {"P", "%.2f", c->predicted * 1000},
	    {"C", "%.2f", c->shown * 1000},
	    {"S'/2R", "%.2f", c->separation * 1000},
	    {"refraction B", "%.2f", a->bound[LEVEL_LINE_REFRACTION] * 1000},
	    {"refraction u", "%.2f", a->u[LEVEL_LINE_REFRACTION] * 1000},
	    {"distance B", "%.2f", a->bound[LEVEL_LINE_DISTANCE] * 1000},
	    {"distance u", "%.2f", a->u[LEVEL_LINE_DISTANCE] * 1000},
	    {"u(0)", "%.2f", a->u_total * 1000},
	    {"nu", "%.1f", a->freedom},
	    {"t", "%.3f", a->coverage},
	    {"B(0)", "%.2f", a->total_bound * 1000},
	    {"U(0)", "%.2f", a->total_u95 * 1000},
	    {"margin U", "%.2f", c->margin * 1000},
	    {"margin B", "%.2f", all->margin * 1000},
	    {"low U", "%.4f", c->finding.low * r0},
	    {"high U", "%.4f", c->finding.high * r0},
	    {"R low", "%.0f", c->finding.radius.low / 1000},
	    {"R high", "%.0f", c->finding.radius.high / 1000},
	    {"low B", "%.4f", all->finding.low * r0},
	    {"high B", "%.4f", all->finding.high * r0},
	};
	if (strcmp(name, "answer U") == 0)
		ck_assert_str_eq(level_answer_code(c->finding.answer), want);
	else if (strcmp(name, "answer B") == 0)
		ck_assert_str_eq(level_answer_code(all->finding.answer), want);
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		if (strcmp(name, figures[i].name) == 0)
			check(name, at, want, figures[i].format, figures[i].value);
}

START_TEST(test_eight_columns)
{
	for (int i = 0; i < COLUMNS; i++) {
		struct level_peg_result pegs;
		struct level_closing c = worked_closing(column[i].round, column[i].k, column[i].bs,
		                                        column[i].fs, LEVEL_BY_U95, &pegs);
		struct level_closing all = worked_closing(
		    column[i].round, column[i].k, column[i].bs, column[i].fs, LEVEL_BY_ALL, &pegs);
		for (size_t row = 0; row < sizeof expected / sizeof *expected; row++)
			check_row(expected[row], i, &c, &all, &pegs);
	}
}
END_TEST

START_TEST(test_lines)
{
	/* B, u of each line, mm; marks and ends together: u in quadrature. */
	static const struct {
		enum level_allowance_line line;
		const char *bound, *u;
	} lines[] = {
	    {LEVEL_LINE_INSTRUMENT, "25.83", "8.12"}, {LEVEL_LINE_DRIFT, "15.80", "7.90"},
	    {LEVEL_LINE_READING, "9.30", "4.31"}, /* 0.70 + 8.60; 0.35, 4.30 */
	    {LEVEL_LINE_WATER, "6.49", "1.81"},   /* 1.13 + 1.36 + 2 x 2; 0.50, 0.60, 2 x 1.15 */
	    {LEVEL_LINE_DECLARED, "2.00", "0.82"},    {LEVEL_LINE_KNOWN, "0.00", "0.00"},
	};
	struct level_peg_result pegs;
	struct level_closing c = worked_closing(true, 0.13, 1500.11, 1554.70, LEVEL_BY_U95, &pegs);
	double bound = 0, squares = 0;
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		double b = c.allowance.bound[lines[i].line], u = c.allowance.u[lines[i].line];
		check("bound", (int)i, lines[i].bound, "%.2f", b * 1000);
		check("u", (int)i, lines[i].u, "%.2f", u * 1000);
		bound += b;
		squares += u * u;
	}
	check("sum of B", 0, "59.42", "%.2f", bound * 1000);
	check("root of squares", 0, "12.28", "%.2f", sqrt(squares) * 1000);
	check("g", 0, "60.00", "%.2f", pegs.g);
	check("u of the tilt", 0, "0.01027", "%.5f", pegs.u * 1000);
	check("air of the test", 0, "0.00235", "%.5f", pegs.air * 1000);
}
END_TEST

/* Column "round, k = 0.13" with the far reading changed by hand. */
START_TEST(test_five_answers)
{
	static const char *const rows[][6] = {
	    {"1554.70", "1614.70", "1529.70", "1504.70", "1454.70"},
	    {"42.89", "102.89", "17.89", "-7.11", "-57.11"},
	    {"49.42", "109.42", "24.42", "-0.58", "-50.58"},
	    {"15.87", "15.87", "15.87", "19.44", "19.44"},
	    {"2.016", "2.016", "2.016", "2.000", "2.000"},
	    {"31.98", "31.98", "31.98", "38.88", "38.88"},
	    {"79.54", "79.54", "79.54", "89.59", "89.59"},
	    {"17.44", "77.44", "-7.56", "-39.46", "-89.46"},
	    {"0.3748", "1.6616", "-0.1627", "-0.6957", "-1.7746"},
	    {"1.9094", "3.2071", "1.3698", "0.8243", "-0.2516"},
	    {"shown-compatible", "shown-incompatible", "not-separated", "none-shown", "opposite"},
	};
	for (int i = 0; i < 5; i++) {
		struct level_peg_result pegs;
		struct level_closing c =
		    worked_closing(true, 0.13, 1500.11, atof(rows[0][i]), LEVEL_BY_U95, &pegs);
		check("D", i, rows[1][i], "%.2f", c.observed * 1000);
		check("C", i, rows[2][i], "%.2f", c.shown * 1000);
		check("u(0)", i, rows[3][i], "%.2f", c.allowance.u_total * 1000);
		check("t", i, rows[4][i], "%.3f", c.allowance.coverage);
		check("U(0)", i, rows[5][i], "%.2f", c.allowance.total_u95 * 1000);
		check("B(0)", i, rows[6][i], "%.2f", c.allowance.total_bound * 1000);
		check("margin", i, rows[7][i], "%.2f", c.margin * 1000);
		check("low", i, rows[8][i], "%.4f", c.finding.low * 6371000);
		check("high", i, rows[9][i], "%.4f", c.finding.high * 6371000);
		ck_assert_str_eq(level_answer_code(c.finding.answer), rows[10][i]);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("worked", test_eight_columns, test_lines, test_five_answers);
}
