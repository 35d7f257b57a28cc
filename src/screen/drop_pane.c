/* The live pane of a crossing: everything follows from the page as it stands, the draft included.
 */
#include <math.h>
#include <string.h>

#include "screen/editor.h"

#define LINE_BYTES 420

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
	else
		snprintf(text, size, "page check %s %s",
		         c->page_holds ? "holds:" : "DOES NOT HOLD:",
		         level_format_length(a, c->sum_bs - c->sum_fs, &ed->settings.style, true));
}

static void misclosure_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	char a[LEVEL_LENGTH_BYTES];
	if (c->has_misclosure)
		snprintf(text, size, "misclosure %s on %s%s",
		         level_format_length(a, c->misclosure, &ed->settings.style, true),
		         c->end_station, c->end_assumed ? "; no water read" : "");
	else
		snprintf(text, size, "misclosure -  %s",
		         c->water_missing ? "water at one end only: F11"
		         : c->setups == 0 ? "no setup is complete yet"
		                          : "mend the line first");
}

static void drop_line(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	char d[LEVEL_LENGTH_BYTES] = "-", p[LEVEL_LENGTH_BYTES], a[LEVEL_LENGTH_BYTES],
	     m[LEVEL_LENGTH_BYTES];
	if (!c->has_drop) {
		snprintf(text, size, "visible drop  -  %s",
		         !c->setups             ? "no setup is complete yet"
		         : c->unknown_distances ? "it needs the distance of each BS and FS"
		                                : "mend the line first");
		return;
	}
	if (c->has_observed)
		paper_meters(d, c->observed, style, false);
	paper_meters(p, c->predicted, style, false);
	paper_meters(a, c->allowance.decides, style, false);
	paper_meters(m, c->margin, style, true);
	if (!c->has_observed) {
		snprintf(text, size, "nothing observed yet: predicted %s  allowance %s  leaves %s",
		         p, a, m);
		return;
	}
	/* Feet and inches take all the room there is. */
	if (snprintf(text, size, "drop observed %s  predicted %s  allowance %s  margin %s", d, p, a,
	             m) > COLS - 2)
		snprintf(text, size, "seen %s  due %s  allowed %s  margin %s", d, p, a, m);
}

/* The allowance, line by line, on two rows. */
static void allowance_lines(const struct editor *ed, char text[2][LINE_BYTES])
{
	const struct level_closing *c = &ed->closing;
	bool by_bound = ed->terms.terms.decides == LEVEL_BY_BOUND;
	const double *lines = by_bound ? c->allowance.bound : c->allowance.u;
	char a[LEVEL_LENGTH_BYTES];
	size_t used;
	if (!c->has_drop)
		return;
	snprintf(text[0], LINE_BYTES, by_bound ? "all at once:" : "u of each:");
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		char *out = text[i >= 3];
		snprintf(out + strlen(out), LINE_BYTES - strlen(out), "  %s %s",
		         level_allowance_name((enum level_allowance_line)i),
		         paper_meters(a, lines[i], &ed->settings.style, false));
	}
	if ((int)strlen(text[0]) > COLS - 2)
		memmove(text[0], strchr(text[0], ':') + 1, strlen(strchr(text[0], ':')));
	paper_meters(a, by_bound ? c->allowance.total_u95 : c->allowance.total_bound,
	             &ed->settings.style, false);
	used = strlen(text[1]);
	snprintf(text[1] + used, LINE_BYTES - used, "   (%s %s)",
	         by_bound ? "at 95 %" : "all at once", a);
	/* Feet and inches to 1/64 take all the room there is. */
	if ((int)strlen(text[1]) > COLS - 2) {
		snprintf(text[1] + used, LINE_BYTES - used, " (%s %s)", by_bound ? "95 %" : "sum",
		         a);
		memmove(text[1], text[1] + 2, strlen(text[1]) - 1);
	}
}

void drop_answer(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	text[0] = '\0';
	if (c->flow_undeclared)
		snprintf(text, size, "flowing water is not level: declare its slope, F11");
	else if (c->has_observed && c->finding.turn == 0)
		snprintf(text, size, "equal sights: there is nothing to see");
	else if (c->has_observed)
		snprintf(text, size, "%s", level_answer_sentence(c->finding.answer));
}

void drop_help(const struct editor *ed, char *text, size_t size)
{
	const struct level_closing *c = &ed->closing;
	enum level_allowance_line largest =
	    level_largest_line(&c->allowance, ed->terms.terms.decides);
	text[0] = '\0';
	if (c->has_drop)
		snprintf(text, size, "helps most: %s: %s", level_allowance_name(largest),
		         paper_remedy(largest));
}

void drop_seal(const struct editor *ed, char *text, size_t size)
{
	const struct book_terms *t = &ed->terms;
	if (!t->sealed)
		snprintf(text, size, "not sealed yet");
	else
		snprintf(text, size, "sealed %.5s%s%s%.0zu%s",
		         strlen(t->sealed_time) > 15 ? t->sealed_time + 11 : t->sealed_time,
		         t->late ? " LATE" : "", t->amendments ? ", amended " : "", t->amendments,
		         t->amendments ? "x" : "");
}

/* Two texts on a row; the right one is whole. */
static void put_pair(int row, const char *left, const char *right)
{
	int need = (int)strlen(right), used = term_text(stdscr, row, 1, COLS - 3 - need, left) + 3;
	term_text(stdscr, row,
	          used > COLS - need ? COLS - need
	          : used > 46        ? used
	                             : 46,
	          need + 1, right);
}

void drop_k(const struct editor *ed, char *text, size_t size)
{
	char k[BOOK_VALUE_BYTES], dk[BOOK_VALUE_BYTES];
	book_figure(&ed->terms.figures, "k_source", k);
	book_figure(&ed->terms.figures, "dk_source", dk);
	k[strcspn(k, ",:")] = dk[strcspn(dk, ",:")] = '\0';
	if (!*dk || strcmp(k, dk) == 0)
		snprintf(text, size, "k %.4g +- %.4g, %.40s", ed->terms.terms.k, ed->terms.terms.dk,
		         k);
	else
		snprintf(text, size, "k %.4g %.40s, +- %.4g %.40s", ed->terms.terms.k, k,
		         ed->terms.terms.dk, dk);
}

void drop_pane(const struct editor *ed, int row)
{
	char left[LINE_BYTES], right[LINE_BYTES], lines[2][LINE_BYTES] = {"", ""};
	sight_line(ed, left, sizeof left);
	check_line(ed, right, sizeof right);
	put_pair(row, left, right);
	misclosure_line(ed, left, sizeof left);
	drop_k(ed, right, sizeof right);
	put_pair(row + 1, left, right);
	drop_line(ed, left, sizeof left);
	term_text(stdscr, row + 2, 1, COLS - 1, left);
	allowance_lines(ed, lines);
	term_text(stdscr, row + 3, 1, COLS - 1, lines[0]);
	term_text(stdscr, row + 4, 1, COLS - 1, lines[1]);
	drop_answer(ed, left, sizeof left);
	term_text(stdscr, row + 5, 1, COLS - 1, left);
	reciprocal_text(ed, left, sizeof left);
	if (!*left)
		drop_help(ed, left, sizeof left);
	term_text(stdscr, row + 6, 1, COLS - 1, left);
}

/* Ground held against the design grade of the run, where the sight has a place along the line. */
static void cut_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES];
	level_nm design, cut;
	if (!paper_cut(&ed->run.info, &ed->draft_note, &ed->page.row[ed->at], &design, &cut))
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
