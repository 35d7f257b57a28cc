#include "work/leave/leave_rules.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/ready.h"
#include "rodbook/work/water.h"

/* Of each code, how costly it is, and whether it must be done. */
static const struct weight {
	enum work_leave_rank rank;
	bool blocks;
} weights[WORK_LEAVE_CODES] = {
    [WORK_NOTHING_BOOKED] = {WORK_RANK_INCOMPLETE, false},
    [WORK_SETUP_OPEN] = {WORK_RANK_INCOMPLETE, true},
    [WORK_LINE_GAP] = {WORK_RANK_PAGE, true},
    [WORK_NOT_BACK] = {WORK_RANK_INCOMPLETE, true},
    [WORK_OPEN_RUN] = {WORK_RANK_UNCHECKED, false},
    [WORK_END_UNKNOWN] = {WORK_RANK_UNCHECKED, false},
    [WORK_NOT_JUDGED] = {WORK_RANK_UNCHECKED, false},
    [WORK_OVER_ALLOWABLE] = {WORK_RANK_OVER, true},
    [WORK_SETUP_UNEQUAL] = {WORK_RANK_IMBALANCE, false},
    [WORK_RUN_UNEQUAL] = {WORK_RANK_IMBALANCE, false},
    [WORK_LEVEL_UNTESTED] = {WORK_RANK_UNTESTED, false},
    [WORK_LEVEL_UNNAMED] = {WORK_RANK_UNTESTED, false},
    [WORK_ONE_SHORE] = {WORK_RANK_CROSSING, false},
    [WORK_WATER_ONE_END] = {WORK_RANK_CROSSING, false},
    [WORK_NO_WATER] = {WORK_RANK_CROSSING, false},
    [WORK_NO_AIR] = {WORK_RANK_CROSSING, false},
    [WORK_SEALED_LATE] = {WORK_RANK_CROSSING, false},
    [WORK_NOT_SEALED] = {WORK_RANK_CROSSING, false},
    [WORK_MARK_UNSAID] = {WORK_RANK_MARK, false},
    [WORK_DRAFT_WAITS] = {WORK_RANK_DRAFT, true},
    [WORK_BOOKED_AGAINST] = {WORK_RANK_OVERRIDDEN, false},
    [WORK_RODS_ODD] = {WORK_RANK_RODS, false},
    [WORK_RUN_NOT_CLOSED] = {WORK_RANK_NOT_CLOSED, false},
    [WORK_RUN_UNREADABLE] = {WORK_RANK_UNREADABLE, true},
    [WORK_CHECK_FAILS] = {WORK_RANK_CHECK, true},
    [WORK_MARK_MOVED] = {WORK_RANK_MOVED, false},
    [WORK_STATION_APART] = {WORK_RANK_STATION, true},
    [WORK_WATER_APART] = {WORK_RANK_CROSSING, false},
    [WORK_AIR_APART] = {WORK_RANK_CROSSING, false},
    [WORK_TIME_ODD] = {WORK_RANK_OVERRIDDEN, false},
    [WORK_WATER_FEW] = {WORK_RANK_CROSSING, false},
    [WORK_WATER_UNUSED] = {WORK_RANK_CROSSING, false},
    [WORK_NOT_SEPARATED] = {WORK_RANK_CROSSING, false},
    [WORK_WIND_UNSAID] = {WORK_RANK_CROSSING, false},
    [WORK_NOT_PREDICTED] = {WORK_RANK_CROSSING, false},
    [WORK_TEST_LATE] = {WORK_RANK_UNTESTED, false},
};

static bool add(struct work_leave *list, const char *run, struct work_leave_item item)
{
	if (list->count == list->room) {
		size_t room = list->room ? 2 * list->room : 16;
		struct work_leave_item *more = realloc(list->item, room * sizeof *more);
		if (!more)
			return false;
		list->item = more;
		list->room = room;
	}
	item.rank = weights[item.code].rank;
	item.blocks = weights[item.code].blocks;
	snprintf(item.run, sizeof item.run, "%s", run);
	list->item[list->count++] = item;
	return true;
}

