/* A question with fields. */
#include <stdio.h>
#include <string.h>

#include "rodbook/level/time.h"
#include "rodbook/work/next.h"
#include "screen/view/views.h"

#define HINT_BYTES 400

static const char bar[] =
    " Enter next, then accept  ^K/^B accept  Ctrl-U empty  Esc back\n"
    "  Enter             on to the next field; on the last one, and at Reading, it\n"
    "                    accepts them all\n"
    "  Ctrl-K or Ctrl-B  accepts them all from any field\n"
    "  Esc               turns back: nothing is changed";

const char view_fields_keys[] =
    "  Tab Shift-Tab Up Down               another field\n"
    "  Home End Left Right Backspace Del   within a field\n"
    "  Ctrl-U            empties the field\n"
    "  F1 or Ctrl-G      this page; again, Esc or Enter: back\n"
    "What is typed first in a field takes the place of what it holds.\n";

static bool is_field(const struct question *q, const char *field)
{
	return q->field && strcmp(q->field, field) == 0;
}

/* What a question is; a time over another one is of its day. */
static const char *hint_of(const struct question *q, char text[HINT_BYTES])
{
	if (!is_field(q, "time") || !level_is_time(q->text))
		return q->hint;
	snprintf(text, HINT_BYTES, "When: 09:30 of %.10s, or with its own day; empty: now.%s",
	         q->text, strchr(q->hint, '\n'));
	return text;
}

static void paint(struct fields *fields, const char *title, const struct question *questions,
                  int count, const char *message)
{
	char hint[HINT_BYTES];
	if (!term_begin_page(title))
		return;
	for (int i = 0; i < count; i++)
		if (i == fields_focus(fields))
			view_first_line(3 + count, 3, A_NORMAL, hint_of(&questions[i], hint));
	term_message(LINES - 3, 2, A_BOLD, message);
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(fields, 2);
	doupdate();
}

static void help(const struct fields *fields, const char *title, const struct question *questions)
{
	const struct question *q = &questions[fields_focus(fields)];
	char hint[HINT_BYTES];
	view_hints(title, &(struct hints){q->label, "", hint_of(q, hint), bar, view_fields_keys});
}

/* The answer in a field. */
static void take(const struct fields *fields, int i, const struct question *q, char *out,
                 size_t size)
{
	char typed[BOOK_TIME_BYTES], time[BOOK_TIME_BYTES];
	if (!is_field(q, "time")) {
		fields_text(fields, i, out, size);
		return;
	}
	fields_text(fields, i, typed, sizeof typed);
	work_time_over(q->text, typed, time);
	snprintf(out, size, "%s", time);
}

/* A time that cannot be one is refused where it was typed: the cursor stays there. */
static bool may_leave(struct fields *fields, int left, const struct question *q, struct fault *why)
{
	char text[BOOK_TIME_BYTES];
	if (!is_field(q, "time"))
		return true;
	take(fields, left, q, text, sizeof text);
	if (book_check_time(text, why))
		return true;
	fields_go(fields, left);
	return false;
}

/* Enter at the reading; the cursor stays there. */
static bool is_accepting(struct fields *fields, int left, const struct question *q,
                         const struct key *key)
{
	bool accepting =
	    is_field(q, "reading") && key->kind == KEY_IS_CODE && key->value == KEY_ENTER;
	if (accepting)
		fields_go(fields, left);
	return accepting;
}

int question_at(const struct question *questions, int count, const struct fault *why, int at)
{
	for (int i = 0; i < count; i++)
		if (why->field && questions[i].field && strcmp(why->field, questions[i].field) == 0)
			return i;
	return at;
}

bool question_move_reading(struct question *station, struct question *reading, const char *stood)
{
	if (*reading->text || strcmp(station->text, stood) == 0 ||
	    !level_is_like_reading(station->text))
		return false;
	strcpy(reading->text, station->text);
	snprintf(station->text, sizeof station->text, "%s", stood);
	return true;
}

bool ask(const char *title, struct question *questions, int count, int *at, const char *message)
{
	struct field_place places[FIELDS_MOST] = {0};
	const char *texts[FIELDS_MOST] = {0};
	struct fields *fields;
	struct fault why = {0};
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
		int left = fields_focus(fields);
		paint(fields, title, questions, count, message);
		switch (fields_read(fields, &key)) {
		case FIELDS_MOVED:
			if (is_accepting(fields, left, &questions[left], &key)) {
				accepted = true;
				asking = false;
			} else if (left != fields_focus(fields) &&
			           !may_leave(fields, left, &questions[left], &why)) {
				message = why.text;
			}
			break;
		case FIELDS_DONE:
		case FIELDS_ACCEPT:
			accepted = may_leave(fields, left, &questions[left], &why);
			asking = !accepted;
			message = accepted ? message : why.text;
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
		take(fields, i, &questions[i], questions[i].text, sizeof questions[i].text);
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
