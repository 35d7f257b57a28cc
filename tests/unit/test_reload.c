/* A run that is read again after each change is, field by field, what it is when it is read whole:
 * random changes of random books, by this program and by another one. */
#include "books.h"
#include "chance.h"
#include "suite.h"

#include "rodbook/book/aside.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"

#define BOOKS 40
#define CHANGES 60

static const char *const stations[] = {"A", "B", "TP1", "TP2", "C"};
static const char *const levels[] = {"", "L1", "L2", "L3"};
static const char *const rods[] = {"", "R1", "R2"};
#define ANY(state, list) list[chance(state, 0, (int64_t)(sizeof list / sizeof *list) - 1)]

/* How often each way of changing a run did change it. */
struct tally {
	int books, changes, strikes, undone, others, by_rows;
};

#define SAME(member) ck_assert_int_eq((int64_t)a->member, (int64_t)b->member)
#define SAME_TEXT(member) ck_assert_str_eq(a->member, b->member)
#define SAME_DOUBLE(member) ck_assert(a->member == b->member)

static void same_sight(const struct level_sight *a, const struct level_sight *b)
{
	SAME(id);
	SAME(kind);
	SAME(state);
	SAME(method);
	SAME(wires);
	SAME(again);
	SAME(has_known);
	SAME(reading);
	SAME(upper);
	SAME(middle);
	SAME(lower);
	SAME(distance);
	SAME(distance_by);
	SAME(known);
	SAME(known_u);
	SAME(limit);
	SAME(u);
	SAME(declared);
	SAME(set_count);
	SAME_DOUBLE(set_sd);
	SAME_DOUBLE(rod_error);
	SAME(instrument);
	SAME(aside);
	SAME(surface);
	SAME(water_count);
	SAME(water);
	SAME_DOUBLE(water_sd);
	SAME_TEXT(station);
}

static void same_note(const struct book_kept *a, const struct book_kept *b)
{
	SAME(place);
	SAME(replaces);
	SAME(unit);
	SAME_TEXT(reading);
	SAME_TEXT(upper);
	SAME_TEXT(middle);
	SAME_TEXT(lower);
	SAME_TEXT(distance);
	SAME_TEXT(distance_by);
	SAME_TEXT(instrument);
	SAME_TEXT(rod);
	SAME_TEXT(along);
	SAME_TEXT(photo);
	SAME_TEXT(photo_digest);
	SAME_TEXT(scaled);
	SAME_TEXT(distance_unit);
	SAME_TEXT(limit);
	SAME_TEXT(u);
	SAME_TEXT(ends);
	SAME_TEXT(time);
	SAME_TEXT(booked);
	SAME_TEXT(remark);
	SAME_TEXT(overridden);
	SAME_TEXT(struck);
	SAME_TEXT(why);
}

static void same_run(const struct book_run *a, const struct book_run *b)
{
	SAME(info.id);
	SAME_TEXT(info.name);
	SAME(info.kind);
	SAME_TEXT(info.plan);
	SAME_TEXT(info.grade);
	SAME_TEXT(info.turn);
	SAME_TEXT(info.time);
	SAME(info.sights);
	SAME(info.closed);
	SAME(info.reopened);
	SAME(info.unreadable);
	SAME(run.kind);
	SAME_TEXT(run.turn);
	SAME(instruments);
	SAME(met);
	for (int i = 0; i < a->instruments; i++)
		SAME_TEXT(instrument[i]);
	SAME(has_celsius);
	SAME_DOUBLE(celsius);
	SAME(moved_count);
	SAME(seq);
	SAME(version);
	SAME(run.count);
	for (size_t i = 0; i < a->run.count; i++) {
		same_sight(&a->run.sight[i], &b->run.sight[i]);
		same_note(&a->note[i], &b->note[i]);
	}
}

/* Reads the run in hand again, and holds it to the run read whole. */
static void hold(struct shelf *s, struct tally *t)
{
	struct book_run whole;
	struct level_sight *before = NULL;
	size_t same = 0, count = s->run.run.count;
	before = malloc((count + 1) * sizeof *before);
	ck_assert_ptr_nonnull(before);
	if (count)
		memcpy(before, s->run.run.sight, count * sizeof *before);
	ck_assert_msg(book_reload(s->book, &s->run, &same, &s->why), "%s", s->why.text);
	ck_assert_msg(book_load(s->book, s->run.info.id, &whole, &s->why), "%s", s->why.text);
	same_run(&s->run, &whole);
	ck_assert_uint_le(same, count);
	for (size_t i = 0; i < same; i++)
		same_sight(&before[i], &whole.run.sight[i]);
	t->by_rows += same > 0;
	free(before);
	book_run_free(&whole);
}

/* What is likely to come at index `at`, or anything else. */
static void random_sight(struct shelf *s, uint64_t *state, size_t at, struct level_sight *sight,
                         struct book_note *note)
{
	char reading[20], station[LEVEL_STATION_BYTES];
	enum level_kind kind;
	level_suggest(&s->run.run, at, &kind, station);
	if (!*station || chance(state, 0, 2) == 0)
		strcpy(station, ANY(state, stations));
	if (chance(state, 0, 2) == 0)
		kind = (enum level_kind)chance(state, LEVEL_BS, LEVEL_OFF);
	snprintf(reading, sizeof reading, "1.%03d", (int)chance(state, 0, 999));
	ck_assert(shelf_read(s, LEVEL_BS, station, reading, sight, note));
	sight->kind = kind;
	if (kind == LEVEL_OFF) {
		sight->method = LEVEL_TAPE;
		return;
	}
	strcpy(note->instrument, ANY(state, levels));
	strcpy(note->rod, ANY(state, rods));
	if (chance(state, 0, 1))
		strcpy(note->remark, "wind");
}

