/* The answer of a drop and its interval as quantities. */
#include "report/drop/drop.h"
#include "report/quantities.h"

/* Yes or no, or nothing where there is no answer. */
static void say_narrow(FILE *out, const char *name, bool has, bool narrow)
{
	const char *said = narrow ? "yes" : "no";
	quantity_text(out, name, has ? said : "");
}

void drop_answer_csv(FILE *out, const char *name, const struct level_finding *finding)
{
	bool has = finding->none == LEVEL_ANSWERED;
	quantity_text(out, name, has ? level_answer_code(finding->answer) : "none");
	say_narrow(out, "narrow", has, finding->narrow);
	say_narrow(out, "narrow_prediction", has, finding->narrow_prediction);
	quantity_text(out, "no_answer", level_no_answer_code(finding->none));
}

/* The interval of 1/R and the radii. */
void drop_interval_csv(FILE *out, const char *prefix, const struct level_finding *finding)
{
	const struct level_radius *radius = &finding->radius;
	const struct {
		const char *name;
		bool has;
		double value;
		const char *unit;
	} rows[] = {
	    {"inverse_radius_low", true, finding->low, "1/m"},
	    {"inverse_radius", true, finding->middle, "1/m"},
	    {"inverse_radius_high", true, finding->high, "1/m"},
	    {"radius_low", radius->low > 0, radius->low, "m"},
	    {"radius", radius->middle > 0, radius->middle, "m"},
	    {"radius_high", radius->high > 0, radius->high, "m"},
	};
	bool known = finding->none == LEVEL_ANSWERED || finding->none == LEVEL_NO_ACCORD;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[40];
		snprintf(text, sizeof text, "%s%s", prefix, rows[i].name);
		quantity_real(out, text, known && rows[i].has, rows[i].value, rows[i].unit);
	}
}
