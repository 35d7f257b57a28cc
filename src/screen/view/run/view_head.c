/* The head of a run's page, as a form. */
#include <string.h>

#include "rodbook/report/report.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* The day, and the texts. */
#define FIELDS (1 + BOOK_HEAD_TEXTS)

static const char *const labels[BOOK_HEAD_TEXTS] = {"Party", "Weather", "Instrument", "Rods",
                                                    "Datum", "Place",   "Purpose",    "Checked by"};
static const char *const hints[BOOK_HEAD_TEXTS] = {
    "Who observes, who records, who holds the rods.",
    "Sky, wind, temperature: in words.",
    "The level, with its serial number.",
    "The rods, with their numbers.",
    "What the elevations are above.",
    "Where it is: the site, the line.",
    "What it is leveled for.",
    "Who has checked the page.",
};

/* What is from another page, by name; "" where nothing is. */
static void say_carried(const struct work_head *head, char *text, size_t size)
{
	size_t used = 0;
	text[0] = '\0';
	for (int t = 0; t < BOOK_HEAD_TEXTS && used < size; t++)
		if (head->carried[t])
			used += (size_t)snprintf(text + used, size - used, "%s%s",
			                         used ? ", " : "carried over: ",
			                         report_head_word((enum book_head_text)t));
}

static bool read_form(const struct question questions[FIELDS], struct work_head *head,
                      struct fault *why)
{
	if (strlen(questions[0].text) != BOOK_DAY_BYTES - 1) {
		fault_say(why, FAULT_INPUT, "a day is written 2026-05-04");
		return fault_at(why, "day");
	}
	strcpy(head->day, questions[0].text);
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		snprintf(head->text[t], sizeof head->text[t], "%.*s", LEVEL_REMARK_BYTES - 1,
		         questions[1 + t].text);
	return true;
}

void view_head(struct book *book, const struct book_run_info *run, char *message, size_t size)
{
	struct question questions[FIELDS] = {
	    {"Day", "The day of the page.", "", BOOK_DAY_BYTES - 1, "day"}};
	char title[LEVEL_NAME_BYTES + 40];
	struct work_head head;
	struct fault why = {0};
	int cursor = 1;
	book_today(book, questions[0].text);
	if (!work_head(book, run->id, questions[0].text, &head, &why)) {
		snprintf(message, size, "%s", why.text);
		return;
	}
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++) {
		questions[1 + t] = (struct question){labels[t], hints[t], "", LEVEL_REMARK_CHARS,
		                                     book_head_name((enum book_head_text)t)};
		strcpy(questions[1 + t].text, head.text[t]);
	}
	say_carried(&head, message, size);
	/* A new day needs one look, and Enter. */
	if (*message)
		cursor = FIELDS - 1;
	snprintf(title, sizeof title, "The head of the page of %s", run->name);
	while (ask(title, questions, FIELDS, &cursor, message)) {
		if (read_form(questions, &head, &why) &&
		    work_head_set(book, run->id, &head, &why)) {
			snprintf(message, size, "the page of %s has its head for %s", run->name,
			         head.day);
			return;
		}
		snprintf(message, size, "%s", why.text);
		cursor = question_at(questions, FIELDS, &why, cursor);
	}
	message[0] = '\0';
}
