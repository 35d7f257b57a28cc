/* Whatever is edited, in whatever order: the journal yields the tables, and the digest of what was
 * there before stays. */
#include "books.h"
#include "chance.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/journal.h"
#include "suite.h"

#define EDITS 150

static void random_reading(uint64_t *seed, char text[16])
{
	snprintf(text, 16, "%d.%03d", (int)chance(seed, 0, 3), (int)chance(seed, 0, 999));
}

static void edit_sights(struct shelf *s, uint64_t *seed)
{
	size_t count = s->run.run.count;
	size_t at = count ? (size_t)chance(seed, 0, (int64_t)count - 1) : 0;
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES], reading[16];
	random_reading(seed, reading);
	switch (chance(seed, 0, 5)) {
	case 0:
		if (count)
			shelf_strike(s, at);
		break;
	case 1:
		if (count)
			shelf_change(s, at, s->run.run.sight[at].kind,
			             chance(seed, 0, 3) ? s->run.run.sight[at].station : "OTHER",
			             reading);
		break;
	case 2:
		if (count && book_strike(s->book, &s->run, at, true, "", &s->why))
			shelf_take(s, s->run.info.id);
		break;
	case 3:
		shelf_insert(s, at, LEVEL_IS, "SPOT", reading);
		break;
	default:
		level_suggest(&s->run.run, count, &kind, station);
		shelf_book(s, kind, *station ? station : "PEG", reading);
	}
}

static void edit_run(struct shelf *s, uint64_t *seed)
{
	int64_t run = s->run.info.id;
	char name[20], what[160];
	struct book_air air = {.pressure = "1010", .wind = "calm"};
	switch (chance(seed, 0, 8)) {
	case 0:
		snprintf(name, sizeof name, "run %d", (int)chance(seed, 0, 9));
		book_run_rename(s->book, run, name, &s->why);
		break;
	case 1:
		book_run_set_kind(s->book, run, (enum level_run_kind)chance(seed, 0, 3), &s->why);
		break;
	case 2:
		random_reading(seed, name);
		book_water_add(s->book, run, "PEG", name, "", "", &s->why);
		break;
	case 3:
		book_water_strike(s->book, run, 1, "waves", &s->why);
		break;
	case 4:
		book_air_add(s->book, run, &air, &s->why);
		break;
	case 5:
		book_run_close(s->book, &s->run, "", &s->why);
		break;
	case 6:
		book_run_reopen(s->book, run, "one more sight", &s->why);
		break;
	case 7:
		book_redo(s->book, &s->run, what, &s->why);
		break;
	default:
		book_undo(s->book, &s->run, what, &s->why);
	}
	shelf_take(s, run);
}

static void edit_book(struct shelf *s, uint64_t *seed)
{
	char text[16];
	struct book_rod rod = {.name = "long"};
	random_reading(seed, text);
	strcpy(rod.scale, text);
	switch (chance(seed, 0, 4)) {
	case 0:
		book_mark_set(s->book, "PEG", text, NULL, "oak \"peg\"\\", &s->why);
		break;
	case 1:
		book_mark_strike(s->book, "PEG", &s->why);
		break;
	case 2:
		book_set(s->book, "k", text, &s->why);
		break;
	case 3:
		book_instrument_set(
		    s->book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"},
		    &s->why);
		break;
	default:
		book_rod_set(s->book, &rod, &s->why);
	}
	shelf_take(s, s->run.info.id);
}

START_TEST(test_random_editing)
{
	uint64_t seed = chance_seed("random editing");
	struct shelf s;
	struct book_verified before = {0}, after;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	for (int i = 0; i < EDITS; i++) {
		int64_t part = chance(&seed, 0, 9);
		if (part < 5)
			edit_sights(&s, &seed);
		else if (part < 8)
			edit_run(&s, &seed);
		else
			edit_book(&s, &seed);
		if (i % 10)
			continue;
		ck_assert_msg(book_verify(s.book, before.last, &after, &s.why), "edit %d: %s", i,
		              s.why.text);
		ck_assert_msg(!*after.difference, "edit %d: %s", i, after.difference);
		ck_assert_str_eq(after.digest_at, before.digest);
		before = after;
		ck_assert(book_verify_run(s.book, s.run.info.id, &after, &s.why));
		ck_assert_msg(!*after.difference, "edit %d: %s", i, after.difference);
		ck_assert_str_eq(after.digest, before.digest);
	}
	ck_assert_int_gt(before.last, EDITS / 4);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("verify_property", test_random_editing);
}
