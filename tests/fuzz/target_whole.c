/* A whole book as CSV, rows altered: what a new book takes verifies, and exports as what another
 * new book takes and exports alike. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/book/journal.h"
#include "shelf.h"

static struct shelf here, there;
/* Books of one part each, for most of what a whole book goes through hangs on its size; and of all
 * parts. They are made anew now and then. */
enum { SOURCES = 24, MADE_ANEW = 300 };
static char *source[SOURCES];

static const char *const dictionary[] = {"columns,",   "row,",       "setting,",
                                         "mark,",      "run,",       "sight,",
                                         "water,",     "air,",       "gauge,",
                                         "setout,",    "plan,",      "seal,",
                                         "closing,",   "result,",    "pegtest,",
                                         "fieldtest,", "tolerance,", "instrument,",
                                         "rod,",       ",",          ",,",
                                         "\"",         "BS",         "IS",
                                         "FS",         "loop",       "link",
                                         "open",       "crossing",   "m",
                                         "ft",         "ftin",       "in",
                                         "rod",        "tape",       "target",
                                         "closed",     "reopened",   "2026-05-04T09:30:00+02:00",
                                         " mm",        " m",         "k\t0.2\n",
                                         "'=",         "1; x2",      "full",
                                         "simplified", "net",        "wires",
                                         "0+050",      NULL};

static bool renew(size_t i, uint64_t *chance)
{
	static const unsigned parts[] = {SHELF_THINGS,
	                                 SHELF_LOOP,
	                                 SHELF_LINK,
	                                 SHELF_OPEN,
	                                 SHELF_CROSSING,
	                                 SHELF_LOOP | SHELF_OPEN,
	                                 SHELF_LINK | SHELF_CROSSING,
	                                 SHELF_ALL};
	struct shelf full;
	struct fault why = {0};
	char *text;
	bool ok = shelf_open(&full, (enum level_unit)fuzz_below(chance, 4)) &&
	          shelf_fill(&full, parts[i % 8], chance, &why) &&
	          (text = shelf_export_whole(&full, &why));
	if (ok) {
		free(source[i]);
		source[i] = text;
	} else {
		fprintf(stderr, "%s\n", why.text);
	}
	shelf_close(&full);
	return ok;
}

static void make(uint64_t *chance, char *text, size_t room)
{
	size_t i = fuzz_below(chance, SOURCES);
	/* The largest ones seldom. */
	if (i % 8 == 7 && fuzz_below(chance, 4))
		i -= 1 + fuzz_below(chance, 7);
	if (fuzz_below(chance, MADE_ANEW) == 0 && !renew(i, chance))
		abort();
	snprintf(text, room, "%s", source[i]);
}

/* Another length, as typed and in nm. */
static bool other_length(uint64_t *chance, char *text, size_t room)
{
	char *at = text + fuzz_below(chance, strlen(text)), *from, number[60];
	size_t digits = 0;
	unsigned mm = (unsigned)fuzz_below(chance, 4000);
	while ((at = strstr(at, " m,")) && (digits = strspn(at + 3, "0123456789")) == 0)
		at += 3;
	if (!at)
		return false;
	for (from = at; from > text && from[-1] != ','; from--)
		continue;
	snprintf(number, sizeof number, "%u.%03u m,%u000000", mm / 1000, mm % 1000, mm);
	return fuzz_put(text, room, from, (size_t)(at - from) + 3 + digits, number);
}

static bool alter(uint64_t *chance, char *text, size_t room)
{
	if (!*text)
		return false;
	if (fuzz_below(chance, 3))
		return other_length(chance, text, room);
	fuzz_rename(chance, text, room);
	return true;
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
	uint64_t chance = 1;
	if (!shelf_open(&here, LEVEL_M) || !shelf_open(&there, LEVEL_FT))
		return false;
	for (size_t i = 0; i < SOURCES; i++)
		if (!renew(i, &chance))
			return false;
	return true;
}

static void end(void)
{
	for (size_t i = 0; i < SOURCES; i++)
		free(source[i]);
	shelf_close(&here);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "whole",
    .words = "whole books as CSV, altered, imported, verified, exported and imported again",
    .dictionary = dictionary,
    .make = make,
    .alter = alter,
    .most = 15900,
    .tries = 150,
    .begin = begin,
    .one = one,
    .end = end,
};
