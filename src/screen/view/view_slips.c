/* Which single slip would explain a misclosure. */
#include <stdlib.h>

#include "screen/editor.h"
#include "screen/view/views.h"

void view_slips(struct book *book, const char *name)
{
	struct work_run run;
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0;
	bool explained = false, ok;
	FILE *out = open_memstream(&text, &used);
	if (!out)
		return;
	ok = work_run_load(book, name, NULL, &run, &why);
	if (ok) {
		ok = report_slips(out, &run, false, &explained, &why);
		work_run_free(&run);
	}
	if (!ok)
		fprintf(out, "%s\n", why.text);
	fclose(out);
	view_text("What to go and read again", text);
	free(text);
}
