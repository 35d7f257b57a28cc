/* The journal, for people and as CSV. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "rodbook/report/report.h"

#define VALUE_CHARS 60 /* of a value that people get to see */

struct sink {
	FILE *out;
	bool csv;
	bool one_run;     /* its name is not worth a word */
	const char *unit; /* of the book: likewise */
	int64_t action;   /* whose heading was printed last */
};

static bool is_one_of(const char *text, const char *const *list)
{
	for (; *list; list++)
		if (strcmp(text, *list) == 0)
			return true;
	return false;
}

/* What people know a column by: what was typed says the length, not its nanometers. */
static const char *column_name(const struct book_entry *entry, const char *column)
{
	static const struct {
		const char *column, *name;
	} names[] = {{"u_typed", "u"},
	             {"upper_typed", "upper"},
	             {"middle_typed", "middle"},
	             {"lower_typed", "lower"},
	             {"distance_typed", "distance"},
	             {"overridden", "booked against"}};
	if (strcmp(column, "typed") == 0)
		return strcmp(entry->table, "mark") == 0     ? "elevation"
		       : strcmp(entry->table, "setout") == 0 ? "wanted"
		                                             : "reading";
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (strcmp(column, names[i].column) == 0)
			return names[i].name;
	return column;
}

/* Whether a column tells people nothing beside what stands there already. */
static bool is_silent(const struct sink *sink, const struct book_entry *entry,
                      const struct book_change *change)
{
	static const char *const numbers[] = {
	    "id",      "run",      "place",     "replaces", "seq",   "upper",  "middle", "lower",
	    "reading", "distance", "elevation", "u",        "known", "wanted", NULL};
	static const char *const named[] = {"name", "kind",  "station", "instrument",
	                                    "time", "state", NULL};
	static const char *const counted[] = {"sight", "water", NULL};
	if (is_one_of(change->column, numbers))
		return true;
	if (!entry->is_new)
		return false;
	if (strcmp(change->column, "late") == 0)
		return !change->after || strcmp(change->after, "1") != 0;
	if (entry->replaces)
		return is_one_of(change->column, (const char *const[]){"time", "struck", NULL}) ||
		       (strcmp(change->column, "why") == 0 && strcmp(entry->table, "sight") == 0);
	if (strcmp(change->column, "unit") == 0)
		return change->after && strcmp(change->after, sink->unit) == 0;
	if (strcmp(change->column, "instrument") == 0)
		return !is_one_of(entry->table, counted);
	if (strcmp(entry->table, "run") == 0 && strcmp(change->column, "kind") == 0)
		return false;
	return is_one_of(change->column, named);
}

/* One line of at most VALUE_CHARS characters; "nothing" where there is none. */
static void put_value(FILE *out, const char *text)
{
	int shown = 0;
	if (!text || !*text) {
		fputs("nothing", out);
		return;
	}
	while (*text && shown < VALUE_CHARS) {
		fputc(*text == '\n' || *text == '\t' ? ' ' : *text, out);
		text++;
		while ((*text & 0xc0) == 0x80)
			fputc(*text++, out);
		shown++;
	}
	if (*text && text[strspn(text, "\n")])
		fputs(" ...", out);
}

/* The lines "name TAB value" of the new figures that the old ones have not, each with its old
 * value. */
static void put_figures(FILE *out, const char *before, const char *after)
{
	struct book_figures old, new;
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES], was[BOOK_VALUE_BYTES];
	bool any = false;
	snprintf(old.text, sizeof old.text, "%s", before);
	snprintf(new.text, sizeof new.text, "%s", after);
	for (size_t i = 0; book_figure_at(&new, i, name, value); i++) {
		if (book_figure(&old, name, was) && strcmp(was, value) == 0)
			continue;
		fprintf(out, "%s%s ", any ? ", " : "", name);
		put_value(out, was);
		fputs(" -> ", out);
		put_value(out, value);
		any = true;
	}
}