static bool say(struct work_leave *list, const struct work_run *run, struct work_leave_item item)
{
	item.closed = run->book.info.closed;
	/* What could be better in a closed run was settled when it was closed. */
	if (item.closed && !weights[item.code].blocks)
		return true;
	return add(list, run->book.info.name, item);
}

static bool say_only(struct work_leave *list, const struct work_run *run, enum work_leave_code code)
{
	return say(list, run, (struct work_leave_item){.code = code});
}

bool leave_say(struct work_leave *list, const struct work_run *run, struct work_leave_item item,
               const char *station, const char *other)
{
	snprintf(item.station, sizeof item.station, "%s", station);
	snprintf(item.other, sizeof item.other, "%s", other);
	return say(list, run, item);
}

/* Whether the line is whole, and what of it is missing. */
static bool line_items(struct work_leave *list, const struct work_run *run)
{
	const struct level_line *line = level_page_line(&run->page);
	const struct level_closing *c = &run->closing;
	bool open = line->bs_row != SIZE_MAX,
	     broken = line->broken_row != SIZE_MAX || (c->setups && !c->page_holds), ok = true;
	if (line->start_row == SIZE_MAX)
		ok = say_only(list, run, WORK_NOTHING_BOOKED);
	if (open)
		ok = ok && leave_say(list, run,
		                     (struct work_leave_item){.code = WORK_SETUP_OPEN,
		                                              .setup = line->setups_begun},
		                     run->book.run.sight[line->bs_row].station, "");
	if (broken)
		ok = ok && say_only(list, run, WORK_LINE_GAP);
	if (!open && !broken && c->setups && run->book.run.kind == LEVEL_LOOP &&
	    strcmp(c->start_station, c->end_station) != 0)
		ok = ok && leave_say(list, run, (struct work_leave_item){.code = WORK_NOT_BACK},
		                     c->end_station, c->start_station);
	return ok;
}

/* Whether the run is said to be closed for a reason only. */
static bool is_not_judged(const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	return c->setups && c->page_holds && c->closes != LEVEL_NO &&
	       level_is_weak(&run->book.run, c);
}

static bool misclosure_items(struct work_leave *list, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	enum level_run_kind kind = run->book.run.kind;
	if (!c->setups || !c->page_holds)
		return true;
	if (c->failing && !leave_say(list, run,
	                             (struct work_leave_item){.code = WORK_CHECK_FAILS,
	                                                      .figure = c->failing_by,
	                                                      .limit = c->failing_allowable},
	                             c->failing_mark, c->failing_from ? c->failing_from : ""))
		return false;
	if (kind == LEVEL_OPEN)
		return say_only(list, run, WORK_OPEN_RUN);
	if (kind == LEVEL_LINK && !c->has_misclosure)
		return leave_say(list, run, (struct work_leave_item){.code = WORK_END_UNKNOWN},
		                 c->start_assumed ? c->start_station : c->end_station, "");
	if (kind == LEVEL_CROSSING)
		return true;
	if (is_not_judged(run))
		return say(list, run,
		           (struct work_leave_item){.code = WORK_NOT_JUDGED,
		                                    .figure = c->judged,
		                                    .limit = c->has_allowable ? c->allowable : 0,
		                                    .count = (size_t)c->unknown_distances});
	if (c->closes == LEVEL_NO && llabs(c->judged) > c->allowable)
		return say(list, run,
		           (struct work_leave_item){.code = WORK_OVER_ALLOWABLE,
		                                    .figure = c->judged,
		                                    .limit = c->allowable,
		                                    .count = (size_t)c->unknown_distances,
		                                    .provisional = c->provisional,
		                                    .booked = c->misclosure,
		                                    .corrected = c->judged_corrected,
		                                    .tilt = c->tilt_taken_off});
	return true;
}

