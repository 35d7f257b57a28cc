/* The help page: every key, and what to do. */
#include <stdlib.h>

#include "screen/editor.h"
#include "screen/key_table.h"
#include "screen/view/views.h"

/* What stands in front of the actions of each section. */
static const char *const before[HELP_SECTIONS] = {
    [HELP_TYPING] =
        "TYPING A SIGHT\n"
        "  Enter          on to the next field; on the last one it books the sight\n"
        "  +              in a number: book the sight at once\n"
        "  Ctrl-B         anywhere: book the sight at once\n"
        "  Tab Shift-Tab  next field, field before\n"
        "  Home End Left Right Backspace Del   within a field;   Ctrl-U  empties it\n"
        "  Sight          b, i, f, o, or blank for the next: BS, IS, FS, OFF\n"
        "  Method         r, t, or blank for the next: rod, tape, target\n"
        "  OFF            an offset: how far the station stands above the mark before,\n"
        "                 by tape, ruler or tube (t, r); below it with a minus\n"
        "  Below zero     -2.100 where the station stands above the line of sight\n"
        "  Lengths        1.432   1432 mm   4.16 ft   57 3/8\"   4' 9 3/8\"\n"
        "  Its own limit  4 +- 1/4, with a blank before the +\n"
        "  After a BS comes the FS; after an FS the BS on that same mark.\n",
    [HELP_PAGE] = "\n"
                  "THE PAGE\n"
                  "  Up Down PgUp PgDn Ctrl-Home Ctrl-End   go to a row; the form shows it. What\n"
                  "                 you type there changes it, and the old entry stays, struck.\n",
    [HELP_BOOK] = "  Esc            back to the new sight; drops a change that is not booked\n"
                  "  > the current row   x struck: does not count   + typed, counted, not booked\n"
                  "\n"
                  "THE BOOK\n",
};
static const char behind[] =
    "\n"
    "THE LIVE PANE counts what you type before it is booked\n"
    "  HI             elevation of the line of sight: elevation of the mark + BS\n"
    "  elevation      HI - IS, HI - FS; corrected: less curvature, refraction\n"
    "  page check     sum BS - sum FS + offsets = last - first elevation\n"
    "  imbalance      sum of BS distances - sum of FS distances\n"
    "  misclosure     computed - known elevation of the end mark, as booked;\n"
    "                 the corrected one is judged where all distances are known\n"
    "  flat, round    what a flat, and a round surface would show in this air\n"
    "  SEEN           the drop observed, the tilt of a tested level taken off\n"
    "  allowance      what level, eye, air, water and map can fake, at 95 %;\n"
    "                 sealed by the first long sight: from then on a change of it\n"
    "                 is an amendment; LATE: sealed after a drop had been seen\n"
    "  margin         SEEN less flat less the allowance: above 0, more is seen\n"
    "                 than a flat surface would show\n"
    "\n"
    "CAUTIONS\n"
    "  Never point the telescope at the sun. Keep metal rods off overhead lines.\n"
    "  Stop for lightning. Mind traffic, ice and deep water.\n"
    "  Boundaries, construction and legal levels belong to licensed practice and\n"
    "  local codes.\n";

/* The column in which it says what a key does. */
#define MEANING 17

static void put_action(FILE *out, const struct action *action, const char *help)
{
	char name[KEYS_NAME_BYTES];
	keys_name(action, name);
	fprintf(out, "  %-*s", MEANING - 2, name);
	for (; *help; help++) {
		fputc(*help, out);
		if (*help == '\n')
			fprintf(out, "%*s", MEANING, "");
	}
	fputc('\n', out);
}

char *help_text(void)
{
	const struct action *action;
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	if (!out)
		return NULL;
	for (int section = 0; section < HELP_SECTIONS; section++) {
		fputs(before[section], out);
		for (size_t i = 0; (action = keys_action(i)); i++)
			if (action->help[section])
				put_action(out, action, action->help[section]);
	}
	fputs(behind, out);
	if (fclose(out) == 0)
		return text;
	free(text);
	return NULL;
}

void view_help(void)
{
	char *text = help_text();
	if (text)
		view_text("Help", text);
	free(text);
}
