/* An adjusted run. */
#include <math.h>

#include "rodbook/level/offset.h"
#include "text/columns.h"
#include "report/lines.h"
#include "report/adjust/adjust.h"
#include "report/quantities.h"

/* Standard deviation of a mark between two held ones; NAN where none is stated, or the mark hangs
 * off a setup. */
static double deviation(const struct level_spread_row *row, double sigma)
{
	return sigma > 0 && row->has_share && !row->fixed ? sigma * sqrt(row->share) : (double)NAN;
}

static double uncertainty(const struct work_run *run, const struct level_spread *s, size_t i)
{
	return level_spread_u(&run->book.run, &run->page, &run->terms.terms, s, i);
}

static const char *note_of(const struct level_spread *s, size_t i, enum level_kind kind)
{
	const struct level_spread_row *row = &s->row[i];
	if (row->fixed)
		return s->start_assumed ? "taken as 0" : "known";
	if (kind != LEVEL_IS)
		return "";
	return row->uncorrected ? "IS, as read: no distance" : "IS";
}

static bool table(FILE *out, const struct work_run *run, const struct level_spread *s, double sigma)
{
	struct level_style finer = lines_finer(&run->settings.style);
	const char *const head[] = {"mark",
	                            s->corrected ? "corrected" : "booked",
	                            "correction",
	                            "adjusted",
	                            sigma > 0 ? "sd" : "",
	                            "u",
	                            ""};
	struct columns columns = {.columns = 7};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < s->count; i++) {
		const struct level_spread_row *row = &s->row[i];
		const struct level_sight *sight = &run->book.run.sight[i];
		char text[5][LEVEL_LENGTH_BYTES] = {""};
		double sd = deviation(row, sigma), u = uncertainty(run, s, i);
		const char *cells[] = {sight->station,
		                       text[0],
		                       text[1],
		                       text[2],
		                       text[3],
		                       text[4],
		                       note_of(s, i, sight->kind)};
		if (!row->has)
			continue;
		level_format_length(text[0], row->from, &finer, false);
		level_format_length(text[1], row->correction, &finer, true);
		level_format_length(text[2], row->adjusted, &finer, false);
		if (isfinite(sd))
			level_format_length(text[3], level_from_meters(sd), &finer, false);
		if (isfinite(u) && !row->fixed)
			level_format_length(text[4], level_from_meters(u), &finer, false);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lrrrrrl");
	columns_free(&columns);
	return ok;
}

static void how_it_was_spread(FILE *out, const struct work_run *run, const struct level_spread *s)
{
	int setups = run->closing.setups;
	fprintf(out, "spread over %d %s by %s", setups, setups == 1 ? "setup" : "setups",
	        s->by == LEVEL_BY_DISTANCE ? "distance" : "their number");
	fputs(s->fallback ? ": not all distances are known\n" : "\n", out);
	if (s->corrected)
		fputs("elevations corrected: curvature, refraction and tested tilts taken off\n",
		      out);
	if (s->sections > 1)
		fprintf(out, "known marks on the way stay: each of the %d parts is spread alone\n",
		        s->sections);
	if (s->start_assumed)
		fprintf(out,
		        "the elevation of %s is not known: it is taken as 0, and no mark is held\n",
		        run->closing.start_station);
}

bool spread_text(FILE *out, const struct work_run *run, const struct level_spread *s, double sigma,
                 struct fault *why)
{
	const struct level_style *style = &run->settings.style;
	struct level_style finer = lines_finer(style);
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], stated[ADJUST_WORDS_BYTES];
	fprintf(out, "run %s, %s, adjusted, in %s\n", run->book.info.name,
	        level_run_kind_name(run->book.run.kind), level_unit_words(style->unit));
	how_it_was_spread(out, run, s);
	fprintf(out, "misclosure %s %s\n\n", level_format_length(a, s->misclosure, &finer, true),
	        s->corrected ? "corrected" : "as booked");
	if (!table(out, run, s, sigma))
		return fault_memory(why);
	fprintf(out, "\nsum BS %s, sum FS %s, ",
	        level_format_length(a, run->closing.sum_bs, style, false),
	        level_format_length(b, run->closing.sum_fs, style, false));
	if (run->closing.offsets)
		fprintf(out, "sum of offsets %s, ",
		        level_format_length(a, run->closing.sum_offsets, style, true));
	fprintf(out, "sum of corrections %s\n",
	        level_format_length(a, -s->misclosure, &finer, true));
	fputs("u is the standard uncertainty by readings, level and air\n", out);
	if (sigma > 0)
		fprintf(out, "sd from the stated %s,\nbetween marks that are held\n",
		        adjust_sd_stated(stated, sigma, s->by, &finer));
	report_closings(out, run);
	return true;
}

/* A setup as a line of its own, from the mark of its BS to that of its FS; and so an offset. */
static void setup_rows(FILE *out, const struct work_run *run, const struct level_spread *s)
{
	size_t from = level_page_line(&run->page)->start_row;
	for (size_t i = from + 1; i < s->count; i++) {
		const struct level_sums *now = &run->page.row[i].sums,
		                        *then = &run->page.row[from].sums;
		struct adjust_line line = {
		    .run = run->book.info.name,
		    .from = run->book.run.sight[from].station,
		    .to = run->book.run.sight[i].station,
		    .has_length = now->unknown_distances == then->unknown_distances,
		    .length = now->bs_length + now->fs_length - then->bs_length - then->fs_length,
		    .observed = s->row[i].from - s->row[from].from,
		    .adjusted = s->row[i].adjusted - s->row[from].adjusted,
		    .setups = now->setups - then->setups};
		if (!s->row[i].has || !level_carries_on(run->book.run.sight[i].kind))
			continue;
		adjust_line_csv(out, &line, &run->settings.style);
		from = i;
	}
}

void spread_csv(FILE *out, const struct work_run *run, const struct level_spread *s, double sigma)
{
	const struct level_style *style = &run->settings.style;
	fputs("mark,elevation,sd,fixed\n", out);
	for (size_t i = 0; i < s->count; i++)
		if (s->row[i].has)
			adjust_mark_csv(out, run->book.run.sight[i].station, s->row[i].adjusted,
			                deviation(&s->row[i], sigma), s->row[i].fixed, style);
	adjust_lines_header(out);
	setup_rows(out, run, s);
	fputc('\n', out);
	quantity_header(out);
	quantity_text(out, "run", run->book.info.name);
	quantity_text(out, "by", level_by_name(s->by));
	quantity_text(out, "corrected", s->corrected ? "yes" : "no");
	quantity_length(out, "misclosure", true, s->misclosure, style);
	quantity_meters(out, "sd_given", sigma > 0, sigma, style);
}
