#include "rodbook/work/weak.h"

#include <math.h>

/* Of a level that nobody tested, m per m: what adjusters commonly leave. Common practice, no
 * source. */
#define TILT_LIKELY 1e-4

/* Less than a tenth of what is allowed says nothing against a run. */
static bool tilt_tells(const struct level_closing *c, double tilt)
{
	return c->has_length && c->imbalance != 0 && !c->tilt_taken_off &&
	       (!c->has_allowable || fabs(tilt) * 10 >= level_to_meters(c->allowable));
}

static bool reads_unnamed_rod(const struct work_run *run)
{
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) &&
		    run->book.run.sight[i].method == LEVEL_ROD && !*run->book.note[i].rod)
			return true;
	return false;
}

/* Known marks that the line starts from, ends on, or meets on the way. */
static bool has_one_mark(const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	return run->book.run.kind != LEVEL_LINK && !c->start_assumed && run->section_count < 2;
}

struct work_weak work_weak_of(const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	double tilt = TILT_LIKELY * level_to_meters(c->imbalance);
	struct work_weak out = {.tilt = level_from_meters(tilt)};
	const struct {
		enum work_weak_point point;
		bool holds;
	} points[WORK_WEAK_POINTS] = {
	    {WORK_WEAK_LINE, c->setups && !c->page_holds},
	    {WORK_WEAK_UNCLOSED, run->book.run.kind == LEVEL_OPEN || !c->has_misclosure},
	    {WORK_WEAK_SETUPS, c->setups && !c->has_length},
	    {WORK_WEAK_LEVEL, tilt_tells(c, tilt)},
	    {WORK_WEAK_UNTESTED, run->tested.state != WORK_TESTED},
	    {WORK_WEAK_START, has_one_mark(run)},
	    {WORK_WEAK_ROD, reads_unnamed_rod(run)},
	    {WORK_WEAK_PAIRS, c->has_misclosure},
	};
	if (run->book.run.kind == LEVEL_CROSSING || !c->setups)
		return out;
	for (size_t i = 0; i < WORK_WEAK_POINTS; i++)
		if (points[i].holds)
			out.point[out.count++] = points[i].point;
	return out;
}