static bool change_sights(struct shelf *s, uint64_t *state, struct tally *t)
{
	struct level_sight sight;
	struct book_note note;
	size_t count = s->run.run.count, at = (size_t)chance(state, 0, (int64_t)count);
	bool done;
	if (count && chance(state, 0, 5) == 0) {
		done = book_strike(s->book, &s->run, at % count, chance(state, 0, 1), "", NULL);
		t->strikes += done;
		return done;
	}
	at = chance(state, 0, 2) ? count : at;
	random_sight(s, state, at, &sight, &note);
	if (count && chance(state, 0, 4) == 0) {
		done = level_counted(&s->run.run.sight[at % count]) &&
		       book_change(s->book, &s->run, at % count, &sight, &note, NULL);
		t->changes += done;
		return done;
	}
	done = book_add(s->book, &s->run, at, &sight, &note, NULL);
	t->books += done;
	return done;
}

/* What is no sight, but may change how a run is read. */
static bool change_beside(struct book *book, const struct book_run *run, uint64_t *state)
{
	char reading[20];
	int64_t id = run->info.id;
	const char *station = ANY(state, stations);
	snprintf(reading, sizeof reading, "%d.5", (int)chance(state, 0, 20));
	switch (chance(state, 0, 8)) {
	case 0:
		return book_mark_set(book, station, reading, "", "", NULL);
	case 1:
		return book_mark_strike(book, station, NULL);
	case 2:
		return book_aside_set(book, run, station, chance(state, 0, 1), "it moved", NULL);
	case 3:
		return book_water_add(book, id, station, reading, "", "", NULL);
	case 4:
		return book_setout_set(book, id, station, reading, NULL);
	case 5:
		return book_gauge_add(book, id, station, reading, "", "", NULL);
	case 6:
		return book_run_set_kind(book, id, chance(state, 0, 1) ? LEVEL_OPEN : LEVEL_LOOP,
		                         NULL);
	case 7:
		return book_set(book, "title", reading, NULL);
	default:
		return book_run_close(book, run, "as it is", NULL) &&
		       book_run_reopen(book, id, "more to level", NULL);
	}
}

/* The same by another program that has the book open. */
static void change_elsewhere(struct shelf *s, uint64_t *state, struct tally *t)
{
	struct shelf other = {0};
	other.book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(other.book != NULL, "%s", s->why.text);
	shelf_take(&other, s->run.info.id);
	t->others += chance(state, 0, 2) ? change_sights(&other, state, t)
	                                 : change_beside(other.book, &other.run, state);
	book_run_free(&other.run);
	book_close(other.book);
}

static void equip(struct shelf *s)
{
	for (size_t i = 1; i < sizeof levels / sizeof *levels; i++) {
		struct book_instrument level = {0};
		snprintf(level.name, sizeof level.name, "%s", levels[i]);
		strcpy(level.tolerance, "0.1 mm/m");
		ck_assert_msg(book_instrument_set(s->book, &level, &s->why), "%s", s->why.text);
	}
	for (size_t i = 1; i < sizeof rods / sizeof *rods; i++) {
		struct book_rod rod = {.scale = "20"};
		snprintf(rod.name, sizeof rod.name, "%s", rods[i]);
		ck_assert_msg(book_rod_set(s->book, &rod, &s->why), "%s", s->why.text);
	}
}

START_TEST(test_random_changes)
{
	uint64_t state = chance_seed("reload");
	struct tally t = {0};
	for (int i = 0; i < BOOKS; i += EACH_OR(5)) {
		struct shelf s;
		char what[160];
		shelf_open(&s, LEVEL_M);
		equip(&s);
		shelf_begin(&s, "r", i % 8 ? LEVEL_OPEN : LEVEL_CROSSING);
		for (int j = 0; j < CHANGES; j++) {
			int64_t way = chance(&state, 0, 19);
			if (way < 3)
				t.undone += book_undo(s.book, &s.run, what, NULL);
			else if (way < 5)
				t.undone += book_redo(s.book, &s.run, what, NULL);
			else if (way < 6)
				change_elsewhere(&s, &state, &t);
			else if (way < 7)
				t.others += change_beside(s.book, &s.run, &state);
			else
				change_sights(&s, &state, &t);
			/* An editor asks for an instrument that no sight may get. */
			if (chance(&state, 0, 9) == 0)
				book_run_instrument(&s.run, ANY(&state, levels));
			/* Several changes may lie between two readings. */
			if (chance(&state, 0, 3))
				hold(&s, &t);
		}
		hold(&s, &t);
		shelf_close(&s);
	}
	printf("%d booked, %d changed, %d struck, %d undone or redone, %d beside; %d by rows\n",
	       t.books, t.changes, t.strikes, t.undone, t.others, t.by_rows);
	ck_assert_int_gt(t.books, 300 / EACH_OR(5));
	ck_assert_int_gt(t.changes, 20 / EACH_OR(5));
	ck_assert_int_gt(t.strikes, 10 / EACH_OR(5));
	ck_assert_int_gt(t.undone, 50 / EACH_OR(5));
	ck_assert_int_gt(t.others, 50 / EACH_OR(5));
	ck_assert_int_gt(t.by_rows, 300 / EACH_OR(5));
}
END_TEST

int main(void)
{
	return RUN_TESTS("reload", test_random_changes);
}
