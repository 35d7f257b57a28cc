/* The plan screen: a form, and what follows from it at every key; and the list of plans. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/drop/drawings.h"
#include "screen/editor.h"
#include "screen/view/crossing/plan_form.h"
#include "screen/view/views.h"

#define VERDICT_ROWS 4
#define DRAWING_COLUMNS_MOST 200
#define DRAWING_ROWS_MOST 60

static const char bar[] = " Enter Tab field  ^K/^B keep the plan  Ctrl-U empty  Esc back";

/* A text over so many rows at most; what is left over is cut. The row behind it. */
static int put_rows(int row, int rows, const char *text)
{
	for (; rows > 0 && *text; rows--) {
		size_t size = term_fitting(text, COLS - 2);
		char part[900];
		snprintf(part, sizeof part, "%.*s", (int)size, text);
		term_text(stdscr, row++, 1, COLS - 2, part);
		text += size;
		text += strspn(text, " ");
	}
	return row;
}

/* The row behind them. */
static int paint_numbers(const struct report_plan *plan, const struct level_planned *r, int row)
{
	const struct level_style *style = &plan->style;
	bool by_all = plan->plan.terms.decides == LEVEL_BY_ALL;
	struct level_terms with_k = plan->plan.terms;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], c[LEVEL_LENGTH_BYTES], text[900],
	    k[BOOK_VALUE_BYTES], lines[2][DROP_ROW_BYTES];
	with_k.k = r->k.k;
	with_k.dk_low = r->k.low;
	with_k.dk_high = r->k.high;
	report_k(&with_k, r->k_source, k, sizeof k);
	snprintf(text, sizeof text, "flat shows %s   round shows %s   to tell apart %s",
	         report_meters(a, r->flat, style, false),
	         report_meters(b, r->predicted, style, false),
	         report_meters(c, r->separation, style, false));
	attrset(A_BOLD);
	term_text(stdscr, row, 1, COLS - 2, text);
	attrset(A_NORMAL);
	term_text(stdscr, row + 1, 1, COLS - 2, k);
	if (plan->plan.has_hi)
		snprintf(text, sizeof text,
		         "far cross-hair, no tilt: flat %s, round %s; clearance %s%s",
		         report_meters(a, r->crosshair_flat, style, false),
		         report_meters(b, r->crosshair_round, style, false),
		         report_meters(c, r->clearance, style, false),
		         r->clearance < LEVEL_CLEARANCE_LEAST   ? " TOO LOW"
		         : r->clearance < LEVEL_CLEARANCE_WATER ? " (low)"
		                                                : "");
	else
		snprintf(text, sizeof text,
		         "give the height of the line: clearance, cross-hair and k hang on it");
	term_text(stdscr, row + 2, 1, COLS - 2, text);
	drop_allowance(&r->allowance, by_all, style, lines);
	term_text(stdscr, row + 3, 1, COLS - 2, lines[0]);
	term_text(stdscr, row + 4, 1, COLS - 2, lines[1]);
	snprintf(text, sizeof text, "margin %s (%s %s)",
	         report_meters(a, by_all ? r->margin_bound : r->margin_u95, style, true),
	         by_all ? "at 95 %" : "if all add up",
	         report_meters(b, by_all ? r->margin_u95 : r->margin_bound, style, true));
	term_text(stdscr, row + 5, 1, COLS - 2, text);
	report_plan_verdict(plan, r, text, sizeof text);
	attrset(A_BOLD);
	row = put_rows(row + 6, VERDICT_ROWS, text);
	attrset(A_NORMAL);
	return row;
}

