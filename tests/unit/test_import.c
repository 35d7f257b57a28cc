/* Runs from CSV: what is taken, and that a fault takes nothing. */
#include "rodbook/csv/csv.h"
#include "rodbook/level/time.h"
#include "rodbook/report/report.h"

#include "books.h"
#include "suite.h"

#define HEAD "run,sight,station,reading\n"
#define LONG_NAME                                                                                  \
	"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"                                       \
	"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"                                       \
	"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"                                       \
	"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"

/* Each is taken up to its bad row, and then not at all. line 0: no line to name. */
static const struct {
	const char *text;
	int line;
	const char *column, *words;
} bad[] = {
    {HEAD "n,BS,A,1\nn,FS,B,1.4x\n", 3, "reading", "no length"},
    {HEAD "n,BS,A,\n", 2, "reading", "empty"},
    {HEAD "n,BS,A,1 234.5.6\n", 2, "reading", "no length"},
    {HEAD "n,BS,A,-5.001\n", 2, "reading", "longer than the rod"},
    {HEAD "n,BS,A,5.001\n", 2, "reading", "longer than the rod"},
    {HEAD "n,BS,A,1\nn,BS,A,1\n", 3, "sight", "second BS"},
    {HEAD "n,FS,A,1\n", 2, "sight", "no BS"},
    {HEAD "n,IS,A,1\n", 2, "sight", "no BS"},
    {HEAD "n,BS,A,1\nn,FS,B,1\nn,BS,C,1\n", 4, "station", "stands on B"},
    {HEAD "n,TP,A,1\n", 2, "sight", "BS, IS or FS"},
    {HEAD ",BS,A,1\n", 2, "run", "no name"},
    {HEAD LONG_NAME ",BS,A,1\n", 2, "run", "200 characters"},
    {HEAD "n\x01,BS,A,1\n", 2, "run", "control"},
    {HEAD "there,BS,A,1\n", 2, "run", "the book has a run of that name"},
    {HEAD "n,BS,,1\n", 2, "station", "no name"},
    {HEAD "n,BS," LONG_NAME ",1\n", 2, "station", "200 characters"},
    {HEAD "n,BS,A\x1b[2J,1\n", 2, "station", "control"},
    {HEAD "n,BS,\"A\nB\",1\n", 2, "station", "control"},
    {HEAD "n,BS,A\xff,1\n", 2, "station", "UTF-8"},
    {HEAD "n,BS,A,1\nn,FS,\xe2\x80\xae"
          "B,1\n",
     3, "station", "U+202E"},
    {"run,sight,station,reading,distance\nn,BS,A,1,0\n", 2, "distance", "zero"},
    {"run,sight,station,reading,distance\nn,BS,A,1,-30\n", 2, "distance", "above 0"},
    {"run,sight,station,reading,distance\nn,BS,A,1,far\n", 2, "distance", "no distance"},
    {"run,sight,station,reading,distance\nn,BS,A,1,100.001 km\n", 2, "distance", "100 km"},
    {"run,sight,station,reading,unit\nn,BS,A,1,yd\n", 2, "unit", "m, ft, ftin or in"},
    {"run,sight,station,reading,method\nn,BS,A,1,laser\n", 2, "method", "rod, tape or target"},
    {"run,sight,station,reading,time\nn,BS,A,1,yesterday\n", 2, "time", "2026-"},
    {"run,sight,station,reading,time\nn,BS,A,1,2026-13-01\n", 2, "time", "2026-"},
    {"run,sight,station,reading,remark\nn,BS,A,1,bell\a\n", 2, "remark", "control"},
    {"run,sight,station,reading,kind\nn,BS,A,1,ring\n", 2, "kind", "loop, link, open"},
    {"run,sight,station,reading,kind\nn,BS,A,1,loop\nn,FS,B,1,link\n", 3, "kind", "another kind"},
    {"run,sight,station,reading,known\nn,BS,A,1,high\n", 2, "known", "no length"},
    {"run,sight,station,reading,known\nn,BS,KNOWN,1,10.001\n", 2, "known", "another elevation"},
    {"run,sight,station,reading,known\nn,BS,A,1,10\nn,IS,A,1,11\n", 3, "known",
     "another elevation"},
    {"run,sight,station,reading,upper,middle,lower\nn,BS,A,,1.5,1.4,\n", 2, "lower", "empty"},
    {"run,sight,station,reading,upper,middle,lower\nn,BS,A,,1.3,1.4,1.5\n", 2, "upper",
     "out of order"},
    {"run,sight,station,reading,upper,middle,lower\nn,BS,A,1.5,1.5,1.4,1.3\n", 2, "reading",
     "not the mean"},
    {"run,sight,station,reading,upper,middle,lower\nn,BS,A,,6,1.4,1.3\n", 2, "upper",
     "longer than the rod"},
    /* the file as a whole */
    {"", 0, NULL, "is empty"},
    {"\n\r\n\n", 0, NULL, "is empty"},
    {HEAD, 0, NULL, "no sights"},
    {"run,sight,station,reading,run\nn,BS,A,1,n\n", 1, "run", "twice"},
    {"run,sight,station,reading,Reading\n", 1, "reading", "twice"},
    {"run,sight,station,reading,height\n", 1, NULL, "\"height\""},
    {"run,sight,station\nn,BS,A\n", 1, "reading", "missing"},
    {"sight,station,reading\nBS,A,1\n", 1, "run", "missing"},
    {HEAD "n,BS,A,1\nn,FS,B\n", 3, NULL, "3 columns"},
    {HEAD "n,BS,A,1,2\n", 2, NULL, "5 columns"},
    {HEAD "n,BS,A,1\n\nn,FS,\"B,1\nn,BS,B,1\n", 4, NULL, "not closed"},
    {HEAD "n,BS,\"A\"x,1\n", 2, NULL, "closing quote"},
    {"a,b,c,d,e,f,g,h,i,j,k,l,m,n,o,p,q,r,s,t,u,v,w,x,y,z,1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,"
     "17,18,19,20,21,22,23\n",
     1, NULL, "more than 48"},
    /* lines are counted by the file, not by the rows */
    {HEAD "\n\nn,BS,A,1\n\nn,FS,B,x\n", 6, "reading", "no length"},
    {"run,sight,station,reading\r\nn,BS,A,1\r\n\r\nn,FS,B,x\r\n", 4, "reading", "no length"},
};

