/* Book files that somebody altered: bytes of the file, or rows with the triggers out of the way.
 *
 * Nothing of that may crash or hang, and what opens and verifies must be read, exported and taken
 * by another book. A row that was altered without its journal must not verify. */
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "rodbook/journal.h"
#include "shelf.h"

static struct shelf full, there;
static char *image, *untouched, file[128];
static size_t image_size;

/* Lines: "byte AT VALUE", or an SQL statement of the forger. */
static const char *const dictionary[] = {"UPDATE sight SET ",
                                         "UPDATE mark SET ",
                                         "UPDATE run SET ",
                                         "UPDATE setting SET value=",
                                         "UPDATE journal SET ",
                                         "UPDATE water SET ",
                                         "UPDATE air SET ",
                                         "UPDATE seal SET ",
                                         "UPDATE plan SET ",
                                         "UPDATE closing SET ",
                                         "UPDATE pegtest SET ",
                                         "UPDATE fieldtest SET ",
                                         "UPDATE tolerance SET ",
                                         "UPDATE rod SET ",
                                         "UPDATE instrument SET ",
                                         "DELETE FROM sight",
                                         " WHERE id=1",
                                         " WHERE id=2",
                                         " WHERE id=3",
                                         "typed='1.5 m'",
                                         "reading=1500000000",
                                         "place=0",
                                         "station='PEG'",
                                         "kind='BS'",
                                         "kind='FS'",
                                         "struck=NULL",
                                         "struck=''",
                                         "why=''",
                                         "run=1",
                                         "again=1",
                                         "unit='ft'",
                                         "distance=1",
                                         "upper=0",
                                         "figures=''",
                                         "time=''",
                                         "=char(27)",
                                         "=zeroblob(9)",
                                         "=''",
                                         "=9223372036854775807",
                                         "=-1",
                                         "=1e300",
                                         ", ",
                                         "\n",
                                         "byte ",
                                         " 0",
                                         " 255",
                                         "'",
                                         NULL};

static const char *const columns[][26] = {
    {"sight",      "id",      "run",     "place",          "kind",         "station",
     "unit",       "typed",   "reading", "upper_typed",    "middle_typed", "lower_typed",
     "upper",      "middle",  "lower",   "distance_typed", "distance",     "method",
     "instrument", "rod",     "time",    "remark",         "again",        "along",
     "struck",     "replaces"},
    {"mark", "id", "name", "typed", "unit", "elevation", "u_typed", "u", "source", "time",
     "struck"},
    {"run", "id", "name", "kind", "plan", "grade", "time"},
    {"setting", "name", "value"},
    {"water", "id", "run", "station", "unit", "typed", "reading", "time", "remark", "struck"},
    {"air", "run", "unit", "pressure", "low", "low_height", "high", "wind_speed", "time", "struck"},
    {"plan", "id", "name", "figures", "time", "struck"},
    {"seal", "id", "run", "figures", "late", "why", "time"},
    {"closing", "id", "run", "state", "why", "time"},
    {"instrument", "name", "tolerance", "tilt", "tilt_u", "time", "struck"},
    {"pegtest", "instrument", "unit", "standings", "tilt", "tilt_u", "k", "dk", "method"},
    {"fieldtest", "instrument", "extent", "sigma", "unit", "pairs", "time"},
    {"tolerance", "name", "figures", "time", "struck"},
    {"rod", "name", "zero", "scale", "expansion", "reference", "longest", "struck"},
    {"journal", "action", "time", "act", "run", "tbl", "row", "before", "after", "undoes"},
};

static const char *const values[] = {"NULL",
                                     "''",
                                     "0",
                                     "1",
                                     "2",
                                     "-1",
                                     "9223372036854775807",
                                     "'1.5 m'",
                                     "'1.432'",
                                     "'PEG'",
                                     "'TP1'",
                                     "'m'",
                                     "'ft'",
                                     "'BS'",
                                     "'FS'",
                                     "'IS'",
                                     "1500000000",
                                     "'x'",
                                     "char(27)",
                                     "'2026-05-04'",
                                     "'2026-05-04T09:30:00+02:00'",
                                     "'k' || char(9) || 'nan' || char(10)",
                                     "'0.1 mm/m'",
                                     "'L1'",
                                     "'closed'",
                                     "'reopened'",
                                     "'crossing'",
                                     "'loop'",
                                     "'across'",
                                     "hex(zeroblob(200))",
                                     "'1; 2'",
                                     "'1e999'",
                                     "'nan'",
                                     "100000000000",
                                     "'full'",
                                     "'tape'",
                                     NULL};

