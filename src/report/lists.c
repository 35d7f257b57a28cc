/* Lists of marks, runs and settings. */
#include "report/quantities.h"

#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "text/cells.h"

static void put_mark(FILE *out, const struct book_mark *m, const struct level_style *style)
{
	char elevation[LEVEL_LENGTH_BYTES], u[LEVEL_LENGTH_BYTES];
	cells_put(out, m->name, 16);
	fprintf(out, " %14s%s", level_format_length(elevation, m->elevation, style, false),
	        level_unit_after(style->unit));
	if (m->u)
		fprintf(out, "  u %s %s", level_format_exact(u, m->u, style),
		        level_file_unit(style->unit));
	if (*m->source)
		fprintf(out, "  %s", m->source);
	if (*m->description)
		fprintf(out, "  %s", m->description);
	if (*m->reach)
		fprintf(out, "  found: %s", m->reach);
	if (m->surface)
		fprintf(out, "  the surface of the water");
	if (*m->struck)
		fprintf(out, "  struck %s", m->struck);
	fputc('\n', out);
}

static void csv_mark(FILE *out, const struct book_mark *m, const struct level_style *style)
{
	quantity_text(out, "mark", m->name);
	quantity_length(out, "elevation", true, m->elevation, style);
	quantity_length(out, "u", m->u > 0, m->u, style);
	quantity_text(out, "source", m->source);
	if (*m->description)
		quantity_text(out, "description", m->description);
	if (*m->reach)
		quantity_text(out, "reach", m->reach);
	if (m->surface)
		quantity_text(out, "surface", "yes");
}

/* The versions of the book in which runs keep the elevations that they were closed with, and in
 * which gauges and set-outs came. */
#define KEEPS_KNOWN 6
#define HAS_GAUGES 7

const char *report_brought_up(const struct book *book)
{
	if (book_brought_up(book) == KEEPS_KNOWN)
		return "the book was brought up to this version: it can hold gauges, set-outs, "
		       "offsets and the heads of pages; nothing that it says has changed";
	if (book_brought_up(book) == HAS_GAUGES)
		return "the book was brought up to this version: it can hold offsets and the heads "
		       "of pages; nothing that it says has changed";
	return book_brought_up(book) >= BOOK_DRAFTS_SHARED
	           ? "the book was brought up to this version: known marks on the way must hold, "
	             "and closed runs keep the elevations that they were closed with"
	       : book_brought_up(book)
	           ? "the book was brought up to this version: drops are judged by a new rule; "
	             "crossings not sealed take the new defaults of air, drift and water"
	           : "";
}

bool report_marks(FILE *out, struct book *book, bool csv, struct fault *why)
{
	struct book_mark *marks = NULL, *struck = NULL;
	struct book_settings settings;
	size_t count, struck_count;
	bool ok = book_settings(book, &settings, why) && book_marks(book, &marks, &count, why) &&
	          book_marks_struck(book, &struck, &struck_count, why);
	if (ok && csv)
		quantity_header(out);
	else if (ok && count + struck_count == 0)
		fprintf(out,
		        "no marks with a known elevation; give one with: rodbook mark BOOK NAME "
		        "ELEVATION\n");
	for (size_t i = 0; ok && i < count; i++)
		if (csv)
			csv_mark(out, &marks[i], &settings.style);
		else
			put_mark(out, &marks[i], &settings.style);
	for (size_t i = 0; ok && !csv && i < struck_count; i++)
		put_mark(out, &struck[i], &settings.style);
	free(marks);
	free(struck);
	return ok;
}

/* When it was closed, and opened again. */
static void put_state(FILE *out, const struct work_run *run)
{
	for (size_t i = 0; i < run->closing_count; i++) {
		const struct book_closing *closing = &run->closings[i];
		fprintf(out, "; %s %s%s%s", closing->closed ? "closed" : "reopened", closing->time,
		        *closing->why ? ": " : "", closing->why);
	}
}

static bool put_run(FILE *out, struct book *book, const struct book_run_info *info, bool csv,
                    size_t *unreadable, struct fault *why)
{
	struct work_run run;
	char verdict[400];
	struct fault words = {0};
	if (!work_run_load_listed(book, info, &run, &words)) {
		if (words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		++*unreadable;
		if (csv) {
			quantity_text(out, "run", info->name);
			quantity_text(out, "unreadable", words.text);
		} else {
			cells_put(out, info->name, 16);
			fprintf(out, " CANNOT BE READ: %s\n", words.text);
		}
		return true;
	}
	if (csv) {
		quantity_text(out, "run", info->name);
		quantity_text(out, "kind", level_run_kind_name(info->kind));
		quantity_text(out, "begun", info->time);
		quantity_count(out, "sights", (int64_t)run.book.info.sights);
		quantity_count(out, "setups", run.closing.setups);
		quantity_text(out, "closes", report_closes(&run.book.run, &run.closing));
		quantity_text(out, "state", report_state(info));
	} else {
		report_verdict(&run, verdict, sizeof verdict);
		cells_put(out, info->name, 16);
		fprintf(out, " %-9s %4d %s  %s", level_run_kind_name(info->kind),
		        run.closing.setups, run.closing.setups == 1 ? "setup " : "setups", verdict);
		put_state(out, &run);
		fputc('\n', out);
	}
	work_run_free(&run);
	return true;
}

bool report_runs(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why)
{
	*unreadable = 0;
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_hold(book, why))
		return false;
	if (!book_runs(book, &runs, &count, why)) {
		book_release(book);
		return false;
	}
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out, "no runs yet; begin one in the editor, or import a CSV file\n");
	for (size_t i = 0; ok && i < count; i++)
		ok = put_run(out, book, &runs[i], csv, unreadable, why);
	book_release(book);
	free(runs);
	return ok;
}

static bool put_setting(FILE *out, struct book *book, size_t i, const char **group,
                        struct fault *why)
{
	struct book_setting setting;
	char value[BOOK_VALUE_BYTES + 4];
	if (!book_setting(book, i, &setting, why))
		return false;
	if (!*group || strcmp(*group, setting.group) != 0)
		fprintf(out, "%s%s\n", *group ? "\n" : "", setting.group);
	*group = setting.group;
	snprintf(value, sizeof value, "%s%s", *setting.value ? setting.value : "-",
	         book_figure_unit(setting.name));
	fprintf(out, "%-18s %-22s %s: %s%s\n", setting.name, value, setting.title, setting.what,
	        setting.is_default && *setting.value ? " (default)" : "");
	return true;
}

bool report_settings(FILE *out, struct book *book, bool csv, struct fault *why)
{
	const char *group = NULL;
	if (csv)
		quantity_header(out);
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_setting setting;
		if (!csv && !put_setting(out, book, book_setting_listed(i), &group, why))
			return false;
		if (csv && !book_setting(book, i, &setting, why))
			return false;
		if (csv)
			quantity_text(out, setting.name, setting.value);
	}
	return true;
}
