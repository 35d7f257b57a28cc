/* The live pane: what follows from the page as it stands, the draft included. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"

#define LINE_BYTES 420

struct live {
	char sight[4][LINE_BYTES];   /* HI, elevation, step, what was known before */
	char sums[4][LINE_BYTES];    /* sums, page check, setups and length, imbalance */
	char closing[4][LINE_BYTES]; /* misclosure, allowable, verdict, corrected */
	enum look verdict;           /* of closing[2] */
	char drop[2][LINE_BYTES];
};

static void sight_lines(const struct editor *ed, struct live *out)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_row *row = &ed->page.row[ed->at];
	char text[LEVEL_LENGTH_BYTES];
	bool open = row->line.bs_row != SIZE_MAX && row->line.has_hi;
	const char *what = ed->work.sight[ed->at].state == LEVEL_BLANK ? "-" : "not known";

	/* An FS closes its setup, whose HI still belongs beside it. */
	if (row->has_step && !open)
		level_format_length(text, row->line.hi, style, false);
	else if (open)
		level_format_length(text, row->line.hi, style, false);
	snprintf(out->sight[0], LINE_BYTES, "HI          %s",
	         open || (row->has_step && row->has_elevation) ? text : "-");
	snprintf(out->sight[1], LINE_BYTES, "elevation   %s",
	         row->has_elevation ? level_format_length(text, row->elevation, style, false)
	                            : what);
	/* In feet and inches there is no room for both. */
	if (row->has_corrected && style->unit != LEVEL_FTIN) {
		char corrected[LEVEL_LENGTH_BYTES];
		size_t used = strlen(out->sight[1]);
		level_format_length(text, row->elevation, style, false);
		level_format_length(corrected, row->corrected, style, false);
		if (strcmp(text, corrected) != 0)
			snprintf(out->sight[1] + used, LINE_BYTES - used, "  corrected %s",
			         corrected);
	}
	if (row->has_step)
		snprintf(out->sight[2], LINE_BYTES, "%s        %s", row->step < 0 ? "fall" : "rise",
		         level_format_length(text, row->step < 0 ? -row->step : row->step, style,
		                             false));
	else
		snprintf(out->sight[2], LINE_BYTES, "rise, fall  -");
	report_compared_brief(&ed->compared, style, out->sight[3], LINE_BYTES);
}

static void sum_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], many[40] = "",
	                                                   offsets[LEVEL_LENGTH_BYTES];
	int standings = level_page_standings(&ed->page);
	size_t broken = level_page_line(&ed->page)->broken_row;

	level_format_length(a, c->sum_bs, style, false);
	level_format_length(b, c->sum_fs, style, false);
	/* Feet and inches take all the room there is. */
	snprintf(out->sums[0], LINE_BYTES, "sums%*sBS %s  FS %s%s%s",
	         strlen(a) + strlen(b) > 18 || c->offsets ? 1 : 8, "", a, b,
	         c->offsets ? "  OFF " : "",
	         c->offsets ? level_format_length(offsets, c->sum_offsets, style, true) : "");
	if (broken != SIZE_MAX && ed->work.sight[broken].kind == LEVEL_OFF)
		snprintf(out->sums[1], LINE_BYTES, "page check  LINE BROKEN at an offset");
	else if (broken != SIZE_MAX)
		snprintf(out->sums[1], LINE_BYTES, "page check  LINE BROKEN at setup %d",
		         ed->page.row[broken].setup);
	else if (!c->setups)
		snprintf(out->sums[1], LINE_BYTES, "page check  -");
	else if (c->page_holds)
		snprintf(
		    out->sums[1], LINE_BYTES, "page check  holds: %s",
		    level_format_length(a, c->sum_bs - c->sum_fs + c->sum_offsets, style, true));
	else
		snprintf(
		    out->sums[1], LINE_BYTES, "page check  DOES NOT HOLD: %s, %s",
		    level_format_length(a, c->sum_bs - c->sum_fs + c->sum_offsets, style, true),
		    level_format_length(b, c->end - c->start, style, true));
	/* Rows are numbered by standings, of which a setup may have several. */
	if (standings > c->setups)
		snprintf(many, sizeof many, ", standings %d", standings);
	snprintf(out->sums[2], LINE_BYTES, "setups %d%s  length %s", c->setups, *many ? many : "  ",
	         !c->setups       ? "-"
	         : !c->has_length ? *many ? "-" : "not known"
	                          : level_format_distance(a, c->length, style, false));
	snprintf(out->sums[3], LINE_BYTES, "imbalance   %s",
	         c->setups && c->has_length ? level_format_distance(b, c->imbalance, style, true)
	                                    : "-");
}

