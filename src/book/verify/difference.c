#include "book/verify/difference.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "book/journal/entries.h"

bool differs(struct book_verified *out, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	if (!*out->difference)
		vsnprintf(out->difference, sizeof out->difference, format, list);
	va_end(list);
	return true;
}

/* A value as a message shows it: cut, in quotes where it is no number. */
static void show(char out[PART_BYTES], sqlite3_stmt *statement, int column)
{
	char text[PART_CHARS + 1];
	const char *value = (const char *)sqlite3_column_text(statement, column);
	int type = sqlite3_column_type(statement, column);
	level_show_text(text, sizeof text, value ? value : "", false);
	if (type == SQLITE_NULL)
		strcpy(out, "nothing");
	else if (type == SQLITE_TEXT && value)
		snprintf(out, PART_BYTES, "\"%s%s\"", text,
		         strlen(value) > PART_CHARS ? "..." : "");
	else
		snprintf(out, PART_BYTES, "%s", text);
}

bool first_difference(struct book *book, const char *table, const char *one, const char *other,
                      bool *found, char column[60], char a[PART_BYTES], char b[PART_BYTES],
                      struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = entry_differences(book, table, one, other, why);
	if (!statement)
		return false;
	*found = sql_row(book, statement, &ok, why);
	if (*found) {
		const char *key = (const char *)sqlite3_column_text(statement, 0);
		level_show_text(column, 60, key ? key : "", false);
		show(a, statement, 1);
		show(b, statement, 2);
	}
	return sql_done(book, statement, ok, why);
}
