/* Which single slip would explain a misclosure. */
#include <stdlib.h>

#include "rodbook/work/slips.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* Shows the slips; the index of the one chosen, their count where none was. */
static size_t choose(const struct work_run *run, const struct level_slips *slips)
{
	const char *const title = "What to go and read again";
	long row[REPORT_SLIPS_SHOWN];
	size_t used = 0, at = 0,
	       count = slips->count < REPORT_SLIPS_SHOWN ? slips->count : REPORT_SLIPS_SHOWN;
	char *text = NULL;
	FILE *out = open_memstream(&text, &used);
	bool chosen = false;
	if (out) {
		report_slips_text(out, run, slips, row);
		if (fclose(out) != 0 || count == 0)
			view_text(title, text);
		else
			chosen = view_choose(title, text, row, count, &at);
	}
	free(text);
	return chosen ? at : slips->count;
}

int64_t view_slips(struct book *book, const char *name, char *again, size_t size)
{
	struct level_slips slips = {0};
	struct work_run run;
	struct fault why = {0};
	int64_t sight = 0;
	bool loaded = work_run_load(book, name, NULL, &run, &why);
	if (loaded && work_slips(&run, &slips, &why)) {
		size_t at = choose(&run, &slips);
		if (at < slips.count) {
			sight = run.book.run.sight[slips.slip[at].at].id;
			report_slip_again(&run, &slips.slip[at], again, size);
		}
	} else {
		view_text("What to go and read again", why.text);
	}
	level_slips_free(&slips);
	if (loaded)
		work_run_free(&run);
	return sight;
}