/* Alters the journal's last word about the row too, so that it agrees with the table. */
static const char *const consistent =
    "UPDATE %s SET %s=%s WHERE rowid=%u;UPDATE journal SET after=json_set(after,'$.%s',%s) WHERE "
    "tbl='%s' AND row='%u' AND seq=(SELECT max(seq) FROM journal WHERE tbl='%s' AND row='%u')\n";

static void make(uint64_t *chance, char *text, size_t room)
{
	/* Opening a file takes longest, and few of them open. */
	bool bytes = fuzz_below(chance, 8) == 0;
	size_t most = 0, column = 1, used = 0;
	while (values[most])
		most++;
	for (size_t steps = 1 + fuzz_below(chance, 3); steps > 0 && used + 900 < room; steps--) {
		const char *const *table =
		    columns[fuzz_below(chance, sizeof columns / sizeof *columns)];
		const char *value = values[fuzz_below(chance, most)];
		unsigned row = 1 + (unsigned)fuzz_below(chance, 8);
		while (column < 25 && table[column + 1])
			column++;
		column = 1 + fuzz_below(chance, column);
		switch (bytes ? 0 : 1 + fuzz_below(chance, 3)) {
		case 0:
			used += (size_t)snprintf(text + used, room - used, "byte %u %u\n",
			                         (unsigned)fuzz_below(chance, image_size),
			                         (unsigned)fuzz_below(chance, 256));
			break;
		case 1:
			used += (size_t)snprintf(text + used, room - used,
			                         "UPDATE %s SET %s=%s WHERE rowid=%u\n", table[0],
			                         table[column], value, row);
			break;
		default:
			used += (size_t)snprintf(text + used, room - used, consistent, table[0],
			                         table[column], value, row, table[column], value,
			                         table[0], row, table[0], row);
		}
		column = 1;
	}
}

/* journal: the forger wrote in the journal too. */
static void check_taken(struct shelf *s, bool journal)
{
	struct fault why = {0};
	char *first = shelf_export_whole(s, &why), *second = NULL;
	if (!FUZZ_LAW(first != NULL, "what verifies cannot be exported: %s", why.text))
		return;
	FUZZ_LAW(journal || strcmp(first, untouched) == 0,
	         "rows were altered without their journal, and it verifies");
	shelf_begin(&there);
	if (FUZZ_LAW(shelf_import(&there, first, &why),
	             "what verifies and was exported cannot be taken: %s", why.text)) {
		second = shelf_export_whole(&there, &why);
		FUZZ_LAW(second && strcmp(first, second) == 0,
		         "what verifies is exported otherwise by who took it: %s", why.text);
	}
	shelf_end(&there);
	free(first);
	free(second);
}

/* A run is loaded, and one of the papers made of it; of a book that verifies it must load. Which
 * ones, the options say: all of them each time would take a tenth of a second. */
static void check_runs(struct shelf *s, bool verifies, unsigned options)
{
	struct book_run_info *runs = NULL;
	struct paper_run run;
	struct fault why = {0};
	char *text = NULL;
	size_t count = 0, size;
	FILE *out;
	bool blocks, listed = book_runs(s->book, &runs, &count, &why), loaded;
	FUZZ_LAW(listed || !verifies, "the runs of what verifies cannot be listed: %s", why.text);
	if (!listed || count == 0) {
		free(runs);
		return;
	}
	loaded = paper_load(s->book, runs[(options >> 4) % count].name, NULL, &run, &why);
	FUZZ_LAW(loaded || !verifies, "a run of what verifies cannot be loaded: %s", why.text);
	out = open_memstream(&text, &size);
	switch (options & 7) {
	case 0:
		if (loaded)
			paper_page(out, &run, options & 8, &why);
		break;
	case 1:
		if (loaded)
			paper_closure(out, &run, options & 8);
		break;
	case 2:
		if (loaded)
			paper_statement(out, s->book, &run, PAPER_STATEMENT_CSV, &why);
		break;
	case 3:
		if (loaded)
			paper_drop(out, s->book, &run, options & 8, &why);
		break;
	case 4:
		paper_leave(out, s->book, NULL, 0, true, &blocks, &why);
		break;
	case 5:
		paper_journal(out, s->book, 0, 0, options & 8, &why);
		break;
	default:
		if (loaded)
			paper_export(out, s->book, &run, &why);
	}
	fclose(out);
	if (loaded)
		paper_free(&run);
	free(text);
	free(runs);
}

