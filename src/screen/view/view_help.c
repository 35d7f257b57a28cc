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
        "  +              book the sight at once; behind a blank, or the digits of a\n"
        "                 station such as 12+50, it is typed.   Ctrl-B  the same\n"
        "  A reading typed into Station goes to Reading; the station stays.\n"
        "  Down at Station  of a new sight: the start mark, then the marks of the book\n"
        "  Tab Shift-Tab  next field, field before\n"
        "  Home End Left Right Backspace Del   within a field;   Ctrl-U  empties it\n"
        "  Sight, Method  the word, as far as needed, or blank for the next: b, i, f,\n"
        "                 o for BS, IS, FS, OFF; r, t, tar for rod, tape, target\n"
        "  OFF            an offset: how far the station stands above the mark before,\n"
        "                 by tape, ruler or tube (t, r, tu); below it with a minus\n"
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

/* What a field of the form is in the trade, with examples. */
static const char *field_help(enum work_text field)
{
	switch (field) {
	case WORK_SIGHT:
		return "SIGHT: BS, the first one of a setup, on a point whose height is known;\n"
		       "IS, on a point on the side; FS, the last one, on the point to go on from;\n"
		       "OFF, how far a point stands above the one before, by tape, ruler or tube.";
	case WORK_STATION:
		return "STATION: the name of the point on which the rod stands: BM1, TP3, GATE.\n"
		       "A reading typed here goes to Reading, and the name shown stays.";
	case WORK_READING:
		return "READING: what the rod shows at the cross-hair: 1.432, 57 3/8, 1432 mm.\n"
		       "Several on one point, parted by semicolons, count as their mean.\n"
		       "4 +- 1/4 says how far off this one may be.";
	case WORK_UPPER:
	case WORK_MIDDLE:
	case WORK_LOWER:
		return "WIRES: what the rod shows at the upper, middle and lower wire. Their mean\n"
		       "is booked; upper less lower makes the distance.";
	case WORK_DISTANCE:
		return "DISTANCE: from level to rod: 30, 98 ft, 1.2 km. How it was got may stand\n"
		       "behind it: 30 tape, 850 map.";
	case WORK_METHOD:
		return "METHOD: rod; tape, a mark on a pole measured by tape; or target. Of an\n"
		       "offset tape, ruler or tube. It says how far off a reading may be.";
	default:
		return "REMARK: what somebody needs who was not there: oak root, rod on the step.";
	}
}

/* What the settings hold a reading or a distance to. */
static void put_limits(FILE *out, const struct editor *ed, enum work_text field)
{
	const struct level_style *style = &ed->settings.style;
	char a[LEVEL_LENGTH_BYTES], limits[VIEW_LIMITS_BYTES];
	if (field >= WORK_READING && field <= WORK_LOWER)
		fprintf(out, "  %s\n", view_rod_limits(limits, &ed->settings));
	else if (field == WORK_DISTANCE && ed->settings.tolerance.sight > 0)
		fprintf(out, "  Bare numbers are in %s. %s allows sights up to %s.\n",
		        level_unit_words(style->distance), ed->settings.tolerance.title,
		        level_format_distance_unit(
		            a, level_from_meters(ed->settings.tolerance.sight), style));
}

const struct action *view_help(const struct editor *ed)
{
	enum work_text field = entry_focus(ed->entry);
	char *keys = help_text(), *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	int letter = 0;
	if (keys && out) {
		fprintf(out, "%s\n", field_help(field));
		put_limits(out, ed, field);
		fprintf(out, "\n%s", keys);
	}
	if (out && fclose(out) == 0 && keys)
		letter = view_lettered("Keys: a letter acts at once", text);
	free(keys);
	free(text);
	return keys_lettered(letter);
}
