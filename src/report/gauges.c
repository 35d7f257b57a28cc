/* Gauges, held against what their runs found. */
#include "report/lines.h"

#include <string.h>

#include "csv/csv.h"
#include "text/columns.h"

static const char *lack_words(enum work_gauge_lack lack)
{
	static const char *const words[] = {
	    "", "no IS or FS of the run stands on it",
	    "the run knows no elevation there: its start is not known, or its line has a gap",
	    "the run cannot be read"};
	return words[lack];
}

void report_gauge_words(const struct work_gauge *g, const struct level_style *style, char *text,
                        size_t size)
{
	char read[LEVEL_LENGTH_BYTES], found[LEVEL_LENGTH_BYTES], less[LEVEL_LENGTH_BYTES];
	level_format_length(read, g->gauge.reading, style, false);
	if (g->lack)
		snprintf(text, size, "read %s; %s", read, lack_words(g->lack));
	else
		snprintf(text, size, "read %s, found %s, found less read %s%s", read,
		         level_format_length(found, g->found, style, false),
		         level_format_length(less, g->difference, style, true),
		         level_unit_after(style->unit));
}

/* What stands behind the figures of a line. */
static void put_note(const struct work_gauge *g, char *text, size_t size)
{
	const struct book_gauge *b = &g->gauge;
	snprintf(text, size, "%s%s%s%s%s%s%s%s", lack_words(g->lack),
	         g->lack && *b->remark ? "; " : "", b->remark,
	         *b->struck && (g->lack || *b->remark) ? "; " : "", *b->struck ? "struck " : "",
	         b->struck, *b->why ? ": " : "", b->why);
}

static void add_line(struct columns *columns, const struct work_gauge *g,
                     const struct level_style *style)
{
	char read[LEVEL_LENGTH_BYTES], found[LEVEL_LENGTH_BYTES] = "",
	                               less[LEVEL_LENGTH_BYTES] = "";
	char note[3 * LEVEL_REMARK_BYTES];
	const char *cells[] = {g->gauge.station, g->gauge.time, g->run, read, found, less, note};
	level_format_length(read, g->gauge.reading, style, false);
	if (!g->lack) {
		level_format_length(found, g->found, style, false);
		level_format_length(less, g->difference, style, true);
	}
	put_note(g, note, sizeof note);
	columns_add(columns, cells);
}

static bool put_text(FILE *out, const struct work_gauges *gauges)
{
	char read[40];
	const char *head[] = {"gauge", "time", "run", read, "found", "found less read", ""};
	struct columns columns = {.columns = sizeof head / sizeof *head};
	bool ok;
	snprintf(read, sizeof read, "read, %s", level_unit_words(gauges->style.unit));
	columns_add(&columns, head);
	for (size_t i = 0; i < gauges->count; i++)
		add_line(&columns, &gauges->list[i], &gauges->style);
	ok = columns_put(out, &columns, "lllrrrl");
	columns_free(&columns);
	return ok;
}

static void put_csv(FILE *out, const struct work_gauges *gauges)
{
	const struct level_style *style = &gauges->style;
	fputs("station,time,run,read,found,difference,missing,unit\n", out);
	for (size_t i = 0; i < gauges->count; i++) {
		const struct work_gauge *g = &gauges->list[i];
		char read[LEVEL_LENGTH_BYTES], found[LEVEL_LENGTH_BYTES] = "",
		                               less[LEVEL_LENGTH_BYTES] = "";
		const char *fields[] = {g->gauge.station,
		                        g->gauge.time,
		                        g->run,
		                        read,
		                        found,
		                        less,
		                        work_gauge_lack_name(g->lack),
		                        level_file_unit(style->unit)};
		if (*g->gauge.struck)
			continue;
		level_format_exact(read, g->gauge.reading, style);
		if (!g->lack) {
			level_format_exact(found, g->found, style);
			level_format_exact(less, g->difference, style);
		}
		csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
	}
}

bool report_gauges(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why)
{
	struct work_gauges gauges;
	bool ok = work_gauges(book, &gauges, why);
	*unreadable = gauges.unreadable;
	if (ok && csv)
		put_csv(out, &gauges);
	else if (ok && gauges.count == 0)
		fputs("no gauge was read yet; book one with: rodbook gauge BOOK RUN STATION "
		      "READING\n",
		      out);
	else if (ok)
		ok = put_text(out, &gauges) || fault_memory(why);
	work_gauges_free(&gauges);
	return ok;
}
