/* Whole books as CSV, forged: nothing comes in that the program could not have written, and nothing
 * goes out that a terminal would obey. */
#define _GNU_SOURCE /* fopencookie */
#include "fault/forge.h"
#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"

/* The text that there is no memory to copy; NULL: none. */
static const char *refused;

/* In place of the C library's. */
char *strdup(const char *text)
{
	char *copy = refused && strcmp(text, refused) == 0 ? NULL : malloc(strlen(text) + 1);
	return copy ? strcpy(copy, text) : NULL;
}

/* Nor may a cell be lost for want of memory: a struck sight without its time would count again. */
START_TEST(test_no_memory_for_a_cell)
{
	static const char text[] =
	    "book,3\n"
	    "columns,run,id,name,kind,time\nrow,run,1,a,open,\n"
	    "columns,sight,id,run,place,kind,station,unit,typed,reading,method,time,struck,why\n"
	    "row,sight,1,1,1,BS,A,m,1,1000000000,rod,,2026-05-04,slipped\n";
	struct shelf s;
	struct work_taken counts = {0};
	shelf_open(&s, LEVEL_M);
	refused = "2026-05-04";
	ck_assert(!shelf_import(&s, text, &counts));
	refused = NULL;
	FAULT(&s, FAULT_FILE, "out of memory");
	ck_assert_msg(shelf_import(&s, text, &counts), "%s", s.why.text);
	shelf_close(&s);
}
END_TEST