static bool check_book(struct shelf *s, bool journal, unsigned options)
{
	struct fault why = {0};
	struct book_verified verified;
	bool ok = book_verify(s->book, 0, &verified, &why);
	bool verifies = ok && !*verified.difference;
	FUZZ_LAW(ok || *why.text, "what does not verify says nothing");
	check_runs(s, verifies, options);
	if (verifies)
		check_taken(s, journal);
	return verifies;
}

/* The forger's statement, if it is one of those that he may use. */
static int forge(const char *sql)
{
	int before = sqlite3_total_changes(full.book->db);
	if (strncmp(sql, "UPDATE ", 7) != 0 && strncmp(sql, "DELETE ", 7) != 0 &&
	    strncmp(sql, "INSERT ", 7) != 0)
		return 0;
	sqlite3_exec(full.book->db, sql, NULL, NULL, NULL);
	return sqlite3_total_changes(full.book->db) - before;
}

/* The file with some bytes altered, opened as from elsewhere. */
static bool check_file(const char *bytes, unsigned options)
{
	struct shelf s = {0};
	struct fault why = {0};
	bool verifies = false;
	FILE *out = fopen(file, "wb");
	if (!out)
		abort();
	fwrite(bytes, 1, image_size, out);
	fclose(out);
	strcpy(s.path, file);
	s.book = book_open(file, shelf_clock, &why);
	if (!s.book) {
		FUZZ_LAW(why.kind == FAULT_FILE && *why.text, "it is not opened as %d: %s",
		         (int)why.kind, why.text);
		return false;
	}
	verifies = check_book(&s, true, options);
	book_close(s.book);
	return verifies;
}

static bool one(const char *text, unsigned options)
{
	char *bytes = NULL, line[3000];
	bool forged = false, journal = false, ok;
	shelf_begin(&full);
	full.trying = false;
	while (*text) {
		unsigned at, value;
		size_t size = strcspn(text, "\n");
		snprintf(line, sizeof line, "%.*s", (int)(size < 2999 ? size : 2999), text);
		text += size + (text[size] == '\n');
		if (sscanf(line, "byte %u %u", &at, &value) == 2) {
			if (!bytes && (bytes = malloc(image_size)))
				memcpy(bytes, image, image_size);
			if (bytes && at < image_size)
				bytes[at] = (char)value;
		} else {
			forged |= forge(line) > 0;
			journal |= strstr(line, "journal") != NULL;
		}
	}
	full.trying = true;
	ok = bytes ? false : check_book(&full, journal, options);
	shelf_end(&full);
	if (bytes)
		ok = check_file(bytes, options);
	free(bytes);
	return ok && (forged || bytes);
}

static bool begin(void)
{
	struct fault why = {0};
	uint64_t chance = 7;
	FILE *in;
	if (!shelf_open(&full, LEVEL_M) || !shelf_open(&there, LEVEL_FT) ||
	    !shelf_fill(&full, SHELF_ALL, &chance, &why) ||
	    !(untouched = shelf_export_whole(&full, &why))) {
		fprintf(stderr, "%s\n", why.text);
		return false;
	}
	/* Its triggers are out of the way for good; those of the other book are not. */
	sqlite3_db_config(full.book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
	snprintf(file, sizeof file, "%s/altered", full.dir);
	in = fopen(full.path, "rb");
	if (!in || !(image = malloc(4 << 20)))
		return false;
	image_size = fread(image, 1, 4 << 20, in);
	fclose(in);
	return true;
}

static void end(void)
{
	free(image);
	free(untouched);
	unlink(file);
	shelf_close(&full);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "bookfile",
    .words = "books with bytes and rows altered, opened, verified, read, exported and imported",
    .dictionary = dictionary,
    .make = make,
    .most = 3000,
    .tries = 80,
    .begin = begin,
    .one = one,
    .end = end,
};
