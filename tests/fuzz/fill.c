/* A small but full book. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"
#include "shelf.h"

struct filling {
	struct shelf *shelf;
	struct book_run run;
	uint64_t *chance;
	struct fault *why;
};

static bool take(struct filling *f, int64_t id)
{
	book_run_free(&f->run);
	return book_load(f->shelf->book, id, &f->run, f->why);
}

static bool begin(struct filling *f, const char *name, enum level_run_kind kind)
{
	int64_t id;
	return book_run_add(f->shelf->book, name, kind, &id, f->why) && take(f, id);
}

/* A distance that is not empty; else the reading is by three wires. */
static bool sight(struct filling *f, enum level_kind kind, const char *station, double reading,
                  const char *distance, const char *instrument, bool again)
{
	struct book_settings settings;
	struct level_sight draft = {.kind = kind, .again = again};
	struct book_note note = {0};
	if (!book_settings(f->shelf->book, &settings, f->why))
		return false;
	note.unit = settings.style.unit;
	snprintf(draft.station, sizeof draft.station, "%s", station);
	snprintf(note.reading, sizeof note.reading, "%.3f m", reading);
	book_split_distance(distance, note.distance, sizeof note.distance, note.distance_by);
	snprintf(note.instrument, sizeof note.instrument, "%s", instrument);
	if (!*distance) {
		draft.wires = true;
		*note.reading = '\0';
		snprintf(note.upper, sizeof note.upper, "%.3f m", reading + 0.15);
		snprintf(note.middle, sizeof note.middle, "%.3f m", reading);
		snprintf(note.lower, sizeof note.lower, "%.3f m", reading - 0.15);
	} else if (fuzz_below(f->chance, 4) == 0) {
		snprintf(note.reading, sizeof note.reading, "%.3f m; x%.3f m; %.3f m", reading,
		         reading + 0.1, reading + 0.001);
	}
	if (kind == LEVEL_IS) {
		strcpy(note.along, "0+050");
		strcpy(note.remark, "=a, \"spot\"");
	}
	return book_read_sight(&settings, &note, &draft, f->why) &&
	       book_add(f->shelf->book, &f->run, f->run.run.count, &draft, &note, f->why) &&
	       take(f, f->run.info.id);
}

static double reading(struct filling *f)
{
	return 0.3 + (double)fuzz_below(f->chance, 3000) / 1000;
}

static bool loop(struct filling *f)
{
	return begin(f, "loop, \"1\"", LEVEL_LOOP) &&
	       sight(f, LEVEL_BS, "PEG", 1.5, "30 m", "", false) &&
	       sight(f, LEVEL_IS, "SPOT", reading(f), "20 m tape", "", false) &&
	       sight(f, LEVEL_FS, "TP1", 1.25, "30 m", "L1", false) &&
	       sight(f, LEVEL_BS, "TP1", 1.31, "", "", false) &&
	       sight(f, LEVEL_FS, "PEG", 1.56, "", "", false) &&
	       book_run_set_grade(f->shelf->book, f->run.info.id, "10; 0+000; -0.5 %", f->why);
}

/* By a tube, at both ends. */
static bool offset(struct filling *f, const char *station)
{
	struct book_settings settings;
	struct level_sight draft = {.kind = LEVEL_OFF, .method = LEVEL_TUBE};
	struct book_note note = {.reading = "0.445 m", .u = "1 mm", .ends = "1.432 m; 0.987 m"};
	if (!book_settings(f->shelf->book, &settings, f->why))
		return false;
	note.unit = settings.style.unit;
	snprintf(draft.station, sizeof draft.station, "%s", station);
	return book_read_sight(&settings, &note, &draft, f->why) &&
	       book_add(f->shelf->book, &f->run, f->run.run.count, &draft, &note, f->why) &&
	       take(f, f->run.info.id);
}

static bool link(struct filling *f)
{
	return begin(f, "link", LEVEL_LINK) && sight(f, LEVEL_BS, "PEG", 1.2, "40 m", "", false) &&
	       sight(f, LEVEL_FS, "STONE", 1.1, "40 m map", "", false) &&
	       sight(f, LEVEL_BS, "PEG", 1.3, "40 m", "", true) &&
	       sight(f, LEVEL_FS, "STONE", 1.2, "40 m", "", false) &&
	       book_run_close(f->shelf->book, &f->run, "", f->why);
}

