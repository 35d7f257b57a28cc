/* A CSV of runs: what a book takes, it exports as what another book takes and exports alike. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "shelf.h"

static struct shelf here, there;
static const char *source[8];
static size_t sources;

static const char *const dictionary[] = {
    "run,kind,sight,station,known,reading,upper,middle,lower,distance,method,time,remark,unit,"
    "instrument,rod,again,along,photo,distance_by\n",
    "BS",
    "IS",
    "FS",
    "OFF",
    "ruler",
    "tube",
    "u,limit,ends",
    "PEG",
    "TP1",
    "loop",
    "link",
    "open",
    "crossing",
    ",",
    ",,",
    "\"",
    "\"\"",
    "\r\n",
    "\n",
    "rod",
    "tape",
    "target",
    "wires",
    "map",
    "step",
    "again",
    "ft",
    "ftin",
    "in",
    "m",
    " mm",
    " m",
    " ft",
    "1; x2; 1",
    "-1.5",
    "-1; x-2; -1.1",
    "0+050",
    "2026-05-04",
    "2026-05-04T09:30:00+02:00",
    "'=",
    "=",
    "L1",
    "long",
    ";",
    "\xc3\xa9",
    "known,",
    "reading,",
    NULL};

/* An offset away from the mark of an FS, which breaks the line, or there and back; by height, or by
 * both ends of a tube. */
static size_t write_offset(uint64_t *chance, char *text, size_t room, const char *kind, int i)
{
	static const char *const ways[] = {
	    "1.250,,tape,m,,,,,",        "-0.65,,ruler,ft,low,,,1 mm,",
	    "2,,tube,in,,,0.1,,",        "0.445,,tube,m,,,,,1.432; 0.987",
	    ",,,m,,,0.002,,1.432;0.987", ",,,ftin,,,,,4' 8\"\";1'"};
	int used =
	    snprintf(text, room, "new,%s,OFF,X%d,,%s\n", kind, i, ways[fuzz_below(chance, 6)]);
	if (fuzz_below(chance, 4))
		used += snprintf(text + used, room - (size_t)used,
		                 "new,%s,OFF,T%d,,-1.25,,,,,,,,\n", kind, (i + 1) / 2);
	return (size_t)used;
}

/* A run of a few setups in random units. */
static void write_run(uint64_t *chance, char *text, size_t room)
{
	static const char *const units[] = {"m", "ft", "ftin", "in"};
	static const char *const kinds[] = {"loop", "link", "open", "crossing", ""};
	static const char *const methods[] = {"rod", "tape", "target", ""};
	const char *kind = kinds[fuzz_below(chance, 5)];
	int setups = 1 + (int)fuzz_below(chance, 4);
	size_t used = (size_t)snprintf(text, room,
	                               "run,kind,sight,station,known,reading,distance,"
	                               "method,unit,remark,along,u,limit,ends\n");
	for (int i = 0; i < 2 * setups && used + 200 < room; i++) {
		const char *unit = units[fuzz_below(chance, 4)];
		unsigned whole = (unsigned)fuzz_below(chance, *unit == 'm' ? 4 : 9);
		used += (size_t)snprintf(
		    text + used, room - used, "new,%s,%s,%s%d,%s,%s%u.%03u,%u,%s,%s,%s,%s,,,\n",
		    kind, i % 2 ? "FS" : "BS", "T", (i + 1) / 2,
		    i == 0 && fuzz_below(chance, 2) ? "12.5" : "", fuzz_below(chance, 6) ? "" : "-",
		    whole, (unsigned)fuzz_below(chance, 1000),
		    10 + (unsigned)fuzz_below(chance, 300), methods[fuzz_below(chance, 4)], unit,
		    fuzz_below(chance, 4) ? "" : "\"a, b\"", fuzz_below(chance, 4) ? "" : "12+50");
		if (i % 2 && fuzz_below(chance, 4) == 0 && used + 200 < room)
			used += write_offset(chance, text + used, room - used, kind, i);
	}
}

static void make(uint64_t *chance, char *text, size_t room)
{
	if (fuzz_below(chance, 2))
		write_run(chance, text, room);
	else
		snprintf(text, room, "%s", source[fuzz_below(chance, sources)]);
}

static bool alter(uint64_t *chance, char *text, size_t room)
{
	fuzz_rename(chance, text, room);
	return true;
}

