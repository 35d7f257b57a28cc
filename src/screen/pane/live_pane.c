/* The live pane: what follows from the page as it stands, the draft included. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/ready.h"
#include "screen/editor.h"
#include "screen/pane/live.h"

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
	/* A BS without its FS is in no sum: 0 beside it would puzzle. */
	if (!c->setups && !c->offsets)
		snprintf(out->sums[0], LINE_BYTES, "sums        -");
	/* Feet and inches take all the room there is. */
	else
		snprintf(out->sums[0], LINE_BYTES, "sums%*sBS %s  FS %s%s%s",
		         strlen(a) + strlen(b) > 18 || c->offsets ? 1 : 8, "", a, b,
		         c->offsets ? "  OFF " : "",
		         c->offsets ? level_format_length(offsets, c->sum_offsets, style, true)
		                    : "");
	if (broken != SIZE_MAX && ed->work.sight[broken].kind == LEVEL_OFF)
		snprintf(out->sums[1], LINE_BYTES, "page check  LINE BROKEN at an offset");
	else if (broken != SIZE_MAX)
		snprintf(out->sums[1], LINE_BYTES, "page check  LINE BROKEN at setup %d",
		         ed->page.row[broken].setup);
	else if (!c->setups)
		snprintf(out->sums[1], LINE_BYTES, "page check  -");
	else if (c->page_holds)
		snprintf(
		    out->sums[1], LINE_BYTES, "page check  holds   BS-FS%s %s",
		    c->offsets ? "+OFF" : "",
		    level_format_length(a, c->sum_bs - c->sum_fs + c->sum_offsets, style, true));
	else
		snprintf(out->sums[1], LINE_BYTES, "page check  DOES NOT HOLD: %s",
		         level_format_length(a, c->page_check, style, true));
	/* Rows are numbered by standings, of which a setup may have several. */
	if (standings > c->setups)
		snprintf(many, sizeof many, ", standings %d", standings);
	/* Sums end at the last FS: the BS of an open setup is not in them. */
	else if (level_page_line(&ed->page)->bs_row != SIZE_MAX)
		strcpy(many, ", 1 open");
	snprintf(out->sums[2], LINE_BYTES, "setups %d%s  length %s", c->setups, *many ? many : "  ",
	         !c->setups       ? "-"
	         : !c->has_length ? standings > c->setups ? "-" : "not known"
	                          : level_format_distance(a, c->length, style, false));
	snprintf(out->sums[3], LINE_BYTES, "imbalance   %s",
	         c->setups && c->has_length ? level_format_distance(b, c->imbalance, style, true)
	                                    : "-");
}

const char *live_no_setup(const struct editor *ed)
{
	return ed->run.info.closed ? "set aside without a setup" : "no setup complete yet";
}

static void open_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	if (!c->setups)
		snprintf(out->closing[0], LINE_BYTES, "misclosure  -  %s", live_no_setup(ed));
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
		snprintf(out->closing[1], LINE_BYTES, "a loop: its last FS is on %s (Down)",
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
	if (!c->has_allowable || level_awaits_distance(&ed->work, &ed->closing, ed->at))
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
	if (level_awaits_distance(&ed->work, &ed->closing, ed->at) && !c->failing) {
		snprintf(out->closing[1], LINE_BYTES, "allowable   by length");
		snprintf(out->closing[2], LINE_BYTES,
		         "NOT JUDGED: type the distance of this sight");
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
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; %s%s: %s %s",
		         c->kept ? c->kept->title : "no graded set", c->kept ? " at most" : "",
		         level_limit_name(c->broken),
		         report_limit_figure(a, c->broken, c->broken_by, style));
	else if (c->closes == LEVEL_YES && c->provisional)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES BY SETUPS; distances missing: %d",
		         c->unknown_distances);
	else if (c->closes == LEVEL_YES && strcmp(c->grade, "none") != 0 &&
	         strcmp(c->grade, c->set->title) != 0)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES; also within %s", c->grade);
	else if (c->closes == LEVEL_YES)
		snprintf(out->closing[2], LINE_BYTES, "CLOSES");
	else
		over_line(out->closing[2], llabs(c->judged) - c->allowable, style);
}

static void drop_lines(const struct editor *ed, struct live *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	const char *by = ed->terms.terms.decides == LEVEL_BY_ALL ? "if all add up" : "95 %";
	char p[LEVEL_LENGTH_BYTES], a[LEVEL_LENGTH_BYTES], m[LEVEL_LENGTH_BYTES],
	    d[LEVEL_LENGTH_BYTES];

	if (!level_shows_drop(&ed->work, &ed->page, ed->settings.long_sight))
		return;
	if (!c->has_drop) {
		snprintf(out->drop[0], LINE_BYTES, "drop  -  %s",
		         !c->setups             ? live_no_setup(ed)
		         : c->unknown_distances ? "it needs the distance of each BS and FS"
		                                : "mend the line first");
		return;
	}
	report_meters(p, c->predicted, style, false);
	report_meters(a, c->allowance.decides, style, false);
	report_meters(m, c->margin, style, true);
	if (c->has_observed)
		snprintf(out->drop[0], LINE_BYTES,
		         "drop  observed %s  predicted %s  allowance %s (%s)",
		         report_meters(d, c->observed, style, false), p, a, by);
	else
		snprintf(out->drop[0], LINE_BYTES, "drop  predicted %s  allowance %s (%s)", p, a,
		         by);
	snprintf(out->drop[1], LINE_BYTES, "margin %s", m);
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
		tall_pane(ed, row, column, &live);
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
