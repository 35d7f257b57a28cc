/* The live pane: what follows from the page as it stands, the draft included. */
#include <string.h>

#include "screen/editor.h"

#define LINE_BYTES 420

struct live {
	char sight[3][LINE_BYTES];   /* HI, elevation, step */
	char sums[4][LINE_BYTES];    /* sums, page check, setups and length, imbalance */
	char closing[4][LINE_BYTES]; /* misclosure, allowable, verdict, corrected */
	char drop[2][LINE_BYTES];
	char lines[LEVEL_ALLOWANCE_LINES][LINE_BYTES];
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
}

static void sum_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES];

	level_format_length(a, c->sum_bs, style, false);
	level_format_length(b, c->sum_fs, style, false);
	/* Feet and inches take all the room there is. */
	snprintf(out->sums[0], LINE_BYTES, "sums%*sBS %s  FS %s",
	         strlen(a) + strlen(b) > 18 ? 1 : 8, "", a, b);
	if (level_page_line(&ed->page)->broken_row != SIZE_MAX)
		snprintf(out->sums[1], LINE_BYTES, "page check  LINE BROKEN at setup %d",
		         ed->page.row[level_page_line(&ed->page)->broken_row].setup);
	else if (!c->setups)
		snprintf(out->sums[1], LINE_BYTES, "page check  -");
	else if (c->page_holds)
		snprintf(out->sums[1], LINE_BYTES, "page check  holds: %s",
		         level_format_length(a, c->sum_bs - c->sum_fs, style, true));
	else
		snprintf(out->sums[1], LINE_BYTES, "page check  DOES NOT HOLD: %s, %s",
		         level_format_length(a, c->sum_bs - c->sum_fs, style, true),
		         level_format_length(b, c->end - c->start, style, true));
	snprintf(out->sums[2], LINE_BYTES, "setups %d    length %s", c->setups,
	         !c->setups       ? "-"
	         : !c->has_length ? "not known"
	                          : level_format_length(a, c->length, style, false));
	snprintf(out->sums[3], LINE_BYTES, "imbalance   %s",
	         c->setups && c->has_length ? level_format_length(b, c->imbalance, style, true)
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
		paper_meters(text, level_to_meters(over), style, false);
	snprintf(line, LINE_BYTES, "DOES NOT CLOSE: over by %s  Ctrl-F", text);
}

static void closing_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES] = "";
	level_nm judged = c->judged_corrected ? c->corrected : c->misclosure;

	if (c->start_assumed)
		snprintf(out->closing[3], LINE_BYTES, "start not known: its height is taken as 0");
	if (!c->has_misclosure) {
		open_lines(ed, out);
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
	         level_format_length(a, c->allowable, style, false), c->set->title);
	if (ed->work.kind == LEVEL_CROSSING)
		snprintf(out->closing[2], LINE_BYTES, "%s the drop below counts",
		         c->end_assumed ? "no water read;" : "a crossing:");
	else if (ed->work.kind == LEVEL_OPEN)
		snprintf(out->closing[2], LINE_BYTES, "open run: no check; F2 makes it a link");
	else if (c->closes == LEVEL_YES && c->next && c->broken != LEVEL_LIMIT_MISCLOSURE)
		/* What else is asked for keeps it from the next set. */
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; keeps %s: %s %s",
		         c->kept ? c->kept->title : "no graded set", level_limit_name(c->broken),
		         level_format_length(a, c->broken_by, style, false));
	else if (c->closes == LEVEL_YES)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; meets %s", c->grade);
	else
		over_line(out->closing[2], (judged < 0 ? -judged : judged) - c->allowable, style);
}

static void drop_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	const char *by = ed->terms.terms.decides == LEVEL_BY_BOUND ? "bound" : "95 %";
	char p[LEVEL_LENGTH_BYTES], a[LEVEL_LENGTH_BYTES], m[LEVEL_LENGTH_BYTES],
	    d[LEVEL_LENGTH_BYTES];

	if (!c->has_drop) {
		snprintf(out->drop[0], LINE_BYTES, "visible drop  -  %s",
		         !c->setups             ? "no setup is complete yet"
		         : c->unknown_distances ? "it needs the distance of each BS and FS"
		                                : "mend the line first");
		return;
	}
	paper_meters(p, c->predicted, style, false);
	paper_meters(a, c->allowance.decides, style, false);
	paper_meters(m, c->margin, style, true);
	if (c->has_observed)
		snprintf(out->drop[0], LINE_BYTES,
		         "visible drop  observed %s  predicted %s  allowance %s (%s)",
		         paper_meters(d, c->observed, style, false), p, a, by);
	else
		snprintf(out->drop[0], LINE_BYTES, "visible drop  predicted %s  allowance %s (%s)",
		         p, a, by);
	snprintf(out->drop[1], LINE_BYTES, "drop margin %s", m);
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		snprintf(out->lines[i], LINE_BYTES, "  %-12s %s",
		         level_allowance_name((enum level_allowance_line)i),
		         paper_meters(a,
		                      ed->terms.terms.decides == LEVEL_BY_BOUND
		                          ? c->allowance.bound[i]
		                          : c->allowance.u[i],
		                      style, false));
}

