/* The editor: what its keys do, and the main loop. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/set.h"
#include "rodbook/book/editors.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* A pause in typing after which the half-typed form is saved, and the longest wait without one. */
#define IDLE_MS 250
#define UNSAVED_MS 800

static void changed(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	char kind[sizeof slot->kind];
	strcpy(kind, slot->kind);
	slot->used = true;
	ed->message[0] = ed->warned[0] = '\0';
	if (!ed->draft_unsaved)
		ed->unsaved_since = term_milliseconds();
	ed->draft_unsaved = true;
	editor_update(ed);
	if (strcmp(kind, slot->kind) != 0)
		editor_kind(ed);
}

static void view(struct editor *ed, int function)
{
	struct fault why = {0};
	int64_t run = ed->run.info.id;
	editor_save_draft(ed);
	if (function == 1)
		view_help();
	else if (function == 12)
		view_crossing(ed);
	else if (function == 14)
		view_slips(ed->book, ed->run.info.name);
	else if (function == 15)
		view_journal(ed->book, &ed->run.info);
	else if (function == 16)
		view_leave(ed->book);
	else if (function == 19)
		view_pictures(ed->book, &ed->run.info);
	else if (function == 2)
		run = view_runs(ed->book, run, NULL);
	else if (function == 3)
		view_marks(ed->book);
	else
		view_settings(ed->book);
	clearok(stdscr, TRUE);
	ed->message[0] = '\0';
	if (!editor_load(ed, run ? run : ed->run.info.id, &why))
		editor_say(ed, "%s", why.text);
}

/* Asks for the elevation to set out; an empty one ends it. */
static void set_out(struct editor *ed)
{
	struct question question = {"Elevation", "The elevation to mark; empty to set out no more.",
	                            "", 40};
	char message[640] = "";
	level_nm value;
	struct fault why = {0};
	strcpy(question.text, ed->wanted);
	while (ask("Set out an elevation", &question, 1, NULL, message)) {
		if (!*question.text ||
		    level_parse_length(question.text, ed->settings.style.unit, &value, &why)) {
			strcpy(ed->wanted, question.text);
			break;
		}
		snprintf(message, sizeof message, "%s", why.text);
	}
	clearok(stdscr, TRUE);
	ed->message[0] = '\0';
}

/* Control letters stand in for function keys that a keyboard lacks. */
static wint_t function_of(const struct key *key)
{
	static const struct {
		char letter;
		int function;
	} letters[] = {{'g', 1},  {'r', 2},  {'k', 3},  {'t', 4},  {'w', 5},  {'n', 6},  {'d', 7},
	               {'e', 8},  {'z', 9},  {'q', 10}, {'c', 10}, {'y', 11}, {'x', 12}, {'o', 13},
	               {'f', 14}, {'p', 15}, {'l', 16}, {'a', 17}, {'v', 18}, {'s', 19}};
	if (key->kind == KEY_IS_CODE && key->value > KEY_F0 && key->value <= KEY_F(10))
		return key->value - KEY_F0;
	if (key->kind == KEY_IS_CODE && (key->value == KEY_F(11) || key->value == KEY_F(12)))
		return key->value - KEY_F0 + 1;
	if (key->kind == KEY_IS_TEXT && !key->pasted)
		for (size_t i = 0; i < sizeof letters / sizeof *letters; i++)
			if (key->value == TERM_CTRL(letters[i].letter))
				return (wint_t)letters[i].function;
	return 0;
}

static bool function_key(struct editor *ed, const struct key *key)
{
	switch (function_of(key)) {
	case 1:
	case 2:
	case 3:
	case 4:
	case 12:
	case 14:
	case 15:
	case 16:
	case 19:
		view(ed, (int)function_of(key));
		return true;
	case 13:
		set_out(ed);
		return true;
	case 5:
		editor_wires(ed);
		return true;
	case 6:
		if (editor_insert(ed))
			changed(ed);
		return true;
	case 7:
		editor_strike(ed, false);
		return true;
	case 8:
		editor_strike(ed, true);
		return true;
	case 17:
		if (editor_again(ed)) {
			changed(ed);
			if (editor_slot(ed)->again)
				editor_say(ed, "set the level up anew, higher or lower, and read "
				               "both marks again; Ctrl-A turns back");
		}
		return true;
	case 18:
		if (view_beside(ed))
			changed(ed);
		return true;
	case 9:
		editor_undo(ed, false);
		return true;
	case 11:
		editor_undo(ed, true);
		return true;
	case 10:
		ed->leaving = true;
		return true;
	default:
		return false;
	}
}

