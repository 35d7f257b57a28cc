/* The instruments and rods that a sight names: the book has them, and a run no more than it can be
 * read with. Else the run could not be read again. */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/tables.h"
#include "suite.h"

static void give_instrument(struct shelf *s, const char *name)
{
	struct book_instrument i = {.tolerance = "0.1 mm/m"};
	strcpy(i.name, name);
	ck_assert_msg(book_instrument_set(s->book, &i, &s->why), "%s", s->why.text);
}

static void give_rod(struct shelf *s, const char *name)
{
	struct book_rod rod = {.zero = "1 mm"};
	strcpy(rod.name, name);
	ck_assert_msg(book_rod_set(s->book, &rod, &s->why), "%s", s->why.text);
}

/* A sight at the end of the run, read with that instrument and rod. */
static bool add(struct shelf *s, enum level_kind kind, const char *station, const char *instrument,
                const char *rod)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, kind, station, "1.4", &sight, &note));
	strcpy(note.instrument, instrument);
	strcpy(note.rod, rod);
	if (!book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static bool change(struct shelf *s, size_t at, const char *instrument, const char *rod)
{
	struct level_sight sight = s->run.run.sight[at];
	struct book_note note = book_note_of(&s->run.note[at]);
	strcpy(note.instrument, instrument);
	strcpy(note.rod, rod);
	if (!book_change(s->book, &s->run, at, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

/* What every paper reads of it. */
static void can_be_read(struct shelf *s, const char *name)
{
	struct work_run run;
	ck_assert_msg(work_run_load(s->book, name, NULL, &run, &s->why), "%s", s->why.text);
	work_run_free(&run);
}

/* A peg test keeps the unit that its book had. */
START_TEST(test_pegtest_unit)
{
	struct shelf s;
	struct book_pegtest test = {.instrument = "L1",
	                            .standings = "100,5.00,100,4.00; 15,5.00,180,4.00"};
	struct book_pegtest *list;
	struct level_peg_result result;
	size_t count;
	shelf_open(&s, LEVEL_FT);
	give_instrument(&s, "L1");
	ck_assert_msg(book_pegtest_add(s.book, &test, &result, &s.why), "%s", s.why.text);
	ck_assert(book_pegtests(s.book, "L1", &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_int_eq(list[0].unit, LEVEL_FT);
	free(list);
	shelf_close(&s);
}
END_TEST

START_TEST(test_add)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(!add(&s, LEVEL_BS, "A", "L1", ""));
	FAULT(&s, FAULT_INPUT,
	      "there is no instrument L1 in this book: give the book that "
	      "instrument first");
	ck_assert(!add(&s, LEVEL_BS, "A", "", "R1"));
	FAULT(&s, FAULT_INPUT, "there is no rod R1 in this book: give the book that rod first");
	ALL(&s, "");
	can_be_read(&s, "a");
	give_instrument(&s, "L1");
	give_rod(&s, "R1");
	shelf_take(&s, s.run.info.id);
	ck_assert(add(&s, LEVEL_BS, "A", "L1", "R1"));
	/* the unnamed ones are always there; a name is not the beginning of one */
	ck_assert(add(&s, LEVEL_FS, "B", "", ""));
	ck_assert(!add(&s, LEVEL_BS, "B", "L", ""));
	ck_assert(!add(&s, LEVEL_BS, "B", "", "r1"));
	/* other figures for one strike the old ones, and it is still there */
	give_instrument(&s, "L1");
	give_rod(&s, "R1");
	shelf_take(&s, s.run.info.id);
	ck_assert(add(&s, LEVEL_BS, "B", "L1", "R1"));
	can_be_read(&s, "a");
	shelf_close(&s);
}
END_TEST

START_TEST(test_change)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	give_instrument(&s, "L1");
	give_rod(&s, "R1");
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(add(&s, LEVEL_BS, "A", "L1", "R1"));
	ck_assert(!change(&s, 0, "L2", "R1"));
	FAULT(&s, FAULT_INPUT, "there is no instrument L2 in this book");
	ck_assert(!change(&s, 0, "L1", "R2"));
	FAULT(&s, FAULT_INPUT, "there is no rod R2 in this book");
	ALL(&s, "BS A 1.4");
	ck_assert(change(&s, 0, "", ""));
	ck_assert(change(&s, 1, "L1", "R1"));
	can_be_read(&s, "a");
	shelf_close(&s);
}
END_TEST

START_TEST(test_take_run)
{
	struct shelf s;
	struct level_sight sights[2];
	struct book_note notes[2];
	struct level_run run = {.kind = LEVEL_OPEN, .count = 2, .sight = sights};
	struct book_run_info info;
	shelf_open(&s, LEVEL_M);
	ck_assert(shelf_read(&s, LEVEL_BS, "A", "1.4", &sights[0], &notes[0]));
	ck_assert(shelf_read(&s, LEVEL_FS, "B", "1.3", &sights[1], &notes[1]));
	strcpy(notes[1].instrument, "L1");
	ck_assert(!book_take_run(s.book, "a", &run, notes, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no instrument L1 in this book");
	strcpy(notes[1].instrument, "");
	strcpy(notes[1].rod, "R1");
	ck_assert(!book_take_run(s.book, "a", &run, notes, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no rod R1 in this book");
	ck_assert(!book_run_find(s.book, "a", &info, &s.why));
	give_rod(&s, "R1");
	ck_assert(book_take_run(s.book, "a", &run, notes, &s.why));
	can_be_read(&s, "a");
	shelf_close(&s);
}
END_TEST

/* Rows of another book, with the tables in which the names are, and without one of them. */
START_TEST(test_tables)
{
	struct shelf from, to;
	struct book_table tables[32] = {0};
	size_t count = book_table_count();
	shelf_open(&from, LEVEL_M);
	give_instrument(&from, "L1");
	give_rod(&from, "R1");
	shelf_begin(&from, "a", LEVEL_OPEN);
	ck_assert(add(&from, LEVEL_BS, "A", "L1", "R1"));
	ck_assert_uint_le(count, 32);
	for (size_t without = 0; without <= count; without++) {
		bool is_rod = without < count && strcmp(book_table_name(without), "rod") == 0;
		if (without < count && !is_rod &&
		    strcmp(book_table_name(without), "instrument") != 0)
			continue;
		shelf_open(&to, LEVEL_M);
		for (size_t i = 0; i < count; i++) {
			bool keep[16] = {0};
			ck_assert(book_table_read(from.book, i, &tables[i], &from.why));
			ck_assert_uint_le(tables[i].rows, sizeof keep);
			if (i == without)
				book_table_keep(&tables[i], keep);
		}
		ck_assert_int_eq(book_take_tables(to.book, tables, count, "", &to.why),
		                 without == count);
		if (without == count)
			can_be_read(&to, "a");
		else
			FAULT(&to, FAULT_INPUT, is_rod ? "there is no rod R1" : "instrument L1");
		for (size_t i = 0; i < count; i++)
			book_table_free(&tables[i]);
		shelf_close(&to);
	}
	shelf_close(&from);
}
END_TEST

static const char *const levels[] = {"L1", "L2", "L3", "L4", "L5", "L6", "L7", "L8"};
#define LEVELS (sizeof levels / sizeof *levels)

/* Seven with a name beside the unnamed one; an eighth would leave the run unread. */
START_TEST(test_too_many)
{
	struct shelf s;
	struct level_sight sights[LEVELS];
	struct book_note notes[LEVELS];
	struct level_run run = {.kind = LEVEL_OPEN, .count = LEVELS, .sight = sights};
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < LEVELS; i++) {
		give_instrument(&s, levels[i]);
		ck_assert(
		    shelf_read(&s, i ? LEVEL_IS : LEVEL_BS, "A", "1.4", &sights[i], &notes[i]));
		strcpy(notes[i].instrument, levels[i]);
	}
	shelf_begin(&s, "a", LEVEL_OPEN);
	for (size_t i = 0; i + 1 < LEVELS; i++)
		ck_assert(add(&s, i ? LEVEL_IS : LEVEL_BS, "A", levels[i], ""));
	ck_assert(!add(&s, LEVEL_IS, "A", "L8", ""));
	FAULT(&s, FAULT_INPUT, "a run has at most 7 instruments");
	ck_assert(!change(&s, 2, "L8", ""));
	FAULT(&s, FAULT_INPUT, "a run has at most 7 instruments");
	/* struck sights are read too, with theirs */
	ck_assert(change(&s, 2, "L1", ""));
	ck_assert(!add(&s, LEVEL_IS, "A", "L8", ""));
	ck_assert(add(&s, LEVEL_IS, "A", "L3", ""));
	ck_assert(add(&s, LEVEL_IS, "A", "", ""));
	can_be_read(&s, "a");
	ck_assert(!book_take_run(s.book, "b", &run, notes, &s.why));
	FAULT(&s, FAULT_INPUT, "a run has at most 7 instruments");
	strcpy(notes[3].instrument, "L8");
	ck_assert(book_take_run(s.book, "b", &run, notes, &s.why));
	can_be_read(&s, "b");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("named", test_pegtest_unit, test_add, test_change, test_take_run,
	                 test_tables, test_too_many);
}
