#include "screen/key_table.h"

#include <stdio.h>
#include <string.h>

#include "screen/editor.h"

static void insert(struct editor *ed)
{
	if (!editor_insert(ed))
		return;
	editor_changed(ed);
	if (strcmp(editor_slot(ed)->kind, "IS") == 0)
		editor_say(ed, "one IS; F6 again makes a series of them, once more the FS");
}

static void again(struct editor *ed)
{
	if (!editor_again(ed))
		return;
	editor_changed(ed);
	if (editor_slot(ed)->again)
		editor_say(ed, "set the level up anew, higher or lower, and read both marks again; "
		               "the same key turns back");
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

/* A letter of the page acts at once: so every action has a way that no terminal takes. */
static void help(struct editor *ed)
{
	const struct action *action = view_help(ed);
	if (action)
		editor_act(ed, action);
}

static void big(struct editor *ed)
{
	ed->big = !ed->big;
	clearok(stdscr, TRUE);
}

static void fold(struct editor *ed)
{
	ed->folded = !ed->folded;
	editor_say(ed,
	           ed->folded
	               ? "struck rows are folded away, with x2 behind two of them: F1, h shows them"
	               : "struck rows are shown");
}

/* All is read again after a view, for it may have changed anything. */
static void show_run(struct editor *ed, int64_t run)
{
	struct fault why = {0};
	clearok(stdscr, TRUE);
	ed->message[0] = '\0';
	if (!editor_load(ed, run, &why))
		editor_refuse(ed, "%s", why.text);
}

/* Shows a run, or the same one again where it is 0; with a sight, that one. */
static void show_sight(struct editor *ed, int64_t run, int64_t sight, const char *said)
{
	show_run(ed, run ? run : ed->run.info.id);
	if (sight && ed->entry)
		editor_go(ed, sight, said);
}

static void runs(struct editor *ed)
{
	int64_t run, sight;
	editor_save_draft(ed);
	run = view_runs(ed->book, ed->run.info.id, NULL, &sight);
	show_sight(ed, run, sight, "");
}

static void find(struct editor *ed)
{
	int64_t run, sight = 0;
	editor_save_draft(ed);
	run = view_find(ed->book, &sight);
	show_sight(ed, run, sight, "");
}

static void settings(struct editor *ed)
{
	view_settings(ed->book);
}

static void slips(struct editor *ed)
{
	char again[REPORT_SLIP_BYTES];
	int64_t sight;
	editor_save_draft(ed);
	sight = view_slips(ed->book, ed->run.info.name, again, sizeof again);
	show_sight(ed, 0, sight, again);
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

#define NEW (1u << BAR_NEW)
#define ROW (1u << BAR_ROW)
#define CLOSED (1u << BAR_CLOSED)

/* Those of the upper row of the bar stand before those of the lower one, which are over the book.
 */
static const struct action actions[] = {
    {.function = 6,
     .letter = 'n',
     .bar = "IS",
     .help = {[HELP_TYPING] = "makes the new sight an intermediate sight (IS); again:\n"
                              "a series, each next sight is an IS; once more: the FS",
              [HELP_PAGE] = "put in a forgotten IS, or in a gap of the line a setup\n"
                            "(F6, Shift-Tab, b: a forgotten setup, behind that row)"},
     .on = NEW | ROW,
     .allowed = ALLOWED_OPEN,
     .act = insert},
    {.letter = 'w',
     .help = {[HELP_TYPING] = "one reading, or three wires; after the first sight a second\n"
                              "point begins the next wire: 1.6641.4841.304"},
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
     .on = NEW | ROW,
     .allowed = ALLOWED_OPEN,
     .act = strike_sight},
    {.function = 8,
     .letter = 'e',
     .bar = "setup",
     .help = {[HELP_PAGE] = "strike its whole setup"},
     .on = ROW,
     .allowed = ALLOWED_OPEN,
     .act = strike_setup},
    {.function = 9,
     .letter = 'z',
     .bar = "undo",
     .help = {[HELP_PAGE] = "empty what is half typed; else take back the last change of\n"
                            "this run, then the one before"},
     .on = NEW,
     .allowed = ALLOWED_OPEN,
     .act = undo},
    {.letter = 'y',
     .help = {[HELP_PAGE] = "bring back what was emptied, dropped or taken back"},
     .allowed = ALLOWED_OPEN,
     .act = redo},
    {.menu = 'h',
     .help = {[HELP_PAGE] = "fold struck rows away, or show them; x2 in a remark: two\n"
                            "of them stood before that row. Nothing that counts changes."},
     .act = fold},
    {.function = 10,
     .letter = 'c',
     .also = 'q',
     .bar = "quit",
     .help = {[HELP_BOOK] = "leave; from a list back to the page; what is typed is kept"},
     .on = NEW | CLOSED,
     .act = end},
    {.function = 1,
     .letter = 'g',
     .bar = "keys",
     .help = {[HELP_BOOK] = "this page; on it each letter acts without Ctrl"},
     .on = NEW | ROW | CLOSED,
     .act = help},
    {.function = 2,
     .letter = 'r',
     .bar = "runs",
     .help = {[HELP_BOOK] = "runs: open, new, rename, kind, turn, close, adjust, net, out"},
     .on = NEW | ROW | CLOSED,
     .act = runs},
    {.menu = '/',
     .help = {[HELP_BOOK] = "find a station, or a word of a remark, in all runs"},
     .act = find},
    {.function = 3,
     .letter = 'k',
     .bar = "marks",
     .help = {[HELP_BOOK] = "stations: elevations given, and what the runs found"},
     .on = NEW | ROW | CLOSED,
     .view = true,
     .act = view_marks},
    {.function = 4,
     .letter = 't',
     .bar = "settings",
     .help = {[HELP_BOOK] = "settings: unit, decimals, tolerance, instrument, k ..."},
     .on = NEW | ROW | CLOSED,
     .view = true,
     .act = settings},
    {.function = 5,
     .menu = 'b',
     .bar = "big",
     .help = {[HELP_BOOK] = "big figures, to be read from the rod; again: the page"},
     .on = NEW | ROW | CLOSED,
     .act = big},
    {.letter = 'f',
     .help = {[HELP_BOOK] = "a run misses: which single slip would explain it; go there"},
     .act = slips},
    {.function = 11,
     .letter = 'x',
     .bar = "drop",
     .help = {[HELP_BOOK] = "plan, level and its peg test, rod, water, air, figures, drop"},
     .on = NEW | ROW | CLOSED,
     .view = true,
     .act = view_crossing},
    {.function = 12,
     .letter = 'o',
     .bar = "set out",
     .help = {[HELP_BOOK] = "set out: the rod reading that marks a wanted elevation"},
     .on = NEW | ROW | CLOSED,
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
};

const struct action *keys_action(size_t i)
{
	return i < sizeof actions / sizeof *actions ? &actions[i] : NULL;
}

static bool is_key_of(const struct action *action, const struct key *key)
{
	if (key->kind == KEY_IS_CODE)
		return action->function && key->value == (wint_t)KEY_F(action->function);
	return (action->letter && term_is_control(key, action->letter)) ||
	       (action->also && term_is_control(key, action->also));
}

const struct action *keys_lettered(int letter)
{
	const struct action *action;
	for (size_t i = 0; letter && (action = keys_action(i)); i++)
		if (letter == action->letter || letter == action->menu)
			return action;
	return NULL;
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
	int64_t run = ed->run.info.id;
	if (action->view)
		editor_save_draft(ed);
	action->act(ed);
	/* A view that began another run has read it, and says so. */
	if (action->view && ed->run.info.id == run)
		show_run(ed, run);
}

void keys_name(const struct action *action, char text[KEYS_NAME_BYTES])
{
	char first[8] = "";
	if (action->function)
		snprintf(first, sizeof first, "F%-2d ", action->function);
	if (action->letter)
		snprintf(text, KEYS_NAME_BYTES, "%sCtrl-%c", first, action->letter - 'a' + 'A');
	else
		snprintf(text, KEYS_NAME_BYTES, "%s%c", first, action->menu);
}

/* The first two actions that are over the book stand at the end of the upper row. */
static bool is_lower(const struct action *action)
{
	return action->help[HELP_BOOK] && action->function != 10 && action->function != 1;
}

void keys_bar(enum bar bar, int row, char text[KEYS_BAR_BYTES])
{
	const struct action *action;
	size_t used;
	strcpy(text, row == 1            ? ""
	             : bar == BAR_NEW    ? " Enter next  + book"
	             : bar == BAR_CLOSED ? " Up Down row"
	                                 : " Enter next  + book  Esc back");
	for (size_t i = 0; (action = keys_action(i)); i++) {
		if (!action->bar || !(action->on & 1u << bar) || is_lower(action) != (row == 1))
			continue;
		used = strlen(text);
		if (action->letter)
			snprintf(text + used, KEYS_BAR_BYTES - used, "%s F%d/^%c %s",
			         row == 0 ? " " : "", action->function, action->letter - 'a' + 'A',
			         action->bar);
		else
			snprintf(text + used, KEYS_BAR_BYTES - used, "%s F%d %s",
			         row == 0 ? " " : "", action->function, action->bar);
	}
}