static bool row_key(struct editor *ed, const struct key *key)
{
	long page = LINES / 2;
	if (key->kind != KEY_IS_CODE)
		return false;
	switch (key->value) {
	case KEY_UP:
		editor_move(ed, -1);
		return true;
	case KEY_DOWN:
		editor_move(ed, 1);
		return true;
	case KEY_PPAGE:
		editor_move(ed, -page);
		return true;
	case KEY_NPAGE:
		editor_move(ed, page);
		return true;
	case TERM_KEY_TOP:
		editor_move(ed, -(long)ed->work.count);
		return true;
	case TERM_KEY_BOTTOM:
		editor_move(ed, (long)ed->work.count);
		return true;
	case TERM_KEY_ESCAPE:
		editor_escape(ed);
		return true;
	default:
		return false;
	}
}

/* Whether a text in the station field looks like a reading: 1.432, or 57 3/8. */
static bool looks_like_reading(const struct book_draft *draft)
{
	return !*draft->reading && !*draft->upper && level_is_like_reading(draft->station);
}

/* Before Enter moves on: a length that cannot be read keeps the cursor where it is. */
static bool may_move_on(struct editor *ed, const struct key *key)
{
	const struct book_draft *slot = editor_slot(ed);
	enum entry_field focus = entry_focus(ed->entry);
	level_nm value;
	struct level_set set;
	struct fault why;
	if (key->kind != KEY_IS_CODE || key->value != KEY_ENTER)
		return true;
	if (focus == FIELD_STATION && looks_like_reading(slot))
		editor_say(
		    ed,
		    "a station named %.40s? If that was the reading: Shift-Tab, and name the "
		    "station",
		    slot->station);
	if (!entry_is_number(focus) || !*entry_text(slot, focus) ||
	    (focus == FIELD_READING &&
	     level_parse_set(entry_text(slot, focus), ed->settings.style.unit, &set, &why)) ||
	    level_parse_length(entry_text(slot, focus), ed->settings.style.unit, &value, &why))
		return true;
	editor_say(ed, "%s", why.text);
	return false;
}

static bool is_struck(const struct editor *ed)
{
	return ed->target == TARGET_CHANGE && !level_counted(&ed->run.run.sight[ed->at]);
}

/* Whether the key could change a text. */
static bool may_write(const struct key *key)
{
	if (key->kind == KEY_IS_TEXT)
		return key->value != '\t';
	return key->value == KEY_BACKSPACE || key->value == KEY_DC || key->value == TERM_KEY_PLUS;
}

/* Whether the key would change a run: by a text of the form, by booking, striking or taking back.
 */
static bool may_change(const struct key *key)
{
	wint_t function = function_of(key);
	return function
	           ? (function >= 5 && function <= 9) || function == 11 || function == 17 ||
	                 function == 18
	           : may_write(key) || (key->kind == KEY_IS_TEXT && key->value == TERM_CTRL('b'));
}

/* What a field would take in place of the key. */
static void say_refused(struct editor *ed, enum entry_field field)
{
	if (field == FIELD_METHOD)
		editor_say(ed, "the method is r for rod, t for tape, t again for target");
	else if (field == FIELD_SIGHT)
		editor_say(ed, "a sight is b, i or f, for BS, IS or FS");
	else
		editor_say(ed, "that cannot stand in the %s", entry_field_name(field));
}

