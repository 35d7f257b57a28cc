/* What was changed in a run, and what it leaves open: papers to look through. */
#include <stdlib.h>

#include "screen/editor.h"
#include "screen/view/views.h"

/* As many of the newest actions as anybody scrolls through; the command prints all. */
#define NEWEST 500

void view_journal(struct book *book, const struct book_run_info *run)
{
	struct fault why = {0};
	char *text = NULL, title[LEVEL_NAME_BYTES + 40];
	size_t used = 0;
	FILE *out = open_memstream(&text, &used);
	if (!out)
		return;
	if (!report_journal(out, book, run->id, NEWEST, false, &why))
		fprintf(out, "%s\n", why.text);
	fclose(out);
	snprintf(title, sizeof title, "The journal of %s, the newest first", run->name);
	view_text(title, text);
	free(text);
}

void view_leave(struct book *book)
{
	struct fault why = {0};
	char *text = NULL;
	size_t used = 0;
	bool blocks;
	FILE *out = open_memstream(&text, &used);
	if (!out)
		return;
	if (!report_leave(out, book, NULL, 0, false, &blocks, &why))
		fprintf(out, "%s\n", why.text);
	fclose(out);
	view_text("Before leaving the site", text);
	free(text);
}
