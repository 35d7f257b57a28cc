/* The digest of a journal, and how it is published. */
#include <ctype.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/journal/digest.h"
#include "book/journal/entries.h"
#include "rodbook/book/journal.h"

/* A count in decimal digits, and a colon. */
static void add_length(struct digest *digest, size_t length)
{
	char text[24];
	size_t at = sizeof text;
	text[--at] = ':';
	do
		text[--at] = (char)('0' + length % 10);
	while (length /= 10);
	digest_add(digest, text + at, sizeof text - at);
}

/* rodbook.5 documents this: the digest before and a line end, then each column as its length in
 * bytes, a colon, the bytes and a line end; a NULL as a dash and a line end. */
void digest_entry(char hex[DIGEST_BYTES], sqlite3_stmt *statement)
{
	struct digest digest;
	digest_begin(&digest);
	digest_add(&digest, hex, DIGEST_BYTES - 1);
	digest_add(&digest, "\n", 1);
	for (int i = 0; i < ENTRY_COLUMNS; i++) {
		const char *text = (const char *)sqlite3_column_text(statement, i);
		size_t size = (size_t)sqlite3_column_bytes(statement, i);
		if (text) {
			add_length(&digest, size);
			digest_add(&digest, text, size);
		} else {
			digest_add(&digest, "-", 1);
		}
		digest_add(&digest, "\n", 1);
	}
	digest_end(&digest, hex);
}

bool book_witness(struct book *book, struct book_witness *out, struct fault *why)
{
	return book_witness_at(book, INT64_MAX, out, why);
}

bool book_witness_at(struct book *book, int64_t seq, struct book_witness *out, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              "SELECT seq, action, time, act, run, tbl, row, before, after, undoes FROM "
	              "journal WHERE seq<=?1 ORDER BY seq",
	              "i", seq);
	*out = (struct book_witness){0};
	memset(out->digest, '0', DIGEST_BYTES - 1);
	if (!statement)
		return false;
	while (sql_row(book, statement, &ok, why)) {
		out->seq = sqlite3_column_int64(statement, 0);
		digest_entry(out->digest, statement);
	}
	return sql_done(book, statement, ok, why);
}

bool book_witness_parse(const char *text, struct book_witness *out, struct fault *why)
{
	size_t digits = 0;
	char *end = "";
	*out = (struct book_witness){0};
	for (; *text && *text != '@' && digits < DIGEST_BYTES; text++) {
		if (*text == ' ')
			continue;
		if (digits == DIGEST_BYTES - 1 || !isxdigit((unsigned char)*text))
			break;
		out->digest[digits++] = (char)tolower((unsigned char)*text);
	}
	if (*text == '@' && isdigit((unsigned char)text[1]))
		out->seq = strtoll(text + 1, &end, 10);
	return (digits == DIGEST_BYTES - 1 && out->seq > 0 && !*end) ||
	       fault_say(
	           why, FAULT_INPUT,
	           "a digest is 64 digits from 0 to f, an @ and the number of its last entry, "
	           "as verify prints it");
}

char *book_witness_text(char text[BOOK_WITNESS_BYTES], const struct book_witness *witness)
{
	snprintf(text, BOOK_WITNESS_BYTES, "%s@%" PRId64, witness->digest, witness->seq);
	return text;
}
