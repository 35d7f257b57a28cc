#include "report/page/leave_items.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/ready.h"

static struct leave_item *add(struct leave_list *list, const char *run, enum leave_rank rank,
                              const char *cure)
{
	static struct leave_item lost; /* where memory is short */
	struct leave_item *item = &lost;
	if (list->count == list->room) {
		size_t room = list->room ? 2 * list->room : 16;
		struct leave_item *more = realloc(list->item, room * sizeof *more);
		if (more) {
			list->item = more;
			list->room = room;
		}
	}
	if (list->count < list->room)
		item = &list->item[list->count++];
	else
		list->short_of_memory = true;
	*item = (struct leave_item){.rank = rank};
	snprintf(item->run, sizeof item->run, "%s", run);
	snprintf(item->cure, sizeof item->cure, "%s", cure);
	return item;
}

static void say(struct leave_list *list, const struct work_run *run, enum leave_rank rank,
                bool blocks, const char *cure, const char *format, ...)
    __attribute__((format(printf, 6, 7)));

static void say(struct leave_list *list, const struct work_run *run, enum leave_rank rank,
                bool blocks, const char *cure, const char *format, ...)
{
	struct leave_item *item;
	va_list words;
	/* What could be better in a closed run was settled when it was closed. */
	if (run->book.info.closed && !blocks)
		return;
	item = add(list, run->book.info.name, rank,
	           run->book.info.closed ? "reopen the run, with a reason, and mend it" : cure);
	item->blocks = blocks;
	va_start(words, format);
	vsnprintf(item->what, sizeof item->what, format, words);
	va_end(words);
}

/* Whether the line is whole, and what of it is missing. */
static void line_items(struct leave_list *list, const struct work_run *run)
{
	const struct level_line *line = level_page_line(&run->page);
	const struct level_closing *c = &run->closing;
	bool open = line->bs_row != SIZE_MAX,
	     broken = line->broken_row != SIZE_MAX || (c->setups && !c->page_holds);
	if (line->start_row == SIZE_MAX)
		say(list, run, LEAVE_INCOMPLETE, false,
		    "level it; a run that is not wanted says nothing and may stay",
		    "no sight is booked in it");
	if (open)
		say(list, run, LEAVE_INCOMPLETE, true, "read the FS, or strike the setup (F8)",
		    "setup %d, with its BS on %s, has no FS", line->setups_begun,
		    run->book.run.sight[line->bs_row].station);
	if (broken)
		say(list, run, LEAVE_PAGE, true,
		    "fill the gap (F6 on the FS before it), or take the strike back (F9)",
		    "the page check fails: the line has a gap");
	if (!open && !broken && c->setups && run->book.run.kind == LEVEL_LOOP &&
	    strcmp(c->start_station, c->end_station) != 0)
		say(list, run, LEAVE_INCOMPLETE, true,
		    "level on to its start mark, or make it an open run (F2, k)",
		    "the loop stands on %s and is not back on %s", c->end_station,
		    c->start_station);
}

static void misclosure_items(struct leave_list *list, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	enum level_run_kind kind = run->book.run.kind;
	char verdict[400];
	if (!c->setups || !c->page_holds)
		return;
	report_verdict(&run->book.run, c, &run->settings.style, verdict, sizeof verdict);
	if (kind == LEVEL_OPEN)
		say(list, run, LEAVE_UNCHECKED, false,
		    "level back to its start, or on to a mark of known elevation", "%s", verdict);
	else if (kind == LEVEL_LINK && !c->has_misclosure)
		say(list, run, LEAVE_UNCHECKED, false,
		    "end it on a mark of known elevation, or give that mark its elevation (F3)",
		    "no check exists: the elevation of %s is not known",
		    c->start_assumed ? c->start_station : c->end_station);
	else if (kind != LEVEL_CROSSING && c->has_misclosure && !c->has_allowable)
		say(list, run, LEAVE_UNCHECKED, false,
		    "add the distances, or choose a set that goes by setups (F4)", "%s", verdict);
	else if (kind != LEVEL_CROSSING && c->closes == LEVEL_NO)
		say(list, run, LEAVE_OVER, true,
		    "read again where the slips point (Ctrl-F), or level it again", "%s", verdict);
}