static bool open_run(struct filling *f)
{
	bool ok = begin(f, "open", LEVEL_OPEN);
	for (int i = 0; ok && i < 3; i++) {
		char from[8], to[8];
		snprintf(from, sizeof from, "TP%d", i);
		snprintf(to, sizeof to, "TP%d", i + 1);
		ok = sight(f, LEVEL_BS, from, reading(f), "25 m", "", false) &&
		     sight(f, LEVEL_FS, to, reading(f), "25 m", "", false);
	}
	return ok && offset(f, "BOLT") &&
	       book_strike(f->shelf->book, &f->run, f->run.run.count - 1, false, "a slip",
	                   f->why) &&
	       take(f, f->run.info.id) && offset(f, "BOLT");
}

static bool crossing(struct filling *f)
{
	struct book *book = f->shelf->book;
	struct book_air air = {.pressure = "1013",
	                       .low = "15.2",
	                       .low_height = "1 m",
	                       .high = "14.8",
	                       .high_height = "6 m",
	                       .wind_speed = "2",
	                       .wind_height = "2 m"};
	struct book_figures plan = {0};
	int64_t run;
	if (!book_figure_put(&plan, "distance", "400 m", f->why) ||
	    !book_figure_put(&plan, "near", "5 m", f->why) ||
	    !book_figure_put(&plan, "hi", "2.5 m", f->why) ||
	    !book_plan_set(book, "across", &plan, f->why) || !begin(f, "crossing", LEVEL_CROSSING))
		return false;
	run = f->run.info.id;
	return book_run_set_plan(book, run, "across", f->why) &&
	       book_water_add(book, run, "PEG", "0.4 m", "", "calm", f->why) &&
	       book_water_add(book, run, "PEG", "0.41 m", "", "", f->why) &&
	       book_water_add(book, run, "FAR", "0.39 m", "", "", f->why) &&
	       book_gauge_add(book, run, "FAR", "9.98 m", "", "ice", f->why) &&
	       book_setout_set(book, run, "FAR", "10 m", f->why) &&
	       book_air_add(book, run, &air, f->why) && take(f, run) &&
	       sight(f, LEVEL_BS, "PEG", 1.5, "5 m tape", "L1", false) &&
	       sight(f, LEVEL_FS, "FAR", 1.52, "400 m map", "L1", false) &&
	       book_amend(book, &f->run, "k", "0.2", "warm air", f->why);
}

static bool marks(struct filling *f)
{
	struct book *book = f->shelf->book;
	return book_mark_set(book, "PEG", "10 m", "2 mm", "oak \"peg\"", f->why) &&
	       book_mark_set(book, "STONE", "10.1 m", "", "", f->why);
}

static bool instrument(struct filling *f)
{
	struct book_instrument level = {.name = "L1", .tolerance = "0.1 mm/m"};
	return book_instrument_set(f->shelf->book, &level, f->why);
}

static bool things(struct filling *f)
{
	struct book *book = f->shelf->book;
	struct book_rod rod = {.name = "long", .zero = "0.2 mm", .scale = "12", .longest = "4 m"};
	struct book_pegtest test = {
	    .instrument = "L1", .standings = "20 m,1.432 m,20 m,1.398 m; 5 m,1.5 m,45 m,1.467 m"};
	struct level_peg_result found;
	int64_t id;
	return book_mark_set(book, "STONE", "10.101 m", "", "=1+1", f->why) &&
	       book_set(book, "tolerance", "third-order", f->why) &&
	       book_tolerance_set(book, "ours", "section=12 mm; sight=90 m", f->why) &&
	       book_rod_set(book, &rod, f->why) && book_pegtest_add(book, &test, &found, f->why) &&
	       book_fieldtest_begin(book, "L1", false, "0.7 mm/km", &id, f->why) &&
	       book_fieldtest_pair(book, id, "1.432 m", "1.398 m", f->why) &&
	       book_fieldtest_pair(book, id, "1.433 m", "1.398 m", f->why) &&
	       book_fieldtest_strike(book, id, f->why);
}

bool shelf_fill(struct shelf *s, unsigned parts, uint64_t *chance, struct fault *why)
{
	struct filling f = {.shelf = s, .chance = chance, .why = why};
	bool ok = (!(parts & (SHELF_THINGS | SHELF_LINK)) || marks(&f)) &&
	          (!(parts & (SHELF_THINGS | SHELF_LOOP | SHELF_CROSSING)) || instrument(&f)) &&
	          (!(parts & SHELF_THINGS) || things(&f)) && (!(parts & SHELF_LOOP) || loop(&f)) &&
	          (!(parts & SHELF_LINK) || link(&f)) && (!(parts & SHELF_OPEN) || open_run(&f)) &&
	          (!(parts & SHELF_CROSSING) || crossing(&f));
	book_run_free(&f.run);
	return ok;
}
