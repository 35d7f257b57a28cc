/* An adjusted net. */
#include <math.h>

#include "text/columns.h"
#include "report/lines.h"
#include "report/adjust/adjust.h"
#include "report/quantities.h"

static double unit_sd(const struct work_net *net)
{
	return net->result.has_variance ? sqrt(net->result.variance) : (double)NAN;
}

/* Of a mark, m: by the residuals, and as stated; NAN where there is none. */
static double deviation(const struct work_net *net, size_t mark, double unit)
{
	return net->mark[mark].fixed || !(unit > 0) ? (double)NAN
	                                            : unit * sqrt(net->result.mark[mark].cofactor);
}

static void put_deviation(char text[LEVEL_LENGTH_BYTES], double sd, const struct level_style *style)
{
	text[0] = '\0';
	if (adjust_shows(sd))
		level_format_length(text, level_from_meters(sd), style, false);
}

static bool mark_table(FILE *out, const struct work_net *net)
{
	struct level_style finer = lines_finer(&net->settings.style);
	bool stated = net->net.sigma > 0;
	const char *const head[] = {"mark", "elevation", net->result.has_variance ? "sd" : "",
	                            stated ? "sd as stated" : "", ""};
	struct columns columns = {.columns = 5};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < net->net.marks; i++) {
		char text[3][LEVEL_LENGTH_BYTES];
		const char *cells[] = {net->mark[i].name, text[0], text[1], text[2],
		                       net->mark[i].fixed ? "known, held" : ""};
		level_format_length(text[0], net->result.mark[i].elevation, &finer, false);
		put_deviation(text[1], deviation(net, i, unit_sd(net)), &finer);
		put_deviation(text[2], deviation(net, i, net->net.sigma), &finer);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lrrrl");
	columns_free(&columns);
	return ok;
}

static bool line_table(FILE *out, const struct work_net *net)
{
	struct level_style finer = lines_finer(&net->settings.style);
	const char *const head[] = {
	    "run",          "from",
	    "to",           net->by == LEVEL_BY_SETUPS ? "setups" : "length",
	    "observed",     "residual",
	    "standardized", ""};
	struct columns columns = {.columns = 8};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < net->net.lines; i++) {
		const struct level_net_line *line = &net->line[i];
		const struct level_net_line_result *r = &net->result.line[i];
		char text[4][LEVEL_LENGTH_BYTES] = {""};
		const char *cells[] = {net->piece[i].run,
		                       net->mark[line->from].name,
		                       net->mark[line->to].name,
		                       text[0],
		                       text[1],
		                       text[2],
		                       text[3],
		                       !r->checked  ? "unchecked"
		                       : r->suspect ? "suspect"
		                                    : ""};
		if (net->by == LEVEL_BY_SETUPS)
			snprintf(text[0], sizeof text[0], "%d", net->piece[i].setups);
		else
			level_format_distance(text[0], net->piece[i].length, &net->settings.style,
			                      false);
		level_format_length(text[1], line->rise, &finer, true);
		level_format_length(text[2], r->adjusted - line->rise, &finer, true);
		if (r->has_standardized)
			snprintf(text[3], sizeof text[3], "%+.2f", r->standardized);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lllrrrrl");
	columns_free(&columns);
	return ok;
}

static void how_it_was_weighed(FILE *out, const struct work_net *net)
{
	size_t held = 0, corrected = 0;
	for (size_t i = 0; i < net->net.marks; i++)
		held += net->mark[i].fixed;
	for (size_t i = 0; i < net->net.lines; i++)
		corrected += net->piece[i].corrected;
	fprintf(out, "net of %zu %s, in %s: %zu %s adjusted, %zu held\n", net->runs,
	        net->runs == 1 ? "run" : "runs", level_unit_words(net->settings.style.unit),
	        net->net.marks - held, net->net.marks - held == 1 ? "mark" : "marks", held);
	adjust_weights(out, net->by, net->fallback ? net->no_distance : "");
	adjust_corrections(out, corrected, net->net.lines);
	fputs("known marks are held as they are: their u is ignored\n", out);
	if (net->offsets)
		fputs("an offset adds its own variance to its line, and no length\n", out);
	adjust_names(out, "not complete or not readable, and left out:", net->left, net->left_out);
	adjust_names(out,
	             "runs closed and later opened again (the page of each says why):", net->again,
	             net->reopened);
}