static int put(int row, int column, int width, const char *text)
{
	term_text(stdscr, row, column, width, text);
	return row + 1;
}

/* A column beside the page: every line below the other. */
static void paint_tall(const struct editor *ed, int row, int column, const struct live *live)
{
	const char *const none = "";
	int width = COLS - column, last = LINES - 5 - ENTRY_ROWS;
	const char *lines[] = {"THIS SIGHT",
	                       live->sight[0],
	                       live->sight[1],
	                       live->sight[2],
	                       none,
	                       "THE RUN",
	                       live->sums[0],
	                       live->sums[1],
	                       live->sums[2],
	                       live->sums[3],
	                       none,
	                       "THE CLOSING",
	                       live->closing[0],
	                       live->closing[3],
	                       live->closing[1],
	                       live->closing[2],
	                       none,
	                       "THE VISIBLE DROP"};
	char p[LEVEL_LENGTH_BYTES], a[LEVEL_LENGTH_BYTES], text[LINE_BYTES];
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;

	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
		if (*lines[i] || lines[i] == none)
			row = put(row, column, width, lines[i]);
	if (!c->has_drop) {
		put(row, column, width,
		    strncmp(live->drop[0], "visible drop  ", 14) == 0 ? live->drop[0] + 14
		                                                      : live->drop[0]);
		return;
	}
	if (c->has_observed) {
		snprintf(text, sizeof text, "observed     %s",
		         paper_meters(p, c->observed, style, false));
		row = put(row, column, width, text);
	}
	snprintf(text, sizeof text, "predicted    %s", paper_meters(p, c->predicted, style, false));
	row = put(row, column, width, text);
	snprintf(text, sizeof text, "allowance    %s, %s",
	         paper_meters(a, c->allowance.decides, style, false),
	         ed->terms.terms.decides == LEVEL_BY_BOUND ? "the bounds' sum" : "95 %, from u");
	row = put(row, column, width, text);
	snprintf(text, sizeof text, "margin       %s", paper_meters(p, c->margin, style, true));
	row = put(row, column, width, text);
	drop_answer(ed, text, sizeof text);
	for (const char *at = text; *at && row < last;) {
		size_t size = term_fitting(at, width);
		char part[LINE_BYTES];
		snprintf(part, sizeof part, "%.*s", (int)size, at);
		row = put(row, column, width, part);
		at += size + strspn(at + size, " ");
	}
	if (ed->work.kind == LEVEL_CROSSING && row < last) {
		drop_seal(ed, text, sizeof text);
		row = put(row, column, width, text);
	}
	reciprocal_text(ed, text, sizeof text);
	if (*text && row < last)
		row = put(row, column, width, text);
	row = put(row, column, width, "allowance by line");
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES && row <= last; i++)
		row = put(row, column, width,
		          row == last && i + 1 < LEVEL_ALLOWANCE_LINES ? "  ..." : live->lines[i]);
}

/* Two texts on a row. The left one may be long; the right one, which ends in a figure, is whole. */
static void put_pair(int row, int half, const char *left, const char *right)
{
	int need = (int)strlen(right), used = term_text(stdscr, row, 1, COLS - 2 - need, left) + 2;
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
	const char *left[] = {live.sight[0],   live.sight[1],   live.sight[2],
	                      live.closing[0], live.closing[3], live.closing[2]};
	const char *right[] = {live.sums[0], live.sums[1],    live.sums[2],
	                       live.sums[3], live.closing[1], live.drop[1]};
	for (int i = 0; i < LIVE_ROWS - 1; i++)
		put_pair(row + i, half, left[i], right[i]);
	reciprocal_text(ed, live.closing[1], LINE_BYTES);
	term_text(stdscr, row + LIVE_ROWS - 1, 1, COLS - 1,
	          *live.closing[1] ? live.closing[1] : live.drop[0]);
}
