/* A whole book as CSV, rows altered: what a new book takes verifies, and exports as what another
 * new book takes and exports alike. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/journal.h"
#include "shelf.h"

static struct shelf here, there;
static char *source[4];

static const char *const dictionary[] = {"columns,",
                                         "row,",
                                         "setting,",
                                         "mark,",
                                         "run,",
                                         "sight,",
                                         "water,",
                                         "air,",
                                         "plan,",
                                         "seal,",
                                         "closing,",
                                         "result,",
                                         "pegtest,",
                                         "fieldtest,",
                                         "tolerance,",
                                         "instrument,",
                                         "rod,",
                                         ",",
                                         ",,",
                                         "\"",
                                         "BS",
                                         "IS",
                                         "FS",
                                         "loop",
                                         "link",
                                         "open",
                                         "crossing",
                                         "m",
                                         "ft",
                                         "ftin",
                                         "in",
                                         "rod",
                                         "tape",
                                         "target",
                                         "closed",
                                         "reopened",
                                         "2026-05-04T09:30:00+02:00",
                                         " mm",
                                         " m",
                                         "k\t0.2\n",
                                         "'=",
                                         "1; x2",
                                         "full",
                                         "simplified",
                                         "net",
                                         "wires",
                                         "0+050",
                                         NULL};

static void make(uint64_t *chance, char *text, size_t room)
{
	snprintf(text, room, "%s", source[fuzz_below(chance, 4)]);
}

static bool one(const char *text, unsigned options)
{
	struct fault why = {0};
	struct book_verified verified;
	char *first = NULL, *second = NULL;
	bool ok;
	shelf_begin(&here);
	ok = shelf_import(&here, text, &why);
	if (!ok) {
		FUZZ_LAW((why.kind == FAULT_INPUT || why.kind == FAULT_FILE) && *why.text,
		         "refused as %d: %s", (int)why.kind, why.text);
		shelf_end(&here);
		return false;
	}
	if ((options & 3) == 0) {
		bool verifies = book_verify(here.book, 0, &verified, &why);
		FUZZ_LAW(verifies && !*verified.difference, "what was taken does not verify: %s",
		         verifies ? verified.difference : why.text);
	}
	first = shelf_export_whole(&here, &why);
	if (FUZZ_LAW(first != NULL, "what was taken cannot be exported: %s", why.text) &&
	    strncmp(text, "book,", 5) == 0) {
		shelf_begin(&there);
		if (FUZZ_LAW(shelf_import(&there, first, &why),
		             "what was exported cannot be taken: %s", why.text)) {
			second = shelf_export_whole(&there, &why);
			FUZZ_LAW(second && strcmp(first, second) == 0,
			         "what was exported is exported otherwise by who took it: %s",
			         why.text);
		}
		shelf_end(&there);
	}
	free(first);
	free(second);
	shelf_end(&here);
	return true;
}

static bool begin(void)
{
	struct fault why = {0};
	if (!shelf_open(&here, LEVEL_M) || !shelf_open(&there, LEVEL_FT))
		return false;
	for (uint64_t i = 0; i < 4; i++) {
		struct shelf full;
		uint64_t chance = i + 1;
		if (!shelf_open(&full, (enum level_unit)i) || !shelf_fill(&full, &chance, &why) ||
		    !(source[i] = shelf_export_whole(&full, &why))) {
			fprintf(stderr, "%s\n", why.text);
			return false;
		}
		shelf_close(&full);
	}
	return true;
}

static void end(void)
{
	for (int i = 0; i < 4; i++)
		free(source[i]);
	shelf_close(&here);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "whole",
    .words = "whole books as CSV, altered, imported, verified, exported and imported again",
    .dictionary = dictionary,
    .make = make,
    .most = 15900,
    .tries = 150,
    .begin = begin,
    .one = one,
    .end = end,
};
