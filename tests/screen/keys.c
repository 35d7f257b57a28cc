#include "keys.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
	const char *name;
	VTermKey key;
} names[] = {
    {"Enter", VTERM_KEY_ENTER},
    {"Tab", VTERM_KEY_TAB},
    {"Esc", VTERM_KEY_ESCAPE},
    {"Backspace", VTERM_KEY_BACKSPACE},
    {"Up", VTERM_KEY_UP},
    {"Down", VTERM_KEY_DOWN},
    {"Left", VTERM_KEY_LEFT},
    {"Right", VTERM_KEY_RIGHT},
    {"Ins", VTERM_KEY_INS},
    {"Del", VTERM_KEY_DEL},
    {"Home", VTERM_KEY_HOME},
    {"End", VTERM_KEY_END},
    {"PgUp", VTERM_KEY_PAGEUP},
    {"PgDn", VTERM_KEY_PAGEDOWN},
    {"KpEnter", VTERM_KEY_KP_ENTER},
    {"KpPlus", VTERM_KEY_KP_PLUS},
    {"KpMinus", VTERM_KEY_KP_MINUS},
    {"KpMult", VTERM_KEY_KP_MULT},
    {"KpDivide", VTERM_KEY_KP_DIVIDE},
    {"KpPoint", VTERM_KEY_KP_PERIOD},
    {"KpComma", VTERM_KEY_KP_COMMA},
};

void keys_type(struct term *t, const char *text, size_t size)
{
	term_ready_for_key(t);
	term_put(t, text, size);
	term_serve(t, 0);
}

static VTermKey find(const char *name)
{
	int number, end = 0;
	if (sscanf(name, "F%d%n", &number, &end) == 1 && name[end] == '\0' && number >= 1 &&
	    number <= 24)
		return (VTermKey)VTERM_KEY_FUNCTION(number);
	if (sscanf(name, "Kp%1d%n", &number, &end) == 1 && name[end] == '\0')
		return VTERM_KEY_KP_0 + (unsigned)number;
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (strcmp(names[i].name, name) == 0)
			return names[i].key;
	return VTERM_KEY_NONE;
}

/* Takes a "quoted text" with \n \t \e \" \\ in it; returns its size, or -1. */
static long unquote(const char *quoted, char *text)
{
	static const char escapes[] = "n\nt\te\033\"\"\\\\";
	char *at = text;
	size_t size = strlen(quoted);

	if (size < 2 || quoted[0] != '"' || quoted[size - 1] != '"')
		return -1;
	for (size_t i = 1; i < size - 1; i++) {
		if (quoted[i] != '\\') {
			*at++ = quoted[i];
			continue;
		}
		i++;
		const char *escape = NULL;
		for (const char *e = escapes; *e != '\0'; e += 2)
			if (*e == quoted[i])
				escape = e;
		if (escape == NULL || i == size - 1)
			return -1;
		*at++ = escape[1];
	}
	return at - text;
}

static bool paste(struct term *t, const char *quoted)
{
	char *text = malloc(strlen(quoted) + 1);
	if (text == NULL)
		abort();
	long size = unquote(quoted, text);
	if (size >= 0) {
		term_ready_for_key(t);
		vterm_keyboard_start_paste(t->vt);
		term_put(t, text, (size_t)size);
		vterm_keyboard_end_paste(t->vt);
		term_serve(t, 0);
	}
	free(text);
	return size >= 0;
}

/* One named key, without its angle brackets; false when there is none of that name. */
static bool press(struct term *t, const char *name)
{
	VTermModifier modifier = VTERM_MOD_NONE;
	VTermKey key;

	if (strncmp(name, "Paste:", 6) == 0)
		return paste(t, name + 6);
	if (strcmp(name, "Space") == 0) {
		keys_type(t, " ", 1);
		return true;
	}
	if (strncmp(name, "Ctrl-", 5) == 0 && name[5] >= '@' && name[5] <= 'z' && name[6] == '\0') {
		keys_type(t, &(char){name[5] & 0x1f}, 1);
		return true;
	}
	if (strncmp(name, "Alt-", 4) == 0 && name[4] != '\0' && name[5] == '\0') {
		keys_type(t, (char[]){'\033', name[4]}, 2);
		return true;
	}
	if (strcmp(name, "BackTab") == 0)
		name = "ShiftTab";
	if (strncmp(name, "Ctrl", 4) == 0) {
		modifier = VTERM_MOD_CTRL;
		name += 4;
	} else if (strncmp(name, "Shift", 5) == 0) {
		modifier = VTERM_MOD_SHIFT;
		name += 5;
	}
	key = find(name);
	if (key == VTERM_KEY_NONE)
		return false;
	term_ready_for_key(t);
	vterm_keyboard_key(t->vt, key, modifier);
	term_serve(t, 0);
	t->after_escape = key == VTERM_KEY_ESCAPE;
	return true;
}

/* The end of the token: the next blank, but that of a quoted paste is inside. */
static const char *token_end(const char *token)
{
	bool quoted = false;
	if (strncmp(token, "<Paste:\"", 8) != 0)
		return token + strcspn(token, " \t");
	for (; *token != '\0' && (quoted || *token != ' '); token++) {
		if (*token == '\\' && token[1] != '\0')
			token++;
		else if (*token == '"')
			quoted = !quoted;
	}
	return token;
}

const char *keys_send(struct term *t, const char *tokens)
{
	static char wrong[200];

	for (const char *token = tokens + strspn(tokens, " \t"); *token != '\0';) {
		const char *end = token_end(token);
		size_t size = (size_t)(end - token);
		char *word = strndup(token, size);

		if (word == NULL)
			abort();
		if (size > 2 && token[0] == '<' && token[size - 1] == '>') {
			word[size - 1] = '\0';
			if (!press(t, word + 1)) {
				snprintf(wrong, sizeof wrong, "no key is named <%s>", word + 1);
				free(word);
				return wrong;
			}
		} else {
			keys_type(t, word, size);
		}
		free(word);
		token = end + strspn(end, " \t");
	}
	return term_flush(t) ? NULL : "the program does not read its keys";
}
