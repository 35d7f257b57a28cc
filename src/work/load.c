/* A run, reduced and closed. */
#include "rodbook/report/paper.h"

#include <stdlib.h>

static bool load(struct book *book, int64_t id, const struct level_tolerance *set,
                 struct paper_run *out, struct fault *why)
{
	if (!book_settings(book, &out->settings, why) || !book_load(book, id, &out->book, why))
		return false;
	if (!book_run_terms(book, &out->book, &out->terms, why) ||
	    !paper_test_warning(book, &out->book, set ? set : &out->settings.tolerance,
	                        out->test_warning, sizeof out->test_warning, why) ||
	    !book_closings(book, id, &out->closings, &out->closing_count, why)) {
		paper_free(out);
		return false;
	}
	if (!level_reduce(&out->book.run, 0, &out->terms.terms, &out->page)) {
		paper_free(out);
		return fault_memory(why);
	}
	out->closing =
	    level_close(&out->book.run, &out->page, &out->terms.terms,
	                set ? set : &out->settings.tolerance, out->settings.setup_figure);
	return true;
}

bool paper_load(struct book *book, const char *name, const struct level_tolerance *set,
                struct paper_run *out, struct fault *why)
{
	struct book_run_info info;
	*out = (struct paper_run){0};
	return book_run_find(book, name, &info, why) && load(book, info.id, set, out, why);
}

bool paper_load_listed(struct book *book, const struct book_run_info *info, struct paper_run *out,
                       struct fault *why)
{
	*out = (struct paper_run){0};
	return load(book, info->id, NULL, out, why);
}

void paper_free(struct paper_run *run)
{
	level_page_free(&run->page);
	book_run_free(&run->book);
	free(run->closings);
	run->closings = NULL;
}
