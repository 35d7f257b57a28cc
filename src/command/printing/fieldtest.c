#include <string.h>

#include "command/command.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "fieldtest FILE.csv|- [--full] [--sigma S] [--other FILE.csv] [--unit U] [--csv]";

struct given {
	const char *file, *sigma, *other, *unit;
	bool full, csv;
};

/* Reads and computes the test in a file. */
static bool take(const char *path, enum level_unit unit, bool full, struct level_fieldtest *out,
                 struct fault *why)
{
	struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	struct fault words = {0};
	size_t count;
	if (!csv_read_fieldtest(path, unit, pairs, &count, why))
		return false;
	return level_fieldtest(pairs, count, full, out, &words) ||
	       fault_say(why, words.kind, "%.200s: %.400s", path, words.text);
}

int command_fieldtest(int argc, char **argv)
{
	struct given given = {0};
	const struct option_word options[] = {
	    {"--full", NULL, &given.full, NULL},   {"--sigma", &given.sigma, NULL, NULL},
	    {"--other", &given.other, NULL, NULL}, {"--unit", &given.unit, NULL, NULL},
	    {"--csv", NULL, &given.csv, NULL},     {0}};
	struct words words;
	struct fault why = {0};
	struct level_fieldtest test, other;
	struct level_style style;
	enum level_unit unit = LEVEL_M;
	double sigma = 0;
	int status;

	if (!command_words(argc, argv, options, 1, 1, &words, usage))
		return EXIT_USAGE;
	given.file = words.word[0];
	if (given.unit && !level_unit_find(given.unit, &unit)) {
		fault_say(&why, FAULT_INPUT, "a unit is m, ft, ftin or in, not %.40s", given.unit);
		return command_fail(&why);
	}
	if (given.other && strcmp(given.other, "-") == 0 && strcmp(given.file, "-") == 0) {
		fault_say(&why, FAULT_INPUT, "only one test can come from the standard input");
		return command_fail(&why);
	}
	if (given.sigma && !level_parse_sigma(given.sigma, unit, &sigma, &why))
		return command_fail(&why);
	if (!take(given.file, unit, given.full, &test, &why) ||
	    (given.other && !take(given.other, unit, given.full, &other, &why))) {
		/* Whatever is wrong with the rows, the file could not be used. */
		command_fail(&why);
		return EXIT_UNUSABLE;
	}
	if (given.sigma)
		level_fieldtest_hold(&test, sigma);
	if (given.other)
		level_fieldtest_compare(&test, &other);
	style = level_style_default(unit);
	report_fieldtest(stdout, &test, given.other != NULL, &style, given.csv);
	status = command_flush();
	return status == EXIT_DONE && !level_fieldtest_passes(&test) ? EXIT_NO : status;
}
