/* Results that are kept: their list, and one of them again. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "text/columns.h"
#include "csv/csv.h"
#include "rodbook/report/adjustment.h"

/* The runs of a result, parted by semicolons. */
static void subject_words(const struct book_result *result, char text[BOOK_SUBJECT_BYTES + 8])
{
	size_t used;
	snprintf(text, BOOK_SUBJECT_BYTES + 8, "%s", result->subject);
	used = strlen(text);
	if (used && text[used - 1] == '\n')
		text[used - 1] = '\0';
	for (char *at = text; *at; at++)
		if (*at == '\n')
			*at = ';';
}

static const char *kind_of(const struct book_result *result)
{
	return result->net ? "net" : "run";
}

static bool put_list(FILE *out, const struct book_result *list, size_t count)
{
	static const char *const head[] = {"no.", "kind", "time", "the book since then", "runs"};
	struct columns columns = {.columns = 5};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < count; i++) {
		char number[24], subject[BOOK_SUBJECT_BYTES + 8];
		const char *cells[] = {number, kind_of(&list[i]), list[i].time,
		                       list[i].changed ? "has changed" : "as it was", subject};
		snprintf(number, sizeof number, "%" PRId64, list[i].id);
		subject_words(&list[i], subject);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "rllll");
	columns_free(&columns);
	return ok;
}

static void csv_list(FILE *out, const struct book_result *list, size_t count)
{
	fputs("result,kind,time,changed,runs\n", out);
	for (size_t i = 0; i < count; i++) {
		char number[24], subject[BOOK_SUBJECT_BYTES + 8];
		const char *fields[] = {number, kind_of(&list[i]), list[i].time,
		                        list[i].changed ? "yes" : "no", subject};
		snprintf(number, sizeof number, "%" PRId64, list[i].id);
		subject_words(&list[i], subject);
		csv_write(out, fields, 5, "\n");
	}
}

bool report_results(FILE *out, struct book *book, bool csv, struct fault *why)
{
	struct book_result *list;
	size_t count;
	bool ok = true;
	if (!book_results(book, &list, &count, why))
		return false;
	if (csv)
		csv_list(out, list, count);
	else if (count == 0)
		fputs("no result is kept; keep one with: rodbook adjust BOOK RUN --keep\n", out);
	else if (!put_list(out, list, count))
		ok = fault_memory(why);
	free(list);
	return ok;
}

static bool among(const char *word, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(word, words[i]) == 0)
			return true;
	return false;
}

/* One section of the CSV as a table; which fields of its records are shown. */
struct section {
	struct columns table;
	size_t fields, shown[CSV_FIELDS];
	char align[CSV_FIELDS + 1];
};

/* The first record: what a line of 80 characters has no room for is left to the CSV; words go to
 * the left, numbers to the right. */
static void begin_section(struct section *s, const struct csv_record *head)
{
	static const char *const left_out[] = {"adjusted", "redundancy"};
	static const char *const words[] = {"mark", "fixed",    "run",   "from",
	                                    "to",   "quantity", "value", "unit"};
	*s = (struct section){.fields = head->count};
	for (size_t i = 0; i < head->count; i++) {
		if (among(head->field[i], left_out, sizeof left_out / sizeof *left_out))
			continue;
		s->align[s->table.columns] =
		    among(head->field[i], words, sizeof words / sizeof *words) ? 'l' : 'r';
		s->shown[s->table.columns++] = i;
	}
}

static void add_record(struct section *s, const struct csv_record *record)
{
	const char *cells[CSV_FIELDS];
	for (size_t i = 0; i < s->table.columns; i++)
		cells[i] = record->field[s->shown[i]];
	if (s->table.columns)
		columns_add(&s->table, cells);
}

static bool end_section(FILE *out, struct section *s)
{
	bool ok = true;
	if (s->table.rows || s->table.failed) {
		fputc('\n', out);
		ok = columns_put(out, &s->table, s->align);
	}
	columns_free(&s->table);
	s->fields = 0;
	return ok;
}

/* A section ends where a blank line stands, which the reader skips: so by the number of lines. */
static bool put_columns(FILE *out, char *figures, struct fault *why)
{
	struct csv_reader reader = {.text = figures, .at = figures, .path = "result", .line = 1};
	struct csv_record record;
	struct section section = {0};
	struct fault bad = {0};
	int last = 0;
	while (csv_read(&reader, &record, &bad)) {
		if (record.line > last + 1 && !end_section(out, &section))
			return fault_memory(why);
		if (section.fields == 0)
			begin_section(&section, &record);
		if (record.count != section.fields) {
			bad.kind = FAULT_INPUT;
			break;
		}
		add_record(&section, &record);
		last = record.line;
	}
	if (!end_section(out, &section))
		return fault_memory(why);
	return bad.kind == FAULT_NONE ||
	       fault_say(why, FAULT_FILE,
	                 "rodbook did not write this result: its table has the wrong form");
}

bool report_result(FILE *out, struct book *book, int64_t id, bool csv, struct fault *why)
{
	struct book_result result;
	char *figures, subject[BOOK_SUBJECT_BYTES + 8];
	bool ok = true;
	if (!book_result_find(book, id, &result, &figures, why))
		return false;
	if (csv) {
		fputs(figures, out);
	} else {
		subject_words(&result, subject);
		fprintf(out, "result %" PRId64 ", %s: %s, adjusted %s\n", result.id,
		        kind_of(&result), subject, result.time);
		fputs(result.changed ? "the book has changed since then in what this hangs on\n"
		                     : "the book is as it was in what this hangs on\n",
		      out);
		ok = put_columns(out, figures, why);
	}
	free(figures);
	return ok;
}