static void open_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	if (!c->setups)
		snprintf(out->closing[0], LINE_BYTES, "misclosure  -  no setup complete yet");
	else if (!c->page_holds)
		snprintf(out->closing[0], LINE_BYTES, "misclosure  -  mend the line first");
	else
		snprintf(out->closing[0], LINE_BYTES, "misclosure  -  line stands on %s",
		         c->end_station);
	if (c->setups && !c->page_holds)
		snprintf(out->closing[1], LINE_BYTES, "F6 on the row above the gap fills it");
	else if (ed->work.kind == LEVEL_OPEN)
		snprintf(out->closing[1], LINE_BYTES, "open run: it closes on nothing");
	else if (ed->work.kind == LEVEL_LOOP && c->start_station)
		snprintf(out->closing[1], LINE_BYTES, "a loop: it closes back on %s",
		         c->start_station);
	else if (ed->work.kind == LEVEL_LINK)
		snprintf(out->closing[1], LINE_BYTES, "a link: it closes on a known mark");
}

static void over_line(char line[LINE_BYTES], level_nm over, const struct level_style *style)
{
	char text[LEVEL_LENGTH_BYTES];
	level_format_length(text, over, style, false);
	if (!strpbrk(text, "123456789"))
		report_meters(text, level_to_meters(over), style, false);
	snprintf(line, LINE_BYTES, "DOES NOT CLOSE: over by %s  Ctrl-F", text);
}

/* A known mark on the way, or a section leveled both ways. */
static void failing_line(char line[LINE_BYTES], const struct level_closing *c,
                         const struct level_style *style)
{
	char by[LEVEL_LENGTH_BYTES], most[LEVEL_LENGTH_BYTES];
	snprintf(line, LINE_BYTES, "DOES NOT HOLD: %.14s %s, may %s", c->failing_mark,
	         level_format_length(by, c->failing_by, style, true),
	         level_format_length(most, c->failing_allowable, style, false));
}

static enum look verdict_look(const struct editor *ed)
{
	const struct level_closing *c = &ed->closing;
	if (c->failing || (c->setups && !c->page_holds))
		return LOOK_BAD;
	if (!c->has_misclosure || ed->work.kind == LEVEL_CROSSING || ed->work.kind == LEVEL_OPEN)
		return LOOK_PLAIN;
	if (!c->has_allowable)
		return LOOK_ASKS;
	return c->closes == LEVEL_YES ? LOOK_GOOD : LOOK_BAD;
}

static void closing_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style finer = report_judged_style(c, &ed->settings.style),
	                         *style = &finer;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES] = "";

	out->verdict = verdict_look(ed);
	if (c->start_assumed)
		snprintf(out->closing[3], LINE_BYTES, "start not known: its height is taken as 0");
	if (!c->has_misclosure) {
		open_lines(ed, out);
		if (c->failing)
			failing_line(out->closing[2], c, style);
		return;
	}
	snprintf(out->closing[0], LINE_BYTES, "misclosure  %s on %s",
	         level_format_length(a, c->misclosure, style, true), c->end_station);
	if (c->has_corrected)
		level_format_length(b, c->corrected, style, true);
	if (*b && strcmp(a, b) != 0)
		snprintf(out->closing[3], LINE_BYTES, "corrected   %s for air%s", b,
		         c->tilt_taken_off ? ", curve and tilt" : " and curve");
	if (!c->has_allowable) {
		snprintf(out->closing[1], LINE_BYTES, "allowable   - %s", c->set->title);
		snprintf(out->closing[2], LINE_BYTES, "NOT JUDGED: distances missing: %d",
		         c->unknown_distances);
		return;
	}
	snprintf(out->closing[1], LINE_BYTES, "allowable   %s %s",
	         level_format_length(a, c->allowable, style, false),
	         c->provisional ? "by setups" : c->set->title);
	if (c->failing) {
		failing_line(out->closing[2], c, style);
		return;
	}
	if (ed->work.kind == LEVEL_CROSSING)
		snprintf(out->closing[2], LINE_BYTES, "%s the drop below counts",
		         c->end_assumed ? "no water read;" : "a crossing:");
	else if (ed->work.kind == LEVEL_OPEN)
		snprintf(out->closing[2], LINE_BYTES, "open run: no check; F2 makes it a link");
	else if (c->closes == LEVEL_YES && c->next && c->broken != LEVEL_LIMIT_MISCLOSURE)
		/* What else is asked for keeps it from the next set. */
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; within %s: %s %s",
		         c->kept ? c->kept->title : "no graded set", level_limit_name(c->broken),
		         report_limit_figure(a, c->broken, c->broken_by, style));
	else if (c->closes == LEVEL_YES && c->provisional)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES BY SETUPS; distances missing: %d",
		         c->unknown_distances);
	else if (c->closes == LEVEL_YES)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; within %s", c->grade);
	else
		over_line(out->closing[2], llabs(c->judged) - c->allowable, style);
}

