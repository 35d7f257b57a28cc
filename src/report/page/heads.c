/* The heads of a run's pages. */
#include <string.h>

#include "csv/csv.h"
#include "report/lines.h"

const char *report_head_word(enum book_head_text text)
{
	return text == BOOK_HEAD_CHECKED ? "checked by" : book_head_name(text);
}

/* What stands already on the page of the day before is not said again. */
static bool is_new(const struct work_head *head, const struct work_head *before, int text)
{
	return *head->text[text] && (!before || strcmp(head->text[text], before->text[text]) != 0);
}

static void put_head(FILE *out, const struct work_head *head, const struct work_head *before)
{
	char day[BOOK_DAY_BYTES];
	snprintf(day, sizeof day, "%s", head->day);
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++) {
		if (!is_new(head, before, t))
			continue;
		fprintf(out, "%-10s  %-11s %s%s\n", day, report_head_word((enum book_head_text)t),
		        head->text[t], head->carried[t] ? " (carried over)" : "");
		day[0] = '\0';
	}
}

void lines_heads(FILE *out, const struct work_run *run)
{
	for (size_t i = 0; i < run->head_count; i++)
		put_head(out, &run->heads[i], i ? &run->heads[i - 1] : NULL);
}

void report_head(FILE *out, const struct work_head *head, bool csv)
{
	if (!csv) {
		put_head(out, head, NULL);
		return;
	}
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++) {
		const char *fields[] = {head->day, book_head_name((enum book_head_text)t),
		                        head->text[t], head->carried[t] ? "yes" : "no"};
		if (*head->text[t])
			csv_write(out, fields, 4, "\n");
	}
}

void report_heads(FILE *out, const struct work_run *run, bool csv)
{
	if (csv)
		fputs("day,text,value,carried\n", out);
	for (size_t i = 0; i < run->head_count; i++)
		report_head(out, &run->heads[i], csv);
	if (!csv && run->head_count == 0)
		fprintf(out, "no head is written for run %s yet\n", run->book.info.name);
}
