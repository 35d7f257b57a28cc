/* The rows of runs, nets and epochs in CSV. */
#include <math.h>

#include "csv/csv.h"
#include "report/adjust/adjust.h"
#include "report/quantities.h"

bool adjust_shows(double sd)
{
	return isfinite(sd) && sd < 9e9;
}

void adjust_mark_csv(FILE *out, const char *mark, level_nm elevation, double sd, bool fixed,
                     const struct level_style *style)
{
	char height[LEVEL_LENGTH_BYTES], deviation[LEVEL_LENGTH_BYTES];
	const char *fields[] = {mark, height, deviation, fixed ? "yes" : "no"};
	quantity_cell(height, true, elevation, style);
	quantity_cell(deviation, adjust_shows(sd), adjust_shows(sd) ? level_from_meters(sd) : 0,
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
	quantity_cell(length, line->has_length, line->length, style);
	quantity_cell(observed, true, line->observed, style);
	quantity_cell(adjusted, true, line->adjusted, style);
	quantity_cell(residual, true, line->adjusted - line->observed, style);
	if (line->has_standardized)
		snprintf(standardized, sizeof standardized, "%.6g", line->standardized);
	if (line->has_redundancy)
		snprintf(redundancy, sizeof redundancy, "%.6g", line->redundancy);
	snprintf(setups, sizeof setups, "%d", line->setups);
	csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
}

static void change_csv(FILE *out, const char *mark, const struct level_change *c,
                       const struct level_style *style)
{
	char before[LEVEL_LENGTH_BYTES], after[LEVEL_LENGTH_BYTES], change[LEVEL_LENGTH_BYTES],
	    sd[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	bool has_sd = c->has_sd && adjust_shows(c->sd),
	     has_limit = c->has_limit && adjust_shows(c->limit);
	const char *fields[] = {
	    mark, before, after, change, sd, limit, quantity_answer(c->significant)};
	quantity_cell(before, true, c->before, style);
	quantity_cell(after, true, c->after, style);
	quantity_cell(change, true, c->change, style);
	quantity_cell(sd, has_sd, has_sd ? level_from_meters(c->sd) : 0, style);
	quantity_cell(limit, has_limit, has_limit ? level_from_meters(c->limit) : 0, style);
	csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
}

void changes_csv(FILE *out, const struct work_epochs *epochs)
{
	const struct level_changes *changes = &epochs->compared[1].changes;
	fputs("mark,first,second,change,sd,limit,significant\n", out);
	for (size_t i = 0; i < changes->count; i++)
		change_csv(out, epochs->net[0].mark[changes->change[i].mark.first].name,
		           &changes->change[i], &epochs->net[0].settings.style);
}
