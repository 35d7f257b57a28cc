/* Where to read again first, when a run misses. */
#include "rodbook/report/report.h"
#include "rodbook/work/slips.h"

#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "text/cells.h"
#include "text/wrap.h"

#define LINE 80

/* "upper wire ", "reading 2 ", or nothing. */
static void part_name(const struct level_slip *slip, char *text, size_t size)
{
	static const char *const wires[] = {"upper wire ", "middle wire ", "lower wire "};
	if (slip->part == LEVEL_PART_SET)
		snprintf(text, size, "reading %d ", slip->reading);
	else
		snprintf(text, size, "%s", slip->part == LEVEL_PART_ALL ? "" : wires[slip->part]);
}

static const char *whole_words(const struct level_slip *slip)
{
	switch (llabs(slip->likely - slip->booked)) {
	case LEVEL_NM_PER_M:
		return "it may be wrong by one meter";
	case LEVEL_NM_PER_M / 10:
		return "it may be wrong by a tenth of a meter";
	case LEVEL_NM_PER_FT:
		return "it may be wrong by one foot";
	case LEVEL_NM_PER_FT / 10:
		return "it may be wrong by a tenth of a foot";
	case LEVEL_NM_PER_IN:
		return "it may be wrong by one inch";
	default:
		return "it may be wrong by ten inches";
	}
}

static const char *wire_words(const struct level_slip *slip)
{
	if (slip->part == LEVEL_PART_UPPER || slip->part == LEVEL_PART_LOWER)
		return "it may be the middle wire";
	return slip->likely < slip->booked ? "it may be the upper wire"
	                                   : "it may be the lower wire";
}

/* What may have happened. */
static void happened(const struct level_slip *slip, char *text, size_t size)
{
	static const char *const units[] = {
	    [LEVEL_READ_AS_BOOKED] = "",
	    [LEVEL_READ_INCHES] = "inches may have been booked as tenths of a foot",
	    [LEVEL_READ_TENTHS] = "tenths of a foot may have been booked as inches",
	    [LEVEL_READ_METERS] = "the rod may have been read in meters",
	    [LEVEL_READ_CENTIMETERS] = "it may have been read in centimeters",
	};
	static const char *const words[LEVEL_SLIPS] = {
	    [LEVEL_SLIP_TWICE] = "the sight before it has the same value",
	    [LEVEL_SLIP_TRANSPOSED] = "digits may have changed places",
	    [LEVEL_SLIP_EXCHANGED] = "each may stand in the other's place",
	    [LEVEL_SLIP_SIGN] = "the sign may be wrong: read overhead it is below zero",
	    [LEVEL_SLIP_ACROSS] = "digits may be transposed at the point",
	    [LEVEL_SLIP_SHIFTED] = "the point may stand one place off",
	    [LEVEL_SLIP_EARLIER] = "it replaces a struck reading that would close",
	};
	if (slip->kind == LEVEL_SLIP_MISREAD)
		snprintf(text, size, "%s %c may be %s %c", slip->from == '8' ? "an" : "a",
		         slip->from, slip->to == '8' ? "an" : "a", slip->to);
	else
		snprintf(text, size, "%s",
		         slip->kind == LEVEL_SLIP_WHOLE  ? whole_words(slip)
		         : slip->kind == LEVEL_SLIP_WIRE ? wire_words(slip)
		         : slip->kind == LEVEL_SLIP_UNIT ? units[slip->read_in]
		                                         : words[slip->kind]);
}

static int decimals_of(level_nm value, const struct level_style *style)
{
	char text[LEVEL_LENGTH_BYTES];
	const char *point = strchr(level_format_exact(text, value, style), '.');
	return point ? (int)strlen(point + 1) : 0;
}

/* How the values of a slip are written: as finely as the booked one needs, and the likely one where
 * a point moves; a mean, which may need any number of decimals, with one more than the page. */
static struct level_style fine_enough(const struct level_slip *slip,
                                      const struct level_style *style)
{
	struct level_style finer = *style;
	int decimals = decimals_of(slip->booked, style), likely = decimals_of(slip->likely, style);
	if (slip->kind == LEVEL_SLIP_SHIFTED && likely > decimals)
		decimals = likely;
	if (decimals > finer.decimals)
		finer.decimals = decimals <= 6        ? decimals
		                 : finer.decimals < 6 ? finer.decimals + 1
		                                      : 6;
	while (finer.fraction < 64 && slip->booked % (LEVEL_NM_PER_IN / finer.fraction) != 0)
		finer.fraction *= 2;
	return finer;
}

struct line {
	char setup[12], number[3][LEVEL_LENGTH_BYTES]; /* booked, likely, leaves */
	const char *sight, *station;
};

