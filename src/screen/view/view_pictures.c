/* The pictures of a run in characters: profile, long sight of a crossing, and how all runs close.
 */
#include <stdlib.h>

#include "screen/editor.h"
#include "screen/view/views.h"

void view_pictures(struct book *book, const struct book_run_info *run)
{
	static const enum report_picture crossing[] = {REPORT_LONGSIGHT, REPORT_PROFILE,
	                                               REPORT_CLOSURES};
	static const enum report_picture other[] = {REPORT_PROFILE, REPORT_CLOSURES};
	bool crosses = run->kind == LEVEL_CROSSING;
	const enum report_picture *which = crosses ? crossing : other;
	size_t count = crosses ? 3 : 2, size = 0;
	const char *name = run->name;
	char *text = NULL;
	FILE *out = open_memstream(&text, &size);
	if (!out)
		return;
	for (size_t i = 0; i < count; i++) {
		struct fault why = {0};
		bool all = which[i] == REPORT_CLOSURES;
		if (!report_picture(out, book, which[i], all ? NULL : &name, !all, REPORT_AS_TEXT,
		                    &why))
			fprintf(out, "%s\n", why.text);
		fputc('\n', out);
	}
	if (fclose(out) == 0)
		view_text("Pictures", text);
	free(text);
}