static void put_variance(FILE *out, const struct work_net *net)
{
	const struct level_net_result *r = &net->result;
	struct level_style finer = lines_finer(&net->settings.style);
	char text[ADJUST_WORDS_BYTES];
	if (r->freedom == 0) {
		fputs("no degree of freedom: nothing is checked\n", out);
		return;
	}
	fprintf(out, "variance of unit weight %s, %d degree%s of freedom\n",
	        adjust_variance(text, r->variance, net->by, &finer), r->freedom,
	        r->freedom == 1 ? "" : "s");
	fprintf(out, "standard deviation %s\n",
	        adjust_sd(text, sqrt(r->variance), net->by, &finer));
	if (!r->has_test) {
		fputs("no standard deviation is stated, so the variance is not tested\n", out);
		return;
	}
	fprintf(out, "stated %s\nchi-square %.2f, 95 %% between %.2f and %.2f\n",
	        adjust_sd_stated(text, net->net.sigma, net->by, &finer), r->chi_square, r->low,
	        r->high);
	fputs(r->passes                 ? "passes: the misfits are as stated\n"
	      : r->chi_square > r->high ? "does not pass: the lines miss by more than is stated\n"
	                                : "does not pass: the lines agree better than is stated\n",
	      out);
}

/* The lines that are suspect, or those that are unchecked, up to some number. */
static void name_lines(FILE *out, const struct work_net *net, bool suspect, int whole)
{
	int named = 0;
	for (size_t i = 0; i < net->net.lines && named < ADJUST_NAMED_MOST; i++) {
		const struct level_net_line_result *r = &net->result.line[i];
		if (suspect ? !r->suspect : r->checked)
			continue;
		fprintf(out, "%s %s from %s to %s", named++ ? "," : "", net->piece[i].run,
		        net->mark[net->line[i].from].name, net->mark[net->line[i].to].name);
	}
	if (whole > named)
		fprintf(out, " and %d more", whole - named);
}

static void put_suspects(FILE *out, const struct work_net *net)
{
	const struct level_net_result *r = &net->result;
	if (r->largest == net->net.lines)
		return;
	if (!r->has_limit) {
		fputs("one degree of freedom: residuals cannot tell one run from another\n", out);
		return;
	}
	fprintf(out, "largest standardized residual %.2f, limit %.2f (%s)\n",
	        fabs(r->line[r->largest].standardized), r->limit,
	        net->net.sigma > 0 ? "normal, Baarda 1968" : "tau, Pope 1976");
	if (r->suspects == 0) {
		if (!net->misses)
			fputs("no run is suspect\n", out);
		return;
	}
	fputs("suspect:", out);
	name_lines(out, net, true, r->suspects);
	fputs(r->suspects > 1 ? "; residuals cannot tell them apart\n" : "\n", out);
}

/* Lines between known marks that miss by more than the tolerance set allows. */
static void put_misses(FILE *out, const struct work_net *net)
{
	for (size_t i = 0; i < net->net.lines; i++) {
		const struct net_piece *piece = &net->piece[i];
		const char *from = net->mark[net->line[i].from].name,
		           *to = net->mark[net->line[i].to].name;
		struct level_style finer =
		    lines_telling(piece->miss, piece->allowable, &net->settings.style);
		char by[LEVEL_LENGTH_BYTES], most[LEVEL_LENGTH_BYTES];
		if (!piece->misses)
			continue;
		fprintf(out,
		        "%s from %s to %s is off the known difference by %s, %s%s is allowed: the "
		        "run or one of the two marks is wrong\n",
		        piece->run, from, to, level_format_length(by, piece->miss, &finer, true),
		        level_format_length(most, piece->allowable, &finer, false),
		        level_unit_after(finer.unit));
	}
}

