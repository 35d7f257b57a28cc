/* How several runs close: each misclosure between its allowable up and down. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/picture.h"

static level_nm judged(const struct paper_run *run)
{
	return run->closing.judged_corrected ? run->closing.corrected : run->closing.misclosure;
}

static void add_steps(struct picture *out, size_t run, double allowable)
{
	picture_sample(out, (double)run - 0.4, allowable);
	picture_sample(out, (double)run + 0.4, allowable);
	picture_break(out);
}

/* A run that is judged; the others are named in words. */
static bool take_run(struct book *book, const char *name, size_t *judged_runs, double *allowable,
                     struct picture *out, struct fault *why)
{
	struct paper_run run;
	char verdict[400];
	enum level_unit unit;
	if (!paper_load(book, name, NULL, &run, why))
		return false;
	unit = run.settings.style.unit;
	if (run.closing.closes == LEVEL_UNKNOWN || run.book.run.kind == LEVEL_CROSSING) {
		paper_verdict(&run.book.run, &run.closing, &run.settings.style, verdict,
		              sizeof verdict);
		picture_note(out, "%.163s: %.399s", name, verdict);
	} else {
		allowable[*judged_runs] =
		    picture_unit(level_to_meters(run.closing.allowable), unit);
		picture_point(out, (double)++*judged_runs,
		              picture_unit(level_to_meters(judged(&run)), unit), 0, name);
	}
	if (run.book.info.reopened)
		picture_note(out, "%.160s was closed, and opened again: its page says why", name);
	snprintf(out->y_name, sizeof out->y_name, "misclosure, %s", picture_unit_name(unit));
	paper_free(&run);
	return true;
}

static bool take_all(struct book *book, const char *const *names, size_t count, struct picture *out,
                     struct fault *why)
{
	double *allowable = calloc(count + 1, sizeof *allowable);
	size_t runs = 0;
	bool ok = true;
	if (!allowable)
		return fault_say(why, FAULT_FILE, "out of memory");
	for (size_t i = 0; ok && names && i < count; i++)
		ok = take_run(book, names[i], &runs, allowable, out, why);
	if (ok && runs == 0)
		ok = fault_say(why, FAULT_EMPTY,
		               "no run closes on something that can be judged: there is nothing "
		               "to draw");
	for (int sign = 1; ok && sign >= -1; sign -= 2) {
		picture_curve(out, sign > 0 ? "allowable" : "and downward", sign > 0 ? '-' : '=');
		for (size_t i = 0; i < runs; i++)
			add_steps(out, i + 1, sign * allowable[i]);
	}
	free(allowable);
	return ok;
}

bool picture_closures(struct book *book, const char *const *names, size_t count,
                      struct picture *out, struct fault *why)
{
	struct book_run_info *runs = NULL;
	const char **all = NULL;
	size_t run_count = 0;
	bool ok = true;
	strcpy(out->title, "How the runs close");
	strcpy(out->x_name, "run, in the order of the list");
	out->plot.points_name = "misclosure, as it is judged; it closes between the allowables";
	out->plot.zero_line = true;
	if (count)
		return take_all(book, names, count, out, why);
	if (!book_runs(book, &runs, &run_count, why))
		return false;
	all = calloc(run_count + 1, sizeof *all);
	if (!all)
		ok = fault_say(why, FAULT_FILE, "out of memory");
	for (size_t i = 0; all && i < run_count; i++)
		all[i] = runs[i].name;
	ok = ok && take_all(book, all, run_count, out, why);
	free(all);
	free(runs);
	return ok;
}
