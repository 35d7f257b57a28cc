/* Any run that can be booked comes back from its CSV as it was, also in a book of another unit. */
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

#include "books.h"
#include "chance.h"
#include "suite.h"

static const char *const stations[] = {"A",
                                       "BM 1",
                                       "T\xc3\xbc"
                                       "r",
                                       "x,y",
                                       "\"pier\"",
                                       "edge of it",
                                       "O'Brine",
                                       "\xe6\xb0\xb4",
                                       "=1+1",
                                       "-5",
                                       "12",
                                       "a;b"};
static const char *const remarks[] = {"",
                                      "calm",
                                      "gusty, then calm",
                                      "he said \"read\"",
                                      "\"",
                                      ",",
                                      " blanks ",
                                      "\xc3\xa9t\xc3\xa9, \xe2\x80\x9c"
                                      "quoted\xe2\x80\x9d",
                                      "\xf0\x9f\x8c\x8a wave"};
static const char *const times[] = {"2026-05-04", "2026-05-04T09:30", "2026-05-04T09:30:00+02:00",
                                    "2026-05-04T07:30:00Z"};

#define PICK(state, array) (array)[chance(state, 0, (int64_t)(sizeof(array) / sizeof *(array)) - 1)]

/* When the next sight is booked. */
static char now[BOOK_TIME_BYTES] = "2026-05-04";

static void any_clock(char out[BOOK_TIME_BYTES])
{
	strcpy(out, now);
}

/* A reading below 4 m, in any way of writing it. */
static void write_reading(uint64_t *state, enum level_unit unit, char text[BOOK_TYPED_BYTES])
{
	int whole = (int)chance(state, 0, 3), part = (int)chance(state, 0, 999);
	switch (chance(state, 0, 6)) {
	case 0:
		snprintf(text, BOOK_TYPED_BYTES, "%d.%03d m", whole, part);
		break;
	case 1:
		snprintf(text, BOOK_TYPED_BYTES, "%d mm", whole * 1000 + part);
		break;
	case 2:
		snprintf(text, BOOK_TYPED_BYTES, "%d' %d %d/16\"", whole * 3, part % 12, part % 16);
		break;
	case 3:
		snprintf(text, BOOK_TYPED_BYTES, "%d,%02d ft", whole * 3, part % 100);
		break;
	case 4:
		snprintf(text, BOOK_TYPED_BYTES, unit == LEVEL_IN ? "%d %d/64" : "%d.%02d", whole,
		         part % 64);
		break;
	default:
		snprintf(text, BOOK_TYPED_BYTES, "%d.%03d", whole, part);
	}
}

static void write_wires(uint64_t *state, struct book_note *note)
{
	int middle = (int)chance(state, 500, 3500), upper = (int)chance(state, 0, 300),
	    lower = (int)chance(state, 0, 300);
	snprintf(note->upper, sizeof note->upper, "%d mm", middle + upper);
	snprintf(note->middle, sizeof note->middle, "%d.%03d m", middle / 1000, middle % 1000);
	snprintf(note->lower, sizeof note->lower, "%d mm", middle - lower);
	/* sometimes the mean beside them, to the millimeter */
	if (chance(state, 0, 3) == 0)
		snprintf(note->reading, sizeof note->reading, "%d mm",
		         middle + (upper - lower) / 3);
}

static void write_distance(uint64_t *state, char text[BOOK_TYPED_BYTES])
{
	static const char *const forms[] = {"%d.%d", "%d.%d m", "%d.%d ft", "%d.%d km"};
	snprintf(text, BOOK_TYPED_BYTES, PICK(state, forms), (int)chance(state, 1, 90),
	         (int)chance(state, 0, 99));
}

/* Books one sight of the given kind as if typed in `unit`. */
static void book_any(struct shelf *s, uint64_t *state, const struct book_settings *settings,
                     enum level_kind kind, const char *station, enum level_unit unit)
{
	struct level_sight sight = {.kind = kind};
	struct book_note note = {.unit = unit};
	sight.method = (enum level_method)chance(state, 0, 2);
	snprintf(sight.station, sizeof sight.station, "%s", station);
	sight.wires = chance(state, 0, 3) == 0;
	if (sight.wires)
		write_wires(state, &note);
	else
		write_reading(state, unit, note.reading);
	if (chance(state, 0, 2) == 0)
		write_distance(state, note.distance);
	strcpy(note.remark, PICK(state, remarks));
	snprintf(now, sizeof now, "%s", PICK(state, times));
	ck_assert_msg(book_read_sight(settings, &note, &sight, &s->why), "%s", s->why.text);
	ck_assert_msg(book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why), "%s",
	              s->why.text);
	shelf_take(s, s->run.info.id);
}

