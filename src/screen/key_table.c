#include "screen/key_table.h"

#include <stdio.h>
#include <string.h>

#include "screen/editor.h"

static void insert(struct editor *ed)
{
	if (editor_insert(ed))
		editor_changed(ed);
}

static void again(struct editor *ed)
{
	if (!editor_again(ed))
		return;
	editor_changed(ed);
	if (editor_slot(ed)->again)
		editor_say(ed, "set the level up anew, higher or lower, and read both marks again; "
		               "Ctrl-A turns back");
}

static void beside(struct editor *ed)
{
	if (view_beside(ed))
		editor_changed(ed);
}

static void strike_sight(struct editor *ed)
{
	editor_strike(ed, false);
}

static void strike_setup(struct editor *ed)
{
	editor_strike(ed, true);
}

static void undo(struct editor *ed)
{
	editor_undo(ed, false);
}

static void redo(struct editor *ed)
{
	editor_undo(ed, true);
}

static void help(struct editor *ed)
{
	(void)ed;
	view_help();
}

/* All is read again after a view, for it may have changed anything. */
static void show_run(struct editor *ed, int64_t run)
{
	struct fault why = {0};
	clearok(stdscr, TRUE);
	ed->message[0] = '\0';
	if (!editor_load(ed, run, &why))
		editor_say(ed, "%s", why.text);
}

static void runs(struct editor *ed)
{
	int64_t run;
	editor_save_draft(ed);
	run = view_runs(ed->book, ed->run.info.id, NULL);
	show_run(ed, run ? run : ed->run.info.id);
}

static void settings(struct editor *ed)
{
	view_settings(ed->book);
}

static void slips(struct editor *ed)
{
	view_slips(ed->book, ed->run.info.name);
}

static void pictures(struct editor *ed)
{
	view_pictures(ed->book, &ed->run.info);
}

static void journal(struct editor *ed)
{
	view_journal(ed->book, &ed->run.info);
}

static void still_open(struct editor *ed)
{
	view_leave(ed->book);
}

static void end(struct editor *ed)
{
	ed->leaving = true;
}

