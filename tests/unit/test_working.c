/* The working run and its page, of which only what changed is copied and reduced, are what they are
 * when all of it is: random targets, drafts and bookings over random runs. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/sight.h"
#include "screen/editor.h"
#include "unit/books.h"
#include "unit/chance.h"
#include "unit/suite.h"

#define RUNS 25
#define STEPS 80

static const char *const stations[] = {"A", "B", "C", "TP1"};

static struct level_sight draft_of(uint64_t *state, size_t at, const struct level_run *run)
{
	struct level_sight sight = {.state = LEVEL_DRAFT,
	                            .method = LEVEL_ROD,
	                            .reading = chance(state, 1, 3000) * 1000000,
	                            .distance = chance(state, 0, 1) * 20 * LEVEL_NM_PER_M};
	level_suggest(run, at, &sight.kind, sight.station);
	if (!*sight.station || chance(state, 0, 2) == 0)
		strcpy(sight.station, stations[chance(state, 0, 3)]);
	if (!level_check_place(run, at, false, &sight, NULL))
		sight.state = LEVEL_BLANK;
	return sight;
}

/* What the working run must be: the booked one with one sight in place of another or between. */
static struct level_run expected(const struct editor *ed, struct level_sight *sights)
{
	const struct level_run *booked = &ed->run.run;
	struct level_run out = {.kind = booked->kind, .sight = sights};
	size_t other = ed->target == TARGET_CHANGE ? level_partner(booked, ed->at) : booked->count;
	for (size_t i = 0; i < booked->count; i++) {
		if (ed->target == TARGET_INSERT && i == ed->at)
			sights[out.count++] = ed->work.sight[ed->at];
		sights[out.count++] = ed->target == TARGET_CHANGE && (i == ed->at || i == other)
		                          ? ed->work.sight[i]
		                          : booked->sight[i];
	}
	if (ed->target == TARGET_INSERT && ed->at == booked->count)
		sights[out.count++] = ed->work.sight[ed->at];
	sights[out.count] = (struct level_sight){.state = LEVEL_BLANK};
	if (ed->target == TARGET_NEW)
		sights[out.count] = ed->work.sight[ed->at];
	out.count++;
	return out;
}

#define SAME(member) ck_assert_int_eq((int64_t)a->member, (int64_t)b->member)

static void same_row(const struct level_row *a, const struct level_row *b)
{
	SAME(setup);
	SAME(has_hi);
	SAME(hi);
	SAME(has_elevation);
	SAME(elevation);
	SAME(has_step);
	SAME(step);
	SAME(has_corrected);
	SAME(corrected);
	SAME(sums.bs);
	SAME(sums.fs);
	SAME(sums.rises);
	SAME(sums.falls);
	SAME(sums.bs_length);
	SAME(sums.setups);
	SAME(sums.unknown_distances);
	ck_assert(a->sums.drop.reading_variance == b->sums.drop.reading_variance);
	SAME(line.start_row);
	SAME(line.bs_row);
	SAME(line.end_row);
	SAME(line.first_row);
	SAME(line.broken_row);
	SAME(line.known_row);
	SAME(line.named_row);
	SAME(line.turn_row);
	SAME(line.mirror_row);
	SAME(line.mirrored);
	SAME(line.setups_begun);
	SAME(line.end);
	SAME(line.hi);
	SAME(extent.reading);
	SAME(extent.height);
}

static void same_sight(const struct level_sight *a, const struct level_sight *b)
{
	SAME(id);
	SAME(kind);
	SAME(state);
	SAME(reading);
	SAME(distance);
	ck_assert_str_eq(a->station, b->station);
}

/* Reduces what is not reduced yet, as the editor does, and holds it to all reduced anew. */
static void hold(struct editor *ed, size_t *kept)
{
	struct level_page page = {0};
	struct level_sight *sights = calloc(ed->run.run.count + 2, sizeof *sights);
	struct level_run all;
	ck_assert_ptr_nonnull(sights);
	*kept += ed->page.count;
	ck_assert(level_reduce(&ed->work, ed->page.count, &ed->terms.terms, &ed->page));
	all = expected(ed, sights);
	ck_assert(level_reduce(&all, 0, &ed->terms.terms, &page));
	ck_assert_uint_eq(ed->work.count, all.count);
	ck_assert_uint_eq(ed->page.count, page.count);
	for (size_t i = 0; i < all.count; i++) {
		same_sight(&ed->work.sight[i], &all.sight[i]);
		same_row(&ed->page.row[i], &page.row[i]);
	}
	level_page_free(&page);
	free(sights);
}