static bool imbalance_items(struct work_leave *list, const struct work_run *run)
{
	const struct level_tolerance *set = &run->settings.tolerance;
	const struct level_closing *c = &run->closing;
	struct work_leave_item setup = {.code = WORK_SETUP_UNEQUAL,
	                                .figure = level_page_sums(&run->page)->setup_imbalance,
	                                .limit = level_from_meters(set->setup_imbalance)};
	struct work_leave_item whole = {.code = WORK_RUN_UNEQUAL,
	                                .figure = llabs(c->imbalance),
	                                .limit = level_from_meters(set->imbalance)};
	/* A crossing is unequal on purpose. */
	if (run->book.run.kind == LEVEL_CROSSING)
		return true;
	if (set->setup_imbalance > 0 && setup.figure > setup.limit && !say(list, run, setup))
		return false;
	return set->imbalance <= 0 || !c->has_length || whole.figure <= whole.limit ||
	       say(list, run, whole);
}

static bool instrument_items(struct work_leave *list, const struct work_run *run)
{
	bool unnamed = false, ok = true;
	if (run->tested.state != WORK_TESTED)
		ok = say(
		    list, run,
		    (struct work_leave_item){.code = WORK_LEVEL_UNTESTED, .tested = run->tested});
	if (*run->tested.late)
		ok = ok &&
		     say(list, run,
		         (struct work_leave_item){.code = WORK_TEST_LATE, .tested = run->tested});
	for (size_t i = 0; i < run->book.run.count; i++)
		unnamed = unnamed || (level_counted(&run->book.run.sight[i]) &&
		                      run->book.run.sight[i].instrument == 0);
	return ok && (!unnamed || say_only(list, run, WORK_LEVEL_UNNAMED));
}

/* A drop that decides nothing, or that the prediction does not fit, which a slip makes likeliest; a
 * hidden one has no answer yet. */
static bool separated_items(struct work_leave *list, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	if (level_page_line(&run->page)->bs_row != SIZE_MAX || !c->page_holds ||
	    work_drop_of(run) != WORK_ANSWERED)
		return true;
	if (!level_prediction_fits(c->finding.answer))
		return say_only(list, run, WORK_NOT_PREDICTED);
	if (c->finding.answer != LEVEL_NOT_SEPARATED)
		return true;
	return say(list, run,
	           (struct work_leave_item){
	               .code = WORK_NOT_SEPARATED,
	               .largest = level_largest_line(&c->allowance, run->terms.terms.decides),
	               .done = work_done(&run->book.run, run->terms.k_source, &run->tested)});
}

/* Too few readings of the water: one item, for one end or both. */
static bool water_few_items(struct work_leave *list, const struct work_run *run)
{
	struct work_leave_item item = {.code = WORK_WATER_FEW};
	const struct level_sight *first =
	    work_few_waters(&run->book.run, &run->page, &run->closing, 0);
	const struct level_sight *last =
	    work_few_waters(&run->book.run, &run->page, &run->closing, 1);
	const struct level_sight *one = first ? first : last;
	if (!one)
		return true;
	item.count = (size_t)one->water_count;
	if (first && last)
		item.other_count = (size_t)last->water_count;
	return leave_say(list, run, item, one->station, first && last ? last->station : "");
}

static bool crossing_items(struct work_leave *list, const struct leave_about *about)
{
	const struct work_run *run = about->run;
	const struct level_line *line = level_page_line(&run->page);
	const struct level_closing *c = &run->closing;
	struct level_shores shores;
	bool ok = true;
	if (run->book.run.kind != LEVEL_CROSSING || line->start_row == SIZE_MAX)
		return true;
	if (!level_shores(&run->book.run, run->settings.long_sight, &shores))
		return false;
	ok = separated_items(list, run);
	if (shores.first != shores.second && !about->other_shore)
		ok = ok && say_only(list, run, WORK_ONE_SHORE);
	if (c->water_missing)
		ok = ok && say_only(list, run, WORK_WATER_ONE_END);
	else if (c->setups && !c->by_water && strcmp(c->start_station, c->end_station) != 0)
		ok = ok && say_only(list, run, WORK_NO_WATER);
	ok = ok && water_few_items(list, run);
	/* A run that goes there and back needs no water, and is not asked about it. */
	if (*about->water_unused && !c->back)
		ok = ok && leave_say(list, run, (struct work_leave_item){.code = WORK_WATER_UNUSED},
		                     about->water_unused, "");
	if (!about->has_air || !about->air_tells)
		ok = ok && say_only(list, run, WORK_NO_AIR);
	if (run->airs.wind_unsaid)
		ok = ok && say_only(list, run, WORK_WIND_UNSAID);
	if (run->terms.sealed && run->terms.late)
		ok = ok && say_only(list, run, WORK_SEALED_LATE);
	if (!run->terms.sealed && c->setups)
		ok = ok && say_only(list, run, WORK_NOT_SEALED);
	return ok;
}