static void put_heading(FILE *out, const struct book_entry *entry, bool one_run)
{
	fprintf(out, "%6" PRId64 "  %s  %s", entry->action, entry->time, entry->act);
	if (entry->undoes)
		fprintf(out, " of %" PRId64 ", %s", entry->undoes, entry->undone);
	if (*entry->run && !one_run)
		fprintf(out, "; run %s", entry->run);
	fputc('\n', out);
}

static const char *text_of(const char *text)
{
	return text ? text : "";
}

/* A whole text, in one line. */
static void put_line(FILE *out, const char *text)
{
	for (; *text; text++)
		fputc(*text == '\n' || *text == '\t' ? ' ' : *text, out);
}

/* A row that was only struck, or counts again: the time is that of the heading. */
static bool put_striking(FILE *out, const struct book_entry *entry)
{
	const struct book_change *struck = NULL, *why = NULL;
	for (size_t i = 0; i < entry->count; i++) {
		if (strcmp(entry->change[i].column, "struck") == 0)
			struck = &entry->change[i];
		else if (strcmp(entry->change[i].column, "why") == 0)
			why = &entry->change[i];
		else
			return false;
	}
	if (!struck || entry->is_new || (*text_of(struck->before) && *text_of(struck->after)))
		return false;
	fprintf(out, *text_of(struck->before) ? ": counts again" : ": struck");
	if (why) {
		bool again = *text_of(struck->before) != '\0';
		const char *reason = book_strike_reason(text_of(again ? why->before : why->after));
		if (*reason) {
			fputs(again ? ", was struck, why: " : ", why: ", out);
			put_line(out, reason);
		}
	}
	return true;
}

static void put_entry(struct sink *sink, const struct book_entry *entry)
{
	FILE *out = sink->out;
	bool any = false, strikes;
	if (entry->action != sink->action)
		put_heading(out, entry, sink->one_run);
	sink->action = entry->action;
	fprintf(out, "        %s%s", entry->what,
	        !entry->replaces                    ? ""
	        : strcmp(entry->table, "seal") == 0 ? ", amended"
	                                            : ", in place of the struck one");
	strikes = put_striking(out, entry);
	for (size_t i = 0; !strikes && i < entry->count; i++) {
		const struct book_change *change = &entry->change[i];
		if (is_silent(sink, entry, change))
			continue;
		fputs(any ? ", " : ": ", out);
		any = true;
		if (entry->replaces && change->before && change->after &&
		    strcmp(change->column, "figures") == 0) {
			put_figures(out, change->before, change->after);
			continue;
		}
		fprintf(out, "%s ", column_name(entry, change->column));
		if (!entry->is_new || entry->replaces) {
			put_value(out, change->before);
			fputs(" -> ", out);
		}
		put_value(out, change->after);
	}
	fputc('\n', out);
}

static void csv_entry(FILE *out, const struct book_entry *entry)
{
	char seq[24], action[24];
	snprintf(seq, sizeof seq, "%" PRId64, entry->seq);
	snprintf(action, sizeof action, "%" PRId64, entry->action);
	for (size_t i = 0; i < entry->count; i++) {
		const struct book_change *change = &entry->change[i];
		const char *fields[] = {seq,
		                        action,
		                        entry->time,
		                        entry->act,
		                        entry->run,
		                        entry->table,
		                        entry->row,
		                        change->column,
		                        change->before ? change->before : "",
		                        change->after ? change->after : ""};
		csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
	}
}

static bool take(const struct book_entry *entry, void *context)
{
	struct sink *sink = context;
	if (sink->csv)
		csv_entry(sink->out, entry);
	else
		put_entry(sink, entry);
	return !ferror(sink->out);
}

bool report_journal(FILE *out, struct book *book, int64_t run, int64_t newest, bool csv,
                    struct fault *why)
{
	struct book_settings settings;
	struct sink sink = {.out = out, .csv = csv, .one_run = run != 0};
	const struct book_journal_order order = {
	    .run = run, .newest_first = newest > 0, .in_place = !csv, .most = newest};
	if (!book_settings(book, &settings, why))
		return false;
	sink.unit = level_unit_name(settings.style.unit);
	if (csv)
		fputs("seq,action,time,act,run,table,row,column,before,after\n", out);
	return book_journal(book, &order, take, &sink, why);
}
