/* The rows of runs, nets and epochs in CSV. */
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

static void change_csv(FILE *out, const char *mark, const struct level_change *c,
                       const struct level_style *style)
{
	char before[LEVEL_LENGTH_BYTES], after[LEVEL_LENGTH_BYTES], change[LEVEL_LENGTH_BYTES],
	    sd[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	bool has_sd = c->has_sd && adjust_shows(c->sd),
	     has_limit = c->has_limit && adjust_shows(c->limit);
	const char *fields[] = {mark,
	                        before,
	                        after,
	                        change,
	                        sd,
	                        limit,
	                        c->significant == LEVEL_UNKNOWN ? "unknown"
	                        : c->significant == LEVEL_YES   ? "yes"
	                                                        : "no"};
	length_text(before, true, c->before, style);
	length_text(after, true, c->after, style);
	length_text(change, true, c->change, style);
	length_text(sd, has_sd, has_sd ? level_from_meters(c->sd) : 0, style);
	length_text(limit, has_limit, has_limit ? level_from_meters(c->limit) : 0, style);
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
