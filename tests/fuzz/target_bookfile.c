/* Book files that somebody altered: bytes of the file, or rows with the triggers out of the way.
 *
 * Nothing of that may crash or hang, and what opens and verifies must be read, exported and taken
 * by another book. A row that was altered without its journal must not verify. */
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include "forge.h"
#include "rodbook/csv/csv.h"
#include "fuzz.h"
#include "rodbook/book/journal.h"
#include "shelf.h"

/* Most books have one part only: what a try takes hangs on what is in the book. */
enum { BOOKS = 8 };
static struct forged {
	struct shelf shelf;
	char *untouched; /* what it exports */
	char *image;     /* its file */
	size_t size;
	int last[FORGE_TABLES]; /* rows of each table */
} books[BOOKS];
static struct shelf there;

/* The file whose bytes are altered. */
static struct {
	char path[128];
	int fd;
	char *bytes;
	size_t size;
} file;

/* The first line: "book NUMBER"; then "byte AT VALUE", or an SQL statement of the forger. */
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
                                         "kind='OFF'",
                                         "method='tube'",
                                         "ends='1.5;0'",
                                         "reading_u=1",
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

static size_t make_bytes(uint64_t *chance, const struct forged *book, char *text, size_t room)
{
	/* Most of a file is empty. */
	size_t at = fuzz_below(chance, book->size);
	for (int i = 0; i < 8 && !book->image[at]; i++)
		at = fuzz_below(chance, book->size);
	return (size_t)snprintf(text, room, "byte %zu %u\n", at, (unsigned)fuzz_below(chance, 256));
}

static void make(uint64_t *chance, char *text, size_t room)
{
	/* The book of all parts takes longest. */
	bool bytes = fuzz_below(chance, 3) == 0;
	size_t which = fuzz_below(chance, 3) ? fuzz_below(chance, BOOKS - 1) : BOOKS - 1, used;
	if (which == BOOKS - 1 && fuzz_below(chance, 8))
		which = fuzz_below(chance, BOOKS - 1);
	used = (size_t)snprintf(text, room, "book %zu\n", which);
	for (size_t steps = fuzz_below(chance, 3) ? 1 : 2 + fuzz_below(chance, 2);
	     steps > 0 && used + 900 < room; steps--)
		used += bytes ? make_bytes(chance, &books[which], text + used, room - used)
		              : forge_make(chance, books[which].last, text + used, room - used);
}

/* journal: the forger wrote in the journal too. */
static void check_taken(struct shelf *s, const char *untouched, bool journal)
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
	struct work_run run;
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
	loaded = work_run_load(s->book, runs[(options >> 4) % count].name, NULL, &run, &why);
	FUZZ_LAW(loaded || !verifies, "a run of what verifies cannot be loaded: %s", why.text);
	out = open_memstream(&text, &size);
	switch (options & 7) {
	case 0:
		if (loaded)
			report_page(out, &run, options & 8, &why);
		break;
	case 1:
		if (loaded)
			report_closure(out, &run, options & 8);
		break;
	case 2:
		if (loaded)
			report_statement(out, s->book, &run, REPORT_STATEMENT_CSV, &why);
		break;
	case 3:
		if (loaded)
			report_drop(out, s->book, &run, options & 8, &why);
		break;
	case 4:
		report_leave(out, s->book, NULL, 0, true, &blocks, &why);
		break;
	case 5:
		report_journal(out, s->book, 0, 0, options & 8, &why);
		break;
	default:
		if (loaded)
			csv_export_run(out, s->book, &run, &why);
	}
	fclose(out);
	if (loaded)
		work_run_free(&run);
	free(text);
	free(runs);
}

static bool check_book(struct shelf *s, const char *untouched, bool journal, unsigned options)
{
	struct fault why = {0};
	struct book_verified verified;
	bool ok = book_verify(s->book, 0, &verified, &why);
	bool verifies = ok && !*verified.difference;
	FUZZ_LAW(ok || *why.text, "what does not verify says nothing");
	check_runs(s, verifies, options);
	if (verifies)
		check_taken(s, untouched, journal);
	return verifies;
}

/* The forger's statement, if it is one of those that he may use; how many rows it changed. */
static int forge(sqlite3 *db, const char *sql)
{
	int before = sqlite3_total_changes(db);
	if (strncmp(sql, "UPDATE ", 7) != 0 && strncmp(sql, "DELETE ", 7) != 0 &&
	    strncmp(sql, "INSERT ", 7) != 0)
		return 0;
	sqlite3_exec(db, sql, NULL, NULL, NULL);
	return sqlite3_total_changes(db) - before;
}

/* The file as it stands in file.bytes, opened as from elsewhere. */
static bool check_file(const struct forged *book, unsigned options)
{
	struct shelf s = {0};
	struct fault why = {0};
	bool verifies;
	strcpy(s.path, file.path);
	s.book = book_open(file.path, shelf_clock, &why);
	if (!s.book) {
		FUZZ_LAW(why.kind == FAULT_FILE && *why.text, "it is not opened as %d: %s",
		         (int)why.kind, why.text);
		return false;
	}
	verifies = check_book(&s, book->untouched, true, options);
	book_close(s.book);
	return verifies;
}

