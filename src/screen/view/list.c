/* A list to choose from, in ncurses' menu library. */
#include <limits.h>
#include <menu.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>
#include <wctype.h>

#include "screen/view/views.h"
#include "text/cells.h"

#define TEXT_BYTES 800
#define PAD_COLUMNS 1000

struct list {
	ITEM **items;
	MENU *menu;
	WINDOW *pad;
	char (*texts)[TEXT_BYTES]; /* of the items: names and descriptions by turns */
	int rows;
	int first; /* the row at the top of the window */
};

static const char every_list[] = "  Up Down PgUp PgDn Home End          another line\n"
                                 "  F1 Ctrl-G      this page; again, Esc or Enter: back\n";

static void close_list(struct list *list)
{
	if (list->menu) {
		unpost_menu(list->menu);
		free_menu(list->menu);
	}
	for (size_t i = 0; list->items && list->items[i]; i++)
		free_item(list->items[i]);
	free(list->items);
	free(list->texts);
	if (list->pad)
		delwin(list->pad);
	*list = (struct list){0};
}

/* The library refuses an empty text, and one with a character that the C library does not know. */
static void printable(const char *text, char out[TEXT_BYTES])
{
	mbstate_t state = {0};
	size_t used = 0, size;
	wchar_t wide;
	for (; *text && used + MB_LEN_MAX < TEXT_BYTES; text += size) {
		size = mbrtowc(&wide, text, strlen(text), &state);
		if (size == 0 || size > strlen(text))
			break;
		if (iswprint((wint_t)wide)) {
			memcpy(out + used, text, size);
			used += size;
		} else {
			out[used++] = '?';
		}
	}
	if (used == 0)
		out[used++] = '-';
	out[used] = '\0';
}

/* How wide a name may be, so that what stands behind it is seen. */
static int name_room(void)
{
	return COLS / 2 - 10;
}

/* A name cut to its room, with a sign; the whole one stands below where the bar is. */
static void cut_name(const char *name, char out[TEXT_BYTES])
{
	int used = 0, cells;
	size_t size = 0, next;
	printable(name, out);
	if (cells_of(out) <= name_room())
		return;
	while ((next = cells_first(out + size, &cells)) > 0 && used + cells < name_room()) {
		size += next;
		used += cells;
	}
	strcpy(out + size, "~");
}

/* In capitals, as on the page of keys: no terminal need show it bold. */
static void heading(const char *text, char out[TEXT_BYTES])
{
	printable(text, out);
	for (; *out; out++)
		if (*out >= 'a' && *out <= 'z')
			*out = (char)(*out - 'a' + 'A');
}

static bool open_list(struct list *list, const struct list_line *lines, size_t count)
{
	*list = (struct list){.rows = (int)count};
	list->items = calloc(count + 1, sizeof(ITEM *));
	list->pad = newpad((int)count + 1, PAD_COLUMNS);
	list->texts = calloc(2 * count + 2, sizeof *list->texts);
	if (!list->items || !list->pad || !list->texts)
		return false;
	for (size_t i = 0; i < count; i++) {
		if (lines[i].text) {
			cut_name(lines[i].name, list->texts[2 * i]);
			printable(lines[i].text, list->texts[2 * i + 1]);
		} else {
			heading(lines[i].name, list->texts[2 * i]);
		}
		list->items[i] =
		    new_item(list->texts[2 * i], lines[i].text ? list->texts[2 * i + 1] : NULL);
		if (!list->items[i])
			return false;
		if (!lines[i].text)
			item_opts_off(list->items[i], O_SELECTABLE);
	}
	list->menu = new_menu(list->items);
	if (!list->menu)
		return false;
	set_menu_win(list->menu, list->pad);
	set_menu_sub(list->menu, list->pad);
	set_menu_format(list->menu, (int)count, 1);
	set_menu_mark(list->menu, "> ");
	set_menu_grey(list->menu, A_BOLD);
	set_menu_spacing(list->menu, 2, 1, 1);
	return post_menu(list->menu) == E_OK;
}

static bool is_heading(const ITEM *item)
{
	return !(item_opts(item) & O_SELECTABLE);
}

/* Scrolls no farther than the bar needs, with the heading above it. */
static void scroll_to(struct list *list, int at, int room)
{
	int top = at;
	while (top > 0 && is_heading(list->items[top - 1]))
		top--;
	if (list->first > top)
		list->first = top;
	if (list->first < at - room + 1)
		list->first = at - room + 1;
}

/* A ~ behind each line that goes on beyond the window's edge. */
static void paint_cut(const struct list *list, int shown)
{
	for (int row = list->first; row < list->first + shown; row++)
		for (int x = COLS - 2; x < PAD_COLUMNS; x++)
			if ((mvwinch(list->pad, row, x) & A_CHARTEXT) != ' ') {
				mvaddch(2 + row - list->first, COLS - 1, '~');
				break;
			}
}

