/* A question with fields. */
#include <stdio.h>
#include <string.h>

#include "screen/view/views.h"

static const char bar[] =
    " Enter next, then accept  ^K/^B accept  Ctrl-U empty  Esc back\n"
    "  Enter             on to the next field; on the last one it accepts them all\n"
    "  Ctrl-K or Ctrl-B  accepts them all from any field\n"
    "  Esc               turns back: nothing is changed";

const char view_fields_keys[] =
    "  Tab Shift-Tab Up Down               another field\n"
    "  Home End Left Right Backspace Del   within a field\n"
    "  Ctrl-U            empties the field\n"
    "  F1 or Ctrl-G      this page; again, Esc or Enter: back\n"
    "What is typed first in a field takes the place of what it holds.\n";

static void paint(struct fields *fields, const char *title, const struct question *questions,
                  int count, const char *message)
{
	if (!term_begin_page(title))
		return;
	for (int i = 0; i < count; i++)
		if (i == fields_focus(fields))
			view_first_line(3 + count, 3, A_NORMAL, questions[i].hint);
	term_message(LINES - 3, 2, A_BOLD, message);
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(fields, 2);
	doupdate();
}

static void help(const struct fields *fields, const char *title, const struct question *questions)
{
	const struct question *q = &questions[fields_focus(fields)];
	view_hints(title, &(struct hints){q->label, "", q->hint, bar, view_fields_keys});
}

int question_at(const struct question *questions, int count, const struct fault *why, int at)
{
	for (int i = 0; i < count; i++)
		if (why->field && questions[i].field && strcmp(why->field, questions[i].field) == 0)
			return i;
	return at;
}

bool ask(const char *title, struct question *questions, int count, int *at, const char *message)
{
	struct field_place places[FIELDS_MOST] = {0};
	const char *texts[FIELDS_MOST] = {0};
	struct fields *fields;
	bool accepted = false, asking = true, typed = false, dropping = false;

	for (int i = 0; i < count; i++) {
		places[i] =
		    (struct field_place){i, 1, 18, 60, questions[i].most, questions[i].label};
		texts[i] = questions[i].text;
	}
	fields = fields_open(count, places, count, texts);
	if (!fields)
		return false;
	fields_go(fields, at ? *at : 0);
	/* Asked again after a refusal. */
	typed = *message && *questions[at ? *at : 0].text;
	while (asking) {
		struct key key;
		paint(fields, title, questions, count, message);
		switch (fields_read(fields, &key)) {
		case FIELDS_DONE:
		case FIELDS_ACCEPT:
			accepted = true;
			asking = false;
			break;
		case FIELDS_BACK:
			/* One key must not drop several answers. */
			asking = typed && !dropping && count > 1;
			dropping = true;
			if (asking)
				message = "Esc again drops what is typed; Ctrl-K accepts it";
			break;
		case FIELDS_GONE:
			asking = false;
			break;
		case FIELDS_HELP:
			help(fields, title, questions);
			break;
		case FIELDS_REFUSED:
			message = "that cannot stand here";
			break;
		case FIELDS_TYPED:
			typed = true;
			dropping = false;
			message = "";
			break;
		default:
			break;
		}
	}
	for (int i = 0; accepted && i < count; i++)
		fields_text(fields, i, questions[i].text, sizeof questions[i].text);
	if (at)
		*at = fields_focus(fields);
	fields_close(fields);
	return accepted;
}

bool ask_reason(const char *title, const char *hint, char reason[LEVEL_REMARK_BYTES],
                const char *message)
{
	struct question question = {"Reason", hint, "", LEVEL_REMARK_CHARS, "reason"};
	if (!ask(title, &question, 1, NULL, message))
		return false;
	snprintf(reason, LEVEL_REMARK_BYTES, "%.*s", LEVEL_REMARK_BYTES - 1, question.text);
	return true;
}

void ask_strike(struct book *book, int64_t run, int64_t id, const char *title, strike_entry *strike,
                char *message, size_t size)
{
	char reason[LEVEL_REMARK_BYTES];
	struct fault why = {0};
	while (ask_reason(title, "Why it is struck; it stays legible.", reason, message)) {
		if (strike(book, run, id, reason, &why)) {
			snprintf(message, size, "struck; it stays in the list");
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}
