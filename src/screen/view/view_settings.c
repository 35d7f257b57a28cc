/* The book's settings. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

#define LINE_BYTES (BOOK_VALUE_BYTES + 200)

/* What a setting means; behind that its name in a command and its default, for F1. */
static void detail_of(const struct book_setting *setting, char *text, size_t size)
{
	size_t used = (size_t)snprintf(text, size, " %s\n  In a command: rodbook set BOOK %s VALUE",
	                               setting->what, setting->name);
	if (setting->initial && used < size)
		snprintf(text + used, size - used, "\n  The default: %s",
		         *setting->initial ? setting->initial : "empty");
}

/* Chooses a tolerance set, of the program or of the book; false when the user turned back. */
static bool choose_tolerance(struct book *book, char *value, size_t size)
{
	size_t known, own = 0, at = 0;
	const struct level_tolerance *sets = level_tolerances(&known);
	struct book_tolerance *list = NULL;
	struct fault why = {0};
	bool chosen = false;
	book_tolerances(book, &list, &own, &why);
	struct list_line *lines = calloc(known + own, sizeof *lines);
	char(*details)[200] = calloc(known + own, sizeof *details);

	for (size_t i = 0; lines && details && i < known + own; i++) {
		const struct level_tolerance *set = i < known ? &sets[i] : &list[i - known].set;
		snprintf(details[i], sizeof details[i], " %s", set->source);
		lines[i] = (struct list_line){set->name, set->title, details[i]};
		if (strcmp(set->name, value) == 0)
			at = i;
	}
	if (lines && details)
		chosen =
		    list_choose("The tolerance set", lines, known + own, &at, "",
		                " Up Down choose  Enter accept  Esc turn back", "") == KEY_ENTER;
	if (chosen)
		snprintf(value, size, "%s", lines[at].name);
	free(lines);
	free(details);
	free(list);
	return chosen;
}

static void ask_setting(struct book *book, const struct book_setting *setting, char *message,
                        size_t size)
{
	char title[80], hint[300];
	struct question question = {"Value", hint, "", 200, "value"};
	bool listed = strcmp(setting->name, "tolerance") == 0;
	struct fault why = {0};

	snprintf(title, sizeof title, "%s: the setting %s", setting->title, setting->name);
	detail_of(setting, hint, sizeof hint);
	snprintf(question.text, sizeof question.text, "%s", setting->value);
	message[0] = '\0';
	while (listed ? choose_tolerance(book, question.text, sizeof question.text)
	              : ask(title, &question, 1, NULL, message)) {
		if (book_set(book, setting->name, question.text, &why)) {
			snprintf(message, size, "%s is %.200s", setting->name, question.text);
			return;
		}
		snprintf(message, size, "%s", why.text);
		if (listed)
			return;
	}
	message[0] = '\0';
}

struct listed {
	struct book_setting setting;
	char text[LINE_BYTES], detail[300];
};

/* The settings below the headings of their groups: the lines of the list. Of a heading the setting
 * has no name. Returns how many lines there are. */
static size_t list_settings(struct book *book, struct listed *listed, struct list_line *lines,
                            char *message, size_t size)
{
	const char *group = NULL;
	size_t count = 0;
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_setting setting;
		struct fault why = {0};
		if (!book_setting(book, book_setting_listed(i), &setting, &why))
			snprintf(message, size, "%s", why.text);
		if (!group || strcmp(group, setting.group) != 0)
			lines[count++] = (struct list_line){setting.group, NULL, NULL};
		group = setting.group;
		listed[count].setting = setting;
		snprintf(listed[count].text, LINE_BYTES, "%-17s %s%s%s", setting.name,
		         setting.value, book_figure_unit(setting.name),
		         setting.is_default && *setting.value ? " (default)" : "");
		detail_of(&setting, listed[count].detail, sizeof listed[count].detail);
		lines[count] =
		    (struct list_line){setting.title, listed[count].text, listed[count].detail};
		count++;
	}
	return count;
}

void view_settings(struct book *book)
{
	/* As many headings as settings at most. */
	size_t room = 2 * book_setting_count(), at = 0;
	struct listed *listed = calloc(room, sizeof *listed);
	struct list_line *lines = calloc(room, sizeof *lines);
	char message[640] = "";
	int key = 0;

	while (listed && lines && key != TERM_KEY_ESCAPE) {
		size_t count = list_settings(book, listed, lines, message, sizeof message);
		key = list_choose("The settings of this book", lines, count, &at, "",
		                  " Up Down choose  Enter change  Esc turn back", message);
		if (key == KEY_ENTER && listed[at].setting.name)
			ask_setting(book, &listed[at].setting, message, sizeof message);
	}
	free(listed);
	free(lines);
}
