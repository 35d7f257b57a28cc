/* The live pane of a crossing: everything follows from the page as it stands, the draft included.
 */
#include <math.h>
#include <string.h>

#include "rodbook/work/water.h"
#include "screen/editor.h"
#include "screen/pane/live.h"

static void sight_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_row *row = &ed->page.row[ed->at];
	char a[LEVEL_LENGTH_BYTES] = "-", b[LEVEL_LENGTH_BYTES] = "-";
	bool open = row->line.bs_row != SIZE_MAX && row->line.has_hi;

	if (open)
		level_format_length(a, row->line.hi, style, false);
	else if (row->has_step && row->has_elevation)
		level_format_length(a, row->line.hi, style, false);
	if (row->has_elevation)
		level_format_length(b, row->elevation, style, false);
	snprintf(text, size, "HI %s   elevation %s", a, b);
	if (row->has_corrected && style->unit != LEVEL_FTIN)
		snprintf(text + strlen(text), size - strlen(text), "   corrected %s",
		         level_format_length(b, row->corrected, style, false));
}

static void check_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	char a[LEVEL_LENGTH_BYTES];
	if (!c->setups)
		snprintf(text, size, "page check -");
	else if (c->page_holds)
		snprintf(text, size, "page check holds");
	else
		snprintf(text, size, "page check DOES NOT HOLD: %s",
		         level_format_length(a, c->page_check, &ed->settings.style, true));
}

static void misclosure_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	char a[LEVEL_LENGTH_BYTES];
	if (c->has_misclosure)
		snprintf(text, size, "misclosure %s on %s%s",
		         level_format_length(a, c->misclosure, &ed->settings.style, true),
		         c->end_station,
		         c->end_assumed ? "; no water read"
		         : c->back      ? ", there and back"
		                        : "");
	else
		snprintf(text, size, "misclosure -  %s",
		         c->finding.none == LEVEL_NO_LOOK ? "hidden until sealed"
		         : c->water_missing               ? "water at one end: F11"
		         : c->setups == 0                 ? live_no_setup(ed)
		                                          : "mend the line first");
}

/* The three figures side by side: what flat and round would show in this air, and what was seen. */
static void drop_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char f[LEVEL_LENGTH_BYTES], p[LEVEL_LENGTH_BYTES], d[LEVEL_LENGTH_BYTES],
	    a[LEVEL_LENGTH_BYTES], m[LEVEL_LENGTH_BYTES];
	if (!c->has_drop) {
		snprintf(text, size, "drop  -  %s",
		         !c->setups             ? live_no_setup(ed)
		         : c->unknown_distances ? "it needs the distance of each BS and FS"
		                                : "mend the line first");
		return;
	}
	report_meters(f, c->flat, style, false);
	report_meters(p, c->predicted, style, false);
	report_meters(d, c->observed, style, false);
	report_meters(a, c->allowance.decides, style, false);
	report_meters(m, c->margin, style, true);
	/* Feet and inches, and a minus or two, take all the room there is. */
	if (c->finding.none == LEVEL_NO_LOOK)
		snprintf(text, size, "flat shows %s  round %s  HIDDEN  allowance %s", f, p, a);
	else if (c->has_observed && !level_drop_is_seen(c))
		snprintf(text, size, "flat %s  round %s  nothing seen yet", f, p);
	else if (!c->has_observed) {
		if (snprintf(text, size,
		             "flat shows %s  round %s  nothing seen yet  allowance %s  leaves %s",
		             f, p, a, m) > COLS - 2)
			snprintf(text, size, "flat %s  round %s  not seen  allowed %s  left %s", f,
			         p, a, m);
	} else if (c->finding.none)
		snprintf(text, size, "flat %s  round %s  SEEN %s", f, p, d);
	else if (snprintf(text, size, "flat %s  round %s  SEEN %s  allowance %s  margin %s", f, p,
	                  d, a, m) > COLS - 2)
		snprintf(text, size, "flat %s  round %s  SEEN %s  allowed %s  left %s", f, p, d, a,
		         m);
}