static void book_run(struct shelf *s, uint64_t *state, const char *name, bool mixed)
{
	struct book_settings settings;
	char station[24];
	int setups = (int)chance(state, 1, 6);

	ck_assert(book_settings(s->book, &settings, &s->why));
	shelf_begin(s, name, (enum level_run_kind)chance(state, 0, 3));
	strcpy(station, PICK(state, stations));
	for (int i = 0; i < setups; i++) {
		enum level_unit unit =
		    mixed ? (enum level_unit)chance(state, 0, 3) : settings.style.unit;
		book_any(s, state, &settings, LEVEL_BS, station, unit);
		for (int64_t n = chance(state, 0, 2); n > 0; n--)
			book_any(s, state, &settings, LEVEL_IS, PICK(state, stations), unit);
		if (i == setups - 1 && chance(state, 0, 3) == 0)
			return;
		strcpy(station, PICK(state, stations));
		book_any(s, state, &settings, LEVEL_FS, station, unit);
	}
}

/* Sights that only one of two runs has count for nothing; the rest must agree in every figure. */
static void same_sights(const struct book_run *a, const struct book_run *b)
{
	size_t j = 0;
	for (size_t i = 0; i < a->run.count; i++) {
		const struct level_sight *x = &a->run.sight[i], *y = &b->run.sight[j];
		if (!level_counted(x))
			continue;
		ck_assert_uint_lt(j, b->run.count);
		ck_assert_int_eq(x->kind, y->kind);
		ck_assert_int_eq(x->method, y->method);
		ck_assert_int_eq(x->wires, y->wires);
		ck_assert_int_eq(x->reading, y->reading);
		ck_assert_int_eq(x->upper, y->upper);
		ck_assert_int_eq(x->middle, y->middle);
		ck_assert_int_eq(x->lower, y->lower);
		ck_assert_int_eq(x->distance, y->distance);
		ck_assert_int_eq(x->has_known, y->has_known);
		ck_assert_int_eq(x->known, y->known);
		ck_assert_str_eq(x->station, y->station);
		ck_assert_str_eq(a->note[i].time, b->note[j].time);
		ck_assert_str_eq(a->note[i].remark, b->note[j].remark);
		j++;
	}
	ck_assert_uint_eq(j, b->run.count);
	ck_assert_int_eq(a->run.kind, b->run.kind);
}

START_TEST(test_there_and_back)
{
	uint64_t state = chance_seed("export");
	for (int round = 0; round < 36; round += EACH_OR(3)) {
		struct shelf here, there;
		struct work_taken counts;
		struct book_run_info info;
		enum level_unit unit = (enum level_unit)(round % 4);
		/* as when the unit of the book changes under way */
		bool mixed = chance(&state, 0, 2) == 0;
		enum level_unit other = (enum level_unit)((round + 1 + round / 4 % 3) % 4);
		char *first, *second;

		shelf_open(&here, unit);
		shelf_reopen(&here, any_clock);
		shelf_open(&there, other);
		ck_assert(book_set(here.book, "rod_length", "100 m", &here.why));
		ck_assert(book_set(there.book, "rod_length", "100 m", &there.why));
		for (int64_t n = chance(&state, 0, 3); n > 0; n--) {
			char elevation[BOOK_TYPED_BYTES];
			/* A bare one gets its unit written behind it where rows differ in unit. */
			do
				write_reading(&state, unit, elevation);
			while (mixed && level_is_bare(elevation));
			ck_assert_msg(book_mark_set_in(here.book, unit, PICK(&state, stations),
			                               elevation, NULL, NULL, &here.why),
			              "%s", here.why.text);
		}
		book_run(&here, &state, "the, \"run\"", mixed);
		/* struck ones stay here */
		if (chance(&state, 0, 1) && here.run.run.count > 2)
			shelf_strike(&here, here.run.run.count - 1);
		if (chance(&state, 0, 1) &&
		    shelf_change(&here, 0, LEVEL_BS, here.run.run.sight[0].station, "1"))
			ck_assert(!level_counted(&here.run.run.sight[0]));

		first = shelf_export(&here, "the, \"run\"");
		ck_assert_msg(shelf_import(&there, first, &counts), "%s\n%s", there.why.text,
		              first);
		ck_assert_uint_eq(counts.runs, 1);
		ck_assert(book_run_find(there.book, "the, \"run\"", &info, &there.why));
		shelf_take(&there, info.id);
		same_sights(&here.run, &there.run);
		second = shelf_export(&there, "the, \"run\"");
		ck_assert_str_eq(first, second);
		free(first);
		free(second);
		shelf_close(&here);
		shelf_close(&there);
	}
}
END_TEST