static void take_line(const struct work_run *run, const struct level_slip *slip, struct line *line)
{
	struct level_style style = fine_enough(slip, &run->settings.style);
	const struct level_sight *sight = &run->book.run.sight[slip->at];
	snprintf(line->setup, sizeof line->setup, "%d", run->page.row[slip->at].setup);
	line->sight = slip->kind == LEVEL_SLIP_EXCHANGED ? "BS FS" : level_kind_name(sight->kind);
	line->station = sight->station;
	level_format_length(line->number[0], slip->booked, &style, false);
	strcpy(line->number[1], "-");
	strcpy(line->number[2], "-");
	if (slip->has_likely) {
		level_format_length(line->number[1], slip->likely, &style, false);
		level_format_length(line->number[2], slip->leaves, &run->settings.style, true);
	}
}

struct widths {
	int head, tail, station; /* of numbers before and from their point on; of names */
};

static struct widths measure(const struct line *lines, size_t count)
{
	struct widths w = {.head = 1, .tail = 1, .station = 7};
	int room;
	for (size_t i = 0; i < count; i++) {
		int name = cells_of(lines[i].station);
		w.station = name > w.station ? name : w.station;
		for (int j = 0; j < 3; j++) {
			int tail = report_tail(lines[i].number[j]);
			int head = (int)strlen(lines[i].number[j]) - tail;
			w.tail = tail > w.tail ? tail : w.tail;
			w.head = head > w.head ? head : w.head;
		}
	}
	if (w.head + w.tail < 7)
		w.head = 7 - w.tail;
	/* What the other columns leave, and the longest name of a slip. */
	room = LINE - (2 + 1 + 5 + 1 + 5 + 1) - 3 * (1 + w.head + w.tail) - (2 + 10);
	room = room < 7 ? 7 : room;
	w.station = w.station > room ? room : w.station;
	return w;
}

void report_slip_again(const struct work_run *run, const struct level_slip *slip, char *text,
                       size_t size)
{
	char part[24], words[80];
	part_name(slip, part, sizeof part);
	happened(slip, words, sizeof words);
	snprintf(text, size, "read %s%s%s of setup %d again: %s", part, *part ? "of " : "",
	         slip->kind == LEVEL_SLIP_EXCHANGED
	             ? "BS and FS"
	             : level_kind_name(run->book.run.sight[slip->at].kind),
	         run->page.row[slip->at].setup, words);
}

static void put_line(FILE *out, size_t rank, const struct line *line, const struct widths *w)
{
	fprintf(out, "%2zu %5s %-5s ", rank, line->setup, line->sight);
	wrap_put(out, line->station, w->station);
	for (int i = 0; i < 3; i++) {
		int after = w->tail - report_tail(line->number[i]);
		fprintf(out, " %*s%*s", w->head + w->tail - after, line->number[i],
		        i < 2 ? after : 0, "");
	}
	fputc('\n', out);
}

/* What may have happened to which part of an entry. */
static void reason(const struct level_slip *slip, char text[REPORT_SLIP_BYTES])
{
	char part[24], words[80];
	part_name(slip, part, sizeof part);
	happened(slip, words, sizeof words);
	if (*part)
		snprintf(text, REPORT_SLIP_BYTES, "%.*s: %s", (int)strlen(part) - 1, part, words);
	else
		snprintf(text, REPORT_SLIP_BYTES, "%s", words);
}

/* How many slips from the first one on have one reason. */
static size_t alike(const struct level_slip *slip, size_t count)
{
	char first[REPORT_SLIP_BYTES], text[REPORT_SLIP_BYTES];
	size_t same = 1;
	reason(slip, first);
	for (; same < count; same++) {
		reason(slip + same, text);
		if (strcmp(first, text) != 0)
			break;
	}
	return same;
}

/* Whether nothing tells the slips apart. */
static bool equal(const struct level_slip *slip, size_t count)
{
	for (size_t i = 1; i < count; i++)
		if (slip[i].score < slip[0].score)
			return false;
	return true;
}

