/* The book's settings. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

#define LINE_BYTES (BOOK_VALUE_BYTES + 200)

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
	struct question question = {"Value", setting->what, "", 200, "value"};
	bool listed = strcmp(setting->name, "tolerance") == 0;
	char title[80];
	struct fault why = {0};

	snprintf(title, sizeof title, "The setting %s", setting->name);
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

void view_settings(struct book *book)
{
	size_t count = book_setting_count(), at = 0;
	struct book_setting *settings = calloc(count, sizeof *settings);
	struct list_line *lines = calloc(count, sizeof *lines);
	char(*texts)[LINE_BYTES] = calloc(count, sizeof *texts);
	char(*details)[120] = calloc(count, sizeof *details);
	char message[640] = "";
	int key = 0;

	while (settings && lines && texts && details && key != TERM_KEY_ESCAPE) {
		struct fault why = {0};
		for (size_t i = 0; i < count; i++) {
			if (!book_setting(book, i, &settings[i], &why))
				snprintf(message, sizeof message, "%s", why.text);
			snprintf(texts[i], LINE_BYTES, "%s%s", settings[i].value,
			         settings[i].is_default && *settings[i].value ? "  (default)" : "");
			snprintf(details[i], sizeof details[i], " %s", settings[i].what);
			lines[i] = (struct list_line){settings[i].name, texts[i], details[i]};
		}
		key = list_choose("The settings of this book", lines, count, &at, "",
		                  " Up Down choose  Enter change  Esc turn back", message);
		if (key == KEY_ENTER)
			ask_setting(book, &settings[at], message, sizeof message);
	}
	free(settings);
	free(lines);
	free(texts);
	free(details);
}