static void put_unchecked(FILE *out, const struct work_net *net)
{
	int unchecked = 0;
	for (size_t i = 0; i < net->net.lines; i++)
		unchecked += !net->result.line[i].checked;
	if (unchecked == 0)
		return;
	fputs(unchecked == 1 ? "nothing checks this run:" : "nothing checks these runs:", out);
	name_lines(out, net, false, unchecked);
	fputc('\n', out);
}

bool net_text(FILE *out, const struct work_net *net, struct fault *why)
{
	how_it_was_weighed(out, net);
	fputc('\n', out);
	if (!mark_table(out, net))
		return fault_memory(why);
	fputc('\n', out);
	if (!line_table(out, net))
		return fault_memory(why);
	fputc('\n', out);
	put_variance(out, net);
	if (net->result.freedom > 0) {
		put_suspects(out, net);
		put_misses(out, net);
		put_unchecked(out, net);
	}
	return true;
}

static void line_rows(FILE *out, const struct work_net *net)
{
	adjust_lines_header(out);
	for (size_t i = 0; i < net->net.lines; i++) {
		const struct level_net_line *of = &net->line[i];
		const struct level_net_line_result *r = &net->result.line[i];
		const struct adjust_line line = {.run = net->piece[i].run,
		                                 .from = net->mark[of->from].name,
		                                 .to = net->mark[of->to].name,
		                                 .has_length = net->piece[i].corrected,
		                                 .has_standardized = r->has_standardized,
		                                 .has_redundancy = true,
		                                 .length = net->piece[i].length,
		                                 .observed = of->rise,
		                                 .adjusted = r->adjusted,
		                                 .standardized = r->standardized,
		                                 .redundancy = r->redundancy,
		                                 .setups = net->piece[i].setups};
		adjust_line_csv(out, &line, &net->settings.style);
	}
}

static void quantity_rows(FILE *out, const struct work_net *net)
{
	const struct level_net_result *r = &net->result;
	const struct level_style *style = &net->settings.style;
	const char *unit = net->by == LEVEL_BY_DISTANCE ? "m^2/km" : "m^2/setup";
	fputc('\n', out);
	quantity_header(out);
	quantity_text(out, "by", level_by_name(net->by));
	quantity_meters(out, "sd_given", net->net.sigma > 0, net->net.sigma, style);
	quantity_count(out, "freedom", r->freedom);
	quantity_real(out, "variance", r->has_variance, r->variance, unit);
	quantity_meters(out, "sd_unit", r->has_variance, unit_sd(net), style);
	quantity_real(out, "chi_square", r->has_test, r->chi_square, "");
	quantity_real(out, "chi_square_low", r->has_test, r->low, "");
	quantity_real(out, "chi_square_high", r->has_test, r->high, "");
	quantity_text(out, "passes", !r->has_test ? "" : r->passes ? "yes" : "no");
	quantity_real(out, "largest", r->largest < net->net.lines,
	              r->largest < net->net.lines ? fabs(r->line[r->largest].standardized) : 0, "");
	quantity_real(out, "limit", r->has_limit, r->limit, "");
	for (size_t i = 0; i < net->net.lines; i++)
		if (r->line[i].suspect || net->piece[i].misses)
			quantity_text(out, "suspect", net->piece[i].run);
	for (size_t i = 0; i < net->left_out; i++)
		quantity_text(out, "left_out", net->left[i]);
}

void net_csv(FILE *out, const struct work_net *net)
{
	double unit = net->result.has_variance ? unit_sd(net) : net->net.sigma;
	fputs("mark,elevation,sd,fixed\n", out);
	for (size_t i = 0; i < net->net.marks; i++)
		adjust_mark_csv(out, net->mark[i].name, net->result.mark[i].elevation,
		                deviation(net, i, unit), net->mark[i].fixed, &net->settings.style);
	line_rows(out, net);
	quantity_rows(out, net);
}
