/* Lists of marks, runs and settings. */
#include "paper/quantities.h"

#include <stdlib.h>

#include "paper/csv.h"

bool paper_marks(FILE *out, struct book *book, bool csv, struct fault *why)
{
	struct book_mark *marks;
	struct book_settings settings;
	size_t count;
	if (!book_settings(book, &settings, why) || !book_marks(book, &marks, &count, why))
		return false;
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out,
		        "no marks with a known elevation; give one with: rodbook mark BOOK NAME "
		        "ELEVATION\n");
	for (size_t i = 0; i < count; i++) {
		const struct book_mark *m = &marks[i];
		char elevation[LEVEL_LENGTH_BYTES], u[LEVEL_LENGTH_BYTES];
		char uncertainty[LEVEL_LENGTH_BYTES + 16];
		if (csv) {
			quantity_text(out, "mark", m->name);
			quantity_length(out, "elevation", true, m->elevation, &settings.style);
			quantity_length(out, "u", m->u > 0, m->u, &settings.style);
			quantity_text(out, "source", m->source);
			continue;
		}
		level_format_length(elevation, m->elevation, &settings.style, false);
		level_format_exact(u, m->u, &settings.style);
		snprintf(uncertainty, sizeof uncertainty, "  u %s %s", u,
		         level_file_unit(settings.style.unit));
		fprintf(out, "%-16s %14s %s%s%s%s\n", m->name, elevation,
		        level_unit_name(settings.style.unit), m->u ? uncertainty : "",
		        *m->source ? "  " : "", m->source);
	}
	free(marks);
	return true;
}

static bool put_run(FILE *out, struct book *book, const struct book_run_info *info, bool csv,
                    struct fault *why)
{
	struct paper_run run;
	char verdict[400];
	if (!paper_load(book, info->name, NULL, &run, why))
		return false;
	if (csv) {
		quantity_text(out, "run", info->name);
		quantity_text(out, "kind", level_run_kind_name(info->kind));
		quantity_text(out, "begun", info->time);
		quantity_count(out, "sights", (int64_t)info->sights);
		quantity_count(out, "setups", run.closing.setups);
		quantity_text(out, "closes", paper_closes(&run.book.run, &run.closing));
	} else {
		paper_verdict(&run.book.run, &run.closing, &run.settings.style, verdict,
		              sizeof verdict);
		fprintf(out, "%-16s %-9s %4d %s  %s\n", info->name, level_run_kind_name(info->kind),
		        run.closing.setups, run.closing.setups == 1 ? "setup " : "setups", verdict);
	}
	paper_free(&run);
	return true;
}

bool paper_runs(FILE *out, struct book *book, bool csv, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out, "no runs yet; begin one in the editor, or import a CSV file\n");
	for (size_t i = 0; ok && i < count; i++)
		ok = put_run(out, book, &runs[i], csv, why);
	free(runs);
	return ok;
}

bool paper_settings(FILE *out, struct book *book, bool csv, struct fault *why)
{
	if (csv)
		quantity_header(out);
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_setting setting;
		if (!book_setting(book, i, &setting, why))
			return false;
		if (csv)
			quantity_text(out, setting.name, setting.value);
		else
			fprintf(out, "%-18s %-22s %s%s\n", setting.name,
			        *setting.value ? setting.value : "-", setting.what,
			        setting.is_default && *setting.value ? " (default)" : "");
	}
	return true;
}