void drop_allowance(const struct level_allowance *allowance, bool by_all,
                    const struct level_style *style, char text[2][DROP_ROW_BYTES])
{
	const enum level_decides decides = by_all ? LEVEL_BY_ALL : LEVEL_BY_U95;
	char a[LEVEL_LENGTH_BYTES];
	int row = 0;
	snprintf(text[0], DROP_ROW_BYTES, by_all ? "if all add up:" : "at 95 %%:");
	text[1][0] = '\0';
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		double line = level_line_size(allowance, (enum level_allowance_line)i, decides);
		char part[LEVEL_LENGTH_BYTES + 20];
		int size = snprintf(part, sizeof part, "  %s %s",
		                    level_allowance_name((enum level_allowance_line)i),
		                    report_meters(a, line, style, false));
		if (line == 0)
			continue;
		if (row == 0 && (int)strlen(text[0]) + size > COLS - 2)
			row = 1;
		snprintf(text[row] + strlen(text[row]), DROP_ROW_BYTES - strlen(text[row]), "%s",
		         part);
	}
}

/* The lines of the allowance, and the other total where there is room. */
static void allowance_lines(const struct editor *ed, char text[2][DROP_ROW_BYTES])
{
	const struct level_closing *c = &ed->closing;
	bool by_all = ed->terms.terms.decides == LEVEL_BY_ALL;
	char a[LEVEL_LENGTH_BYTES], total[LEVEL_LENGTH_BYTES + 20];
	if (!c->has_drop)
		return;
	drop_allowance(&c->allowance, by_all, &ed->settings.style, text);
	snprintf(total, sizeof total, "  (%s %s)", by_all ? "at 95 %" : "if all add up",
	         report_meters(a, by_all ? c->allowance.total_u95 : c->allowance.total_bound,
	                       &ed->settings.style, false));
	if ((int)(strlen(text[1]) + strlen(total)) <= COLS - 2)
		snprintf(text[1] + strlen(text[1]), DROP_ROW_BYTES - strlen(text[1]), "%s", total);
}

void drop_answer(const struct editor *ed, bool brief, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	text[0] = '\0';
	if (c->finding.none)
		report_no_answer(c, text, size);
	else if (c->has_observed)
		snprintf(text, size, "%s",
		         brief ? level_answer_brief(c->finding.answer)
		               : level_answer_sentence(c->finding.answer));
}

/* The word before all advice where the answer is narrow; how long it is. */
static size_t put_narrow(const struct level_closing *c, char *text, size_t size)
{
	bool narrow = !c->finding.none && (c->finding.narrow || c->finding.narrow_prediction);
	return (size_t)snprintf(text, size, "%s", narrow ? "narrowly; " : "");
}

void drop_help(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	const struct level_sight *few;
	enum level_allowance_line largest =
	    level_largest_line(&c->allowance, ed->terms.terms.decides);
	const struct work_done done = work_done(&ed->work, ed->terms.k_source, &ed->tested);
	size_t used = put_narrow(c, text, size);
	text += used;
	size -= used;
	/* What lies hours apart goes before what would help most. */
	if (*report_times(&ed->times, REPORT_TIMES_WATER, text, size) ||
	    *report_times(&ed->times, REPORT_TIMES_AIR, text, size))
		return;
	for (int end = 0; end < 2; end++) {
		few = work_few_waters(&ed->work, &ed->page, c, end);
		if (few && few->water_count == 1) {
			snprintf(text, size,
			         "water at %.20s read once: nothing shows its scatter; read it ten "
			         "times",
			         few->station);
			return;
		}
	}
	if (c->has_drop && !c->finding.none)
		snprintf(text, size, "helps most: %s: %s", level_allowance_name(largest),
		         report_remedy(largest, &done));
}

void drop_seal(const struct editor *ed, char *text, size_t size)
{
	const struct book_terms *t = &ed->terms;
	char now[BOOK_TIME_BYTES], ignored[BOOK_TIME_BYTES], at[24] = "";
	bool today = book_complete_time(ed->book, "", now, ignored, NULL) &&
	             strncmp(now, t->sealed_time, 10) == 0;
	if (strlen(t->sealed_time) > 15)
		snprintf(at, sizeof at, "%.*s%s%.5s", today ? 0 : 10, t->sealed_time,
		         today ? "" : " ", t->sealed_time + 11);
	if (!t->sealed)
		snprintf(text, size, "not sealed yet");
	else
		snprintf(text, size, "sealed %s%s%s%.0zu%s", at, t->late ? " LATE" : "",
		         t->amendments ? ", amended " : "", t->amendments,
		         t->amendments ? "x" : "");
}

