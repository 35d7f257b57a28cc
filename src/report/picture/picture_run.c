/* The picture that belongs to a run. */
#include <stdlib.h>

#include "report/picture/picture.h"

bool picture_of_run(struct book *book, const struct work_run *run, char **svg, struct fault *why)
{
	const char *name = run->book.info.name;
	enum report_picture which =
	    run->book.run.kind == LEVEL_CROSSING ? REPORT_LONGSIGHT : REPORT_PROFILE;
	struct fault none = {0};
	size_t size;
	FILE *out;
	bool ok = true;
	*svg = NULL;
	out = open_memstream(svg, &size);
	if (!out)
		return fault_memory(why);
	if (!report_picture(out, book, which, &name, 1, REPORT_AS_SVG, &none) &&
	    none.kind != FAULT_EMPTY && none.kind != FAULT_INPUT)
		ok = fault_say(why, none.kind, "%s", none.text);
	if (fclose(out) != 0 || !*svg)
		ok = fault_memory(why);
	if (ok && none.kind == FAULT_NONE)
		return true;
	free(*svg);
	*svg = NULL;
	return ok;
}