static void check_place(const char *said, const char *path, int line, const char *column)
{
	char place[240];
	ck_assert_msg(strstr(said, path) == said, "%s", said);
	if (line) {
		snprintf(place, sizeof place, "%s:%d: ", path, line);
		ck_assert_msg(strstr(said, place) == said, "line %d: %s", line, said);
	}
	if (column) {
		snprintf(place, sizeof place, "column %s", column);
		ck_assert_msg(strstr(said, place) != NULL, "column %s: %s", column, said);
	}
}

START_TEST(test_bad)
{
	struct shelf s;
	struct work_taken counts;
	char path[160], *before, *after;
	size_t before_size, after_size;
	int64_t id;

	shelf_open(&s, LEVEL_M);
	ck_assert(book_run_add(s.book, "there", LEVEL_OPEN, &id, &s.why));
	ck_assert(book_mark_set(s.book, "KNOWN", "10", NULL, NULL, &s.why));
	snprintf(path, sizeof path, "%s/rows.csv", s.dir);
	before = slurp(s.path, &before_size);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_msg(!shelf_import(&s, bad[i].text, &counts), "%s", bad[i].text);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		check_place(s.why.text, path, bad[i].line, bad[i].column);
		ck_assert_msg(strstr(s.why.text, bad[i].words) != NULL, "%s", s.why.text);
		after = slurp(s.path, &after_size);
		ck_assert_uint_eq(before_size, after_size);
		ck_assert_mem_eq(before, after, before_size);
		free(after);
	}
	free(before);
	/* and the book still takes what is good */
	ck_assert(shelf_import(&s, HEAD "n,BS,A,1\nn,FS,B,2\n", &counts));
	shelf_close(&s);
}
END_TEST

START_TEST(test_no_text)
{
	struct shelf s;
	struct work_taken counts;
	char path[160], binary[] = "run,sight,station,reading\nn,BS,A\0,1\n";
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/binary.csv", s.dir);
	spill(path, binary, sizeof binary - 1);
	ck_assert(!csv_import(s.book, path, &counts, &s.why));
	FAULT(&s, FAULT_FILE, "is no text");
	ck_assert(!csv_import(s.book, s.path, &counts, &s.why));
	FAULT(&s, FAULT_FILE, "is no text");
	ck_assert(!csv_import(s.book, s.dir, &counts, &s.why));
	FAULT(&s, FAULT_FILE, "a directory");
	snprintf(path, sizeof path, "%s/missing.csv", s.dir);
	ck_assert(!csv_import(s.book, path, &counts, &s.why));
	FAULT(&s, FAULT_FILE, "No such file");
	shelf_close(&s);
}
END_TEST

