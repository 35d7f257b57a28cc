/* A text that json_object() made of a row has its columns in the table's order, without blanks.
 * Most have no escapes either: then two values are the same where their bytes are. */
#include "book/journal/row_text.h"

#include <string.h>

/* More digits may not fit into an integer of SQLite. */
#define DIGITS_MOST 18

/* Moves *at behind a plain value. */
static bool take_value(const char **at, struct row_value *out)
{
	const char *from = *at, *digits = *from == '-' ? from + 1 : from;
	if (*from == '"') {
		*out = (struct row_value){ROW_TEXT, from + 1, strcspn(from + 1, "\"\\")};
		*at = out->text + out->length + 1;
		return out->text[out->length] == '"';
	}
	if (strncmp(from, "null", 4) == 0) {
		*out = (struct row_value){0};
		*at = from + 4;
		return true;
	}
	*at = digits + strspn(digits, "0123456789");
	*out = (struct row_value){ROW_NUMBER, from, (size_t)(*at - from)};
	if (*digits == '0')
		return *at == digits + 1 && digits == from;
	return *at > digits && *at - digits <= DIGITS_MOST;
}

/* The value of this column, if it comes next; *at stands on the mark before its name. */
static bool take_column(const char **at, const char *name, struct row_value *out, bool *has)
{
	size_t length = strlen(name);
	const char *key = *at + 1;
	*has = (**at == '{' || **at == ',') && *key == '"' && strncmp(key + 1, name, length) == 0 &&
	       strncmp(key + 1 + length, "\":", 2) == 0;
	if (!*has)
		return true;
	*at = key + length + 3;
	return take_value(at, out) && (**at == ',' || **at == '}');
}

/* What a text of an older version stands for where it lacks the column. */
static bool take_default(const struct column *column, struct row_value *out)
{
	const char *fallback = column->later ? column->fallback : NULL;
	size_t length = fallback ? strlen(fallback) : 0;
	*out = (struct row_value){0};
	if (!fallback)
		return true;
	*out = (struct row_value){ROW_NUMBER, fallback, length};
	if (length == strspn(fallback, "0123456789"))
		return length == 1;
	*out = (struct row_value){ROW_TEXT, fallback + 1, length - 2};
	return length >= 2 && *fallback == '\'' && strcspn(fallback + 1, "'\"\\") == length - 2 &&
	       fallback[length - 1] == '\'';
}

static bool same(const struct row_value *a, const struct row_value *b)
{
	return a->kind == b->kind && a->length == b->length &&
	       (!a->length || memcmp(a->text, b->text, a->length) == 0);
}

static bool is_read(const char *at)
{
	return at[0] == '}' && at[1] == '\0';
}

bool row_differences(const struct table *of, const char *one, const char *other,
                     struct row_difference out[ROW_DIFFERENCES_MOST], size_t *count)
{
	*count = 0;
	if (of->columns > ROW_DIFFERENCES_MOST || (one && *one != '{') || *other != '{')
		return false;
	for (size_t i = 0; i < of->columns; i++) {
		struct row_difference *next = &out[*count];
		bool has_one = false, has_other;
		*next = (struct row_difference){.column = of->column[i].name};
		if ((one && !take_column(&one, next->column, &next->before, &has_one)) ||
		    !take_column(&other, next->column, &next->after, &has_other) ||
		    (has_one && !has_other) ||
		    (!has_one && has_other && !take_default(&of->column[i], &next->before)))
			return false;
		*count += has_other && !same(&next->before, &next->after);
	}
	return (!one || is_read(one)) && is_read(other);
}