static void handle(struct editor *ed, const struct key *key)
{
	if (ed->run.info.closed && may_change(key)) {
		editor_say(ed, "run %.160s is closed: F2, c reopens it, with a reason",
		           ed->run.info.name);
		return;
	}
	if (function_key(ed, key) || row_key(ed, key) || !may_move_on(ed, key))
		return;
	if (is_struck(ed) && may_write(key)) {
		editor_say(
		    ed, "a struck sight stays as it is: F9 takes the last strike back, Esc turns "
		        "back");
		return;
	}
	switch (entry_key(ed->entry, key)) {
	case FIELDS_TYPED:
		changed(ed);
		break;
	case FIELDS_DONE:
		editor_update(ed);
		editor_book(ed);
		break;
	case FIELDS_REFUSED:
		say_refused(ed, entry_focus(ed->entry));
		break;
	case FIELDS_MOVED:
		editor_update(ed);
		break;
	case FIELDS_IGNORED:
		break;
	}
}

/* Keys until the user leaves or the terminal is gone; false then. */
static bool keys_until_leaving(struct editor *ed)
{
	while (!ed->leaving) {
		struct key key;
		editor_paint(ed);
		if (ed->draft_unsaved && term_milliseconds() - ed->unsaved_since > UNSAVED_MS)
			editor_save_draft(ed);
		key = term_key(entry_window(ed->entry), ed->draft_unsaved ? IDLE_MS : -1);
		if (key.kind == KEY_IS_GONE)
			return false;
		if (key.kind == KEY_IS_IDLE)
			editor_save_draft(ed);
		else if (key.kind == KEY_IS_RESIZED)
			clearok(stdscr, TRUE);
		else if (!term_too_small())
			handle(ed, &key);
	}
	return true;
}

static void loop(struct editor *ed)
{
	bool asked = false;
	while (keys_until_leaving(ed) && !editor_save_draft(ed) && !asked && ed->entry) {
		editor_say(
		    ed,
		    "the half-typed sight cannot be saved in the book: F10 again leaves without "
		    "it");
		ed->leaving = false;
		asked = true;
	}
	editor_save_draft(ed);
}

/* The run to open: the one named, else the last one begun; 0 where none is chosen. */
static bool choose_run(struct book *book, const char *name, int64_t *run, struct fault *why)
{
	struct book_run_info info, *runs;
	struct fault none = {0};
	size_t count;

	*run = 0;
	if (name && book_run_find(book, name, &info, &none)) {
		*run = info.id;
		return true;
	}
	if (name && none.kind != FAULT_INPUT) {
		*why = none;
		return false;
	}
	if (name && !level_check_name(name, "run", why))
		return false;
	if (!book_runs(book, &runs, &count, why))
		return false;
	if (!name && count && !runs[count - 1].unreadable)
		*run = runs[count - 1].id;
	free(runs);
	return true;
}

static void say_others(struct editor *ed, const struct book_editor *others, size_t count)
{
	char text[300];
	size_t used = 0;
	for (size_t i = 0; i < count && used < sizeof text; i++)
		used += (size_t)snprintf(
		    text + used, sizeof text - used, "%s%.60s%s%.60s since %.16s", i ? ", " : "",
		    others[i].user, *others[i].user ? " on " : "", others[i].host, others[i].since);
	editor_say(ed,
	           "This book is open in another editor too: %s. What it books appears here at "
	           "your next booking.",
	           text);
}

bool screen_edit(struct book *book, const char *name, struct fault *why)
{
	struct editor ed = {.book = book};
	int64_t run;
	struct book_editor *others = NULL;
	size_t count = 0;
	bool ok = choose_run(book, name, &run, why);

	if (!ok || !term_begin(why))
		return false;
	/* Without room to enter, the book can still be looked at. */
	book_editor_enter(book, &others, &count, NULL);
	if (!run)
		run = view_runs(book, 0, name ? name : "");
	if (run) {
		ok = editor_load(&ed, run, why);
		if (ok && book_brought_up(book))
			editor_say(&ed, "%s", report_brought_up(book));
		if (ok && count)
			say_others(&ed, others, count);
		if (ok)
			loop(&ed);
	}
	free(others);
	term_end();
	if (ok && ed.trouble.kind != FAULT_NONE) {
		*why = ed.trouble;
		ok = false;
	}
	editor_unload(&ed);
	book_editor_leave(book, NULL);
	return ok;
}