/* Two texts on a row; the right one is whole. */
static void put_pair(int row, const char *left, const char *right)
{
	int need = (int)strlen(right), used = term_text(stdscr, row, 1, COLS - 3 - need, left) + 3;
	int column = used > 46 ? used : 46;
	term_text(stdscr, row, column > COLS - need ? COLS - need : column, need + 1, right);
}

void drop_k(const struct editor *ed, char *text, size_t size)
{
	const struct level_terms *terms = &ed->terms.terms;
	enum book_air_wait wait = book_terms_air_waits(&ed->terms);
	if (wait != BOOK_AIR_WAITS_NOT) {
		snprintf(text, size, "k by the air, once the %s",
		         wait == BOOK_AIR_WAITS_FOR_SIGHT ? "sight stands" : "water is read");
		return;
	}
	snprintf(text, size, "k %.3g, %.2f to %.2f (%s)", terms->k, terms->k - terms->dk_low,
	         terms->k + terms->dk_high, level_k_source_name(ed->terms.k_source));
}

void drop_pane(const struct editor *ed, int row)
{
	char left[DROP_ROW_BYTES], right[DROP_ROW_BYTES], lines[2][DROP_ROW_BYTES] = {"", ""};
	size_t fitting, used;
	sight_line(ed, left, sizeof left);
	check_line(ed, right, sizeof right);
	put_pair(row, left, right);
	misclosure_line(ed, left, sizeof left);
	drop_k(ed, right, sizeof right);
	put_pair(row + 1, left, right);
	drop_line(ed, left, sizeof left);
	attrset(A_BOLD);
	term_text(stdscr, row + 2, 1, COLS - 1, left);
	attrset(A_NORMAL);
	allowance_lines(ed, lines);
	term_text(stdscr, row + 3, 1, COLS - 1, lines[0]);
	term_text(stdscr, row + 4, 1, COLS - 1, lines[1]);
	used = put_narrow(&ed->closing, right, sizeof right);
	reciprocal_text(ed, right + used, sizeof right - used);
	if (!right[used])
		drop_help(ed, right, sizeof right);
	term_text(stdscr, row + 6, 1, COLS - 1, right);
	drop_answer(ed, true, left, sizeof left);
	attrset(A_BOLD);
	/* Why there is none is longer than one row, and then nothing else is said. */
	fitting = term_fitting(left, COLS - 2);
	if (left[fitting] && !*right) {
		term_text(stdscr, row + 6, 1, COLS - 1, left + fitting + 1);
		left[fitting] = '\0';
	}
	term_text(stdscr, row + 5, 1, COLS - 1, left);
	attrset(A_NORMAL);
}

/* Ground held against the design grade of the run, where the sight has a place along the line. */
static void cut_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES];
	const struct book_kept note = book_kept_of(&ed->draft_note);
	level_nm design, cut;
	if (!report_cut(&ed->run.info, &note, &ed->page.row[ed->at], &design, &cut))
		return;
	snprintf(text, size, "-- design %s: %s %s ", level_format_length(a, design, style, false),
	         cut < 0 ? "FILL" : "CUT",
	         level_format_length(b, cut < 0 ? -cut : cut, style, false));
}

void set_out_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	char rod[LEVEL_LENGTH_BYTES], move[LEVEL_LENGTH_BYTES];
	struct level_set_out set;
	level_nm wanted;
	text[0] = '\0';
	if (!*ed->wanted) {
		cut_text(ed, text, size);
		return;
	}
	if (!level_parse_length(ed->wanted, style->unit, &wanted, NULL))
		return;
	set = level_set_out(&ed->work, &ed->page, ed->at, &ed->terms.terms, wanted);
	if (!set.has) {
		snprintf(text, size, "-- set out %s: read a BS first ", ed->wanted);
		return;
	}
	if (set.rod < 0) {
		snprintf(text, size, "-- set out %s: it lies above the line of sight ", ed->wanted);
		return;
	}
	level_format_length(rod, set.rod, style, false);
	snprintf(text, size, "-- set out %s: rod %s%s", ed->wanted, rod,
	         set.corrected ? " corrected" : "");
	level_format_length(move, set.move < 0 ? -set.move : set.move, style, false);
	if (set.has_move && !strpbrk(move, "123456789"))
		strncat(text, ": on it ", size - strlen(text) - 1);
	else if (set.has_move)
		snprintf(text + strlen(text), size - strlen(text), ", %s %s ",
		         set.move > 0 ? "UP" : "DOWN", move);
	else
		strncat(text, " ", size - strlen(text) - 1);
}
