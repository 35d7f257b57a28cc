/* How several runs close: each misclosure as a share of its own allowable, so that runs of all
 * lengths stand between the same two lines. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/picture/picture.h"

/* Beyond so many allowables a run is drawn at the edge, or all others would lie on zero. */
#define SHARES_SHOWN 2
/* Of more runs names would stand nearer to a neighbor: they have their numbers. */
#define RUNS_NAMED 6

enum { CLOSES, MISSES, FAR_OFF };
static const struct plot_kind kinds[] = {
    [CLOSES] = {"closes", 'o', PLOT_CIRCLE},
    [MISSES] = {"does not close", 'X', PLOT_SQUARE},
    [FAR_OFF] = {"misses by more than twice its allowable, at the edge", '!', PLOT_DIAMOND},
};

struct closures {
	bool as_lengths;
	size_t judged, close;      /* runs so far, and those of them that close */
	double *allowable;         /* of each */
	struct picture *out, left; /* left holds the notes on runs that are not drawn */
};

static void add_point(struct closures *c, const struct work_run *run)
{
	enum level_unit unit = run->settings.style.unit;
	double misclosure = picture_unit(level_to_meters(run->closing.judged), unit);
	double allowable = picture_unit(level_to_meters(run->closing.allowable), unit);
	double share = allowable > 0     ? misclosure / allowable
	               : misclosure == 0 ? 0
	                                 : copysign(INFINITY, misclosure);
	struct level_style finer = lines_finer(&run->settings.style);
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], verdict[60] = "closes";
	size_t kind = fabs(share) > SHARES_SHOWN         ? FAR_OFF
	              : run->closing.closes == LEVEL_YES ? CLOSES
	                                                 : MISSES;
	c->allowable[c->judged++] = allowable;
	c->close += run->closing.closes == LEVEL_YES;
	picture_point(c->out, kind, (double)c->judged,
	              c->as_lengths     ? misclosure
	              : kind == FAR_OFF ? copysign(SHARES_SHOWN, share)
	                                : share,
	              0, run->book.info.name);
	if (run->closing.closes != LEVEL_YES)
		strcpy(verdict, "DOES NOT CLOSE");
	picture_note(c->out, "%zu %.163s: %s of %s%s allowable: %s", c->judged, run->book.info.name,
	             level_format_length(a, run->closing.judged, &finer, true),
	             level_format_length(b, run->closing.allowable, &finer, false),
	             level_unit_after(unit), verdict);
}

