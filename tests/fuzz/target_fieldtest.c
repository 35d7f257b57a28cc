/* Field tests and peg tests: pairs that are booked are read again as they were typed, a struck one
 * is gone, in books of any unit, and in the book that takes them as a whole. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "shelf.h"

static struct shelf here, there;

/* The first line is the stated sigma; then pairs, "strike", or "peg STANDINGS". */
static const char *const seeds[] = {
    "0.7 mm/km\n1.432,1.398\n1.433,1.398\n1.432,1.399\n1.431,1.398\n",
    "\n1.432 m,1.398 m\nstrike\n4' 8 3/8\",4' 7\"\n57 3/8\",57.25 in\nstrike\n",
    "0.3 mm\n1,1\n",
    "\npeg 20 m,1.432 m,20 m,1.398 m; 5 m,1.5 m,45 m,1.467 m\n1,2\n",
    "0.3 mm\npeg 60 ft,4.5 ft,60 ft,4.4 ft; 10 ft,4.7 ft,150 ft,4.61 ft\n",
    NULL};
static const char *const dictionary[] = {
    "\n1.432,1.398\n", "\nstrike\n", ",",  " m", " mm",   " ft", " in", "'", "\"", " 3/8",
    " mm/km",          "\npeg ",     "; ", "x",  "1,2\n", NULL};

static bool same_pairs(const struct level_pair *a, const struct level_pair *b, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (a[i].backsight != b[i].backsight || a[i].foresight != b[i].foresight)
			return false;
	return true;
}

/* The pairs of the only field test are these. */
static bool check(struct shelf *s, const struct level_pair *pairs, size_t count)
{
	struct book_fieldtest *list = NULL;
	static struct level_pair back[LEVEL_FIELDTEST_MOST];
	struct fault why = {0};
	size_t tests, found = 0;
	bool ok = FUZZ_LAW(book_fieldtests(s->book, NULL, &list, &tests, &why) && tests == 1,
	                   "the field test cannot be read: %s", why.text);
	if (ok)
		ok = FUZZ_LAW(book_read_pairs(list->pairs, list->unit, back, &found, &why) &&
		                  found == count && same_pairs(pairs, back, count),
		              "the pairs \"%s\" are not those that were booked", list->pairs);
	free(list);
	return ok;
}

/* A pair, where it is one; the readings as the book's unit has them. */
static bool pair(int64_t id, const char *line, enum level_unit unit, struct level_pair *out)
{
	char a[70], b[70];
	struct fault why = {0};
	size_t size = strcspn(line, ",");
	if (!line[size] || size >= sizeof a || strlen(line + size) >= sizeof b)
		return false;
	snprintf(a, sizeof a, "%.*s", (int)size, line);
	snprintf(b, sizeof b, "%s", line + size + 1);
	if (!book_fieldtest_pair(here.book, id, a, b, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
		         "the pair \"%s\" is refused as %d: %s", line, (int)why.kind, why.text);
		return false;
	}
	FUZZ_LAW(level_parse_length(a, unit, &out->backsight, &why) &&
	             level_parse_length(b, unit, &out->foresight, &why),
	         "the pair \"%s\" is booked, and no pair of lengths", line);
	return true;
}

static bool peg(const char *standings)
{
	struct book_pegtest test = {.instrument = "L1", .method = LEVEL_ROD}, *list = NULL;
	struct level_peg_result found;
	struct fault why = {0};
	size_t before, count;
	bool ok;
	if (!book_pegtests(here.book, NULL, &list, &before, &why))
		abort();
	free(list);
	list = NULL;
	snprintf(test.standings, sizeof test.standings, "%s", standings);
	if (!book_pegtest_add(here.book, &test, &found, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
		         "the peg test \"%s\" is refused as %d: %s", standings, (int)why.kind,
		         why.text);
		return false;
	}
	ok = FUZZ_LAW(book_pegtests(here.book, NULL, &list, &count, &why) && count == before + 1,
	              "the peg test \"%s\" cannot be read again: %s", standings, why.text);
	if (ok)
		FUZZ_LAW(strcmp(list[count - 1].standings, standings) == 0,
		         "the peg test \"%s\" is kept as \"%s\"", standings,
		         list[count - 1].standings);
	free(list);
	return ok;
}

/* Each line; how many pairs count at the end. */
static size_t play(const char *text, int64_t id, enum level_unit unit, struct level_pair *pairs,
                   bool *any)
{
	size_t count = 0;
	struct fault why = {0};
	while (*text) {
		char line[300];
		size_t size = strcspn(text, "\n");
		snprintf(line, sizeof line, "%.*s", (int)size, text);
		text += size + (text[size] == '\n');
		if (strcmp(line, "strike") == 0) {
			bool struck = book_fieldtest_strike(here.book, id, &why);
			FUZZ_LAW(struck == (count > 0), "a pair is struck where %zu count: %s",
			         count, why.text);
			count -= struck && count > 0;
		} else if (strncmp(line, "peg ", 4) == 0) {
			*any |= peg(line + 4);
		} else if (count < LEVEL_FIELDTEST_MOST && pair(id, line, unit, &pairs[count])) {
			count++;
			*any = true;
		}
	}
	return count;
}

static void check_taken(const struct level_pair *pairs, size_t count)
{
	struct fault why = {0};
	char *first = shelf_export_whole(&here, &why), *second = NULL;
	if (!FUZZ_LAW(first != NULL, "the book cannot be exported: %s", why.text))
		return;
	shelf_begin(&there);
	if (FUZZ_LAW(shelf_import(&there, first, &why), "what was exported cannot be taken: %s",
	             why.text) &&
	    check(&there, pairs, count)) {
		second = shelf_export_whole(&there, &why);
		FUZZ_LAW(second && strcmp(first, second) == 0,
		         "what was exported is exported otherwise by who took it:\n%s\n%s", first,
		         second ? second : why.text);
	}
	shelf_end(&there);
	free(first);
	free(second);
}

static bool one(const char *text, unsigned options)
{
	static const char *const units[] = {"m", "ft", "ftin", "in"};
	static struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	char sigma[100];
	size_t size = strcspn(text, "\n"), count;
	struct fault why = {0};
	bool any = false;
	int64_t id;
	snprintf(sigma, sizeof sigma, "%.*s", (int)(size < 99 ? size : 99), text);
	shelf_begin(&here);
	if (!book_set(here.book, "unit", units[options & 3], &why))
		abort();
	if (!book_fieldtest_begin(here.book, "L1", options & 4, sigma, &id, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text, "\"%s\" is refused as %d: %s", sigma,
		         (int)why.kind, why.text);
		shelf_end(&here);
		return false;
	}
	count = play(text + size + (text[size] == '\n'), id, (enum level_unit)(options & 3), pairs,
	             &any);
	if (!book_set(here.book, "unit", units[options >> 3 & 3], &why))
		abort();
	if (check(&here, pairs, count) && (options >> 8 & 15) == 0)
		check_taken(pairs, count);
	shelf_end(&here);
	return any;
}

static bool begin(void)
{
	struct book_instrument level = {.name = "L1", .tolerance = "0.1 mm/m"};
	return shelf_open(&here, LEVEL_M) && shelf_open(&there, LEVEL_M) &&
	       book_instrument_set(here.book, &level, NULL);
}

static void end(void)
{
	shelf_close(&here);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "fieldtest",
    .words = "field tests and peg tests, booked, struck, read again and taken by another book",
    .seeds = seeds,
    .dictionary = dictionary,
    .most = 1500,
    .tries = 600,
    .begin = begin,
    .one = one,
    .end = end,
};
