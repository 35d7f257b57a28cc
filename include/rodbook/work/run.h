/* A run of a book as one value: what is booked, the settings and terms that it stands under, and
 * all that follows from them. */
#ifndef RODBOOK_WORK_RUN_H
#define RODBOOK_WORK_RUN_H

#include "rodbook/book/aside.h"
#include "rodbook/book/book.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/crossing.h"
#include "rodbook/level/sections.h"
#include "rodbook/work/airs.h"
#include "rodbook/work/gauges.h"
#include "rodbook/work/heads.h"
#include "rodbook/work/setouts.h"
#include "rodbook/work/times.h"

/* Whether the named instruments of a run were tested by pegs, as a tolerance set asks: of the first
 * one that was not, why. */
enum work_test {
	WORK_TESTED,
	WORK_NO_TEST,     /* none is booked before the run */
	WORK_TEST_FAILED, /* the last one before it shows a larger tilt than the set allows */
	WORK_TEST_OLD,    /* it is longer ago than the set allows */
};
/* Below, the spread of a peg test's sets says little of them: t95 is 12.7 with two sets and 4.3
 * with three (JCGM 100:2008, table G.2). */
#define WORK_SETS_SEVERAL 3

struct work_tested {
	enum work_test state;
	char instrument[LEVEL_NAME_BYTES];
	char tilt[BOOK_TYPED_BYTES]; /* that the last test before the run found */
	long days;                   /* from that test to the run */
	/* WORK_TESTED, and each of those tests has WORK_SETS_SEVERAL sets at least. */
	bool in_sets;
	bool of_day; /* WORK_TESTED, and each was tested on the day that it was first used */
	/* Of a sealed crossing: the first level without a tilt in the sealed figures of which
	 * a test was booked after the seal, and when it was made; such a test counts neither in the
	 * drop nor in in_sets and of_day. Empty: there is none. */
	char late[LEVEL_NAME_BYTES], late_time[BOOK_TIME_BYTES];
};
/* terms: those that the run is computed with. */
bool work_tested(struct book *book, const struct book_run *run, const struct book_terms *terms,
                 const struct level_tolerance *set, struct work_tested *out, struct fault *why);

/* A run, reduced and closed by the book's settings. It is not to be copied: closing points to its
 * stations and to the set that it is held to, which may be the one in settings. */
struct work_run {
	struct book_settings settings;
	struct book_run book;
	struct book_terms terms; /* sealed ones, where the run is sealed */
	struct work_tested tested;
	struct work_times times;
	struct work_airs airs;
	struct level_page page;
	struct level_closing closing;
	struct book_closing *closings; /* each closing and reopening, in order */
	size_t closing_count;
	/* In the order of the run: between known marks, and leveled there and back. */
	struct level_section *sections;
	struct level_double *doubles;
	size_t section_count, double_count;
	struct book_aside *asides; /* what was set aside and held again, in order */
	size_t aside_count;
	/* As they were booked, struck ones too. */
	struct work_gauge *gauges;
	struct work_setout *setouts;
	size_t gauge_count, setout_count;
	struct work_head *heads; /* of its days, in their order, those that say something */
	size_t head_count;
};

/* Loads, reduces and closes a run; set NULL: the book's tolerance set, else it must outlive the
 * run. FAULT_INPUT where there is no such run, FAULT_SPOILED where it cannot be read. Free with
 * work_run_free(), which may be called after a fault too. */
bool work_run_load(struct book *book, const char *name, const struct level_tolerance *set,
                   struct work_run *out, struct fault *why);
/* The same for a run out of a list: one that cannot be read is a FAULT_SPOILED, and says nothing
 * about the others. */
bool work_run_load_listed(struct book *book, const struct book_run_info *info, struct work_run *out,
                          struct fault *why);
void work_run_free(struct work_run *run);

/* Hides what a crossing shows, where the book asks for it and its figures are not sealed yet. */
void work_hide(const struct book_settings *settings, const struct book_terms *terms,
               enum level_run_kind kind, struct level_closing *closing);

/* Whether more than one rod was read. */
bool work_two_rods(const struct work_run *run);

/* Whether a run shows a drop, and why not. */
enum work_drop {
	WORK_ANSWERED,
	WORK_NO_CROSSING,  /* only a crossing of level water shows one */
	WORK_NOT_COMPLETE, /* no setup is complete, or the page does not close: see its closing */
	WORK_NO_ANSWER,    /* closing.finding.none says why */
};
enum work_drop work_drop_of(const struct work_run *run);

#endif
