/* The book's settings. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/views.h"

#define LINE_BYTES (BOOK_VALUE_BYTES + 200)

static void ask_setting(struct book *book, const struct book_setting *setting, char *message,
                        size_t size)
{
	struct question question = {"Value", setting->what, "", 200};
	char title[80], hint[300];
	struct fault why = {0};

	snprintf(title, sizeof title, "The setting %s", setting->name);
	snprintf(hint, sizeof hint, "%s", setting->what);
	if (strcmp(setting->name, "tolerance") == 0) {
		size_t count;
		const struct level_tolerance *sets = level_tolerances(&count);
		strcpy(hint, "one of");
		for (size_t i = 0; i < count; i++)
			snprintf(hint + strlen(hint), sizeof hint - strlen(hint), " %s",
			         sets[i].name);
	}
	question.hint = hint;
	snprintf(question.text, sizeof question.text, "%s", setting->value);
	message[0] = '\0';
	while (ask(title, &question, 1, message)) {
		if (book_set(book, setting->name, question.text, &why)) {
			snprintf(message, size, "%s is kept", setting->name);
			return;
		}
		snprintf(message, size, "%s", why.text);
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
