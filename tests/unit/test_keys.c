/* The table of keys: whole, each key once, and each one in the manual and on the help page. */
#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/key_table.h"
#include "suite.h"

/* Letters whose Ctrl is something else: Ctrl-B books, Ctrl-U empties a field; and to a terminal
 * Ctrl-H is Backspace, Ctrl-I Tab, Ctrl-J and Ctrl-M are Enter (ASCII). */
static const char taken[] = "buhijm";

static struct key control(char letter)
{
	return (struct key){.kind = KEY_IS_TEXT, .value = TERM_CTRL(letter)};
}

static struct key function_key(int number)
{
	return (struct key){.kind = KEY_IS_CODE, .value = (wint_t)KEY_F(number)};
}

START_TEST(each_action_is_whole)
{
	const struct action *a;
	for (size_t i = 0; (a = keys_action(i)); i++) {
		bool helped = false;
		for (int section = 0; section < HELP_SECTIONS; section++) {
			ck_assert(!a->help[section] || *a->help[section]);
			helped = helped || a->help[section];
		}
		ck_assert_msg(helped, "Ctrl-%c has no line on the help page", a->letter);
		ck_assert_msg(islower((unsigned char)(a->letter ? a->letter : a->menu)) ||
		                  a->menu == '/',
		              "action %zu has no letter", i);
		ck_assert(!a->letter != !a->menu);
		ck_assert(a->act != NULL);
		ck_assert(!a->bar || (*a->bar && a->function && a->on));
		ck_assert(a->bar || !a->on);
	}
	ck_assert(keys_action(0) != NULL);
}
END_TEST

/* The first action of a key is the one that has it: so no other one has it too. */
START_TEST(no_key_is_there_twice)
{
	const struct action *a;
	for (size_t i = 0; (a = keys_action(i)); i++) {
		struct key key = control(a->letter);
		if (a->letter) {
			ck_assert_msg(keys_find(&key) == a, "Ctrl-%c is there twice", a->letter);
			ck_assert_msg(!strchr(taken, a->letter), "Ctrl-%c is taken", a->letter);
		}
		/* and a letter of the help page */
		ck_assert(keys_lettered(a->letter ? a->letter : a->menu) == a);
		if (a->also) {
			key = control(a->also);
			ck_assert_msg(keys_find(&key) == a, "Ctrl-%c is there twice", a->also);
			ck_assert_msg(!strchr(taken, a->also), "Ctrl-%c is taken", a->also);
		}
		if (a->function) {
			key = function_key(a->function);
			ck_assert_msg(keys_find(&key) == a, "F%d is there twice", a->function);
		}
	}
}
END_TEST

START_TEST(what_is_no_key_of_the_table_is_found_nowhere)
{
	struct key pasted = control('n');
	struct key others[] = {{.kind = KEY_IS_TEXT, .value = 'n'},
	                       {.kind = KEY_IS_TEXT, .value = 0},
	                       {.kind = KEY_IS_CODE, .value = (wint_t)KEY_F(0)},
	                       {.kind = KEY_IS_CODE, .value = TERM_CTRL('n')},
	                       {.kind = KEY_IS_CODE, .value = KEY_UP},
	                       {.kind = KEY_IS_IDLE}};
	ck_assert(keys_find(&pasted) != NULL);
	pasted.pasted = true;
	ck_assert(keys_find(&pasted) == NULL);
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		ck_assert_msg(keys_find(&others[i]) == NULL, "other %zu", i);
}
END_TEST

/* A line of the help page begins with the keys and goes on with what they do. */
START_TEST(each_action_is_on_the_help_page)
{
	const struct action *a;
	char *page = help_text();
	ck_assert(page != NULL);
	for (size_t i = 0; (a = keys_action(i)); i++) {
		char keys[32], line[200];
		if (a->menu && a->function)
			snprintf(keys, sizeof keys, "F%-2d %c", a->function, a->menu);
		else if (a->menu)
			snprintf(keys, sizeof keys, "%c", a->menu);
		else if (a->function)
			snprintf(keys, sizeof keys, "F%-2d Ctrl-%c", a->function,
			         toupper((unsigned char)a->letter));
		else
			snprintf(keys, sizeof keys, "Ctrl-%c", toupper((unsigned char)a->letter));
		for (int section = 0; section < HELP_SECTIONS; section++) {
			if (!a->help[section])
				continue;
			snprintf(line, sizeof line, "\n  %-15s%.*s", keys,
			         (int)strcspn(a->help[section], "\n"), a->help[section]);
			ck_assert_msg(strstr(page, line) != NULL, "not on the help page: %s", line);
		}
	}
	free(page);
}
END_TEST