static void imbalance_items(struct leave_list *list, const struct work_run *run)
{
	const struct level_sums *sums = level_page_sums(&run->page);
	const struct level_tolerance *set = &run->settings.tolerance;
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	level_nm whole = c->imbalance < 0 ? -c->imbalance : c->imbalance;
	char figure[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	const char *unit = level_unit_name(style->unit);
	/* A crossing is unequal on purpose. */
	if (run->book.run.kind == LEVEL_CROSSING)
		return;
	if (set->setup_imbalance > 0 &&
	    sums->setup_imbalance > level_from_meters(set->setup_imbalance))
		say(list, run, LEAVE_IMBALANCE, false,
		    "set up midway between its marks, and read that setup again",
		    "BS and FS distances of a setup differ by %s %s: %s allows %s",
		    level_format_length(figure, sums->setup_imbalance, style, false), unit,
		    set->title,
		    level_format_length(limit, level_from_meters(set->setup_imbalance), style,
		                        false));
	if (set->imbalance > 0 && c->has_length && whole > level_from_meters(set->imbalance))
		say(list, run, LEAVE_IMBALANCE, false,
		    "level a part of it again, with equal sights",
		    "BS and FS distances of the run differ by %s %s: %s allows %s",
		    level_format_length(figure, whole, style, false), unit, set->title,
		    level_format_length(limit, level_from_meters(set->imbalance), style, false));
}

static void instrument_items(struct leave_list *list, const struct work_run *run)
{
	char tested[REPORT_TESTED_BYTES];
	bool unnamed = false;
	if (run->tested.state != WORK_TESTED)
		say(list, run, LEAVE_UNTESTED, false,
		    "test it by two pegs now, before it is knocked again (F11, instrument, p)",
		    "%s", report_tested(tested, &run->tested, run->closing.set));
	for (size_t i = 0; i < run->book.run.count; i++)
		unnamed = unnamed || (level_counted(&run->book.run.sight[i]) &&
		                      run->book.run.sight[i].instrument == 0);
	if (unnamed)
		say(list, run, LEAVE_UNTESTED, false,
		    "give the level a name, and test it by two pegs (F11, instrument)",
		    "read with a level without a name, which no peg test stands behind");
}

static void crossing_items(struct leave_list *list, const struct leave_about *about)
{
	const struct work_run *run = about->run;
	const struct level_line *line = level_page_line(&run->page);
	const struct level_closing *c = &run->closing;
	struct level_shores shores;
	if (run->book.run.kind != LEVEL_CROSSING || line->start_row == SIZE_MAX)
		return;
	if (!level_shores(&run->book.run, run->settings.long_sight, &shores)) {
		list->short_of_memory = true;
		return;
	}
	if (shores.first != shores.second && !about->other_shore)
		say(list, run, LEAVE_CROSSING, false,
		    "sight back from the other shore, in this run or in another",
		    "its long sight was taken from one shore only");
	if (c->water_missing)
		say(list, run, LEAVE_CROSSING, false,
		    "read it at the other end, ten times over minutes (F11, water)",
		    "the water was read at one end only");
	else if (c->setups && !c->by_water && strcmp(c->start_station, c->end_station) != 0)
		say(list, run, LEAVE_CROSSING, false,
		    "read it at both ends, ten times over minutes (F11, water)",
		    "the water was read at neither end");
	if (!about->has_air)
		say(list, run, LEAVE_CROSSING, false,
		    "book two thermometers, or the water's temperature, one thermometer and the "
		    "wind (F11, air)",
		    "the air was not booked");
	if (run->terms.sealed && run->terms.late)
		say(list, run, LEAVE_CROSSING, false,
		    "nothing cures that; a second crossing, with its figures laid down first, is "
		    "not late",
		    "its figures were sealed after a drop was seen or booked");
	if (!run->terms.sealed && (shores.first || shores.second))
		say(list, run, LEAVE_CROSSING, false,
		    "the next sight that is booked or changed in it seals it",
		    "it has long sights, and its figures are not sealed");
}

static void mark_items(struct leave_list *list, const struct leave_about *about)
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
			say(list, about->run, LEAVE_MARK, false,
			    "say what it is and where its elevation is from (F3), so that others "
			    "find it",
			    "the mark %s has no description", mark->name);
		}
	}
}

static void overridden_items(struct leave_list *list, const struct work_run *run)
{
	size_t count = 0, first = 0;
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) && *run->book.note[i].overridden) {
			first = count ? first : i;
			count++;
		}
	if (count)
		say(list, run, LEAVE_OVERRIDDEN, false,
		    "read again while the rod can still stand there",
		    "%zu sight%s booked against a warning: %s on %s (%.120s)%s", count,
		    count == 1 ? " was" : "s were",
		    level_kind_name(run->book.run.sight[first].kind),
		    run->book.run.sight[first].station, run->book.note[first].overridden,
		    count == 1 ? "" : " first");
}

void leave_add(struct leave_list *list, const struct leave_about *about)
{
	const struct work_run *run = about->run;
	line_items(list, run);
	misclosure_items(list, run);
	imbalance_items(list, run);
	instrument_items(list, run);
	crossing_items(list, about);
	mark_items(list, about);
	if (about->draft_waits)
		say(list, run, LEAVE_DRAFT, true,
		    "book it (Ctrl-B), or empty the form; if it is empty, open the run again",
		    "a half-typed sight waits in it");
	overridden_items(list, run);
	if (work_two_rods(run) && run->closing.setups % 2)
		say(list, run, LEAVE_RODS, false,
		    "make the number of setups even, or know the rods' zeros (F11, rod)",
		    "two rods over an odd number of setups: the difference of their zeros does "
		    "not cancel");
	if (level_page_line(&run->page)->start_row != SIZE_MAX)
		say(list, run, LEAVE_NOT_CLOSED, false,
		    level_ready(&run->book.run, &run->page, &run->closing) == LEVEL_READY
		        ? "close it (F2, c)"
		        : "close it once it can stand (F2, c)",
		    "it has not been closed: a slip could still change it");
}

void leave_add_unreadable(struct leave_list *list, const struct book_run_info *info,
                          const char *why)
{
	struct leave_item *item =
	    add(list, info->name, LEAVE_UNREADABLE,
	        "take a copy of the book, and bring out what can be read: rodbook rescue");
	item->blocks = true;
	snprintf(item->what, sizeof item->what, "the run cannot be read: %.450s", why);
}
