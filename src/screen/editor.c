/* The editor: the main loop, and the way of a key. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/limit.h"
#include "rodbook/level/set.h"
#include "rodbook/book/editors.h"
#include "screen/editor.h"
#include "screen/key_table.h"

/* A pause in typing after which the half-typed form is saved, and the longest wait without one. */
#define IDLE_MS 250
#define UNSAVED_MS 800

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
		ed->came_down = true;
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

/* The way it was got may stand behind it. */
static bool is_distance(const struct editor *ed, const char *text, struct fault *why)
{
	char length[BOOK_TYPED_BYTES], way[12];
	level_nm value;
	book_split_distance(text, length, sizeof length, way);
	return level_parse_distance(length, ed->settings.style.distance, &value, why);
}

static bool is_enter(const struct key *key)
{
	return key->kind == KEY_IS_CODE && key->value == KEY_ENTER;
}

/* Before Enter moves on: a length that cannot be read keeps the cursor where it is. */
static bool may_move_on(struct editor *ed, const struct key *key)
{
	struct book_draft *slot = editor_slot(ed);
	enum work_text focus = entry_focus(ed->entry);
	const char *text = work_draft_text(slot, focus, NULL);
	level_nm value;
	struct level_set set;
	struct level_limited parts;
	struct fault why;
	if (!is_enter(key))
		return true;
	if (!entry_is_number(focus) || !*text ||
	    (focus == WORK_READING && level_split_limit(text, &parts, &why) &&
	     level_parse_set(parts.reading, ed->settings.style.unit, &set, &why) &&
	     (!*parts.limit ||
	      level_parse_length(parts.limit, ed->settings.style.unit, &value, &why))) ||
	    (focus == WORK_DISTANCE
	         ? is_distance(ed, text, &why)
	         : level_parse_length(text, ed->settings.style.unit, &value, &why)))
		return true;
	/* What is typed next replaces it: appended to it, it could make a length that nobody read.
	 */
	entry_set_focus(ed->entry, focus);
	editor_refuse(ed, "%s", why.text);
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

/* Whether the run, or the sight that the form is on, forbids the key; says so then. */
static bool is_refused(struct editor *ed, const struct action *action, const struct key *key)
{
	bool changes = action ? action->allowed >= ALLOWED_OPEN : key && may_write(key);
	if (ed->run.info.closed && changes)
		editor_refuse(ed, "run %.160s is closed: F2, c reopens it, with a reason",
		              ed->run.info.name);
	else if (action && action->allowed >= ALLOWED_COUNTED && is_struck(ed))
		editor_refuse(ed, "a struck sight stays as it is");
	else
		return false;
	return true;
}

/* What a field would take in place of the key. */
static void say_refused(struct editor *ed, enum work_text field)
{
	if (field == WORK_METHOD && strcmp(editor_slot(ed)->kind, "OFF") == 0)
		editor_refuse(ed, "the method is tape, ruler or tube: type the word, or t, r, tu");
	else if (field == WORK_METHOD)
		editor_refuse(ed, "the method is rod, tape or target: type the word, or r, t, tar");
	else if (field == WORK_SIGHT)
		editor_refuse(ed, "a sight is BS, IS, FS or OFF, an offset: type b, i, f or o");
	else
		editor_refuse(ed, "that cannot stand in the %s", work_text_name(field));
}

void editor_act(struct editor *ed, const struct action *action)
{
	if (!is_refused(ed, action, NULL))
		keys_act(ed, action);
}

static void handle(struct editor *ed, const struct key *key)
{
	const struct action *action = keys_find(key);
	bool asking = ed->asking;
	ed->asking = false;
	ed->came_down = ed->came_down && key->kind == KEY_IS_CODE && key->value == KEY_DOWN;
	if (action) {
		editor_act(ed, action);
		return;
	}
	if (is_refused(ed, NULL, key))
		return;
	if (key->kind == KEY_IS_CODE && key->value == KEY_DOWN && offers_take(ed)) {
		editor_changed(ed);
		return;
	}
	if (row_key(ed, key))
		return;
	if (is_struck(ed) && may_write(key)) {
		editor_refuse(
		    ed, "a struck sight stays as it is: F9 takes the last strike back, Esc turns "
		        "back");
		return;
	}
	capture_begin(ed);
	if (asking && (is_enter(key) || entry_is_plus(key))) {
		editor_book(ed);
		return;
	}
	if (is_enter(key) && capture_asks(ed))
		return;
	if ((is_enter(key) || entry_is_plus(key)) && capture_reading(ed, true))
		editor_changed(ed);
	if (!may_move_on(ed, key))
		return;
	switch (entry_key(ed->entry, key)) {
	case FIELDS_TYPED:
		if (!capture_reading(ed, false))
			capture_name(ed);
		editor_changed(ed);
		if (capture_wire(ed))
			editor_changed(ed);
		break;
	case FIELDS_DONE:
		capture_reading(ed, true);
		editor_update(ed);
		editor_book(ed);
		break;
	case FIELDS_REFUSED:
		say_refused(ed, entry_focus(ed->entry));
		break;
	case FIELDS_MOVED:
		editor_update(ed);
		break;
	default:
		break;
	}
}

/* Once, in the first pause, behind what is shown: a damaged book is left before anything is booked
 * in it. */
static void check_book(struct editor *ed)
{
	ed->checked = true;
	if (!book_check(ed->book, &ed->trouble))
		ed->leaving = true;
}

/* Keys until the user leaves or the terminal is gone; false then. */
static bool keys_until_leaving(struct editor *ed)
{
	while (!ed->leaving) {
		struct key key;
		editor_paint(ed);
		if (ed->draft_unsaved && term_milliseconds() - ed->unsaved_since > UNSAVED_MS)
			editor_save_draft(ed);
		key = term_key(entry_window(ed->entry),
		               ed->draft_unsaved || !ed->checked ? IDLE_MS : -1);
		if (key.kind == KEY_IS_GONE)
			return false;
		if (key.kind == KEY_IS_IDLE && !ed->checked)
			check_book(ed);
		else if (key.kind == KEY_IS_IDLE)
			editor_save_draft(ed);
		else if (key.kind != KEY_IS_RESIZED && !term_too_small())
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
	int64_t run, sight = 0;
	struct book_editor *others = NULL;
	size_t count = 0;
	bool ok = choose_run(book, name, &run, why);

	if (!ok || !term_begin(why))
		return false;
	/* Without room to enter, the book can still be looked at. */
	book_editor_enter(book, &others, &count, NULL);
	if (!run)
		run = view_runs(book, 0, name ? name : "", &sight);
	if (run) {
		ok = editor_load(&ed, run, why);
		if (ok && book_brought_up(book))
			editor_say(&ed, "%s", report_brought_up(book));
		if (ok && count)
			say_others(&ed, others, count);
		if (ok && sight)
			editor_go(&ed, sight, "");
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