static void aim(struct editor *ed, uint64_t *state)
{
	size_t count = ed->run.run.count;
	ed->target = count ? (enum target)chance(state, TARGET_NEW, TARGET_INSERT) : TARGET_NEW;
	ed->at = ed->target == TARGET_NEW ? count : (size_t)chance(state, 0, (int64_t)count - 1);
	if (ed->target == TARGET_CHANGE)
		work_draft_of(&ed->run.run.sight[ed->at], &ed->run.note[ed->at],
		              &ed->settings.style, &ed->slot[1]);
	ck_assert(working_fill(ed));
}

static void type(struct editor *ed, uint64_t *state)
{
	struct level_sight sight = draft_of(state, ed->at, &ed->run.run);
	if (ed->target == TARGET_CHANGE && level_counted(&ed->run.run.sight[ed->at])) {
		sight = ed->run.run.sight[ed->at];
		if (chance(state, 0, 1)) {
			sight.state = LEVEL_DRAFT;
			sight.reading += 1000000;
			strcpy(sight.station, stations[chance(state, 0, 3)]);
			strcpy(ed->slot[1].remark, "read again");
		}
	} else if (ed->target == TARGET_CHANGE) {
		sight.state = LEVEL_BLANK;
	}
	working_put(ed, &sight);
}

/* Books at the end or between, strikes, or takes back, and reads the run again. */
static void book(struct editor *ed, struct shelf *s, uint64_t *state)
{
	struct level_sight sight;
	struct book_note note;
	char station[LEVEL_STATION_BYTES], what[160];
	enum level_kind kind;
	size_t count = ed->run.run.count, same;
	size_t at = chance(state, 0, 3) ? count : (size_t)chance(state, 0, (int64_t)count);
	level_suggest(&ed->run.run, at, &kind, station);
	if (!*station)
		strcpy(station, stations[chance(state, 0, 3)]);
	ck_assert(shelf_read(s, kind, station, "1.5", &sight, &note));
	if (chance(state, 0, 5) == 0)
		book_undo(s->book, &ed->run, what, NULL);
	else if (count && chance(state, 0, 5) == 0)
		book_strike(s->book, &ed->run, count - 1, true, "", NULL);
	else
		book_add(s->book, &ed->run, at, &sight, &note, NULL);
	ck_assert_msg(book_reload(s->book, &ed->run, &same, &s->why), "%s", s->why.text);
	ed->filled = same < ed->filled ? same : ed->filled;
}

START_TEST(test_working)
{
	uint64_t state = chance_seed("working");
	size_t kept = 0;
	for (int i = 0; i < RUNS; i += EACH_OR(5)) {
		struct shelf s;
		struct editor ed = {0};
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "r", LEVEL_LOOP);
		ck_assert(book_settings(s.book, &ed.settings, &s.why));
		ed.terms.terms = ed.settings.terms;
		ck_assert(book_load(s.book, s.run.info.id, &ed.run, &s.why));
		for (int j = 0; j < STEPS; j++) {
			if (chance(&state, 0, 1))
				book(&ed, &s, &state);
			aim(&ed, &state);
			for (int64_t keys = chance(&state, 0, 2); keys >= 0; keys--) {
				type(&ed, &state);
				hold(&ed, &kept);
			}
		}
		level_page_free(&ed.page);
		free(ed.work.sight);
		book_run_free(&ed.run);
		shelf_close(&s);
	}
	printf("%zu rows were not reduced again\n", kept);
	ck_assert_uint_gt(kept, 5000 / EACH_OR(5));
}
END_TEST

int main(void)
{
	return RUN_TESTS("working", test_working);
}