/* That lines stand beyond the window, above it or below. */
static void paint_more(int row, int count, const char *where)
{
	char text[40];
	int size = snprintf(text, sizeof text, "%d more %s", count, where);
	if (count > 0)
		term_text(stdscr, row, COLS - 1 - size, size, text);
}

static void paint(struct list *list, const struct list_line *lines, const char *title,
                  const char *key_line, const char *message)
{
	int room = LINES - 8, at = 0, shown = list->rows < room ? list->rows : room;
	if (!term_begin_page(title))
		return;
	if (list->menu) {
		at = item_index(current_item(list->menu));
		scroll_to(list, at, room);
		if (lines[at].detail)
			view_first_line(LINES - 5, 2, A_NORMAL, lines[at].detail);
		else if (cells_of(lines[at].name) > name_room())
			term_text(stdscr, LINES - 5, 1, COLS - 2, lines[at].name);
		paint_cut(list, shown);
		paint_more(1, list->first, "above");
		paint_more(LINES - 6, list->rows - list->first - shown, "below");
	}
	term_message(LINES - 3, 2, A_BOLD, message);
	view_bar(key_line);
	wnoutrefresh(stdscr);
	if (list->menu) {
		pos_menu_cursor(list->menu);
		pnoutrefresh(list->pad, list->first, 0, 2, 1, 1 + shown, COLS - 2);
	}
	doupdate();
}

/* Off a heading, the way the bar goes; back where no line follows it. */
static void leave_heading(const struct list *list, bool up)
{
	for (int i = 0; i < list->rows && is_heading(current_item(list->menu)); i++) {
		int at = item_index(current_item(list->menu));
		if (at == 0)
			up = false;
		if (at == list->rows - 1)
			up = true;
		menu_driver(list->menu, up ? REQ_UP_ITEM : REQ_DOWN_ITEM);
	}
}

/* Moves the bar; whether the key is one that does. */
static bool move_bar(const struct list *list, wint_t code)
{
	switch (code) {
	case KEY_UP:
		menu_driver(list->menu, REQ_UP_ITEM);
		break;
	case KEY_DOWN:
		menu_driver(list->menu, REQ_DOWN_ITEM);
		break;
	case KEY_HOME:
	case TERM_KEY_TOP:
		menu_driver(list->menu, REQ_FIRST_ITEM);
		break;
	case KEY_END:
	case TERM_KEY_BOTTOM:
		menu_driver(list->menu, REQ_LAST_ITEM);
		break;
	case KEY_PPAGE:
	case KEY_NPAGE:
		for (int i = 0; i < LINES / 2; i++)
			menu_driver(list->menu, code == KEY_PPAGE ? REQ_UP_ITEM : REQ_DOWN_ITEM);
		break;
	default:
		return false;
	}
	leave_heading(list, code == KEY_UP || code == KEY_PPAGE);
	return true;
}

/* What the line under the bar is, whole, and what can be done with it. */
static void help(const struct list *list, const struct list_line *lines, const char *title,
                 const char *key_line)
{
	struct hints hints = {"", "", NULL, key_line, every_list};
	if (list->menu) {
		const struct list_line *line = &lines[item_index(current_item(list->menu))];
		hints.name = line->name;
		hints.text = line->text;
		hints.meaning = line->detail;
	}
	view_hints(title, &hints);
	curs_set(0);
}

/* The key that ends the choosing, or 0. */
static int ending(const struct key *key, const char *keys, bool any)
{
	if (term_turns_back(key))
		return TERM_KEY_ESCAPE;
	if (key->kind == KEY_IS_CODE)
		return key->value == KEY_ENTER && any ? KEY_ENTER : 0;
	if (key->kind == KEY_IS_TEXT && key->value > 32 && key->value < 127 &&
	    strchr(keys, (int)key->value))
		return (int)key->value;
	return 0;
}

int list_choose(const char *title, const struct list_line *lines, size_t count, size_t *at,
                const char *keys, const char *key_line, const char *message)
{
	static const char no_key[] = "that key does nothing here: F1 or Ctrl-G shows those that do";
	struct list list = {0};
	bool idle = false;
	int end = 0;
	if (count && !open_list(&list, lines, count)) {
		close_list(&list);
		return TERM_KEY_ESCAPE;
	}
	if (count && *at < count)
		set_current_item(list.menu, list.items[*at]);
	if (count)
		leave_heading(&list, false);
	curs_set(0);
	while (!end) {
		struct key key;
		paint(&list, lines, title, key_line, idle ? no_key : message);
		key = term_key(list.pad ? list.pad : stdscr, -1);
		end = ending(&key, keys, count > 0);
		if (term_asks_help(&key))
			help(&list, lines, title, key_line);
		else if (key.kind == KEY_IS_TEXT || key.kind == KEY_IS_CODE)
			idle = !end &&
			       !(key.kind == KEY_IS_CODE && count && move_bar(&list, key.value));
	}
	curs_set(1);
	if (count)
		*at = (size_t)item_index(current_item(list.menu));
	close_list(&list);
	return end;
}
