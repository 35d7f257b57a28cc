/* The live pane as a column beside the page. */
#include <stdarg.h>
#include <string.h>

#include "screen/pane/live.h"

/* The lines of the tall pane; an empty one parts two matters. */
struct tall {
	char line[60][LINE_BYTES];
	enum look look[60];
	int count;
};

static void add(struct tall *tall, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	if (tall->count < (int)(sizeof tall->line / sizeof *tall->line))
		vsnprintf(tall->line[tall->count++], LINE_BYTES, format, args);
	va_end(args);
}

static void make_last(struct tall *tall, enum look look)
{
	if (tall->count > 0)
		tall->look[tall->count - 1] = look;
}

/* A text that may be longer than the column. */
static void add_long(struct tall *tall, int width, const char *text)
{
	while (*text) {
		size_t size = term_fitting(text, width);
		add(tall, "%.*s", (int)size, text);
		text += size;
		text += strspn(text, " ");
	}
}

/* Two to a row where both fit. */
static void add_allowance(struct tall *tall, const struct editor *ed, int width)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_allowance *allowance = &ed->closing.allowance;
	bool by_all = ed->terms.terms.decides == LEVEL_BY_ALL;
	char text[LEVEL_ALLOWANCE_LINES][60], a[LEVEL_LENGTH_BYTES];
	int most = 0, count = 0;
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		double line = level_line_size(allowance, (enum level_allowance_line)i,
		                              ed->terms.terms.decides);
		int size;
		if (line == 0)
			continue;
		size = snprintf(text[count], sizeof text[count], "  %-10s %s",
		                level_allowance_name((enum level_allowance_line)i),
		                report_meters(a, line, style, false));
		most = size > most ? size : most;
		count++;
	}
	add(tall, "%s %s", by_all ? "each, if all add up; at 95 %" : "each at 95 %; if all add up",
	    report_meters(a, by_all ? allowance->total_u95 : allowance->total_bound, style, false));
	for (int i = 0; i < count; i++)
		if (2 * most <= width && i + 1 < count) {
			add(tall, "%-*s%s", most, text[i], text[i + 1]);
			i++;
		} else {
			add(tall, "%s", text[i]);
		}
}

static void add_drop(struct tall *tall, const struct editor *ed, const struct live *live, int width)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], text[LINE_BYTES];
	if (!level_shows_drop(&ed->work, &ed->page, ed->settings.long_sight))
		return;
	add(tall, "THE VISIBLE DROP");
	if (!c->has_drop) {
		add(tall, "%s", live->drop[0] + strlen("drop  "));
		return;
	}
	if (ed->work.kind == LEVEL_CROSSING)
		add(tall, "flat shows   %s", report_meters(a, c->flat, style, false));
	add(tall, "%s  %s", ed->work.kind == LEVEL_CROSSING ? "round shows" : "predicted  ",
	    report_meters(a, c->predicted, style, false));
	if (level_drop_is_seen(c))
		add(tall, "SEEN         %s", report_meters(a, c->observed, style, false));
	drop_k(ed, text, sizeof text);
	add(tall, "  %s", text);
	add(tall, "allowance    %s, %s", report_meters(a, c->allowance.decides, style, false),
	    ed->terms.terms.decides == LEVEL_BY_ALL ? "if all add up" : "95 %, from u");
	if (!c->finding.none)
		add(tall, "margin       %s", report_meters(a, c->margin, style, true));
	drop_answer(ed, false, text, sizeof text);
	add_long(tall, width, text);
	reciprocal_text(ed, text, sizeof text);
	add_long(tall, width, text);
	add_allowance(tall, ed, width);
	if (ed->work.kind == LEVEL_CROSSING) {
		drop_help(ed, text, sizeof text);
		add_long(tall, width, text);
	}
}

void tall_pane(const struct editor *ed, int row, int column, const struct live *live)
{
	struct tall tall = {.count = 0};
	int width = COLS - column, room = LINES - 4 - ENTRY_ROWS - row;
	bool crossing = ed->work.kind == LEVEL_CROSSING;
	const char *const parts[] = {"THIS SIGHT", live->sight[0], live->sight[1], live->sight[2],
	                             "",           "THE RUN",      live->sums[0],  live->sums[1],
	                             live->sums[2]};
	/* Of a crossing neither the imbalance nor an allowable tells anything. */
	const char *const closing[] = {"",
	                               "THE CLOSING",
	                               live->closing[0],
	                               live->closing[3],
	                               crossing ? NULL : live->closing[1],
	                               !crossing                 ? live->closing[2]
	                               : ed->closing.end_assumed ? "no water read: taken as level"
	                                                         : NULL,
	                               ""};
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		add(&tall, "%s", parts[i]);
		if (i == 1)
			make_last(&tall, LOOK_STRONG);
		if (i == 3 && *live->sight[3])
			add(&tall, "%s", live->sight[3]);
	}
	if (!crossing)
		add(&tall, "%s", live->sums[3]);
	for (size_t i = 0; i < sizeof closing / sizeof *closing; i++)
		if (closing[i] && (*closing[i] || i == 0 || i == 6)) {
			add(&tall, "%s", closing[i]);
			if (closing[i] == live->closing[2])
				make_last(&tall, live->verdict);
		}
	add_drop(&tall, ed, live, width);
	for (int i = 0; i < tall.count && room > 0; i++) {
		if (!*tall.line[i] && tall.count - i > room)
			continue;
		wattrset(stdscr, (int)look_of(tall.look[i]));
		term_text(stdscr, row++, column, width,
		          --room == 0 && i + 1 < tall.count ? "..." : tall.line[i]);
		wattrset(stdscr, A_NORMAL);
	}
}
