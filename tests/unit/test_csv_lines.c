/* CSV by itself: where each record begins, what is written behind an apostrophe, and what is said
 * of a file that is no list of marks, no field test and no book. */
#include "csv/csv.h"

#include <string.h>

#include "books.h"
#include "suite.h"

static char path[128];

static const char *file_of(const struct shelf *s, const char *text)
{
	FILE *out;
	snprintf(path, sizeof path, "%.100s/lines.csv", s->dir);
	out = fopen(path, "wb");
	ck_assert_ptr_nonnull(out);
	fputs(text, out);
	ck_assert_int_eq(fclose(out), 0);
	return path;
}

START_TEST(test_records)
{
	static const char text[] = "\xef\xbb\xbf"
	                           "a,b\n\r\n\n\"c \"\"d\"\"\ne\",'=f\n'g,'\nh\r\ni,\n";
	static const struct {
		int line;
		size_t count;
		const char *first, *second;
	} want[] = {{1, 2, "a", "b"},
	            {4, 2, "c \"d\"\ne", "=f"},
	            {6, 2, "'g", "'"},
	            {7, 1, "h", NULL},
	            {8, 2, "i", ""}};
	struct shelf s;
	struct csv_reader reader;
	struct csv_record record;
	struct fault why = {0};
	shelf_open(&s, LEVEL_M);
	ck_assert(csv_open(&reader, file_of(&s, text), &why));
	for (size_t i = 0; i < sizeof want / sizeof *want; i++) {
		ck_assert(csv_read(&reader, &record, &why));
		ck_assert_int_eq(record.line, want[i].line);
		ck_assert_uint_eq(record.count, want[i].count);
		ck_assert_str_eq(record.field[0], want[i].first);
		if (want[i].second)
			ck_assert_str_eq(record.field[1], want[i].second);
	}
	ck_assert(!csv_read(&reader, &record, &why));
	ck_assert_int_eq(why.kind, FAULT_NONE);
	csv_close(&reader);
	ck_assert_ptr_null(reader.text);
	/* what comes behind a quote, and a quote that nothing closes: by the line it begins on */
	ck_assert(csv_open(&reader, file_of(&s, "a\n\"b\nc\" d\n"), &why));
	ck_assert(csv_read(&reader, &record, &why));
	ck_assert(!csv_read(&reader, &record, &why));
	ck_assert_ptr_nonnull(strstr(why.text, ":3: text behind a closing quote"));
	csv_close(&reader);
	ck_assert(csv_open(&reader, file_of(&s, "a\n\n\"b\nc\n"), &why));
	ck_assert(csv_read(&reader, &record, &why));
	ck_assert(!csv_read(&reader, &record, &why));
	ck_assert_ptr_nonnull(strstr(why.text, ":3: a quote is opened and not closed"));
	csv_close(&reader);
	shelf_close(&s);
}
END_TEST

START_TEST(test_columns)
{
	char text[4 * CSV_FIELDS] = "";
	struct shelf s;
	struct csv_reader reader;
	struct csv_record record;
	struct fault why = {0};
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < CSV_FIELDS; i++)
		strcat(text, i ? ",x" : "x");
	ck_assert(csv_open(&reader, file_of(&s, text), &why));
	ck_assert(csv_read(&reader, &record, &why));
	ck_assert_uint_eq(record.count, CSV_FIELDS);
	csv_close(&reader);
	strcat(text, ",x");
	ck_assert(csv_open(&reader, file_of(&s, text), &why));
	ck_assert(!csv_read(&reader, &record, &why));
	ck_assert_ptr_nonnull(strstr(why.text, ":1: more than 48 columns"));
	csv_close(&reader);
	why = (struct fault){0};
	ck_assert(!csv_open(&reader, s.dir, &why));
	ck_assert_ptr_nonnull(strstr(why.text, " is a directory: give a CSV file"));
	ck_assert(!csv_open(&reader, "/nowhere/at/all.csv", &why));
	ck_assert_int_eq(why.kind, FAULT_FILE);
	shelf_close(&s);
}
END_TEST

