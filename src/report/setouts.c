/* Set-outs, wanted and as they stand. */
#include "report/lines.h"

#include <string.h>

#include "csv/csv.h"
#include "text/columns.h"

void report_setout_words(const struct work_setout *s, const struct level_style *style, char *text,
                         size_t size)
{
	char wanted[LEVEL_LENGTH_BYTES], set[LEVEL_LENGTH_BYTES], less[LEVEL_LENGTH_BYTES];
	level_format_length(wanted, s->setout.wanted, style, false);
	if (*s->setout.struck)
		snprintf(text, size, "wanted %s", wanted);
	else if (!s->has_set)
		snprintf(text, size, "wanted %s; %s", wanted,
		         s->unreadable ? "the run cannot be read" : "no sight has found it yet");
	else
		snprintf(text, size, "wanted %s, set %s, set less wanted %s%s", wanted,
		         level_format_length(set, s->set, style, false),
		         level_format_length(less, s->difference, style, true),
		         level_unit_after(style->unit));
}

static void add_line(struct columns *columns, const struct work_setout *s,
                     const struct level_style *style)
{
	const struct book_setout *b = &s->setout;
	char wanted[LEVEL_LENGTH_BYTES], set[LEVEL_LENGTH_BYTES] = "",
	                                 less[LEVEL_LENGTH_BYTES] = "";
	char note[2 * LEVEL_REMARK_BYTES];
	const char *cells[] = {b->station, s->run, b->time, wanted, set, less, note};
	level_format_length(wanted, b->wanted, style, false);
	if (s->has_set) {
		level_format_length(set, s->set, style, false);
		level_format_length(less, s->difference, style, true);
	}
	snprintf(note, sizeof note, "%s%s%s%s",
	         *b->struck      ? "struck "
	         : s->unreadable ? "the run cannot be read"
	         : !s->has_set   ? "no sight has found it yet"
	                         : "",
	         b->struck, *b->why ? ": " : "", b->why);
	columns_add(columns, cells);
}

static bool put_text(FILE *out, const struct work_setouts *setouts)
{
	char wanted[40];
	const char *head[] = {"station", "run", "time", wanted, "set", "set less wanted", ""};
	struct columns columns = {.columns = sizeof head / sizeof *head};
	bool ok;
	snprintf(wanted, sizeof wanted, "wanted, %s", level_unit_words(setouts->style.unit));
	columns_add(&columns, head);
	for (size_t i = 0; i < setouts->count; i++)
		add_line(&columns, &setouts->list[i], &setouts->style);
	ok = columns_put(out, &columns, "lllrrrl");
	columns_free(&columns);
	return ok;
}

static void put_csv(FILE *out, const struct work_setouts *setouts)
{
	const struct level_style *style = &setouts->style;
	fputs("station,run,time,wanted,set,difference,unit\n", out);
	for (size_t i = 0; i < setouts->count; i++) {
		const struct work_setout *s = &setouts->list[i];
		char wanted[LEVEL_LENGTH_BYTES], set[LEVEL_LENGTH_BYTES] = "",
		                                 less[LEVEL_LENGTH_BYTES] = "";
		const char *fields[] = {
		    s->setout.station,           s->run, s->setout.time, wanted, set, less,
		    level_file_unit(style->unit)};
		if (*s->setout.struck)
			continue;
		level_format_exact(wanted, s->setout.wanted, style);
		if (s->has_set) {
			level_format_exact(set, s->set, style);
			level_format_exact(less, s->difference, style);
		}
		csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
	}
}

bool report_setouts(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why)
{
	struct work_setouts setouts;
	bool ok = work_setouts(book, &setouts, why);
	*unreadable = setouts.unreadable;
	if (ok && csv)
		put_csv(out, &setouts);
	else if (ok && setouts.count == 0)
		fputs("nothing was set out yet; keep an elevation with: rodbook setout BOOK RUN "
		      "STATION WANTED\n",
		      out);
	else if (ok)
		ok = put_text(out, &setouts) || fault_memory(why);
	work_setouts_free(&setouts);
	return ok;
}
