/* A run, reduced and closed. */
#include "rodbook/paper.h"

#include <stdlib.h>

bool paper_load(struct book *book, const char *name, const struct level_tolerance *set,
                struct paper_run *out, struct fault *why)
{
	struct book_run_info info;
	*out = (struct paper_run){0};
	if (!book_settings(book, &out->settings, why) || !book_run_find(book, name, &info, why) ||
	    !book_load(book, info.id, &out->book, why))
		return false;
	if (!book_run_terms(book, &out->book, &out->terms, why) ||
	    !paper_test_warning(book, &out->book, set ? set : &out->settings.tolerance,
	                        out->test_warning, sizeof out->test_warning, why) ||
	    !book_closings(book, info.id, &out->closings, &out->closing_count, why)) {
		paper_free(out);
		return false;
	}
	if (!level_reduce(&out->book.run, 0, &out->terms.terms, &out->page)) {
		paper_free(out);
		return fault_say(why, FAULT_FILE, "out of memory");
	}
	out->closing =
	    level_close(&out->book.run, &out->page, &out->terms.terms,
	                set ? set : &out->settings.tolerance, out->settings.setup_figure);
	return true;
}

void paper_free(struct paper_run *run)
{
	level_page_free(&run->page);
	book_run_free(&run->book);
	free(run->closings);
	run->closings = NULL;
}
