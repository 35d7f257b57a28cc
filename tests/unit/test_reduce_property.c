/* Reducing on from any row gives what reducing from the first row gives, to the last bit, and the
 * page agrees with a second, plainer reckoning. */
#include "rodbook/level/page.h"

#include <string.h>

#include "chance.h"
#include "sights.h"
#include "suite.h"

#define ROWS 40

static bool same_sums(const struct level_sums *a, const struct level_sums *b)
{
	return a->bs == b->bs && a->fs == b->fs && a->rises == b->rises && a->falls == b->falls &&
	       a->bs_length == b->bs_length && a->fs_length == b->fs_length &&
	       a->setups == b->setups && a->unknown_distances == b->unknown_distances &&
	       memcmp(&a->drop, &b->drop, sizeof a->drop) == 0;
}

static bool same_line(const struct level_line *a, const struct level_line *b)
{
	return a->start_row == b->start_row && a->bs_row == b->bs_row && a->end_row == b->end_row &&
	       a->broken_row == b->broken_row && a->setups_begun == b->setups_begun &&
	       a->has_end == b->has_end && a->has_hi == b->has_hi && a->end == b->end &&
	       a->hi == b->hi && a->previous == b->previous && a->setup_rises == b->setup_rises &&
	       a->setup_falls == b->setup_falls;
}

static bool same_row(const struct level_row *a, const struct level_row *b)
{
	return a->setup == b->setup && a->has_hi == b->has_hi &&
	       a->has_elevation == b->has_elevation && a->has_step == b->has_step &&
	       a->has_corrected == b->has_corrected && a->hi == b->hi &&
	       a->elevation == b->elevation && a->step == b->step && a->corrected == b->corrected &&
	       same_sums(&a->sums, &b->sums) && same_line(&a->line, &b->line);
}

static void check_same(const struct level_page *a, const struct level_page *b, size_t from)
{
	ck_assert_uint_eq(a->count, b->count);
	for (size_t i = 0; i < a->count; i++)
		ck_assert_msg(same_row(&a->row[i], &b->row[i]), "row %zu, reduced from %zu", i,
		              from);
}

static struct level_sight any_sight(uint64_t *state)
{
	char station[8];
	struct level_sight out;
	snprintf(station, sizeof station, "%c", (char)chance(state, 'A', 'E'));
	out = sight((enum level_kind)chance(state, 0, LEVEL_KINDS - 1), station,
	            chance(state, -METRES(1), METRES(5)),
	            chance(state, 0, 3) ? chance(state, 1, METRES(900)) : 0);
	out.method = (enum level_method)chance(state, 0, 2);
	if (out.kind == LEVEL_OFF) {
		out.method = chance(state, 0, 1) ? LEVEL_TUBE : LEVEL_TAPE;
		out.distance = 0;
	}
	if (chance(state, 0, 4) == 0)
		out = known(out, chance(state, -METRES(100), METRES(3000)), MM(1));
	if (chance(state, 0, 2) == 0)
		out.state = (enum level_state)chance(state, LEVEL_BOOKED, LEVEL_STRUCK);
	return out;
}

/* A row like those of a real run: mostly in order, on the mark where the line stands. */
static struct level_sight likely_sight(uint64_t *state, const struct level_run *run, size_t at)
{
	struct level_sight out = any_sight(state);
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];
	if (chance(state, 0, 9) == 0)
		return out;
	level_suggest(run, at, &kind, station);
	out.kind = kind == LEVEL_FS && chance(state, 0, 2) == 0 ? LEVEL_IS : kind;
	if (station[0])
		memcpy(out.station, station, sizeof out.station);
	return out;
}

static size_t any_run(uint64_t *state, struct level_sight *sights)
{
	struct level_run run = {.kind = LEVEL_OPEN, .sight = sights};
	size_t count = (size_t)chance(state, 0, ROWS);
	bool wild = chance(state, 0, 3) == 0;
	while (run.count < count) {
		sights[run.count] = wild ? any_sight(state) : likely_sight(state, &run, run.count);
		run.count++;
	}
	return count;
}

START_TEST(test_from_every_row)
{
	uint64_t state = chance_seed("reducing from every row");
	struct level_terms with = usual_terms();
	struct level_page page = {0}, whole = {0};
	struct level_sight sights[ROWS];
	for (int i = 0; i < 120; i++) {
		struct level_run run = {.count = any_run(&state, sights), .sight = sights};
		ck_assert(level_reduce(&run, 0, &with, &whole));
		for (size_t from = 0; from <= run.count + 1; from++) {
			ck_assert(level_reduce(&run, 0, &with, &page));
			ck_assert(level_reduce(&run, from, &with, &page));
			check_same(&page, &whole, from);
			/* a page that has no rows yet, whatever its memory holds, is reduced from
			 * the first */
			if (page.room)
				memset(page.row, 0xa5, page.room * sizeof *page.row);
			page.count = 0;
			ck_assert(level_reduce(&run, from, &with, &page));
			check_same(&page, &whole, from);
		}
	}
	level_page_free(&page);
	level_page_free(&whole);
}
END_TEST