static void paint_drawing(const struct report_plan *plan, const struct level_planned *r, int row)
{
	static char grid[DRAWING_ROWS_MOST * (DRAWING_COLUMNS_MOST + 1)];
	int columns = COLS - 2 < DRAWING_COLUMNS_MOST ? COLS - 2 : DRAWING_COLUMNS_MOST;
	int rows = LINES - 2 - row < DRAWING_ROWS_MOST ? LINES - 2 - row : DRAWING_ROWS_MOST;
	double to = plan->plan.distance;
	/* Where the sight that could tell is not much farther, it is in the picture. */
	if (isfinite(r->shortest) && r->shortest > to && r->shortest < 4 * to)
		to = r->shortest;
	if (rows < 6)
		return;
	drawing_plan(plan, plan->plan.near > 0 ? plan->plan.near * 1.01 : to / 1000, to * 1.1,
	             columns, rows, grid);
	for (int i = 0; i < rows; i++)
		term_text(stdscr, row + i, 1, columns, grid + i * (columns + 1));
}

/* The whole screen; *ok says whether the plan can be kept. */
static void paint(struct fields *fields, const char *title, const struct book_figures *defaults,
                  const struct book_settings *settings, const char *message, bool *ok)
{
	struct report_plan plan = {.style = settings->style};
	struct book_figures typed;
	struct fault why = {0};
	char hint[AIR_HINT_BYTES];
	if (!term_begin_page(title))
		return;
	*ok =
	    plan_form_read(fields, settings, &typed, &why) &&
	    book_plan_of(defaults, settings->rod_length, &typed, &plan.plan, &plan.figures, &why) &&
	    book_plan_check(&typed, &why) && level_plan_check(&plan.plan, &why);
	for (int x = 0; x < COLS; x++)
		mvwaddch(stdscr, 1 + PLAN_FORM_ROWS, x, '-');
	if (*ok) {
		struct level_planned planned = level_plan_of(&plan.plan);
		paint_drawing(&plan, &planned, paint_numbers(&plan, &planned, 2 + PLAN_FORM_ROWS));
	} else {
		term_message(2 + PLAN_FORM_ROWS, 3, A_NORMAL, why.text);
		if (!(plan.plan.distance > 0))
			put_rows(6 + PLAN_FORM_ROWS, 2,
			         "The first three rows are enough to begin with; what is left "
			         "empty has a "
			         "default. F1 says what a field is.");
	}
	view_first_line(LINES - 2, 1, A_BOLD,
	                *message ? message : plan_form_hint(fields, settings, hint));
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(fields, 1);
	doupdate();
}

