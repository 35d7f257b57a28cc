/* A station, or a word of a remark, looked for in all runs of the book. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/report/finds.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* More than anybody looks through: a longer word finds fewer. */
#define MOST 200

/* Shows what was found; the one chosen, or NULL. */
static const struct work_found *choose(const struct work_finds *finds, const char *wanted)
{
	char title[700], *text = NULL;
	long row[MOST];
	size_t size, at = 0;
	struct fault why = {0};
	FILE *out = open_memstream(&text, &size);
	bool ok = out && report_finds_text(out, finds, row, &why), chosen = false;
	snprintf(title, sizeof title, "Sights with \"%s\" in station or remark", wanted);
	if (out && fclose(out) != 0)
		ok = false;
	if (ok)
		chosen = view_choose(title, text, row, finds->count, &at);
	else
		view_text(title, NULL);
	free(text);
	return chosen ? &finds->find[at] : NULL;
}

int64_t view_find(struct book *book, int64_t *sight)
{
	struct question wanted = {
	    "Find",
	    "A station, or a word of a remark, or a part of it; all runs are looked through.", "",
	    LEVEL_REMARK_CHARS, "text"};
	char message[700] = "";
	int64_t run = 0;
	while (!run && ask("Find a sight", &wanted, 1, NULL, message)) {
		struct work_finds finds;
		const struct work_found *found = NULL;
		struct fault why = {0};
		message[0] = '\0';
		if (!work_find(book, wanted.text, MOST, &finds, &why))
			snprintf(message, sizeof message, "%s", why.text);
		else if (finds.count)
			found = choose(&finds, wanted.text);
		else
			snprintf(message, sizeof message, "no station and no remark holds \"%s\"%s",
			         wanted.text,
			         finds.unreadable ? "; a run that cannot be read is left out" : "");
		if (found) {
			run = found->run_id;
			*sight = found->sight;
		}
		work_finds_free(&finds);
	}
	return run;
}
