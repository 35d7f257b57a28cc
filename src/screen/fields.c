#include "screen/fields.h"

#include <form.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>
#include <wctype.h>

#define PAD_COLUMNS TERM_LEAST_COLUMNS
/* Up to so many characters a field holds a number or a word of a list, never one of two cells. */
#define CODE_MOST 24

struct fields {
	bool fresh; /* the field was just come to: typing replaces what it holds */
	const struct field_place *places;
	int count, rows;
	WINDOW *pad;
	FORM *form;
	FIELD *field[FIELDS_MOST + 1];
	char **text; /* of each, as it was read last; NULL: it may have changed since */
};

static void changed(struct fields *f, int i)
{
	free(f->text[i]);
	f->text[i] = NULL;
}

/* Room for more than is seen, two cells a character. All of it at once, for a field that grows
 * while it is typed in loses characters of two cells. */
static void make_room(FIELD *field, int characters)
{
	char blanks[512];
	int cells = 2 * characters < (int)sizeof blanks ? 2 * characters : (int)sizeof blanks - 1;
	field_opts_off(field, O_STATIC);
	set_max_field(field, cells);
	memset(blanks, ' ', sizeof blanks);
	blanks[cells] = '\0';
	set_field_buffer(field, 0, blanks);
}

static bool make_fields(struct fields *f, const char *const *texts)
{
	for (int i = 0; i < f->count; i++) {
		const struct field_place *p = &f->places[i];
		FIELD *field = new_field(1, p->width, p->row, p->column, 0, 0);
		if (!field)
			return false;
		f->field[i] = field;
		/* A blank wipes nothing, and nothing moves on by itself. */
		field_opts_off(field, O_BLANK | O_AUTOSKIP);
		if (p->most > p->width || (p->most > CODE_MOST && 2 * p->most > p->width))
			make_room(field, p->most);
		set_field_buffer(field, 0, texts[i]);
	}
	return true;
}

struct fields *fields_open(int rows, const struct field_place *places, int count,
                           const char *const *texts)
{
	struct fields *f = count <= FIELDS_MOST ? calloc(1, sizeof *f) : NULL;
	if (!f)
		return NULL;
	f->places = places;
	f->count = count;
	f->rows = rows;
	f->pad = newpad(rows, PAD_COLUMNS);
	f->text = calloc((size_t)count, sizeof *f->text);
	if (!f->pad || !f->text || !make_fields(f, texts) || !(f->form = new_form(f->field))) {
		fields_close(f);
		return NULL;
	}
	form_opts_off(f->form, O_BS_OVERLOAD);
	set_form_win(f->form, f->pad);
	set_form_sub(f->form, f->pad);
	post_form(f->form);
	fields_go(f, 0);
	return f;
}

void fields_close(struct fields *f)
{
	if (!f)
		return;
	if (f->form) {
		unpost_form(f->form);
		free_form(f->form);
	}
	for (int i = 0; i < f->count && f->text; i++)
		changed(f, i);
	for (int i = 0; i < f->count && f->field[i]; i++)
		free_field(f->field[i]);
	free(f->text);
	if (f->pad)
		delwin(f->pad);
	free(f);
}

/* Without the blanks that the library fills a field with. Each of its answers is a conversion of
 * the whole field, so only those that may have changed are asked for; where memory is short for
 * keeping one it is asked for again. */
static const char *text_of(const struct fields *f, int i, size_t *length)
{
	const char *text = f->text[i];
	if (!text) {
		form_driver(f->form, REQ_VALIDATION);
		text = field_buffer(f->field[i], 0);
		text = text ? text + strspn(text, " ") : "";
	}
	*length = strlen(text);
	while (*length && text[*length - 1] == ' ')
		--*length;
	if (!f->text[i])
		f->text[i] = strndup(text, *length);
	return f->text[i] ? f->text[i] : text;
}

void fields_text(const struct fields *f, int i, char *out, size_t size)
{
	size_t length;
	const char *text = text_of(f, i, &length);
	if (length >= size) {
		length = size - 1;
		while (length && ((unsigned char)text[length] & 0xc0) == 0x80)
			length--;
	}
	memcpy(out, text, length);
	out[length] = '\0';
}

void fields_set(struct fields *f, int i, const char *text)
{
	changed(f, i);
	set_field_buffer(f->field[i], 0, text);
	form_driver(f->form, REQ_END_LINE);
}

int fields_focus(const struct fields *f)
{
	return field_index(current_field(f->form));
}

void fields_go(struct fields *f, int i)
{
	set_current_field(f->form, f->field[i]);
	form_driver(f->form, REQ_END_LINE);
	f->fresh = true;
}

void fields_continue(struct fields *f)
{
	f->fresh = false;
}

bool fields_are_fresh(const struct fields *f)
{
	return f->fresh;
}

static enum field_answer step(struct fields *f, int by)
{
	fields_go(f, (fields_focus(f) + by + f->count) % f->count);
	return FIELDS_MOVED;
}

/* Whether the field in focus has all the characters it may have. */
static bool is_full(const struct fields *f)
{
	char text[1024];
	int count = 0, focus = fields_focus(f);
	fields_text(f, focus, text, sizeof text);
	for (const char *at = text; *at; at++)
		count += (*at & 0xc0) != 0x80;
	return count >= f->places[focus].most;
}