/* No line is broken in the smallest window, nor a row of the bar cut off. */
START_TEST(help_page_and_bar_fit_the_smallest_window)
{
	char bar[KEYS_BAR_BYTES], *page = help_text();
	ck_assert(page != NULL);
	for (const char *at = page; *at; at += strcspn(at, "\n") + 1)
		ck_assert_msg(strcspn(at, "\n") <= TERM_LEAST_COLUMNS - 2, "%.100s", at);
	free(page);
	for (int row = 0; row < 6; row++) {
		keys_bar((enum bar)(row / 2), row % 2, bar);
		ck_assert_msg(strlen(bar) <= TERM_LEAST_COLUMNS, "%s", bar);
	}
}
END_TEST

START_TEST(each_word_of_the_bar_is_in_it)
{
	const struct action *a;
	char bar[2][KEYS_BAR_BYTES], word[60];
	for (int on = BAR_NEW; on <= BAR_CLOSED; on++) {
		for (int row = 0; row < 2; row++)
			keys_bar((enum bar)on, row, bar[row]);
		for (size_t i = 0; (a = keys_action(i)); i++) {
			bool there;
			if (!a->bar)
				continue;
			if (a->letter)
				snprintf(word, sizeof word, " F%d/^%c %s", a->function,
				         toupper((unsigned char)a->letter), a->bar);
			else
				snprintf(word, sizeof word, " F%d %s", a->function, a->bar);
			there = strstr(bar[0], word) || strstr(bar[1], word);
			ck_assert_msg(there == ((a->on & 1u << on) != 0), "bar %d:%s", on, word);
			/* What changes a run is not offered where it is closed. */
			ck_assert(on != BAR_CLOSED || !there || a->allowed == ALLOWED_ALWAYS);
		}
	}
}
END_TEST

/* The manual's list of keys: ".It Ic F6 , Ctrl-N". */
static bool is_in_manual(FILE *manual, const struct action *a)
{
	char line[200], item[100];
	size_t used = (size_t)snprintf(item, sizeof item, ".It Ic ");
	if (a->function)
		used += (size_t)snprintf(item + used, sizeof item - used, "F%d , ", a->function);
	if (a->letter)
		used += (size_t)snprintf(item + used, sizeof item - used, "Ctrl-%c",
		                         toupper((unsigned char)a->letter));
	else if (a->function)
		item[used - strlen(" , ")] = '\0';
	else
		snprintf(item + used, sizeof item - used, "%c", a->menu);
	if (a->also)
		snprintf(item + used, sizeof item - used, " , Ctrl-%c",
		         toupper((unsigned char)a->also));
	rewind(manual);
	while (fgets(line, sizeof line, manual)) {
		line[strcspn(line, "\n")] = '\0';
		if (strcmp(line, item) == 0)
			return true;
	}
	return false;
}

START_TEST(each_action_is_in_the_manual)
{
	const struct action *a;
	char path[4096];
	FILE *manual;
	snprintf(path, sizeof path, "%s/../man/rodbook-editor.7", getenv("RODBOOK_DATA"));
	manual = fopen(path, "r");
	ck_assert_msg(manual != NULL, "%s", path);
	for (size_t i = 0; (a = keys_action(i)); i++)
		ck_assert_msg(is_in_manual(manual, a), "not in the manual: F%d, Ctrl-%c, %c",
		              a->function, toupper((unsigned char)a->letter), a->menu);
	fclose(manual);
}
END_TEST

int main(void)
{
	return RUN_TESTS("keys", each_action_is_whole, no_key_is_there_twice,
	                 what_is_no_key_of_the_table_is_found_nowhere,
	                 each_action_is_on_the_help_page, help_page_and_bar_fit_the_smallest_window,
	                 each_word_of_the_bar_is_in_it, each_action_is_in_the_manual);
}