/* Changing, adding and dropping rows, and reducing on from the first that changed. */
START_TEST(test_after_changes)
{
	uint64_t state = chance_seed("reducing after changes");
	struct level_terms with = usual_terms();
	struct level_page page = {0}, whole = {0};
	struct level_sight sights[ROWS];
	for (int i = 0; i < 80; i++) {
		struct level_run run = {.count = any_run(&state, sights), .sight = sights};
		ck_assert(level_reduce(&run, 0, &with, &page));
		for (int j = 0; j < 40; j++) {
			size_t at = (size_t)chance(&state, 0, (int64_t)run.count);
			int64_t what = chance(&state, 0, 2);
			if (what == 0 && run.count < ROWS) {
				memmove(&sights[at + 1], &sights[at],
				        (run.count - at) * sizeof *sights);
				sights[at] = any_sight(&state);
				run.count++;
			} else if (what == 1 && at < run.count) {
				run.count--;
				memmove(&sights[at], &sights[at + 1],
				        (run.count - at) * sizeof *sights);
			} else if (at < run.count) {
				sights[at] = any_sight(&state);
			}
			ck_assert(level_reduce(&run, at, &with, &page));
			ck_assert(level_reduce(&run, 0, &with, &whole));
			check_same(&page, &whole, at);
		}
	}
	level_page_free(&page);
	level_page_free(&whole);
}
END_TEST

/* A plainer reckoning of a run in good order: the line of sight, carried from mark to mark. */
static void check_plainly(const struct level_run *run, const struct level_page *page)
{
	level_nm elevation = run->sight[0].known, hi = 0, bs = 0, fs = 0, open_bs = 0, offsets = 0;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *at = &run->sight[i];
		if (at->kind == LEVEL_BS) {
			hi = elevation + at->reading;
			open_bs = at->reading;
			ck_assert_int_eq(page->row[i].hi, hi);
		} else if (at->kind == LEVEL_FS) {
			elevation = hi - at->reading;
			bs += open_bs;
			fs += at->reading;
		} else if (at->kind == LEVEL_OFF) {
			elevation += at->reading;
			offsets += at->reading;
		}
		ck_assert(page->row[i].has_elevation);
		ck_assert_int_eq(page->row[i].elevation,
		                 at->kind == LEVEL_IS ? hi - at->reading : elevation);
		ck_assert_int_eq(page->row[i].sums.bs, bs);
		ck_assert_int_eq(page->row[i].sums.fs, fs);
		/* the page check, after every row */
		ck_assert_int_eq(page->row[i].sums.offsets, offsets);
		ck_assert_int_eq(bs - fs + offsets, elevation - run->sight[0].known);
		ck_assert_int_eq(page->row[i].sums.rises - page->row[i].sums.falls, bs - fs);
	}
}

START_TEST(test_against_plain_reckoning)
{
	uint64_t state = chance_seed("plain reckoning");
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_sight sights[ROWS];
	for (int i = 0; i < 500; i++) {
		struct level_run run = {.kind = LEVEL_OPEN, .sight = sights};
		while (run.count < ROWS) {
			enum level_kind kind;
			char station[LEVEL_STATION_BYTES];
			level_suggest(&run, run.count, &kind, station);
			if (kind == LEVEL_FS && chance(&state, 0, 1))
				kind = LEVEL_IS;
			if (kind == LEVEL_BS && run.count && chance(&state, 0, 3) == 0) {
				sights[run.count++] =
				    sight(LEVEL_OFF, strcmp(station, "B") == 0 ? "C" : "B",
				          chance(&state, -METRES(20), METRES(20)), 0);
				continue;
			}
			sights[run.count++] =
			    sight(kind, station[0] ? station : "A", chance(&state, 0, METRES(5)),
			          chance(&state, 0, METRES(100)));
		}
		sights[0] = known(sights[0], chance(&state, -METRES(500), METRES(9000)), 0);
		ck_assert(level_reduce(&run, 0, &with, &page));
		ck_assert_uint_eq(level_page_line(&page)->broken_row, SIZE_MAX);
		check_plainly(&run, &page);
	}
	level_page_free(&page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("reduce properties", test_from_every_row, test_after_changes,
	                 test_against_plain_reckoning);
}