/* A seal that came from another book says so, and nothing else in it is other than there. */
static void as_own(char *text)
{
	static const char imported[] = ",imported\r\n";
	for (char *at = strstr(text, imported); at; at = strstr(at, imported))
		memmove(at + 1, at + strlen(imported) - 2, strlen(at + strlen(imported) - 2) + 1);
}

/* A whole book, struck sights and all, comes back as it was: every table, and every page. */
START_TEST(test_whole)
{
	uint64_t state = chance_seed("whole");
	for (int round = 0; round < 12; round++) {
		struct shelf here, there;
		struct work_taken counts;
		char *text[2] = {NULL, NULL}, *page[2] = {NULL, NULL}, path[160];
		size_t size[2];
		FILE *file;
		shelf_open(&here, (enum level_unit)(round % 4));
		shelf_reopen(&here, any_clock);
		shelf_open(&there, LEVEL_M);
		ck_assert(book_set(here.book, "rod_length", "100 m", &here.why));
		ck_assert(book_set(here.book, "title", "=HYPERLINK(\"x\")", &here.why));
		ck_assert(
		    book_mark_set(here.book, "@home", "-1.25 m", "2 mm", "'=bolt", &here.why));
		ck_assert(book_mark_set(here.book, "@home", "-1.26 m", "", "+bolt", &here.why));
		for (int n = 0; n < 3; n++) {
			char name[20];
			snprintf(name, sizeof name, "run %d", n);
			book_run(&here, &state, name, true);
			if (here.run.run.count > 2)
				shelf_strike(&here, here.run.run.count - 1);
			shelf_change(&here, 0, LEVEL_BS, here.run.run.sight[0].station, "1");
			ck_assert_msg(book_water_add(here.book, here.run.info.id, "A", "-0.25", "",
			                             "-", &here.why),
			              "%s", here.why.text);
		}
		snprintf(path, sizeof path, "%s/whole.csv", here.dir);
		file = fopen(path, "w");
		ck_assert(csv_export_whole(file, here.book, &here.why));
		fclose(file);
		ck_assert_msg(csv_import(there.book, path, &counts, &there.why), "%s",
		              there.why.text);
		for (int i = 0; i < 2; i++) {
			struct shelf *s = i ? &there : &here;
			FILE *out = open_memstream(&text[i], &size[i]);
			ck_assert(csv_export_whole(out, s->book, &s->why));
			fclose(out);
			out = open_memstream(&page[i], &size[i]);
			for (int n = 0; n < 3; n++) {
				struct work_run run;
				char name[20];
				snprintf(name, sizeof name, "run %d", n);
				ck_assert(work_run_load(s->book, name, NULL, &run, &s->why));
				ck_assert(report_page(out, &run, n == 1, NULL));
				report_closure(out, &run, n != 1);
				work_run_free(&run);
			}
			fclose(out);
		}
		as_own(text[1]);
		ck_assert_msg(strcmp(text[0], text[1]) == 0, "other tables");
		ck_assert_str_eq(page[0], page[1]);
		/* what a spreadsheet would run is behind an apostrophe */
		ck_assert_ptr_nonnull(strstr(text[0], "\"'=HYPERLINK"));
		ck_assert_ptr_nonnull(strstr(text[0], ",'@home,'-1.25 m,"));
		ck_assert_ptr_nonnull(strstr(text[0], ",''=bolt,"));
		ck_assert_ptr_nonnull(strstr(text[0], ",'+bolt,"));
		for (int i = 0; i < 2; i++) {
			free(text[i]);
			free(page[i]);
		}
		shelf_close(&here);
		shelf_close(&there);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("export_property", test_there_and_back, test_whole);
}