/* Keeps what stands in the form under a name. */
static bool keep(struct book *book, const struct fields *fields,
                 const struct book_settings *settings, char name[LEVEL_NAME_BYTES], char *message,
                 size_t size)
{
	struct question question = {"Name", "A short name, such as the two shores.", "",
	                            LEVEL_NAME_CHARS, "name"};
	struct book_figures typed;
	struct fault why = {0};
	snprintf(question.text, sizeof question.text, "%s", name);
	message[0] = '\0';
	while (ask("Keep the plan", &question, 1, NULL, message)) {
		if (plan_form_read(fields, settings, &typed, &why) &&
		    book_plan_set(book, question.text, &typed, &why)) {
			snprintf(name, LEVEL_NAME_BYTES, "%.160s", question.text);
			return true;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
	return false;
}

static void help(const struct fields *fields, const char *title,
                 const struct book_settings *settings)
{
	char hint[AIR_HINT_BYTES];
	view_hints(title,
	           &(struct hints){plan_form_name(fields), "",
	                           plan_form_hint(fields, settings, hint), bar, view_fields_keys});
}

/* Fills in a plan, beginning with these figures; true when it was kept, as `name`. */
static bool edit_plan(struct book *book, const struct book_figures *begin,
                      char name[LEVEL_NAME_BYTES], struct fault *why)
{
	char message[640] = "", title[LEVEL_NAME_BYTES + 100], units[LEVEL_LENGTH_BYTES];
	struct book_settings settings;
	struct book_figures defaults;
	struct fields *fields;
	bool kept = false, typed = false, asked = false, ok = false;

	if (!book_settings(book, &settings, why) || !book_settings_figures(book, &defaults, why))
		return false;
	fields = plan_form_open(begin);
	if (!fields)
		return fault_memory(why);
	snprintf(title, sizeof title, "The plan %s, in %s", *name ? name : "of a long sight",
	         level_style_words(units, &settings.style));
	while (!kept) {
		struct key key;
		enum field_answer answer;
		paint(fields, title, &defaults, &settings, message, &ok);
		answer = fields_read(fields, &key);
		if (answer == FIELDS_HELP)
			help(fields, title, &settings);
		if (answer == FIELDS_RESIZED || answer == FIELDS_HELP)
			continue;
		if (answer == FIELDS_GONE || (answer == FIELDS_BACK && (asked || !typed)))
			break;
		asked = answer == FIELDS_BACK;
		message[0] = '\0';
		if (asked)
			strcpy(message, "Esc again drops what is typed; Ctrl-K keeps the plan");
		else if (answer == FIELDS_ACCEPT && ok)
			kept = keep(book, fields, &settings, name, message, sizeof message);
		else if (answer == FIELDS_ACCEPT)
			strcpy(message, "the plan cannot be kept yet: see above");
		else if (answer == FIELDS_DONE)
			fields_go(fields, 0);
		else if (answer == FIELDS_REFUSED)
			strcpy(message, "that cannot stand here");
		else if (answer == FIELDS_TYPED)
			typed = true;
	}
	fields_close(fields);
	return kept;
}

/* What each plan comes to, in a line. */
static void plan_line(struct book *book, const struct book_plan *kept, char *text, size_t size)
{
	struct report_plan plan;
	struct book_settings settings;
	struct book_figures defaults;
	struct level_planned planned;
	struct fault why = {0};
	char distance[LEVEL_LENGTH_BYTES], verdict[400];
	if (!book_settings(book, &settings, &why) ||
	    !book_settings_figures(book, &defaults, &why) ||
	    !book_plan_of(&defaults, settings.rod_length, &kept->figures, &plan.plan, &plan.figures,
	                  &why) ||
	    !level_plan_check(&plan.plan, &why)) {
		snprintf(text, size, "%s", why.text);
		return;
	}
	plan.style = settings.style;
	planned = level_plan_of(&plan.plan);
	report_plan_verdict(&plan, &planned, verdict, sizeof verdict);
	snprintf(text, size, " %s: %s",
	         level_format_distance(distance, level_from_meters(plan.plan.distance), &plan.style,
	                               false),
	         verdict);
}

bool view_plans(struct book *book, const char *level, char picked[LEVEL_NAME_BYTES])
{
	char message[640] = "";
	size_t at = 0;
	bool done = false;
	int key = 0;
	while (!done && key != TERM_KEY_ESCAPE) {
		struct book_plan *list;
		struct fault why = {0};
		struct list_line *lines;
		char(*text)[700];
		size_t count;
		if (!book_plans(book, &list, &count, &why))
			return false;
		lines = calloc(count + 1, sizeof *lines);
		text = calloc(count + 1, sizeof *text);
		for (size_t i = 0; lines && text && i < count; i++) {
			plan_line(book, &list[i], text[i], sizeof text[i]);
			lines[i] = (struct list_line){list[i].name, text[i], text[i]};
		}
		if (count == 0 && !*message)
			strcpy(message, "no plan is kept yet: n begins one");
		key =
		    !lines || !text
		        ? TERM_KEY_ESCAPE
		        : list_choose("Plans of long sights", lines, count, &at, "ne",
		                      " Up Down choose  Enter take  n new  e look and change  Esc "
		                      "turn back",
		                      message);
		message[0] = '\0';
		picked[0] = '\0';
		if (key == 'n' || (key == 'e' && count)) {
			struct book_figures begin = {0};
			if (key == 'e') {
				begin = list[at].figures;
				strcpy(picked, list[at].name);
			} else if (*level) {
				book_figure_put(&begin, "level", level, &why);
			}
			if (edit_plan(book, &begin, picked, &why))
				snprintf(message, sizeof message, "kept as %s", picked);
			else if (why.kind != FAULT_NONE)
				snprintf(message, sizeof message, "%s", why.text);
		} else if (key == KEY_ENTER && count) {
			strcpy(picked, list[at].name);
			done = true;
		}
		free(lines);
		free(text);
		free(list);
	}
	return done;
}