static void put_slips(FILE *out, const struct work_run *run, const struct level_slips *slips,
                      long row[REPORT_SLIPS_SHOWN])
{
	struct line lines[REPORT_SLIPS_SHOWN];
	size_t count = slips->count < REPORT_SLIPS_SHOWN ? slips->count : REPORT_SLIPS_SHOWN,
	       together = 0;
	struct widths w;
	int number;
	for (size_t i = 0; i < count; i++)
		take_line(run, &slips->slip[i], &lines[i]);
	w = measure(lines, count);
	number = w.head + w.tail;
	fprintf(out, "one wrong entry would explain it%s; likeliest first:\n\n",
	        slips->small_errors ? " too" : "");
	fprintf(out, "   %5s %-5s %-*s %*s %*s %*s\n", "setup", "sight", w.station, "station",
	        number, "booked", number, "likely", number, "leaves");
	for (size_t i = 0; i < count; i++) {
		char text[REPORT_SLIP_BYTES];
		if (!together) {
			together = alike(&slips->slip[i], count - i);
			reason(&slips->slip[i], text);
			if (together == 1)
				fprintf(out, "   %s:\n", text);
			else
				fprintf(out, "   %s, in one of these %zu%s:\n", text, together,
				        equal(&slips->slip[i], together) ? ", equally likely" : "");
		}
		together--;
		row[i] = ftell(out);
		put_line(out, i + 1, &lines[i], &w);
	}
	if (slips->count > count)
		fprintf(out, "and %zu more that would do\n", slips->count - count);
	fprintf(out, "\na hint, never a correction: go and read again before an entry is "
	             "changed\n");
}

/* Finer than the page, on which the misclosure may look the larger one of the two. */
static void put_small_errors(FILE *out, const struct level_slips *slips, struct level_style style)
{
	char allow[LEVEL_LENGTH_BYTES];
	style.decimals += style.decimals < 6;
	fprintf(out,
	        "many small errors explain it, and no reading need be to blame: three standard\n"
	        "deviations of all readings together are %s%s\n",
	        level_format_length(allow, slips->readings_allow, &style, false),
	        level_unit_after(style.unit));
}

void report_slips_text(FILE *out, const struct work_run *run, const struct level_slips *slips,
                       long row[REPORT_SLIPS_SHOWN])
{
	char verdict[400];
	report_verdict(run, verdict, sizeof verdict);
	fprintf(out, "run %s, %s, in %s\n%s\n", run->book.info.name,
	        level_run_kind_name(run->book.run.kind), level_unit_words(run->settings.style.unit),
	        verdict);
	if (slips->small_errors)
		put_small_errors(out, slips, run->settings.style);
	if (slips->count)
		put_slips(out, run, slips, row);
	else if (slips->small_errors)
		fprintf(out, "no likely slip of one entry explains it\n");
	else if (run->closing.closes == LEVEL_NO && run->book.run.kind != LEVEL_CROSSING)
		fprintf(
		    out,
		    "no likely slip of one entry explains it: look for two of them, a sight on "
		    "the\nwrong station, a mark or level that moved, a wrong known elevation\n");
	else if (run->closing.closes != LEVEL_YES || run->book.run.kind == LEVEL_CROSSING)
		fprintf(out, "slips are looked for where a run is held to an allowable, and "
		             "misses it\n");
	report_closings(out, run);
}

static void put_csv(FILE *out, const struct work_run *run, const struct level_slips *slips)
{
	const struct level_style *style = &run->settings.style;
	fputs("rank,setup,sight,station,booked,likely,slip,leaves\n", out);
	for (size_t i = 0; i < slips->count; i++) {
		const struct level_slip *slip = &slips->slip[i];
		const struct level_sight *sight = &run->book.run.sight[slip->at];
		char rank[24], setup[12], name[60], number[3][LEVEL_LENGTH_BYTES] = {"", "", ""};
		const char *fields[] = {rank,           setup,     level_kind_name(sight->kind),
		                        sight->station, number[0], number[1],
		                        name,           number[2]};
		snprintf(rank, sizeof rank, "%zu", i + 1);
		snprintf(setup, sizeof setup, "%d", run->page.row[slip->at].setup);
		part_name(slip, name, sizeof name);
		strcat(name, level_slip_name(slip->kind));
		level_format_exact(number[0], slip->booked, style);
		if (slip->has_likely) {
			level_format_exact(number[1], slip->likely, style);
			level_format_exact(number[2], slip->leaves, style);
		}
		csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
	}
	if (slips->small_errors)
		fputs(",,,,,,small errors,\n", out);
}

bool report_slips(FILE *out, const struct work_run *run, bool csv, bool *explained,
                  struct fault *why)
{
	struct level_slips slips = {0};
	long row[REPORT_SLIPS_SHOWN];
	if (!work_slips(run, &slips, why)) {
		level_slips_free(&slips);
		return false;
	}
	if (csv)
		put_csv(out, run, &slips);
	else
		report_slips_text(out, run, &slips, row);
	*explained = slips.count > 0 ||
	             (run->closing.closes == LEVEL_YES && run->book.run.kind != LEVEL_CROSSING);
	level_slips_free(&slips);
	return true;
}