/* What stands in the field in focus, filled up with blanks; *at: its bytes before the cursor. */
static const char *at_cursor(const struct fields *f, size_t *at)
{
	mbstate_t state = {0};
	const char *text;
	*at = 0;
	form_driver(f->form, REQ_VALIDATION);
	text = field_buffer(current_field(f->form), 0);
	for (int cells = 0; text && text[*at] && cells < f->form->curcol;) {
		wchar_t wide;
		size_t size = mbrtowc(&wide, text + *at, MB_CUR_MAX, &state);
		if (size == 0 || size > MB_CUR_MAX)
			break;
		cells += wcwidth(wide) > 0 ? wcwidth(wide) : 0;
		*at += size;
	}
	return text ? text : "";
}

bool fields_behind_blank(const struct fields *f)
{
	size_t at;
	const char *text = at_cursor(f, &at);
	return !f->fresh && at > 0 && text[at - 1] == ' ';
}

/* Whether nothing but the blanks that fill the field stands behind the cursor. */
static bool at_end(const struct fields *f)
{
	size_t at;
	const char *text = at_cursor(f, &at);
	return text[at + strspn(text + at, " ")] == '\0';
}

enum field_answer fields_type(struct fields *f, wint_t typed)
{
	/* What has no width would slide onto the next cell. */
	if (!iswprint(typed) || wcwidth((wchar_t)typed) < 1)
		return FIELDS_REFUSED;
	if (f->fresh) {
		changed(f, fields_focus(f));
		form_driver(f->form, REQ_CLR_FIELD);
	}
	f->fresh = false;
	if (is_full(f))
		return FIELDS_REFUSED;
	changed(f, fields_focus(f));
	return form_driver_w(f->form, OK, (wchar_t)typed) == E_OK ? FIELDS_TYPED : FIELDS_REFUSED;
}

static enum field_answer edit(struct fields *f, int request, enum field_answer answer)
{
	f->fresh = false;
	changed(f, fields_focus(f));
	form_driver(f->form, request);
	return answer;
}

static enum field_answer code_key(struct fields *f, wint_t code)
{
	switch (code) {
	case KEY_ENTER:
		return fields_focus(f) == f->count - 1 ? FIELDS_DONE : step(f, 1);
	case TERM_KEY_PLUS:
		return fields_type(f, '+');
	case KEY_BTAB:
		return step(f, -1);
	case KEY_LEFT:
		return edit(f, REQ_PREV_CHAR, FIELDS_MOVED);
	case KEY_RIGHT:
		/* Beyond the text a blank would come between it and what is typed. */
		return edit(f, at_end(f) ? REQ_END_LINE : REQ_NEXT_CHAR, FIELDS_MOVED);
	case KEY_HOME:
		return edit(f, REQ_BEG_LINE, FIELDS_MOVED);
	case KEY_END:
		return edit(f, REQ_END_LINE, FIELDS_MOVED);
	case KEY_BACKSPACE:
		return edit(f, REQ_DEL_PREV, FIELDS_TYPED);
	case KEY_DC:
		return edit(f, REQ_DEL_CHAR, FIELDS_TYPED);
	default:
		return FIELDS_IGNORED;
	}
}

enum field_answer fields_key(struct fields *f, const struct key *key)
{
	if (key->kind == KEY_IS_CODE)
		return code_key(f, key->value);
	/* A line end or a tab in what is pasted parts two things: it must not join them. */
	if (key->pasted)
		return fields_type(f, key->value < 32 ? ' ' : key->value);
	if (key->value == '\t')
		return step(f, 1);
	if (key->value == TERM_CTRL('u'))
		return edit(f, REQ_CLR_FIELD, FIELDS_TYPED);
	return key->value < 32 ? FIELDS_IGNORED : fields_type(f, key->value);
}

enum field_answer fields_read(struct fields *f, struct key *key)
{
	*key = term_key(f->pad, -1);
	if (key->kind == KEY_IS_GONE)
		return FIELDS_GONE;
	if (key->kind == KEY_IS_RESIZED)
		return FIELDS_RESIZED;
	/* A multiplexer may take the first. */
	if (term_is_control(key, 'b') || term_is_control(key, 'k'))
		return FIELDS_ACCEPT;
	if (term_asks_help(key))
		return FIELDS_HELP;
	if (key->kind == KEY_IS_CODE && key->value == TERM_KEY_ESCAPE)
		return FIELDS_BACK;
	if (key->kind == KEY_IS_CODE && (key->value == KEY_DOWN || key->value == KEY_UP))
		return step(f, key->value == KEY_DOWN ? 1 : -1);
	return fields_key(f, key);
}

void fields_show(struct fields *f, int row)
{
	int focus = fields_focus(f);
	wbkgdset(f->pad, getbkgd(stdscr));
	for (int i = 0; i < f->count; i++) {
		wattrset(f->pad, i == focus ? A_BOLD : A_NORMAL);
		mvwaddstr(f->pad, f->places[i].row, f->places[i].label, f->places[i].name);
		wattrset(f->pad, A_NORMAL);
		set_field_back(f->field[i], i == focus ? A_REVERSE : A_UNDERLINE);
	}
	pos_form_cursor(f->form);
	pnoutrefresh(f->pad, 0, 0, row, 0, row + f->rows - 1,
	             COLS < PAD_COLUMNS ? COLS - 1 : PAD_COLUMNS - 1);
}

WINDOW *fields_window(struct fields *f)
{
	return f->pad;
}