static bool same_sights(const char *name)
{
	struct book_run_info a, b;
	struct book_run x = {0}, y = {0};
	bool same = book_run_find(here.book, name, &a, NULL) &&
	            book_run_find(there.book, name, &b, NULL) &&
	            book_load(here.book, a.id, &x, NULL);
	if (same && book_load(there.book, b.id, &y, NULL)) {
		same = x.run.count == y.run.count && x.run.kind == y.run.kind;
		for (size_t i = 0; same && i < x.run.count; i++) {
			const struct level_sight *s = &x.run.sight[i], *t = &y.run.sight[i];
			same = s->kind == t->kind && s->method == t->method &&
			       s->reading == t->reading && s->wires == t->wires &&
			       s->upper == t->upper && s->middle == t->middle &&
			       s->lower == t->lower && s->distance == t->distance &&
			       s->again == t->again && s->has_known == t->has_known &&
			       s->known == t->known && s->set_count == t->set_count &&
			       s->u == t->u && s->limit == t->limit &&
			       strcmp(x.note[i].ends, y.note[i].ends) == 0 &&
			       strcmp(s->station, t->station) == 0 &&
			       strcmp(x.note[i].time, y.note[i].time) == 0 &&
			       strcmp(x.note[i].remark, y.note[i].remark) == 0 &&
			       strcmp(x.note[i].overridden, y.note[i].overridden) == 0 &&
			       strcmp(x.note[i].photo, y.note[i].photo) == 0;
		}
		book_run_free(&y);
	} else {
		same = false;
	}
	book_run_free(&x);
	return same;
}

/* What the other book exports of a run that it takes; free() it. */
static char *taken(const char *text, const char *name)
{
	struct fault why = {0};
	char *again = NULL;
	shelf_begin(&there);
	if (FUZZ_LAW(shelf_import(&there, text, &why), "what was exported cannot be taken: %s\n%s",
	             why.text, text)) {
		again = shelf_export_run(&there, name, &why);
		FUZZ_LAW(again != NULL, "what was taken cannot be exported: %s\n%s", why.text,
		         text);
		FUZZ_LAW(same_sights(name), "the sights of what was exported differ:\n%s", text);
	}
	shelf_end(&there);
	return again;
}

/* A known elevation gets its unit written behind it where rows differ in unit, and then keeps it:
 * so it may take two exports until they are alike. */
static void check_run(const char *name)
{
	struct fault why = {0};
	char *first = shelf_export_run(&here, name, &why), *second, *third = NULL;
	if (!FUZZ_LAW(first != NULL, "a run that was taken cannot be exported: %s", why.text))
		return;
	second = taken(first, name);
	if (second && strcmp(first, second) != 0 && (third = taken(second, name)))
		FUZZ_LAW(strcmp(second, third) == 0,
		         "what was exported is exported otherwise by who took it:\n%s\n%s\n%s",
		         first, second, third);
	free(first);
	free(second);
	free(third);
}

static bool one(const char *text, unsigned options)
{
	static const char *const units[] = {"m", "ft", "ftin", "in"};
	struct book_run_info *runs = NULL;
	struct fault why = {0};
	size_t count;
	bool ok;
	shelf_begin(&here);
	if (!book_set(here.book, "unit", units[options & 3], &why))
		abort();
	ok = shelf_import(&here, text, &why);
	if (!ok)
		FUZZ_LAW((why.kind == FAULT_INPUT || why.kind == FAULT_FILE) && *why.text,
		         "refused as %d: %s\n%s", (int)why.kind, why.text, text);
	else if (FUZZ_LAW(book_runs(here.book, &runs, &count, &why), "the runs cannot be read: %s",
	                  why.text))
		for (size_t i = 0; i < count; i++)
			check_run(runs[i].name);
	free(runs);
	shelf_end(&here);
	return ok;
}

static bool things(struct shelf *s, struct fault *why)
{
	struct book_rod rod = {.name = "long", .zero = "0.2 mm", .scale = "12", .longest = "4 m"};
	struct book_instrument level = {.name = "L1", .tolerance = "0.1 mm/m"};
	return book_rod_set(s->book, &rod, why) && book_instrument_set(s->book, &level, why) &&
	       book_set(s->book, "rod_length", "100 m", why);
}

static bool begin(void)
{
	static const char *const names[] = {"loop, \"1\"", "link", "open", "crossing"};
	struct shelf full;
	struct fault why = {0};
	uint64_t chance = 1;
	if (!shelf_open(&here, LEVEL_M) || !shelf_open(&there, LEVEL_FT) ||
	    !shelf_open(&full, LEVEL_M) || !things(&here, &why) || !things(&there, &why) ||
	    !shelf_fill(&full, SHELF_ALL, &chance, &why)) {
		fprintf(stderr, "%s\n", why.text);
		return false;
	}
	for (size_t i = 0; i < 4; i++)
		if ((source[sources] = shelf_export_run(&full, names[i], &why)))
			sources++;
	shelf_close(&full);
	return sources == 4;
}

static void end(void)
{
	while (sources > 0)
		free((char *)source[--sources]);
	shelf_close(&here);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "csv",
    .words = "runs as CSV, imported, exported, imported by another book and exported again",
    .dictionary = dictionary,
    .make = make,
    .alter = alter,
    .most = 4000,
    .tries = 800,
    .begin = begin,
    .one = one,
    .end = end,
};