/* Rows that nobody asks for by a name that is known, or that were struck, are read like others. */
START_TEST(test_rows_that_cannot_stand)
{
	static const struct {
		const char *rows, *says;
	} cases[] = {
	    {"columns,fieldtest,id,instrument,extent,sigma,unit,pairs,time\n"
	     "row,fieldtest,1,L9,simplified,,m,rubbish,\n",
	     "a pair is a backsight and a foresight"},
	    {"columns,pegtest,id,instrument,unit,standings,tilt,tilt_u,time\n"
	     "row,pegtest,1,L9,m,rubbish,0,1 mm/m,\n",
	     "cannot stand in a book"},
	    {"columns,result,id,kind,subject,figures,seq,time\n"
	     "row,result,1,run,\" x\",a,0,\n",
	     "begins or ends with a blank"},
	    {"columns,result,id,kind,subject,figures,seq,time\n"
	     "row,result,1,run,x,a\033[2J,0,\n",
	     "row 1 of the table result: the figures holds a control or invisible character"},
	    {"columns,rod,id,name,remark,time,struck\nrow,rod,1,long,a\033[2J,,2026\n",
	     "row 1 of the table rod: the remark holds a control or invisible character"},
	    {"columns,setting,name,value\nrow,setting,k,0.1\033[2J\n",
	     "row 1 of the table setting: the k holds a control or invisible character"},
	    {"columns,run,id,name,kind,time\nrow,run,1,a,open,\nrow,run,2,b,open,\n"
	     "columns,sight,id,run,place,kind,station,unit,typed,reading,method,time,replaces\n"
	     "row,sight,1,1,1,BS,A,m,1,1000000000,rod,,\n"
	     "row,sight,2,2,1,BS,A,m,1,1000000000,rod,,1\n",
	     "replaces a sight that is not an earlier one of the same run"},
	    {"columns,run,id,name,kind,time\nrow,run,1,a,open,\n"
	     "columns,closing,id,run,state,why,time\nrow,closing,1,1,reopened,x,\n",
	     "closed, or opened again, twice in a row"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct work_taken counts = {0};
		char text[600];
		shelf_open(&s, LEVEL_M);
		snprintf(text, sizeof text, "book,3\n%s", cases[i].rows);
		ck_assert_msg(!shelf_import(&s, text, &counts), "%s", cases[i].rows);
		FAULT(&s, FAULT_INPUT, cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

/* Nobody looks at a struck instrument, but a whole book has it. */
START_TEST(test_export_of_forged)
{
	struct shelf s;
	FILE *out = tmpfile();
	ck_assert_ptr_nonnull(out);
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	forge(s.path, "INSERT INTO instrument(name, tolerance, time, struck) VALUES('L' || "
	              "char(27) || '[2J', '0.1 mm/m', '', '2026')");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert(!csv_export_whole(out, s.book, &s.why));
	FAULT(&s, FAULT_SPOILED, "the name holds a control or invisible character");
	fclose(out);
	shelf_close(&s);
}
END_TEST

/* verify reads them too, entered in the journal as they are. */
START_TEST(test_verified)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {"INSERT INTO fieldtest VALUES(1, 'L9', 'full', '', 'm', 'rubbish', ''); INSERT INTO "
	     "journal VALUES(2, 2, '', 'field test', NULL, 'fieldtest', '1', NULL, "
	     "json_object('id', 1, 'instrument', 'L9', 'extent', 'full', 'sigma', '', 'unit', "
	     "'m', 'pairs', 'rubbish', 'time', ''), NULL)",
	     "a pair is a backsight and a foresight"},
	    {"INSERT INTO result VALUES(1, 'run', 'a', 'b' || char(27), 1, ''); INSERT INTO "
	     "journal VALUES(2, 2, '', 'adjust', NULL, 'result', '1', NULL, json_object('id', 1, "
	     "'kind', 'run', 'subject', 'a', 'figures', 'b' || char(27), 'seq', 1, 'time', ''), "
	     "NULL)",
	     "the result holds a control or invisible character"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		shelf_open(&s, LEVEL_M);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(!book_verify(s.book, 0, &out, &s.why), "%s", cases[i].sql);
		FAULT(&s, FAULT_SPOILED, cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

/* A stream into which somebody else's run falls as soon as the first table is out. */
struct interrupted {
	struct shelf *shelf;
	bool done;
	char text[20000];
	size_t used;
};

static ssize_t write_interrupted(void *cookie, const char *bytes, size_t size)
{
	struct interrupted *to = cookie;
	ck_assert_uint_lt(to->used + size, sizeof to->text);
	memcpy(to->text + to->used, bytes, size);
	to->used += size;
	if (!to->done && strstr(to->text, "columns,run,")) {
		struct shelf other = {0};
		struct fault why = {0};
		to->done = true;
		other.book = book_open(to->shelf->path, shelf_clock, &why);
		ck_assert_ptr_nonnull(other.book);
		/* Should it have to wait, then nothing of it is there. */
		if (book_load(other.book, 1, &other.run, &why)) {
			struct level_sight sight;
			struct book_note note;
			int64_t id;
			shelf_read(&other, LEVEL_BS, "PEG", "1.5", &sight, &note);
			if (book_begin(other.book, &why))
				book_finish(
				    other.book,
				    book_run_add(other.book, "late", LEVEL_OPEN, &id, &why) &&
				        book_load(other.book, id, &other.run, &why) &&
				        book_add(other.book, &other.run, 0, &sight, &note, &why),
				    &why);
		}
		book_run_free(&other.run);
		book_close(other.book);
	}
	return (ssize_t)size;
}

/* A whole book is one state of it: what is booked meanwhile is in it whole or not at all. */
START_TEST(test_one_state)
{
	struct shelf s, taken;
	struct interrupted stream = {.shelf = &s};
	struct work_taken counts = {0};
	FILE *out;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "early", LEVEL_OPEN);
	out = fopencookie(&stream, "w", (cookie_io_functions_t){.write = write_interrupted});
	ck_assert_ptr_nonnull(out);
	setvbuf(out, NULL, _IONBF, 0);
	ck_assert_msg(csv_export_whole(out, s.book, &s.why), "%s", s.why.text);
	ck_assert_int_eq(fclose(out), 0);
	ck_assert(stream.done);
	shelf_open(&taken, LEVEL_M);
	ck_assert_msg(shelf_import(&taken, stream.text, &counts), "%s", taken.why.text);
	ck_assert_uint_eq(counts.runs, 1);
	ck_assert_uint_eq(counts.sights, 0);
	shelf_close(&taken);
	/* and the book can be written again */
	ck_assert_msg(book_set(s.book, "k", "0.2", &s.why), "%s", s.why.text);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("whole", test_one_state, test_no_memory_for_a_cell,
	                 test_rows_that_cannot_stand, test_export_of_forged, test_verified);
}
