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

bool lines_when(const struct work_run *run, char *text, size_t size)
{
	const char *first, *last;
	if (!work_sight_times(&run->book, &first, &last)) {
		snprintf(text, size, "begun %.10s", run->book.info.time);
		return false;
	}
	if (strncmp(first, last, 10) != 0)
		snprintf(text, size, "%.10s to %.10s", first, last);
	else if (strlen(first) < 16)
		snprintf(text, size, "%.10s", first);
	else if (strncmp(first, last, 16) == 0)
		snprintf(text, size, "%.10s, %.5s", first, first + 11);
	else
		snprintf(text, size, "%.10s, %.5s to %.5s", first, first + 11, last + 11);
	return true;
}

/* Each text once, in the order of the sights that count. */
static void put_names(FILE *out, const struct work_run *run, const char *word,
                      const char *name(const struct book_kept *))
{
	const struct book_run *book = &run->book;
	int many = 0;
	for (size_t i = 0; i < book->run.count; i++) {
		bool seen = !level_counted(&book->run.sight[i]) || !*name(&book->note[i]);
		for (size_t j = 0; j < i && !seen; j++)
			seen = level_counted(&book->run.sight[j]) &&
			       strcmp(name(&book->note[j]), name(&book->note[i])) == 0;
		if (!seen)
			fprintf(out, "%s%s", many++ ? ", " : word, name(&book->note[i]));
	}
}

static const char *level_name(const struct book_kept *note)
{
	return note->instrument;
}

static const char *rod_name(const struct book_kept *note)
{
	return note->rod;
}

/* Whether a time of observation was given: else the times are those of booking, and notes may have
 * been typed from paper. */
static bool says_when(const struct work_run *run)
{
	bool said = false;
	for (size_t i = 0; i < run->book.run.count && !said; i++)
		said = level_counted(&run->book.run.sight[i]) && *run->book.note[i].booked;
	return said;
}

void lines_observed(FILE *out, const struct work_run *run)
{
	char when[80];
	if (lines_when(run, when, sizeof when))
		fputs(says_when(run) ? "observed " : "booked ", out);
	fputs(when, out);
	put_names(out, run, "; level ", level_name);
	put_names(out, run, "; rod ", rod_name);
	fputc('\n', out);
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