/* A spreadsheet's file: a byte order mark, CRLF, columns in any order and case, quotes, and no
 * line end behind the last row. */
START_TEST(test_as_spreadsheets_write)
{
	struct shelf s;
	struct work_taken counts;
	struct book_run_info info;
	shelf_open(&s, LEVEL_FT);
	ck_assert_msg(shelf_import(&s,
	                           "\xef\xbb\xbfREMARK,Reading,\"Station\",Sight,Run,Known\r\n"
	                           "\"gate, \"\"left\"\"\",4.16,A,bs,\"north, 1\",100\r\n"
	                           ",\"2' 1 1/4\"\"\",B,Fs,\"north, 1\",",
	                           &counts),
	              "%s", s.why.text);
	ck_assert_uint_eq(counts.runs, 1);
	ck_assert_uint_eq(counts.sights, 2);
	ck_assert_uint_eq(counts.marks, 1);
	ck_assert(book_run_find(s.book, "north, 1", &info, &s.why));
	shelf_take(&s, info.id);
	COUNTED(&s, "BS A 4.16, FS B 2' 1 1/4\"");
	ck_assert_str_eq(s.run.note[0].remark, "gate, \"left\"");
	/* 25.25 in */
	ck_assert_int_eq(s.run.run.sight[1].reading, 641350000);
	/* a time that is not known stays empty */
	ck_assert_str_eq(s.run.note[0].time, "");
	ck_assert_int_eq(s.run.run.sight[0].known, 100 * LEVEL_NM_PER_FT);
	shelf_close(&s);
}
END_TEST

START_TEST(test_interleaved)
{
	struct shelf s;
	struct work_taken counts;
	struct book_run_info *runs;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "BM1", "10", NULL, NULL, &s.why));
	ck_assert_msg(shelf_import(&s,
	                           "run,sight,station,reading,known,unit\n"
	                           "west,BS,BM1,1.1,10 m,\n"
	                           "east,BS,E,2.1,,\n"
	                           "west,FS,W1,1.2,,\n"
	                           "south,BS,BM1,12,,in\n"
	                           "east,IS,E9,2.2,,\n"
	                           "east,FS,E,2.3,,\n"
	                           "south,FS,BM2,13,3.5,ft\n"
	                           "west,BS,W1,1.3,,\n",
	                           &counts),
	              "%s", s.why.text);
	ck_assert_uint_eq(counts.runs, 3);
	ck_assert_uint_eq(counts.sights, 8);
	ck_assert_uint_eq(counts.marks, 1);
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	/* without a column kind: a loop comes back to its start, a link ends on a known mark */
	ck_assert_str_eq(runs[0].name, "west");
	ck_assert_int_eq(runs[0].kind, LEVEL_OPEN);
	ck_assert_str_eq(runs[1].name, "east");
	ck_assert_int_eq(runs[1].kind, LEVEL_LOOP);
	ck_assert_str_eq(runs[2].name, "south");
	ck_assert_int_eq(runs[2].kind, LEVEL_LINK);
	shelf_take(&s, runs[0].id);
	COUNTED(&s, "BS BM1 1.1, FS W1 1.2, BS W1 1.3");
	shelf_take(&s, runs[1].id);
	COUNTED(&s, "BS E 2.1, IS E9 2.2, FS E 2.3");
	shelf_take(&s, runs[2].id);
	/* 12 in, 13 ft and 3.5 ft */
	ck_assert_int_eq(s.run.run.sight[0].reading, 304800000);
	ck_assert_int_eq(s.run.run.sight[1].reading, 3962400000);
	ck_assert_int_eq(s.run.run.sight[1].known, 1066800000);
	free(runs);
	shelf_close(&s);
}
END_TEST

/* J. Mahun, Open Access Surveying Library, Elevations, ch. G: 4.31, 4.16 and 4.02 ft mean 4.163 ft
 * and lie 29 ft away at 1:100. (4.31 + 4.16 + 4.02) / 3 ft = 1 268 984 000 nm. */