START_TEST(test_written)
{
	static const struct {
		const char *text, *written;
	} table[] = {
	    {"", ""},
	    {"plain", "plain"},
	    {"a,b", "\"a,b\""},
	    {"a\"b", "\"a\"\"b\""},
	    {"a\nb", "\"a\nb\""},
	    {" a", "\" a\""},
	    {"a ", "\"a \""},
	    {"-1.5", "-1.5"},
	    {"+1e5", "+1e5"},
	    {"-", "'-"},
	    {"=A1", "'=A1"},
	    {"@x", "'@x"},
	    {"=A1,2", "\"'=A1,2\""},
	    {"=A1 ", "\"'=A1 \""},
	    {"'=A1", "''=A1"},
	    {"''", "'''"},
	    {"'a", "'a"},
	    {"'", "'"},
	    {"-inf", "'-inf"},
	    {"-0x5", "'-0x5"},
	    {"-1 m", "'-1 m"},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		const char *fields[] = {table[i].text, "z"};
		char got[40] = "", want[40];
		FILE *out = fmemopen(got, sizeof got, "w");
		ck_assert_ptr_nonnull(out);
		csv_write(out, fields, 2, "\r\n");
		fclose(out);
		snprintf(want, sizeof want, "%s,z\r\n", table[i].written);
		ck_assert_str_eq(got, want);
	}
}
END_TEST

static void refused(struct shelf *s, const char *text, const char *words)
{
	struct work_taken counts = {0};
	struct fault why = {0};
	ck_assert_msg(!csv_import(s->book, file_of(s, text), &counts, &why), "%s", text);
	ck_assert_msg(strstr(why.text, words) != NULL, "%s", why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
}

START_TEST(test_headers)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	refused(&s, "", " is empty: its first line names the columns run,sight,station,reading");
	refused(&s, "run;sight;station;reading\n", ":1: columns are parted by commas");
	refused(&s, "run,sight,station,reading,reading\n", ":1: column reading stands twice");
	refused(&s, "run,sight,station\n", ":1: column reading is missing");
	refused(&s, "sight,station,reading\n", ":1: column run is missing");
	refused(
	    &s, "run,sight,station,reading,color\n",
	    ":1: no column \"color\" is known: run, sight, station and reading are required; kind, "
	    "known, ");
	refused(&s, "run,sight,station,reading,color\n", " and turn may stand");
	shelf_close(&s);
}
END_TEST

START_TEST(test_marks)
{
	struct work_taken counts = {0};
	struct shelf s;
	struct book_mark *marks;
	size_t count;
	shelf_open(&s, LEVEL_M);
	refused(&s, "mark,elevation,color\nA,10,red\n",
	        ":1: no column \"color\" in a list of marks");
	refused(&s, "mark,elevation,mark\nA,10,B\n", ":1: a second column \"mark\" in a list");
	refused(&s, "mark,elevation\nA,10\n\nB\n",
	        ":4: a row has 2 columns, as the first line has");
	refused(&s, "mark,elevation,unit\nA,10,yd\n",
	        ":2: a unit is m, ft, ftin or in, not \"yd\"");
	refused(&s, "mark,elevation\nA,high\n", ":2: \"high\" is no length");
	refused(&s, "mark,elevation\nA,10\nA,11\n",
	        ":3: the book has A at another elevation already");
	refused(&s, "mark,elevation\n,10\n", ":2: ");
	refused(&s, "mark,elevation\nA,10\n\"B,11\n", ":3: a quote is opened and not closed");
	/* whoever asks for no reason is refused all the same */
	ck_assert(!csv_import(s.book, file_of(&s, "mark,elevation\nA,high\n"), &counts, NULL));
	ck_assert(!csv_import(s.book, "/nowhere/at/all.csv", &counts, NULL));
	counts = (struct work_taken){0};
	/* a fault takes nothing */
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(marks);
	ck_assert_msg(
	    csv_import(s.book,
	               file_of(&s, "elevation,MARK,u,unit,source,description,reach\n"
	                           "10,A,1 mm,,list,bolt,left\n10,A,,,,,\n100,B,,ft,,,\n"),
	               &counts, &s.why),
	    "%s", s.why.text);
	ck_assert_uint_eq(counts.marks, 2);
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(marks[0].name, "A");
	ck_assert_int_eq(marks[0].elevation, INT64_C(10000000000));
	ck_assert_int_eq(marks[0].u, 1000000);
	ck_assert_str_eq(marks[0].source, "list");
	ck_assert_str_eq(marks[0].description, "bolt");
	ck_assert_str_eq(marks[0].reach, "left");
	/* 100 ft are 30.48 m */
	ck_assert_int_eq(marks[1].elevation, INT64_C(30480000000));
	free(marks);
	/* what the book has at that elevation stays, and counts not */
	counts = (struct work_taken){0};
	ck_assert(csv_import(s.book, file_of(&s, "mark,elevation\nA,10.000\n"), &counts, &s.why));
	ck_assert_uint_eq(counts.marks, 0);
	shelf_close(&s);
}
END_TEST

