/* What can be brought out of a damaged book: with any one of its pages overwritten all that was
 * booked comes out, for each row stands in its table and in the journal. */
#include "fault/forge.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/rescue.h"
#include "unit/books.h"
#include "unit/chance.h"
#include "unit/suite.h"

#define PAGE 4096
#define SIGHTS 120

struct told {
	size_t count;
	char last[1000];
};

static void hear(const char *what, const char *why, void *context)
{
	struct told *told = context;
	told->count++;
	snprintf(told->last, sizeof told->last, "%s: %s", what, why);
}

/* Enough sights for the journal to need inner pages. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "title", "Otter pond", &s->why));
	ck_assert(book_mark_set(s->book, "TP0", "10", "1 mm", "peg", &s->why));
	shelf_begin(s, "bank", LEVEL_OPEN);
	ck_assert(book_begin(s->book, &s->why));
	for (int i = 0; i < SIGHTS; i++) {
		char name[24], reading[24];
		snprintf(name, sizeof name, "TP%d", (i + 1) / 2);
		snprintf(reading, sizeof reading, "1.%03d", 100 + i);
		ck_assert_msg(shelf_book(s, i % 2 ? LEVEL_FS : LEVEL_BS, name, reading), "%s",
		              s->why.text);
	}
	ck_assert(book_finish(s->book, true, &s->why));
	ck_assert(book_water_add(s->book, s->run.info.id, "TP0", "0.4", "", "calm", &s->why));
}

static bool rescue(struct shelf *s, const char *path, struct book_rescued *out, struct told *told)
{
	*told = (struct told){0};
	unlink(path);
	return book_rescue(s->path, path, shelf_clock, hear, told, out, &s->why);
}

/* The sights of the first run, in one line as shelf_line() has them. */
static void check_all(const char *path, const char *line)
{
	struct shelf n = {0};
	struct book_verified verified;
	struct book_mark *marks;
	size_t count;
	n.book = book_open(path, shelf_clock, &n.why);
	ck_assert_msg(n.book != NULL, "%s", n.why.text);
	ck_assert_msg(book_verify(n.book, 0, &verified, &n.why), "%s", n.why.text);
	ck_assert_str_eq(verified.difference, "");
	shelf_take(&n, 1);
	ck_assert_str_eq(shelf_line(&n, false), line);
	ck_assert(book_marks(n.book, &marks, &count, &n.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(marks[0].u_typed, "1 mm");
	free(marks);
	book_run_free(&n.run);
	book_close(n.book);
}

START_TEST(test_each_page)
{
	uint64_t state = chance_seed("rescue");
	struct shelf s;
	char path[160], *bytes, *spoiled, *line;
	size_t size, whole = 0, tries = 0;
	make(&s);
	line = strdup(shelf_line(&s, false));
	book_close(s.book);
	s.book = NULL;
	bytes = slurp(s.path, &size);
	spoiled = malloc(size);
	snprintf(path, sizeof path, "%s/new", s.dir);
	for (size_t page = 0; page < size / PAGE; page += EACH_OR(11))
		for (int way = 0; way < 2; way++) {
			struct book_rescued out;
			struct told told;
			memcpy(spoiled, bytes, size);
			for (size_t i = 0; i < PAGE; i++)
				spoiled[page * PAGE + i] = way ? (char)chance(&state, 0, 255) : 0;
			spill(s.path, spoiled, size);
			ck_assert_msg(rescue(&s, path, &out, &told), "page %zu: %s", page,
			              s.why.text);
			ck_assert_msg(told.count == 0, "page %zu: %s", page, told.last);
			whole += out.whole;
			tries++;
			check_all(path, line);
		}
	printf("rescue-pages\t%zu\t0\ta page of a book is overwritten, each in turn\n", tries);
	/* most pages are not the journal's last ones */
	ck_assert_uint_gt(whole, tries / 2);
	free(line);
	free(spoiled);
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* Cut off behind any page the file still gives what its pages hold, or says that nothing is left.
 */
START_TEST(test_cut_off)
{
	struct shelf s;
	char path[160], *bytes;
	size_t size, most = SIGHTS + 5;
	make(&s);
	book_close(s.book);
	s.book = NULL;
	bytes = slurp(s.path, &size);
	snprintf(path, sizeof path, "%s/new", s.dir);
	for (size_t missing = 0; missing <= size / PAGE; missing += EACH_OR(11)) {
		size_t pages = size / PAGE - missing;
		struct book_rescued out;
		struct told told;
		spill(s.path, bytes, pages * PAGE);
		if (!rescue(&s, path, &out, &told)) {
			FAULT(&s, FAULT_FILE, "nothing of a book is in");
			continue;
		}
		ck_assert(!(out.whole && out.certain) || pages == size / PAGE);
		ck_assert_uint_le((size_t)out.entries, most);
		ck_assert(missing || (size_t)out.entries == most);
		most = (size_t)out.entries;
		ck_assert(out.whole == (pages == size / PAGE) || out.entries == out.last);
	}
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* A run that the program refuses to read comes out without what cannot be read. */
START_TEST(test_unreadable)
{
	struct shelf s;
	struct book_rescued out;
	struct told told;
	char path[160], *line;
	make(&s);
	line = strdup(shelf_line(&s, false));
	book_close(s.book);
	s.book = NULL;
	forge(s.path,
	      "UPDATE run SET grade = 'none'; UPDATE journal SET after = json_set(after, "
	      "'$.grade', 'none') WHERE tbl = 'run'; INSERT INTO water SELECT 9, run, station, "
	      "unit, 'rubbish', reading, time, '', '', NULL, '' FROM water; INSERT INTO journal "
	      "SELECT seq + 1, action + 1, time, act, run, tbl, '9', NULL, json_set(after, "
	      "'$.id', 9, '$.typed', 'rubbish'), NULL FROM journal WHERE tbl = 'water'");
	snprintf(path, sizeof path, "%s/new", s.dir);
	ck_assert_msg(rescue(&s, path, &out, &told), "%s", s.why.text);
	ck_assert(!out.whole);
	ck_assert_uint_eq(out.lost, 2);
	ck_assert_msg(strstr(told.last, "water 9, water at TP0: left out: ") != NULL, "%s",
	              told.last);
	check_all(path, line);
	/* and never over a file that is there */
	ck_assert(!book_rescue(s.path, path, shelf_clock, hear, &told, &out, &s.why));
	FAULT(&s, FAULT_FILE, "exists already");
	free(line);
	shelf_close(&s);
}
END_TEST

/* What is altered in the journal alone, or in a table alone, is told: nobody else can say which is
 * true. A row that the journal has lost the entry of comes out all the same. */
START_TEST(test_altered)
{
	static const char *const alterations[] = {
	    "UPDATE sight SET typed = '1.9', reading = 1900000000 WHERE id = 5",
	    "UPDATE journal SET after = json_set(after, '$.typed', '1.9', '$.reading', 1900000000) "
	    "WHERE "
	    "tbl = 'sight' AND row = '5'",
	};
	struct shelf s;
	struct book_rescued out;
	struct told told;
	char path[160], *bytes, *line;
	size_t size;
	make(&s);
	line = strdup(shelf_line(&s, false));
	book_close(s.book);
	s.book = NULL;
	bytes = slurp(s.path, &size);
	snprintf(path, sizeof path, "%s/new", s.dir);
	for (size_t i = 0; i < sizeof alterations / sizeof *alterations; i++) {
		spill(s.path, bytes, size);
		forge(s.path, alterations[i]);
		ck_assert_msg(rescue(&s, path, &out, &told), "%s", s.why.text);
		ck_assert_uint_eq(out.differ, 1);
		ck_assert_uint_eq(told.count, 1);
		ck_assert_msg(strncmp(told.last, "sight 5: table and journal", 26) == 0, "%s",
		              told.last);
	}
	spill(s.path, bytes, size);
	forge(s.path,
	      "DELETE FROM journal WHERE seq = (SELECT max(seq) - 1 FROM journal); UPDATE journal "
	      "SET seq = seq - 1, action = action - 1 WHERE seq = (SELECT max(seq) FROM journal)");
	ck_assert_msg(rescue(&s, path, &out, &told), "%s", s.why.text);
	ck_assert(!out.whole);
	check_all(path, line);
	free(line);
	free(bytes);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("rescue", test_each_page, test_cut_off, test_unreadable, test_altered);
}