START_TEST(test_wires)
{
	struct shelf s;
	struct work_taken counts;
	struct book_run_info info;
	const struct level_sight *sight;
	shelf_open(&s, LEVEL_FT);
	ck_assert_msg(shelf_import(&s,
	                           "run,sight,station,reading,upper,middle,lower,distance\n"
	                           "n,BS,A,,4.31,4.16,4.02,\n"
	                           "n,FS,B,4.163,4.31,4.16,4.02,30 ft\n",
	                           &counts),
	              "%s", s.why.text);
	ck_assert(book_run_find(s.book, "n", &info, &s.why));
	shelf_take(&s, info.id);
	sight = s.run.run.sight;
	ck_assert(sight[0].wires && sight[1].wires);
	ck_assert_int_eq(sight[0].reading, 1268984000);
	ck_assert_int_eq(sight[0].distance, 29 * LEVEL_NM_PER_FT);
	ck_assert_int_eq(sight[1].reading, 1268984000);
	ck_assert_int_eq(sight[1].distance, 30 * LEVEL_NM_PER_FT);
	shelf_close(&s);
}
END_TEST

START_TEST(test_times)
{
	static const char *const good[] = {"2026-05-04",
	                                   "2026-05-04T09:30",
	                                   "2026-05-04 09:30",
	                                   "2026-05-04T09:30:59",
	                                   "2026-05-04T09:30Z",
	                                   "2026-05-04T09:30:00+02:00",
	                                   "2026-05-04T23:59:60-11:30"};
	static const char *const wrong[] = {"",
	                                    "2026",
	                                    "2026-5-4",
	                                    "2026-00-04",
	                                    "2026-13-04",
	                                    "2026-05-00",
	                                    "2026-05-32",
	                                    "2026-05-04T",
	                                    "2026-05-04T24:00",
	                                    "2026-05-04T09:60",
	                                    "2026-05-04T09:30:61",
	                                    "2026-05-04T09:30+2",
	                                    "2026-05-04T09:30+24:00",
	                                    "2026-05-04T09:30+02:60",
	                                    "2026-05-04Z",
	                                    "2026-05-04T09:30Z ",
	                                    "26-05-04",
	                                    "04.05.2026"};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++)
		ck_assert_msg(level_is_time(good[i]), "%s", good[i]);
	for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
		ck_assert_msg(!level_is_time(wrong[i]), "%s", wrong[i]);
}
END_TEST

/* A whole book whose table has a column that this program does not know is refused, not cut down.
 */
START_TEST(test_whole_with_more)
{
#define BEFORE "book,5\ncolumns,setting,name,value\nrow,setting,unit,m\n"
	static const char *const more[] = {
	    BEFORE "columns,rod,id,name,zero,shade\nrow,rod,1,R1,1 mm,red\n",
	    BEFORE "columns,rod,id,name,zero,shade\n"};
	struct shelf s;
	struct work_taken counts;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < 2; i++) {
		ck_assert(!shelf_import(&s, more[i], &counts));
		FAULT(&s, FAULT_INPUT, "the table rod has no column \"shade\"");
	}
	shelf_close(&s);
}
END_TEST

/* A peg test of a whole book is what a leveller could have typed, or it is refused. */
START_TEST(test_whole_pegtest)
{
	static const struct {
		const char *row, *words;
	} rows[] = {{"L1,m,\"30,1.500,30,1.250; 5,1.500,55,1.250\",0 mm/m,0.02 mm/m,0.13,4", NULL},
	            {"L1,m,\"30,1.500,30,1.250; 5,1.500,55,1.250\",steep,0.02 mm/m,0.13,4", ""},
	            {"L1,m,\"30,1.500,30,1.250; 5,1.500,55,1.250\",0 mm/m,0.02 mm/m,much,4", ""},
	            {"L1,m,\"30,1.500,30,1.250; 5,1.500,55,1.250\",0 mm/m,0.02 mm/m,0.13,-4", ""},
	            {"L1,m,\"30,1.500,30\",0 mm/m,0.02 mm/m,0.13,4", ""}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct shelf s;
		struct work_taken counts;
		char text[600];
		shelf_open(&s, LEVEL_M);
		snprintf(text, sizeof text,
		         BEFORE
		         "columns,instrument,id,name,tolerance,time\n"
		         "row,instrument,1,L1,0.1 mm/m,2026-05-04T09:00:00+02:00\n"
		         "columns,pegtest,id,instrument,unit,standings,tilt,tilt_u,k,dk,method,"
		         "time\nrow,pegtest,1,%s,rod,2026-05-04T09:00:00+02:00\n",
		         rows[i].row);
		ck_assert_msg(shelf_import(&s, text, &counts) == !rows[i].words, "%s: %s",
		              rows[i].row, s.why.text);
		if (rows[i].words)
			FAULT(&s, FAULT_INPUT, rows[i].words);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("import", test_bad, test_no_text, test_as_spreadsheets_write,
	                 test_interleaved, test_wires, test_times, test_whole_with_more,
	                 test_whole_pegtest);
}