/* A drop is worth a line where there is a long sight. */
static bool shows_drop(const struct editor *ed)
{
	return ed->work.kind == LEVEL_CROSSING ||
	       level_page_extent(&ed->page)->distance >= ed->settings.long_sight;
}

static void drop_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	const char *by = ed->terms.terms.decides == LEVEL_BY_ALL ? "all at once" : "95 %";
	char p[LEVEL_LENGTH_BYTES], a[LEVEL_LENGTH_BYTES], m[LEVEL_LENGTH_BYTES],
	    d[LEVEL_LENGTH_BYTES];

	if (!shows_drop(ed))
		return;
	if (!c->has_drop) {
		snprintf(out->drop[0], LINE_BYTES, "visible drop  -  %s",
		         !c->setups             ? "no setup is complete yet"
		         : c->unknown_distances ? "it needs the distance of each BS and FS"
		                                : "mend the line first");
		return;
	}
	report_meters(p, c->predicted, style, false);
	report_meters(a, c->allowance.decides, style, false);
	report_meters(m, c->margin, style, true);
	if (c->has_observed)
		snprintf(out->drop[0], LINE_BYTES,
		         "visible drop  observed %s  predicted %s  allowance %s (%s)",
		         report_meters(d, c->observed, style, false), p, a, by);
	else
		snprintf(out->drop[0], LINE_BYTES, "visible drop  predicted %s  allowance %s (%s)",
		         p, a, by);
	snprintf(out->drop[1], LINE_BYTES, "drop margin %s", m);
}

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
	const double *lines = by_all ? allowance->bound : allowance->u;
	char text[LEVEL_ALLOWANCE_LINES][60], a[LEVEL_LENGTH_BYTES];
	int most = 0, count = 0;
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		int size;
		if (lines[i] == 0)
			continue;
		size = snprintf(text[count], sizeof text[count], "  %-10s %s",
		                level_allowance_name((enum level_allowance_line)i),
		                report_meters(a, lines[i], style, false));
		most = size > most ? size : most;
		count++;
	}
	add(tall, "%s %s", by_all ? "line by line, all at once; at 95 %" : "u of each; all at once",
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
	if (!shows_drop(ed))
		return;
	add(tall, "THE VISIBLE DROP");
	if (!c->has_drop) {
		add(tall, "%s", live->drop[0] + strlen("visible drop  "));
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
	    ed->terms.terms.decides == LEVEL_BY_ALL ? "all at once" : "95 %, from u");
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

/* A column beside the page: every line below the other, closer together where rows are few. */
static void paint_tall(const struct editor *ed, int row, int column, const struct live *live)
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

/* Two texts on a row. The left one may be long; the right one, which ends in a figure, is whole. */
static void put_pair(int row, int half, const char *left, enum look look, const char *right)
{
	int need = (int)strlen(right), used;
	used = term_text(stdscr, row, 1, COLS - 2 - need, left);
	if (used)
		mvwchgat(stdscr, row, 1, used, look_of(look), look_pair(look), NULL);
	used += 2;
	if (need)
		term_text(stdscr, row, used > half ? used : half, need + 1, right);
}

void live_pane(struct editor *ed, int row, int column, bool tall)
{
	struct live live = {0};
	int half = 41;
	sight_lines(ed, &live);
	sum_lines(ed, &live);
	closing_lines(ed, &live);
	drop_lines(ed, &live);
	if (tall) {
		paint_tall(ed, row, column, &live);
		return;
	}
	/* What the sight finds of a known station goes before what is corrected of the run. */
	const char *left[] = {live.sight[0],
	                      live.sight[1],
	                      live.sight[2],
	                      live.closing[0],
	                      *live.sight[3] ? live.sight[3] : live.closing[3],
	                      live.closing[2]};
	const char *right[] = {live.sums[0], live.sums[1],    live.sums[2],
	                       live.sums[3], live.closing[1], live.drop[1]};
	for (int i = 0; i < LIVE_ROWS - 1; i++)
		put_pair(row + i, half, left[i],
		         i == 0   ? LOOK_STRONG
		         : i == 5 ? live.verdict
		                  : LOOK_PLAIN,
		         right[i]);
	reciprocal_text(ed, live.closing[1], LINE_BYTES);
	term_text(stdscr, row + LIVE_ROWS - 1, 1, COLS - 1,
	          *live.closing[1] ? live.closing[1] : live.drop[0]);
}
