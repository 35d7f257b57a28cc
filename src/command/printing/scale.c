/* A reading out of a photograph, between two marks. */
#include "command/command.h"
#include "rodbook/level/scale.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "scale --low MARK@PX --high MARK@PX --hair PX [--u PX] [--unit U] [--csv]";

struct given {
	const char *low, *high, *hair, *u, *unit;
	bool csv;
};

static bool scale(const struct given *given, struct fault *why)
{
	struct level_scaling scaling = {.u_px = LEVEL_PX_U};
	struct level_scaled scaled;
	struct level_style style;
	enum level_unit unit = LEVEL_M;
	if (given->unit && !level_unit_find(given->unit, &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in, not %.40s",
		                 given->unit);
	if (!level_parse_placed(given->low, unit, &scaling.low, &scaling.low_px, why) ||
	    !level_parse_placed(given->high, unit, &scaling.high, &scaling.high_px, why) ||
	    !level_parse_px(given->hair, &scaling.hair_px, why) ||
	    (given->u && !level_parse_px(given->u, &scaling.u_px, why)) ||
	    !level_scale(&scaling, &scaled, why))
		return false;
	style = level_style_default(unit);
	report_scaled(stdout, &scaled, &style, given->csv);
	if (scaled.far)
		fputs("rodbook: the hair is more than half the separation of the marks beyond "
		      "one of them: take marks on both sides of it\n",
		      stderr);
	return true;
}

int command_scale(int argc, char **argv)
{
	struct given given = {0};
	const struct option_word options[] = {{"--low", &given.low, NULL, NULL},
	                                      {"--high", &given.high, NULL, NULL},
	                                      {"--hair", &given.hair, NULL, NULL},
	                                      {"--u", &given.u, NULL, NULL},
	                                      {"--unit", &given.unit, NULL, NULL},
	                                      {"--csv", NULL, &given.csv, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};

	if (!command_words(argc, argv, options, 0, 0, &words, usage))
		return EXIT_USAGE;
	if (!given.low || !given.high || !given.hair) {
		command_wrong(usage, "give both marks and the hair");
		return EXIT_USAGE;
	}
	return scale(&given, &why) ? command_flush() : command_fail(&why);
}
