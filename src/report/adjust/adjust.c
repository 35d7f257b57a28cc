/* Adjusting, printing and keeping. */
#include "rodbook/report/adjustment.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "report/adjust/adjust.h"

/* What is adjusted, and how it is written. */
struct work {
	const struct report_adjust *how;
	double sigma;
	struct work_run run;
	struct level_spread spread;
	struct work_net net;
};

static bool load_run(struct book *book, struct work *work, struct fault *why)
{
	struct fault words = {0};
	if (!work_run_load(book, work->how->runs[0], NULL, &work->run, why))
		return false;
	return level_spread(&work->run.book.run, &work->run.page, &work->run.closing, work->how->by,
	                    &work->spread, &words) ||
	       fault_say(why, words.kind, "run %.160s is not adjusted: %.400s", work->how->runs[0],
	                 words.text);
}

static bool load(struct book *book, struct work *work, struct fault *why)
{
	const struct report_adjust *how = work->how;
	struct work_net_wish wish = {.runs = how->runs,
	                             .count = how->count,
	                             .by = how->by,
	                             .sigma = work->sigma,
	                             .progress = how->progress,
	                             .context = how->context};
	return how->net ? work_net_load(book, &wish, &work->net, why) : load_run(book, work, why);
}

static void write_csv(FILE *out, const struct work *work)
{
	if (work->how->net)
		net_csv(out, &work->net);
	else
		spread_csv(out, &work->run, &work->spread, work->sigma);
}

static bool write_text(FILE *out, const struct work *work, struct fault *why)
{
	return work->how->net ? net_text(out, &work->net, why)
	                      : spread_text(out, &work->run, &work->spread, work->sigma, why);
}

/* The names of the runs, as the book keeps them. */
static bool subject_of(const struct report_adjust *how, char subject[BOOK_SUBJECT_BYTES],
                       struct fault *why)
{
	size_t used = 0;
	if (!how->net || how->count == 0) {
		snprintf(subject, BOOK_SUBJECT_BYTES, "%s",
		         how->net ? BOOK_ALL_RUNS : how->runs[0]);
		return true;
	}
	for (size_t i = 0; i < how->count; i++) {
		if (used + strlen(how->runs[i]) + 2 > BOOK_SUBJECT_BYTES)
			return fault_say(why, FAULT_INPUT,
			                 "the names of so many runs have no room: name fewer, or "
			                 "none for all");
		used += (size_t)snprintf(subject + used, BOOK_SUBJECT_BYTES - used, "%s\n",
		                         how->runs[i]);
	}
	return true;
}

static bool keep(struct book *book, const struct work *work, int64_t seq, int64_t *id,
                 struct fault *why)
{
	char subject[BOOK_SUBJECT_BYTES], *figures = NULL;
	size_t size = 0;
	FILE *text;
	bool ok;
	if (!subject_of(work->how, subject, why))
		return false;
	text = open_memstream(&figures, &size);
	if (!text)
		return fault_memory(why);
	write_csv(text, work);
	ok = !ferror(text);
	ok = fclose(text) == 0 && ok && figures;
	ok = (ok || fault_memory(why)) &&
	     book_result_keep(book, work->how->net, subject, figures, seq, id, why);
	free(figures);
	return ok;
}

bool report_adjust(FILE *out, struct book *book, const struct report_adjust *how, bool *passes,
                   struct fault *why)
{
	struct work work = {.how = how};
	int64_t seq = 0, id = 0;
	bool ok = book_hold(book, why);
	if (!ok)
		return false;
	ok = adjust_read_sd(book, how->sd, &work.sigma, why) && book_last_entry(book, &seq, why) &&
	     load(book, &work, why);
	/* What another program writes from here on is a change since. */
	book_release(book);
	ok = ok && (!how->keep || keep(book, &work, seq, &id, why));
	if (ok && how->csv)
		write_csv(out, &work);
	else if (ok)
		ok = write_text(out, &work, why);
	if (!ok && id)
		fault_say(
		    why, FAULT_FILE,
		    "the output could not be written: out of memory; it is kept: rodbook adjusted "
		    "BOOK %" PRId64,
		    id);
	if (ok && how->keep && !how->csv)
		fprintf(out, "kept as result %" PRId64 "\n", id);
	*passes = (!work.net.result.has_test || work.net.result.passes) && !work.net.misses;
	level_spread_free(&work.spread);
	work_run_free(&work.run);
	work_net_free(&work.net);
	return ok;
}
