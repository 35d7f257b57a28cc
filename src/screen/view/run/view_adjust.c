/* An adjustment of a run, or of all runs as a net: shown, and kept if the user wants it. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/report/adjustment.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* The report as a text, which the caller frees; NULL with the fault in words. */
static char *report_of(struct book *book, const struct report_adjust *how, char *message,
                       size_t size)
{
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0;
	bool passes, ok;
	FILE *out = open_memstream(&text, &used);
	if (!out) {
		snprintf(message, size, "out of memory");
		return NULL;
	}
	ok = report_adjust(out, book, how, &passes, &why);
	if (fclose(out) == 0 && ok)
		return text;
	snprintf(message, size, "%s", ok ? "out of memory" : why.text);
	free(text);
	return NULL;
}

void view_adjust(struct book *book, const char *run, char *message, size_t size)
{
	static const struct list_line lines[] = {
	    {"leave it", "nothing is kept", NULL},
	    {"keep it", "the figures as they stand now; rodbook adjusted shows them again", NULL},
	};
	struct report_adjust how = {.net = !run, .runs = &run, .count = run ? 1 : 0};
	size_t at = 0;
	char *text = report_of(book, &how, message, size);
	if (!text)
		return;
	view_text(run ? "The run, its misclosure spread" : "All runs as one net", text);
	free(text);
	message[0] = '\0';
	if (list_choose("Keep this adjustment?", lines, 2, &at, "",
	                " Up Down choose  Enter accept  Esc turn back", "") != KEY_ENTER ||
	    at == 0)
		return;
	how.keep = true;
	text = report_of(book, &how, message, size);
	if (text)
		snprintf(message, size, "the adjustment is kept: rodbook adjusted BOOK lists it");
	free(text);
}