/* A run that is judged; the others are named in words. */
static bool take_run(struct book *book, const struct book_run_info *info, struct closures *c,
                     struct fault *why)
{
	struct work_run run;
	struct fault words = {0};
	const char *name = info->name;
	char verdict[400];
	if (!work_run_load_listed(book, info, &run, &words)) {
		if (words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		picture_note(&c->left, "%.163s: %.399s", name, words.text);
		return true;
	}
	if (run.closing.closes == LEVEL_UNKNOWN || run.book.run.kind == LEVEL_CROSSING) {
		report_verdict(&run, verdict, sizeof verdict);
		picture_note(&c->left, "%.163s: %.399s", name, verdict);
	} else {
		add_point(c, &run);
	}
	if (run.book.info.reopened)
		picture_note(&c->left, "%.160s was closed, and opened again: its page says why",
		             name);
	snprintf(c->out->y_name, sizeof c->out->y_name, "misclosure, %s%s",
	         c->as_lengths ? picture_unit_name(run.settings.style.unit) : "",
	         c->as_lengths ? "" : "in allowables of its run");
	work_run_free(&run);
	return true;
}

/* A line over all runs, or a step for each of them. */
static void add_allowable(struct closures *c, int sign)
{
	picture_curve(c->out, sign > 0 ? "allowable" : "and downward", sign > 0 ? '=' : '_');
	if (!c->as_lengths) {
		picture_sample(c->out, 0.5, sign);
		picture_sample(c->out, (double)c->judged + 0.5, sign);
	}
	for (size_t i = 0; c->as_lengths && i < c->judged; i++) {
		picture_sample(c->out, (double)i + 0.6, sign * c->allowable[i]);
		picture_sample(c->out, (double)i + 1.4, sign * c->allowable[i]);
		picture_break(c->out);
	}
}

/* Refuses, with as many runs and reasons as the message holds. */
static bool nothing(const char *notes, struct fault *why)
{
	char text[500] = "";
	size_t used = 0;
	int more = 0;
	for (; notes && *notes; notes += strcspn(notes, "\n") + 1) {
		size_t size = strcspn(notes, "\n");
		if (more || used + size + 3 > sizeof text)
			more++;
		else
			used += (size_t)snprintf(text + used, sizeof text - used, "; %.*s",
			                         (int)size, notes);
	}
	if (more)
		return fault_say(
		    why, FAULT_EMPTY,
		    "no run is judged by an allowable, so nothing is drawn%s; and %d more: "
		    "rodbook runs BOOK says why",
		    text, more);
	return fault_say(why, FAULT_EMPTY,
	                 "no run is judged by an allowable, so nothing is drawn%s",
	                 *text ? text : ": this book has no runs yet");
}

static bool take_all(struct book *book, const struct book_run_info *runs, size_t count,
                     struct closures *c, struct fault *why)
{
	bool ok = true;
	c->allowable = calloc(count + 1, sizeof *c->allowable);
	if (!c->allowable)
		return fault_memory(why);
	for (size_t i = 0; ok && i < count; i++)
		ok = take_run(book, &runs[i], c, why);
	if (ok && c->judged == 0)
		ok = nothing(c->left.notes, why);
	for (int sign = 1; ok && sign >= -1; sign -= 2)
		add_allowable(c, sign);
	free(c->allowable);
	if (c->left.notes && c->judged) {
		picture_add_notes(
		    c->out, "not drawn, since no allowable judges them (crossings are judged by "
		            "their drops):\n");
		picture_add_notes(c->out, c->left.notes);
	}
	snprintf(c->out->subtitle + strlen(c->out->subtitle), 100,
	         "%zu of %zu runs close, of those that are judged", c->close, c->judged);
	picture_free(&c->left);
	c->out->plot.counted = c->judged;
	for (size_t i = 0; c->judged > RUNS_NAMED && i < c->out->plot.points; i++)
		c->out->point[i].quiet = true;
	return ok;
}

/* The runs so named, or all. */
static bool choose(struct book *book, const char *const *names, size_t count,
                   struct book_run_info **runs, size_t *run_count, struct fault *why)
{
	bool ok = true;
	if (!count)
		return book_runs(book, runs, run_count, why);
	*runs = calloc(count, sizeof **runs);
	*run_count = count;
	if (!*runs)
		return fault_memory(why);
	for (size_t i = 0; ok && i < count; i++)
		ok = book_run_find(book, names[i], &(*runs)[i], why);
	return ok;
}

bool picture_closures(struct book *book, const char *const *names, size_t count, bool as_lengths,
                      struct picture *out, struct fault *why)
{
	struct closures closures = {.as_lengths = as_lengths, .out = out};
	struct book_run_info *runs = NULL;
	size_t run_count = 0;
	struct book_settings settings;
	bool ok;
	if (!book_settings(book, &settings, why))
		return false;
	snprintf(out->subtitle, sizeof out->subtitle, "%.300s%s", settings.title,
	         *settings.title ? "\n" : "");
	strcpy(out->title, "How the runs close");
	strcpy(out->x_name, "run, numbered below");
	out->plot.kind = kinds;
	out->plot.kinds = sizeof kinds / sizeof *kinds;
	out->plot.zero_line = true;
	out->plot.y_reach = SHARES_SHOWN;
	ok = choose(book, names, count, &runs, &run_count, why) &&
	     take_all(book, runs, run_count, &closures, why);
	free(runs);
	return ok;
}
