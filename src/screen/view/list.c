/* A list to choose from, in ncurses' menu library. */
#include <limits.h>
#include <menu.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>
#include <wctype.h>

#include "screen/view/views.h"

#define TEXT_BYTES 800

struct list {
	ITEM **items;
	MENU *menu;
	WINDOW *pad;
	char (*texts)[TEXT_BYTES]; /* of the items: names and descriptions by turns */
	int rows;
};

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

static bool open_list(struct list *list, const struct list_line *lines, size_t count)
{
	*list = (struct list){.rows = (int)count};
	list->items = calloc(count + 1, sizeof(ITEM *));
	list->pad = newpad((int)count + 1, 1000);
	list->texts = calloc(2 * count + 2, sizeof *list->texts);
	if (!list->items || !list->pad || !list->texts)
		return false;
	for (size_t i = 0; i < count; i++) {
		printable(lines[i].name, list->texts[2 * i]);
		printable(lines[i].text, list->texts[2 * i + 1]);
		list->items[i] = new_item(list->texts[2 * i], list->texts[2 * i + 1]);
		if (!list->items[i])
			return false;
	}
	list->menu = new_menu(list->items);
	if (!list->menu)
		return false;
	set_menu_win(list->menu, list->pad);
	set_menu_sub(list->menu, list->pad);
	set_menu_format(list->menu, (int)count, 1);
	set_menu_mark(list->menu, "> ");
	set_menu_spacing(list->menu, 2, 1, 1);
	return post_menu(list->menu) == E_OK;
}

static void paint(struct list *list, const struct list_line *lines, const char *title,
                  const char *key_line, const char *message)
{
	int room = LINES - 8, at = 0, first;
	if (!term_begin_page(title))
		return;
	if (list->menu) {
		at = item_index(current_item(list->menu));
		if (lines[at].detail)
			term_message(LINES - 5, 2, A_NORMAL, lines[at].detail);
	}
	term_message(LINES - 3, 2, A_BOLD, message);
	term_bar(LINES - 1, A_NORMAL, key_line);
	wnoutrefresh(stdscr);
	if (list->menu) {
		first = at < room ? 0 : at - room + 1;
		pos_menu_cursor(list->menu);
		pnoutrefresh(list->pad, first, 0, 2, 1,
		             list->rows - first < room ? 1 + list->rows - first : 1 + room,
		             COLS - 2);
	}
	doupdate();
}

static void move_bar(struct list *list, wint_t code)
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
		break;
	}
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
	struct list list = {0};
	int end = 0;
	if (count && !open_list(&list, lines, count)) {
		close_list(&list);
		return TERM_KEY_ESCAPE;
	}
	if (count && *at < count)
		set_current_item(list.menu, list.items[*at]);
	curs_set(0);
	while (!end) {
		struct key key;
		paint(&list, lines, title, key_line, message);
		key = term_key(list.pad ? list.pad : stdscr, -1);
		if (key.kind == KEY_IS_CODE && count)
			move_bar(&list, key.value);
		end = ending(&key, keys, count > 0);
	}
	curs_set(1);
	if (count)
		*at = (size_t)item_index(current_item(list.menu));
	close_list(&list);
	return end;
}
