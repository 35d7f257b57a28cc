#include "report/quantities.h"

#include <inttypes.h>
#include <math.h>

#include "csv/csv.h"

static void write_row(FILE *out, const char *name, const char *value, const char *unit)
{
	const char *fields[] = {name, value, unit};
	csv_write(out, fields, 3, "\n");
}

void quantity_header(FILE *out)
{
	write_row(out, "quantity", "value", "unit");
}

void quantity_text(FILE *out, const char *name, const char *value)
{
	write_row(out, name, value, "");
}

void quantity_count(FILE *out, const char *name, int64_t value)
{
	char text[24];
	snprintf(text, sizeof text, "%" PRId64, value);
	write_row(out, name, text, "");
}

const char *quantity_answer(enum level_answer answer)
{
	static const char *const answers[] = {"no", "yes", "unknown"};
	return answers[answer];
}

const char *quantity_cell(char text[LEVEL_LENGTH_BYTES], bool has, level_nm value,
                          const struct level_style *style)
{
	text[0] = '\0';
	return has ? level_format_exact(text, value, style) : text;
}

void quantity_length(FILE *out, const char *name, bool has, level_nm value,
                     const struct level_style *style)
{
	char text[LEVEL_LENGTH_BYTES];
	write_row(out, name, quantity_cell(text, has, value, style), level_file_unit(style->unit));
}

void quantity_meters(FILE *out, const char *name, bool has, double meters,
                     const struct level_style *style)
{
	/* nm that int64 holds */
	has = has && fabs(meters) < 9e9;
	quantity_length(out, name, has, has ? level_from_meters(meters) : 0, style);
}

void quantity_real(FILE *out, const char *name, bool has, double value, const char *unit)
{
	char text[40] = "";
	if (has && isfinite(value))
		snprintf(text, sizeof text, "%.12g", value);
	write_row(out, name, text, unit);
}