static bool mark_items(struct work_leave *list, const struct leave_about *about)
{
	const struct level_run *run = &about->run->book.run;
	for (size_t i = 0; i < run->count && !about->run->book.info.closed; i++) {
		if (!level_counted(&run->sight[i]) || !run->sight[i].has_known)
			continue;
		for (size_t m = 0; m < about->mark_count; m++) {
			const struct book_mark *mark = &about->marks[m];
			if (about->mark_said[m] || *mark->source ||
			    strcmp(mark->name, run->sight[i].station) != 0)
				continue;
			about->mark_said[m] = true;
			if (!leave_say(list, about->run,
			               (struct work_leave_item){.code = WORK_MARK_UNSAID},
			               mark->name, ""))
				return false;
		}
	}
	return true;
}

static bool overridden_items(struct work_leave *list, const struct work_run *run)
{
	struct work_leave_item item = {.code = WORK_BOOKED_AGAINST};
	size_t first = 0;
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) && *run->book.note[i].overridden) {
			first = item.count ? first : i;
			item.count++;
		}
	if (!item.count)
		return true;
	item.sight = run->book.run.sight[first].kind;
	snprintf(item.text, sizeof item.text, "%s", run->book.note[first].overridden);
	return leave_say(list, run, item, run->book.run.sight[first].station, "");
}

/* What a closed run or a sealed crossing was reckoned with, and is not known so any more. */
static bool moved_items(struct work_leave *list, const struct work_run *run)
{
	for (size_t i = 0; i < run->book.moved_count; i++)
		if (!add(list, run->book.info.name,
		         (struct work_leave_item){.code = WORK_MARK_MOVED,
		                                  .closed = run->book.info.closed,
		                                  .moved = run->book.moved[i]}))
			return false;
	return true;
}

static bool time_items(struct work_leave *list, const struct work_run *run)
{
	const struct work_times *times = &run->times;
	struct work_leave_item item = {.times = *times};
	bool ok = true;
	if (*times->water_start) {
		item.code = WORK_WATER_APART;
		ok = say(list, run, item);
	}
	if (*times->air) {
		item.code = WORK_AIR_APART;
		ok = ok && say(list, run, item);
	}
	if (*times->back) {
		item.code = WORK_TIME_ODD;
		ok = ok && say(list, run, item);
	}
	return ok;
}

bool leave_add(struct work_leave *list, const struct leave_about *about)
{
	const struct work_run *run = about->run;
	if (!line_items(list, run) || !misclosure_items(list, run) || !imbalance_items(list, run) ||
	    !instrument_items(list, run) || !crossing_items(list, about) ||
	    !mark_items(list, about) || !moved_items(list, run) || !leave_stations(list, run) ||
	    (about->draft_waits && !say_only(list, run, WORK_DRAFT_WAITS)) ||
	    !time_items(list, run) || !overridden_items(list, run))
		return false;
	if (work_two_rods(run) && run->closing.setups % 2 && !say_only(list, run, WORK_RODS_ODD))
		return false;
	return level_page_line(&run->page)->start_row == SIZE_MAX || is_not_judged(run) ||
	       say(list, run,
	           (struct work_leave_item){.code = WORK_RUN_NOT_CLOSED,
	                                    .ready = level_ready(&run->book.run, &run->page,
	                                                         &run->closing) == LEVEL_READY});
}

bool leave_add_unreadable(struct work_leave *list, const struct book_run_info *info,
                          const char *why)
{
	struct work_leave_item item = {.code = WORK_RUN_UNREADABLE};
	snprintf(item.text, sizeof item.text, "%s", why);
	return add(list, info->name, item);
}