/* The file is the book's again, with nothing beside it. */
static void lay_out(const struct forged *book)
{
	static const char *const beside[] = {"-journal", "-wal", "-shm"};
	struct stat info;
	char path[140];
	if (fstat(file.fd, &info) != 0 ||
	    ((size_t)info.st_size != book->size && ftruncate(file.fd, (off_t)book->size) != 0))
		abort();
	memcpy(file.bytes, book->image, book->size);
	for (int i = 0; i < 3; i++) {
		snprintf(path, sizeof path, "%s%s", file.path, beside[i]);
		unlink(path);
	}
}

/* What the lines alter. */
struct altered {
	int rows, bytes;
	bool journal, opened; /* opened: bytes were asked for, and the file lies there */
};

static void alter(struct forged *book, const char *text, struct altered *out)
{
	char line[3000];
	while (*text) {
		unsigned at, value;
		size_t size = strcspn(text, "\n");
		snprintf(line, sizeof line, "%.*s", (int)(size < 2999 ? size : 2999), text);
		text += size + (text[size] == '\n');
		if (sscanf(line, "byte %u %u", &at, &value) == 2) {
			if (!out->opened)
				lay_out(book);
			out->opened = true;
			if (at < book->size) {
				out->bytes += file.bytes[at] != (char)value;
				file.bytes[at] = (char)value;
			}
		} else {
			out->rows += forge(book->shelf.book->db, line);
			out->journal |= strstr(line, "journal") != NULL;
		}
	}
}

static bool one(const char *text, unsigned options)
{
	unsigned which = 0;
	struct forged *book;
	struct altered altered = {0};
	bool ok = false;
	if (sscanf(text, "book %u", &which) != 1)
		which = 0;
	book = &books[which % BOOKS];
	/* Or what is altered further would be the long texts about the large book. */
	if (which % BOOKS == BOOKS - 1 || strlen(text) > 900)
		fuzz_end_here();
	shelf_begin(&book->shelf);
	book->shelf.trying = false;
	alter(book, text, &altered);
	book->shelf.trying = true;
	if (altered.rows && !altered.bytes)
		ok = check_book(&book->shelf, book->untouched, altered.journal, options);
	shelf_end(&book->shelf);
	if (altered.bytes) {
		ok = check_file(book, options);
		fuzz_end_here();
	} else if (!altered.rows) {
		fuzz_void();
	}
	return ok;
}

static bool read_image(struct forged *book)
{
	FILE *in = fopen(book->shelf.path, "rb");
	if (!in || !(book->image = malloc(4 << 20)))
		return false;
	book->size = fread(book->image, 1, 4 << 20, in);
	fclose(in);
	if (book->size > file.size)
		file.size = book->size;
	return book->size > 0;
}

static bool make_book(struct forged *book, unsigned parts, enum level_unit unit, uint64_t *chance)
{
	struct fault why = {0};
	if (!shelf_open(&book->shelf, unit) || !shelf_fill(&book->shelf, parts, chance, &why) ||
	    !(book->untouched = shelf_export_whole(&book->shelf, &why)) || !read_image(book)) {
		fprintf(stderr, "%s\n", why.text);
		return false;
	}
	/* Its triggers are out of the way for good; those of the other book are not. */
	sqlite3_db_config(book->shelf.book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
	return forge_rows(book->shelf.book->db, book->last);
}

static bool begin(void)
{
	static const unsigned parts[BOOKS] = {SHELF_THINGS,
	                                      SHELF_LOOP,
	                                      SHELF_LINK,
	                                      SHELF_OPEN,
	                                      SHELF_CROSSING,
	                                      SHELF_THINGS,
	                                      SHELF_LOOP | SHELF_OPEN,
	                                      SHELF_ALL};
	uint64_t chance = 7;
	if (!shelf_open(&there, LEVEL_FT))
		return false;
	for (int i = 0; i < BOOKS; i++)
		if (!make_book(&books[i], parts[i], i % 3 ? LEVEL_M : LEVEL_FT, &chance))
			return false;
	snprintf(file.path, sizeof file.path, "%s/altered", there.dir);
	file.fd = open(file.path, O_RDWR | O_CREAT, 0600);
	if (file.fd < 0 || ftruncate(file.fd, (off_t)file.size) != 0)
		return false;
	file.bytes = mmap(NULL, file.size, PROT_READ | PROT_WRITE, MAP_SHARED, file.fd, 0);
	return file.bytes != MAP_FAILED;
}

static void end(void)
{
	lay_out(&books[0]);
	munmap(file.bytes, file.size);
	close(file.fd);
	unlink(file.path);
	for (int i = 0; i < BOOKS; i++) {
		free(books[i].image);
		free(books[i].untouched);
		shelf_close(&books[i].shelf);
	}
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