static const struct action actions[] = {
    {.function = 6,
     .letter = 'n',
     .bar = "IS",
     .help = {[HELP_TYPING] = "makes the new sight an intermediate sight (IS), or back",
              [HELP_PAGE] = "put in a forgotten IS, or in a gap of the line a setup\n"
                            "(F6, Shift-Tab, b: a forgotten setup, behind that row)"},
     .allowed = ALLOWED_OPEN,
     .act = insert},
    {.function = 5,
     .letter = 'w',
     .bar = "wires",
     .help = {[HELP_TYPING] = "one reading, or three wires"},
     .allowed = ALLOWED_COUNTED,
     .act = editor_wires},
    {.letter = 'a',
     .help = {[HELP_TYPING] = "after an FS: the same setup again, from another height of the\n"
                              "instrument; both are kept, and the mean counts"},
     .allowed = ALLOWED_OPEN,
     .act = again},
    {.letter = 'v',
     .help = {[HELP_TYPING] = "the sight's time, place along a line, photographs, scaling"},
     .allowed = ALLOWED_COUNTED,
     .act = beside},
    {.function = 7,
     .letter = 'd',
     .bar = "strike",
     .help = {[HELP_PAGE] = "strike the sight"},
     .allowed = ALLOWED_OPEN,
     .act = strike_sight},
    {.function = 8,
     .letter = 'e',
     .bar = "setup",
     .help = {[HELP_PAGE] = "strike its whole setup"},
     .allowed = ALLOWED_OPEN,
     .act = strike_setup},
    {.function = 9,
     .letter = 'z',
     .bar = "undo",
     .help = {[HELP_PAGE] = "take back the last change of this run, then the one before"},
     .allowed = ALLOWED_OPEN,
     .act = undo},
    {.letter = 'y',
     .help = {[HELP_PAGE] = "bring back what was taken back"},
     .allowed = ALLOWED_OPEN,
     .act = redo},
    {.function = 1,
     .letter = 'g',
     .bar = "help",
     .help = {[HELP_BOOK] = "this help"},
     .view = true,
     .act = help},
    {.function = 2,
     .letter = 'r',
     .bar = "runs",
     .help = {[HELP_BOOK] = "runs: open, new, rename, head, kind, turn, close, adjust, net"},
     .act = runs},
    {.function = 3,
     .letter = 'k',
     .bar = "marks",
     .help = {[HELP_BOOK] = "stations: elevations given, and what the runs found"},
     .view = true,
     .act = view_marks},
    {.function = 4,
     .letter = 't',
     .bar = "settings",
     .help = {[HELP_BOOK] = "settings: unit, decimals, tolerance, instrument, k ..."},
     .view = true,
     .act = settings},
    {.letter = 'f',
     .help = {[HELP_BOOK] = "a run misses: which single slip would explain it"},
     .view = true,
     .act = slips},
    {.function = 11,
     .letter = 'x',
     .bar = "drop",
     .help = {[HELP_BOOK] = "plan, instrument, rod, water, air, figures, drop"},
     .view = true,
     .act = view_crossing},
    {.function = 12,
     .letter = 'o',
     .bar = "set out",
     .help = {[HELP_BOOK] = "set out: the rod reading that marks a wanted elevation"},
     .act = view_set_out},
    {.letter = 's',
     .help = {[HELP_BOOK] = "pictures: profile, long sight, how the runs close"},
     .view = true,
     .act = pictures},
    {.letter = 'p',
     .help = {[HELP_BOOK] = "the journal of this run: every change, the newest first"},
     .view = true,
     .act = journal},
    {.letter = 'l',
     .help = {[HELP_BOOK] = "what is still open before leaving the site, most costly first"},
     .view = true,
     .act = still_open},
    {.function = 10,
     .letter = 'q',
     .also = 'c',
     .bar = "end",
     .help = {[HELP_BOOK] = "leave: what is booked is on disk, what is half typed is kept"},
     .act = end},
};

const struct action *keys_action(size_t i)
{
	return i < sizeof actions / sizeof *actions ? &actions[i] : NULL;
}

static bool is_key_of(const struct action *action, const struct key *key)
{
	if (key->kind == KEY_IS_CODE)
		return action->function && key->value == (wint_t)KEY_F(action->function);
	return term_is_control(key, action->letter) ||
	       (action->also && term_is_control(key, action->also));
}

const struct action *keys_find(const struct key *key)
{
	const struct action *action;
	for (size_t i = 0; (action = keys_action(i)); i++)
		if (is_key_of(action, key))
			return action;
	return NULL;
}

void keys_act(struct editor *ed, const struct action *action)
{
	if (action->view)
		editor_save_draft(ed);
	action->act(ed);
	if (action->view)
		show_run(ed, ed->run.info.id);
}

void keys_name(const struct action *action, char text[KEYS_NAME_BYTES])
{
	char first[8] = "";
	if (action->function)
		snprintf(first, sizeof first, "F%-2d ", action->function);
	snprintf(text, KEYS_NAME_BYTES, "%sCtrl-%c", first, action->letter - 'a' + 'A');
}

static void add_function_keys(char text[KEYS_BAR_BYTES], int from, int to)
{
	const struct action *action;
	for (int function = from; function <= to; function++)
		for (size_t i = 0; (action = keys_action(i)); i++)
			if (action->function == function && action->bar) {
				size_t used = strlen(text);
				snprintf(text + used, KEYS_BAR_BYTES - used, " F%d %s", function,
				         action->bar);
			}
}

void keys_bar(int row, char text[KEYS_BAR_BYTES])
{
	strcpy(text, row == 0 ? " Enter next/book + Ctrl-B book Up Down row Esc back" : "");
	if (row == 0) {
		add_function_keys(text, 11, 12);
		add_function_keys(text, 1, 1);
	} else {
		add_function_keys(text, 2, 10);
	}
}
