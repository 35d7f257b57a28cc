#include "rodbook/work/slips.h"

#include <stdlib.h>

/* 1 + index of the sight that the one at index `at` replaces; 0 where it replaces none. */
static size_t replaced_by(const struct book_run *run, size_t at)
{
	for (size_t i = 0; run->note[at].replaces && i < run->run.count; i++)
		if (run->run.sight[i].id == run->note[at].replaces)
			return i + 1;
	return 0;
}

bool work_slips(const struct work_run *run, struct level_slips *out, struct fault *why)
{
	size_t count = run->book.run.count;
	struct level_typed *typed = malloc((count ? count : 1) * sizeof *typed);
	struct level_slip_given given = {.typed = typed,
	                                 .rod_length = run->settings.rod_length,
	                                 .stadia_multiplier = run->settings.stadia_multiplier,
	                                 .stadia_constant = run->settings.stadia_constant};
	bool ok = typed != NULL;
	for (size_t i = 0; ok && i < count; i++) {
		const struct book_kept *note = &run->book.note[i];
		typed[i] = (struct level_typed){.unit = note->unit,
		                                .reading = note->reading,
		                                .wire = {note->upper, note->middle, note->lower},
		                                .distance = *note->distance != '\0',
		                                .replaces = replaced_by(&run->book, i)};
	}
	ok = ok && level_slips_find(&run->book.run, &run->closing, &run->terms.terms, &given, out);
	free(typed);
	return ok || fault_memory(why);
}
