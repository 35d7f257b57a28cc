#include "report/page/leave_words.h"

#include "report/lines.h"

/* A misclosure, by the sentence that other reports have for it. */
static void verdict(const struct work_leave *list, const struct work_leave_item *item,
                    char text[LEAVE_WORDS_BYTES])
{
	struct level_run run = {.kind = item->code == WORK_OPEN_RUN ? LEVEL_OPEN : LEVEL_LOOP};
	struct level_closing c = {.setups = 1,
	                          .page_holds = true,
	                          .has_misclosure = true,
	                          .judged = item->figure,
	                          .misclosure = item->booked,
	                          .judged_corrected = item->corrected,
	                          .tilt_taken_off = item->tilt,
	                          .has_allowable = item->limit != 0,
	                          .allowable = item->limit,
	                          .provisional = item->code == WORK_NOT_JUDGED || item->provisional,
	                          .closes =
	                              item->code == WORK_OVER_ALLOWABLE ? LEVEL_NO : LEVEL_YES,
	                          .unknown_distances = (int)item->count,
	                          .set = &list->set};
	lines_verdict(&run, &c, &list->style, text, 400);
}

static void unequal(const struct work_leave *list, const struct work_leave_item *item,
                    const char *whose, char text[LEAVE_WORDS_BYTES])
{
	char figure[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	snprintf(text, LEAVE_WORDS_BYTES, "BS and FS distances of %s differ by %s: %s allows %s",
	         whose, level_format_distance_unit(figure, item->figure, &list->style),
	         list->set.title, level_format_distance(limit, item->limit, &list->style, false));
}

static void booked_against(const struct work_leave_item *item, char text[LEAVE_WORDS_BYTES])
{
	snprintf(text, LEAVE_WORDS_BYTES,
	         "%zu sight%s booked against a warning: %s on %s (%.120s)%s", item->count,
	         item->count == 1 ? " was" : "s were", level_kind_name(item->sight), item->station,
	         item->text, item->count == 1 ? "" : " first");
}

static void water_few(const struct work_leave_item *item, char text[LEAVE_WORDS_BYTES])
{
	const char *plural = item->count == 1 ? "" : "s";
	if (*item->other)
		snprintf(text, LEAVE_WORDS_BYTES,
		         "the water was read %zu time%s only at %s and %zu at %s: that is weak "
		         "evidence",
		         item->count, plural, item->station, item->other_count, item->other);
	else
		snprintf(text, LEAVE_WORDS_BYTES,
		         "the water at %s was read %zu time%s only: that is weak evidence",
		         item->station, item->count, plural);
}

/* What takes no value into its words; NULL for the others. */
static const char *plain(enum work_leave_code code)
{
	switch (code) {
	case WORK_NOTHING_BOOKED:
		return "no sight is booked in it";
	case WORK_LINE_GAP:
		return "the page check fails: the line has a gap";
	case WORK_LEVEL_UNNAMED:
		return "read with a level without a name, so no peg test counts for it";
	case WORK_ONE_SHORE:
		return "its long sight was taken from one shore only";
	case WORK_WATER_ONE_END:
		return "the water was read at one end only";
	case WORK_NO_WATER:
		return "the water was read at neither end";
	case WORK_NO_AIR:
		return "no air was booked that gives a k";
	case WORK_WIND_UNSAID:
		return REPORT_WIND_UNSAID;
	case WORK_NOT_PREDICTED:
		return "its drop is not as predicted: look for an error before anything else";
	case WORK_NOT_SEPARATED:
		return "its drop decides nothing: flat and round both fit";
	case WORK_SEALED_LATE:
		return "its figures were sealed after a drop was seen or booked";
	case WORK_NOT_SEALED:
		return "its figures are not sealed: they could still be changed to suit the drop "
		       "that is seen";
	case WORK_DRAFT_WAITS:
		return "a half-typed sight waits in it";
	case WORK_RODS_ODD:
		return "two rods over an odd number of setups: the difference of their zeros does "
		       "not cancel";
	case WORK_RUN_NOT_CLOSED:
		return "it has not been closed: a slip could still change it";
	default:
		return NULL;
	}
}

void leave_what(const struct work_leave *list, const struct work_leave_item *item,
                char text[LEAVE_WORDS_BYTES])
{
	char tested[REPORT_TESTED_BYTES];
	const char *words = plain(item->code);
	snprintf(text, LEAVE_WORDS_BYTES, "%s", words ? words : "");
	switch (item->code) {
	case WORK_SETUP_OPEN:
		snprintf(text, LEAVE_WORDS_BYTES, "setup %d, with its BS on %s, has no FS",
		         item->setup, item->station);
		break;
	case WORK_NOT_BACK:
		snprintf(text, LEAVE_WORDS_BYTES, "the loop stands on %s and is not back on %s",
		         item->station, item->other);
		break;
	case WORK_OPEN_RUN:
	case WORK_NOT_JUDGED:
	case WORK_OVER_ALLOWABLE:
		verdict(list, item, text);
		break;
	case WORK_END_UNKNOWN:
		snprintf(text, LEAVE_WORDS_BYTES,
		         "no check exists: the elevation of %s is not known", item->station);
		break;
	case WORK_SETUP_UNEQUAL:
		unequal(list, item, "a setup", text);
		break;
	case WORK_RUN_UNEQUAL:
		unequal(list, item, "the run", text);
		break;
	case WORK_LEVEL_UNTESTED:
		snprintf(text, LEAVE_WORDS_BYTES, "%s",
		         report_tested(tested, &item->tested, &list->set));
		break;
	case WORK_TEST_LATE:
		snprintf(text, LEAVE_WORDS_BYTES, "%s", report_late_test(tested, &item->tested));
		break;
	case WORK_MARK_UNSAID:
		snprintf(text, LEAVE_WORDS_BYTES, "the mark %s has no description", item->station);
		break;
	case WORK_WATER_FEW:
		water_few(item, text);
		break;
	case WORK_WATER_UNUSED:
		report_water_unused(text, item->station, false);
		break;
	case WORK_BOOKED_AGAINST:
		booked_against(item, text);
		break;
	case WORK_CHECK_FAILS:
		report_failing(item->other, item->station, item->figure, item->limit, &list->style,
		               text, 400);
		break;
	case WORK_MARK_MOVED:
		report_moved(&item->moved, &list->style, text, 400);
		break;
	case WORK_STATION_APART:
		report_compared(&item->compared, item->station, &list->style, text, 400);
		break;
	case WORK_WATER_APART:
	case WORK_AIR_APART:
	case WORK_TIME_ODD:
		report_times(&item->times,
		             item->code == WORK_WATER_APART ? REPORT_TIMES_WATER
		             : item->code == WORK_AIR_APART ? REPORT_TIMES_AIR
		                                            : REPORT_TIMES_ORDER,
		             text, LEAVE_WORDS_BYTES);
		break;
	case WORK_RUN_UNREADABLE:
		snprintf(text, LEAVE_WORDS_BYTES, "the run cannot be read: %.450s", item->text);
		break;
	default:
		break;
	}
}

/* What to do about it, where that takes no value into its words. */
static const char *cure(const struct work_leave_item *item)
{
	static const char *const cures[WORK_LEAVE_CODES] = {
	    [WORK_STATION_APART] =
	        "strike the reading that was wrong (F7), or give the other point another name",
	    [WORK_NOTHING_BOOKED] = "level it, or close it with a reason, which sets it aside",
	    [WORK_SETUP_OPEN] = "read the FS, or strike the setup (F8)",
	    [WORK_LINE_GAP] = "fill the gap (F6 on the FS before it), or take the strike back (F9)",
	    [WORK_NOT_BACK] = "level on to its start mark, or make it an open run (F2, k)",
	    [WORK_OPEN_RUN] = "level back to its start, or on to a mark of known elevation",
	    [WORK_END_UNKNOWN] =
	        "end it on a mark of known elevation, or give that mark its elevation (F3)",
	    [WORK_NOT_JUDGED] =
	        "add the distances; else close it with a reason (F2, c; rodbook close --why)",
	    [WORK_CHECK_FAILS] =
	        ("level it again; if the mark has moved, set it aside with a reason "
	         "(rodbook check --aside)"),
	    [WORK_MARK_MOVED] =
	        "find out which is right; the closed run keeps what it was closed with",
	    [WORK_OVER_ALLOWABLE] = "read again where the slips point (Ctrl-F), or level it again",
	    [WORK_SETUP_UNEQUAL] = "set up midway between its marks, and read that setup again",
	    [WORK_RUN_UNEQUAL] = "level a part of it again, with equal sights",
	    [WORK_LEVEL_UNTESTED] =
	        "test it by two pegs now, before it is knocked again (F11, instrument, p)",
	    [WORK_TEST_LATE] = "take the same sight again: its seal will know the test (F11, r)",
	    [WORK_LEVEL_UNNAMED] =
	        "give the level a name, and test it by two pegs (F11, instrument)",
	    [WORK_ONE_SHORE] = ("sight back from the other shore: in this run, and water no longer "
	                        "counts; or in a "
	                        "run of its own, and both are weighed together (F11, together)"),
	    [WORK_WATER_ONE_END] = "read it at the other end, ten times over minutes (F11, water)",
	    [WORK_NO_WATER] = "read it at both ends, ten times over minutes (F11, water)",
	    [WORK_WATER_FEW] = "read it ten times at each end, over minutes (F11, water)",
	    [WORK_WATER_UNUSED] = ("strike it if it was read by mistake (F11, water), or end the "
	                           "run there"),
	    [WORK_NO_AIR] = ("book two thermometers, or the water's temperature, one "
	                     "thermometer and the wind (F11, air)"),
	    [WORK_WIND_UNSAID] = REPORT_SAY_WIND,
	    [WORK_SEALED_LATE] = ("this cannot be cured; seal the figures of a second "
	                          "crossing before its long sight"),
	    [WORK_NOT_SEALED] = "seal them (F11, s; rodbook seal)",
	    [WORK_NOT_PREDICTED] =
	        "read again before leaving: both marks, the water, the distances",
	    [WORK_MARK_UNSAID] = ("say what it is and where its elevation is from (F3), so that "
	                          "others find it"),
	    [WORK_DRAFT_WAITS] =
	        "book it (+), or empty the form; if it is empty, open the run again",
	    [WORK_BOOKED_AGAINST] = "read again while the rod can still stand there",
	    [WORK_RODS_ODD] = "make the number of setups even, or know the rods' zeros (F11, rod)",
	    [WORK_RUN_NOT_CLOSED] = "close it once it can stand (F2, c)",
	    [WORK_WATER_APART] = "read the water at both ends within the same hour (F11, water)",
	    [WORK_AIR_APART] = "book the air within an hour of the sight (F11, air)",
	    [WORK_TIME_ODD] = "change the wrong time (its row, then Ctrl-V)",
	    [WORK_RUN_UNREADABLE] =
	        "take a copy of the book, and bring out what can be read: rodbook rescue",
	};
	if (item->code == WORK_MARK_MOVED && item->moved.at_seal)
		return "find out which is right; the drop goes by the mark as it is now";
	if (item->closed && item->code != WORK_MARK_MOVED)
		return "reopen the run, with a reason, and mend it";
	if (item->code == WORK_RUN_NOT_CLOSED && item->ready)
		return "close it (F2, c)";
	return cures[item->code];
}

const char *leave_cure(const struct work_leave_item *item, char text[LEAVE_WORDS_BYTES])
{
	if (item->code == WORK_NOT_SEPARATED)
		snprintf(text, LEAVE_WORDS_BYTES, "helps most: %s: %s",
		         level_allowance_name(item->largest),
		         report_remedy(item->largest, &item->done));
	else
		snprintf(text, LEAVE_WORDS_BYTES, "%s", cure(item));
	return text;
}
