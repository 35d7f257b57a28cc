/* The rows that a run and a net share in CSV. */
#include <math.h>

#include "csv/csv.h"
#include "report/adjust/adjust.h"

static void length_text(char text[LEVEL_LENGTH_BYTES], bool has, level_nm value,
                        const struct level_style *style)
{
	text[0] = '\0';
	if (has)
		level_format_exact(text, value, style);
}

bool adjust_shows(double sd)
{
	return isfinite(sd) && sd < 9e9;
}

void adjust_mark_csv(FILE *out, const char *mark, level_nm elevation, double sd, bool fixed,
                     const struct level_style *style)
{
	char height[LEVEL_LENGTH_BYTES], deviation[LEVEL_LENGTH_BYTES];
	const char *fields[] = {mark, height, deviation, fixed ? "yes" : "no"};
	length_text(height, true, elevation, style);
	length_text(deviation, adjust_shows(sd), adjust_shows(sd) ? level_from_meters(sd) : 0,
	            style);
	csv_write(out, fields, 4, "\n");
}

void adjust_lines_header(FILE *out)
{
	fputs("\nrun,from,to,length,observed,adjusted,residual,standardized,setups,redundancy\n",
	      out);
}

void adjust_line_csv(FILE *out, const struct adjust_line *line, const struct level_style *style)
{
	char length[LEVEL_LENGTH_BYTES], observed[LEVEL_LENGTH_BYTES], adjusted[LEVEL_LENGTH_BYTES],
	    residual[LEVEL_LENGTH_BYTES], standardized[40] = "", setups[16], redundancy[40] = "";
	const char *fields[] = {line->run, line->from, line->to,     length, observed,
	                        adjusted,  residual,   standardized, setups, redundancy};
	length_text(length, line->has_length, line->length, style);
	length_text(observed, true, line->observed, style);
	length_text(adjusted, true, line->adjusted, style);
	length_text(residual, true, line->adjusted - line->observed, style);
	if (line->has_standardized)
		snprintf(standardized, sizeof standardized, "%.6g", line->standardized);
	if (line->has_redundancy)
		snprintf(redundancy, sizeof redundancy, "%.6g", line->redundancy);
	snprintf(setups, sizeof setups, "%d", line->setups);
	csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
}