START_TEST(test_fieldtest)
{
	static const struct {
		const char *text, *words;
	} table[] = {
	    {"", " is empty: its first line is backsight,foresight"},
	    {"backsight;foresight\n", ":1: columns are parted by commas"},
	    {"backsight,foresight,other\n1,2,3\n", ":1: the first line names the columns"},
	    {"backsight,other\n1,2\n", ":1: the first line names the columns"},
	    {"other,foresight\n1,2\n", ":1: the first line names the columns"},
	    {"backsight,foresight\n1,2\n1\n", ":3: a pair has 2 columns, this line 1"},
	    {"backsight,foresight\n1,2,3\n", ":2: a pair has 2 columns, this line 3"},
	    {"backsight,foresight\n1,x\n", ":2: column foresight: \"x\" is no length"},
	    {"backsight,foresight\nx,1\n", ":2: column backsight: \"x\" is no length"},
	    {"backsight,foresight\n1,2\n\"3\n", ":3: a quote is opened and not closed"},
	};
	static struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	static char many[16 * (LEVEL_FIELDTEST_MOST + 3)];
	struct shelf s;
	size_t count;
	struct fault why = {0};
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		why = (struct fault){0};
		ck_assert(
		    !csv_read_fieldtest(file_of(&s, table[i].text), LEVEL_M, pairs, &count, &why));
		ck_assert_msg(strstr(why.text, table[i].words) != NULL, "%s", why.text);
	}
	ck_assert(csv_read_fieldtest(file_of(&s, " Foresight , BACKSIGHT\n1,2\n\n 3 ,4 m\n"),
	                             LEVEL_M, pairs, &count, &why));
	ck_assert_uint_eq(count, 2);
	ck_assert_int_eq(pairs[0].foresight, INT64_C(1000000000));
	ck_assert_int_eq(pairs[0].backsight, INT64_C(2000000000));
	ck_assert_int_eq(pairs[1].foresight, INT64_C(3000000000));
	ck_assert_int_eq(pairs[1].backsight, INT64_C(4000000000));
	strcpy(many, "backsight,foresight\n");
	for (int i = 0; i < LEVEL_FIELDTEST_MOST; i++)
		strcat(many, "1,2\n");
	ck_assert(csv_read_fieldtest(file_of(&s, many), LEVEL_M, pairs, &count, &why));
	ck_assert_uint_eq(count, LEVEL_FIELDTEST_MOST);
	strcat(many, "1,2\n");
	ck_assert(!csv_read_fieldtest(file_of(&s, many), LEVEL_M, pairs, &count, &why));
	ck_assert_ptr_nonnull(strstr(why.text, " has more than "));
	shelf_close(&s);
}
END_TEST

START_TEST(test_whole_refused)
{
	struct shelf s;
	char text[200];
	shelf_open(&s, LEVEL_M);
	refused(&s, "book,2\n", " was written by another rodbook: this one reads versions 3 to ");
	refused(&s, "book,999\n", " was written by another rodbook");
	refused(&s, "book,3,x\n", " was written by another rodbook");
	refused(&s, "book,3\nrow,mark\n", ":2: a line begins with columns or row");
	refused(&s, "book,3\nline,mark,x\n", ":2: a line begins with columns or row");
	refused(&s, "book,3\nrow,mark,x\n", ":2: this row does not fit its line of columns");
	refused(&s, "book,3\ncolumns,mark,name\nrow,mark,x,y\n",
	        ":3: this row does not fit its line of columns");
	refused(&s, "book,3\ncolumns,mark,name\nrow,run,x\n",
	        ":3: this row does not fit its line of columns");
	snprintf(text, sizeof text, "book,3\ncolumns,mark,name\ncolumns,mark,name\n");
	refused(&s, text, ":3: the table mark stands twice");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("csv_lines", test_records, test_columns, test_written, test_headers,
	                 test_marks, test_fieldtest, test_whole_refused);
}
