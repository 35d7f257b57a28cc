/* The book: one SQLite file that keeps runs, marks, settings and the journal of every change.
 *
 * Nothing booked is ever erased: a sight is struck and stays legible, with its time and what
 * replaced it. Every call that changes the book is one transaction; when it has returned true the
 * change is on disk. Lengths are nm; texts are UTF-8, checked when written and when read. */
#ifndef RODBOOK_BOOK_BOOK_H
#define RODBOOK_BOOK_BOOK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rodbook/level/air.h"
#include "rodbook/level/drop/drop.h"
#include "rodbook/level/fault.h"
#include "rodbook/level/grade.h"
#include "rodbook/level/length.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/sight.h"
#include "rodbook/level/tolerance.h"

struct book;

#define BOOK_TIME_BYTES 40
/* How a user writes a time. */
#define BOOK_TIME_FORMS "2026-05-04T09:30, or 09:30 of today, or 2026-05-04"
#define BOOK_TYPED_BYTES 64 /* of a length as typed, with room for a unit behind it */
#define BOOK_TYPED_CHARS 60
#define BOOK_ALONG_CHARS 20
#define BOOK_SET_BYTES 328 /* of a reading, which may be a set, as typed */
#define BOOK_SET_CHARS 320
#define BOOK_VALUE_BYTES 512
#define BOOK_DIGESTS_BYTES 336
#define BOOK_SCALED_BYTES 204
#define BOOK_SCALED_CHARS 200

/* No run has more rows, struck ones included. */
#define BOOK_ROWS_LIMIT (4 * LEVEL_SIGHTS_LIMIT)
/* No reading or wire is larger (100 m, in nm). */
#define BOOK_READING_LIMIT INT64_C(100000000000)

/* A reading that stands beside three wires is their mean, to 1 mm (in nm). */
#define BOOK_MEAN_TOLERANCE 1000000

/* Writes the present time as ISO 8601 with its offset from UTC, 2026-05-04T09:30:00+02:00. */
typedef void book_clock(char out[BOOK_TIME_BYTES]);

/* Makes a new book, for nobody but its owner to read (0600): whole, or not there; never overwrites
 * a file. */
bool book_create(const char *path, enum level_unit unit, const char *title, book_clock *clock,
                 struct fault *why);
/* Opens a book, distrusting it: application id, version and schema are checked first, and of an
 * older one, before it is brought up, what book_check() does. A file without write permission opens
 * read-only. One thread at a time may use a book. NULL where it cannot be used. */
struct book *book_open(const char *path, book_clock *clock, struct fault *why);
/* Reads a book of up to 32 MiB whole, to see that no page of it is damaged: FAULT_FILE. A larger
 * one is left to book_verify(). Before the first change that is kept this is done in any case. */
bool book_check(struct book *book, struct fault *why);
void book_close(struct book *book);
bool book_read_only(const struct book *book);
/* The last version in which editors shared their half-typed forms. */
#define BOOK_DRAFTS_SHARED 4
/* The version that the book had when it was opened, if it was brought up; else 0. */
int book_brought_up(const struct book *book);

/* Whether a time that was typed can be completed. On error: FAULT_INPUT at "time". */
bool book_check_time(const char *typed, struct fault *why);
/* Completes a time as typed. "" means now. 09:30 means today. A time without a zone gets the zone
 * of the machine. On error: FAULT_INPUT at "time". */
bool book_complete_time(const struct book *book, const char *typed, char out[BOOK_TIME_BYTES],
                        char now[BOOK_TIME_BYTES], struct fault *why);

/* Several changes as one: all of them are on disk when book_finish(book, true, ...) has returned
 * true, else none. */
bool book_begin(struct book *book, struct fault *why);
bool book_finish(struct book *book, bool keep, struct fault *why);
/* Reads between these two see the book in one state, whatever another program writes, and are
 * quicker together; nothing is changed between them. They nest. */
bool book_hold(struct book *book, struct fault *why);
void book_release(struct book *book);

/* --- settings --- */

/* How the editor looks: with colors, without, or black on white and bold, for the sun. */
enum book_look { BOOK_LOOK_COLOR, BOOK_LOOK_PLAIN, BOOK_LOOK_SUN };

struct book_settings {
	char title[LEVEL_REMARK_BYTES];
	struct level_style style;
	struct level_terms terms;
	bool dk_low_set, dk_high_set;     /* terms.dk_low and dk_high were chosen; else by height */
	double thermometer_u, place;      /* of air readings: K, and a share */
	struct level_air_units units;     /* of bare temperatures, pressures and winds */
	struct level_tolerance tolerance; /* of the program, or of the book itself */
	double setup_figure;              /* m per sqrt(setup), for the set "setups" */
	char strike_rule[BOOK_VALUE_BYTES];
	bool blind; /* the drop of a crossing is hidden until its figures are sealed */
	level_nm rod_length;
	level_nm long_sight; /* from here on a sight of a crossing is a long one */
	int64_t stadia_multiplier;
	level_nm stadia_constant;
	double power;                   /* of the telescope */
	char copy_to[BOOK_VALUE_BYTES]; /* folder or file of the second copy, or empty */
	bool bell;                      /* the editor rings when it refuses something */
	enum book_look look;
};

struct book_setting {
	const char *name;  /* as it is typed in a command */
	const char *group; /* the heading it is listed under */
	const char *title,
	    *what;           /* in plain words; what it means: read behind the title and a colon */
	const char *initial; /* its default; NULL where that hangs on another setting */
	char value[BOOK_VALUE_BYTES];
	bool is_default; /* nobody has chosen it: a default, not knowledge */
};

bool book_settings(struct book *book, struct book_settings *out, struct fault *why);
size_t book_setting_count(void);
/* Which setting stands at that place of a list for people, from 0: those of a group stand together.
 */
size_t book_setting_listed(size_t place);
/* Setting number i, 0 <= i < count. */
bool book_setting(struct book *book, size_t i, struct book_setting *out, struct fault *why);
/* The unit of a setting or figure whose value is kept as a bare number: " %", " K", else "". */
const char *book_figure_unit(const char *name);
/* Checks the value and keeps it; a bare length is kept with the book's unit beside it. */
bool book_set(struct book *book, const char *name, const char *value, struct fault *why);

/* Tolerance sets of the book itself, by name; free(*list). figures are their texts, as
 * level_parse_tolerance() reads them. */
struct book_tolerance {
	char figures[BOOK_VALUE_BYTES];
	struct level_tolerance set;
};
bool book_tolerances(struct book *book, struct book_tolerance **list, size_t *count,
                     struct fault *why);
/* Gives the book a set, or other figures for one that it has; not one of the program's names. */
bool book_tolerance_set(struct book *book, const char *name, const char *figures,
                        struct fault *why);
/* The set so named, of the program or of the book. */
bool book_tolerance_find(struct book *book, const char *name, struct level_tolerance *out,
                         struct fault *why);

/* --- marks --- */

struct book_mark {
	int64_t id;
	char name[LEVEL_STATION_BYTES];
	char typed[BOOK_TYPED_BYTES], u_typed[BOOK_TYPED_BYTES];
	enum level_unit unit; /* of bare numbers in typed and u_typed */
	level_nm elevation, u;
	char source[LEVEL_REMARK_BYTES];
	char description[LEVEL_REMARK_BYTES],
	    reach[LEVEL_REMARK_BYTES]; /* what it is, how it is found */
	bool surface;                  /* the surface of the water itself */
	char struck[BOOK_TIME_BYTES];  /* empty while it counts */
};

/* The marks that count, by name; free(*marks). */
bool book_marks(struct book *book, struct book_mark **marks, size_t *count, struct fault *why);
/* Those that were struck or given another elevation, in the order in which they were given;
 * free(*marks). */
bool book_marks_struck(struct book *book, struct book_mark **marks, size_t *count,
                       struct fault *why);
/* Gives a mark its elevation, or another one, which strikes the old; u and source may be NULL or
 * empty. */
bool book_mark_set(struct book *book, const char *name, const char *elevation, const char *u,
                   const char *source, struct fault *why);
/* As book_mark_set, with bare numbers in the unit given. */
bool book_mark_set_in(struct book *book, enum level_unit unit, const char *name,
                      const char *elevation, const char *u, const char *source, struct fault *why);
/* The same with all that a mark has; u and source may be NULL, and with description or reach NULL
 * that of the mark before stays. */
struct book_mark_given {
	const char *name, *elevation, *u, *source, *description, *reach;
};
bool book_mark_put(struct book *book, enum level_unit unit, const struct book_mark_given *given,
                   struct fault *why);
/* What a mark is, and how it is found; NULL: stays as it is. Its elevation stays; the row is struck
 * and replaced. Both stay when it gets another elevation. FAULT_INPUT names "mark", "description"
 * or "reach". */
bool book_mark_describe(struct book *book, const char *name, const char *description,
                        const char *reach, struct fault *why);
/* Says whether a mark is the surface of the water itself: a crossing may start and end on it, and
 * needs no water reading there. FAULT_INPUT names "mark". */
bool book_mark_surface(struct book *book, const char *name, bool surface, struct fault *why);
bool book_mark_strike(struct book *book, const char *name, struct fault *why);

/* --- runs --- */

struct book_run_info {
	int64_t id;
	char name[LEVEL_NAME_BYTES];
	enum level_run_kind kind;
	char plan[LEVEL_NAME_BYTES];    /* that it was begun from, or empty */
	char grade[LEVEL_GRADE_BYTES];  /* that its ground is held against, or empty */
	char turn[LEVEL_STATION_BYTES]; /* a double run: it goes out to this mark and back, or empty
	                                 */
	char time[BOOK_TIME_BYTES];
	size_t sights; /* counted ones of a loaded run; else 0: to count them is a walk over all */
	bool closed;   /* what belongs to it stays as it is: rodbook/closings.h */
	int reopened;  /* how often it was opened again */
	/* Its row holds what rodbook would not have written: book_load() says what. Plan, grade and
	 * time are empty then. */
	bool unreadable;
};

/* The runs in the order in which they were begun, those that cannot be read too; free(*runs). */
bool book_runs(struct book *book, struct book_run_info **runs, size_t *count, struct fault *why);
/* Those that have a counted sight on that station. */
bool book_runs_at(struct book *book, const char *station, struct book_run_info **runs,
                  size_t *count, struct fault *why);
/* The run so named; false with FAULT_INPUT where there is none. */
bool book_run_find(struct book *book, const char *name, struct book_run_info *out,
                   struct fault *why);
bool book_run_add(struct book *book, const char *name, enum level_run_kind kind, int64_t *id,
                  struct fault *why);
bool book_run_rename(struct book *book, int64_t run, const char *name, struct fault *why);
bool book_run_set_kind(struct book *book, int64_t run, enum level_run_kind kind, struct fault *why);
/* The design grade of a run, as level_parse_grade() reads it, bare numbers in the book's unit; an
 * empty one ends it. */
bool book_run_set_grade(struct book *book, int64_t run, const char *grade, struct fault *why);

/* Says that a loop is a double run, out to that mark and back; an empty one ends it. */
bool book_run_set_turn(struct book *book, int64_t run, const char *mark, struct fault *why);

/* --- sights --- */

/* What is kept beside the computed part of a sight: the texts as they were typed. */
struct book_note {
	int64_t place, replaces;      /* replaces: id of the struck sight it stands for, or 0; both
	                                 are the book's, whatever is given */
	enum level_unit unit;         /* of bare numbers in the texts below */
	char reading[BOOK_SET_BYTES]; /* or a set; empty when read by wires */
	char upper[BOOK_TYPED_BYTES], middle[BOOK_TYPED_BYTES], lower[BOOK_TYPED_BYTES];
	char distance[BOOK_TYPED_BYTES];       /* empty when from the wires, or not known */
	char distance_by[12];                  /* tape, wires, map or step; empty: nobody said */
	char instrument[LEVEL_NAME_BYTES];     /* empty: the book's unnamed level */
	char rod[LEVEL_NAME_BYTES];            /* empty: a rod without a name, taken as true */
	char along[BOOK_TYPED_BYTES];          /* place on the line of a profile, or empty */
	char photo[LEVEL_REMARK_BYTES];        /* file names of photographs, or empty */
	char photo_digest[BOOK_DIGESTS_BYTES]; /* SHA-256 of each, parted by blanks, or empty */
	char scaled[BOOK_SCALED_BYTES]; /* what the reading was scaled from in a photograph */
	char distance_unit[8];          /* of a bare distance; empty: that of the readings */
	char limit[BOOK_TYPED_BYTES], u[BOOK_TYPED_BYTES]; /* of this reading, or empty */
	char ends[2 * BOOK_TYPED_BYTES]; /* "FROM; TO": what a tube showed at both ends */
	char time[BOOK_TIME_BYTES];      /* empty where not known */
	char booked[BOOK_TIME_BYTES];    /* when it was typed; empty: then */
	char remark[LEVEL_REMARK_BYTES];
	char overridden[LEVEL_REMARK_BYTES]; /* warnings it was booked against, or empty */
	char struck[BOOK_TIME_BYTES];        /* empty while it counts */
	char why[LEVEL_REMARK_BYTES];
};

/* A note as a loaded run keeps it: the same, in no more memory than its texts take. */
struct book_kept {
	int64_t place, replaces;
	enum level_unit unit;
	const char *reading, *upper, *middle, *lower, *distance, *distance_by, *instrument, *rod,
	    *along, *photo, *photo_digest, *scaled, *distance_unit, *limit, *u, *ends, *time,
	    *booked, *remark, *overridden, *struck, *why; /* never NULL */
	char *texts; /* the memory that they are in; NULL: they are somebody else's, or all empty */
};
/* A note as kept, its texts where they are; and back. */
struct book_kept book_kept_of(const struct book_note *note);
struct book_note book_note_of(const struct book_kept *kept);

/* A mark whose elevation is not any more what a closed run was closed with, or not what it was when
 * a crossing was sealed: the drop goes by it. */
struct book_moved {
	char mark[LEVEL_STATION_BYTES];
	bool at_seal;           /* then: when the crossing was sealed */
	bool has_then, has_now; /* it was known then, is known now */
	level_nm then, now;
	char time[BOOK_TIME_BYTES]; /* of the change */
};

/* A run as it stands in the book; run.sight[i] and note[i] belong together, in order, struck ones
 * included. */
struct book_run {
	struct book_run_info info;
	struct level_run run;
	struct book_kept *note;
	/* The instruments of its sights, as sight.instrument counts them; 0 is the unnamed one. */
	char instrument[LEVEL_INSTRUMENTS][LEVEL_NAME_BYTES];
	int instruments;  /* with those that book_run_instrument() added, */
	int met;          /* and without them */
	bool has_celsius; /* temperatures were booked with its air: */
	double celsius;   /* mean of the lower thermometer's, for the rods */
	/* Of a closed run, whose sights have the known elevations that it was closed with, and of a
	 * sealed crossing, whose sights have those that hold. */
	struct book_moved *moved;
	size_t moved_count;
	size_t room;     /* how many rows the arrays have room for */
	int64_t seq;     /* the journal's last entry when it was read */
	int64_t version; /* of the file as other programs write it, then */
};

bool book_load(struct book *book, int64_t run, struct book_run *out, struct fault *why);
/* Whether the run, and all that it hangs on, is as when it was loaded: else FAULT_STALE. */
bool book_run_unchanged(struct book *book, const struct book_run *run, struct fault *why);
/* Reads again what was changed since the run was read from this book, which costs what the change
 * costs: afterwards the run is as book_load() would read it. *same: how many rows at its beginning
 * are as they were. On failure the run is as it was. */
bool book_reload(struct book *book, struct book_run *run, size_t *same, struct fault *why);
void book_run_free(struct book_run *run);
/* The index of an instrument in run->instrument, where it is added if there is room; -1 if not. */
int book_run_instrument(struct book_run *run, const char *name);

/* Gives a sight the way its distance was got, from its note: wires where the distance is theirs,
 * and a step where nobody said. False for what is no way. */
bool book_distance_way(struct level_sight *sight, const struct book_note *note);
/* What a bare distance of a note is in, by its unit and distance_unit. */
enum level_unit book_distance_unit(enum level_unit unit, const char *distance_unit);
/* Parts "1480 m map" into a length and a way, "" where none is named; way has 12 bytes. A text that
 * has no way behind a blank is left whole. */
void book_split_distance(const char *typed, char *length, size_t size, char way[12]);
/* What a sight's texts say, in the book's unit: fills sight (reading, wires, distance) from note's
 * texts, and checks it against the settings. kind, method, station and wires are given in sight.
 * why->field names the text at fault: "reading", "distance", ... */
bool book_read_sight(const struct book_settings *settings, const struct book_note *note,
                     struct level_sight *sight, struct fault *why);

/* Each takes the run as it was loaded and refuses with FAULT_STALE when the book has changed
 * since; load the run again after each. `at` is an index into the run. An instrument or a rod that
 * a note names must be in the book, and a run has LEVEL_INSTRUMENTS - 1 instruments with a name at
 * most: else it could not be read again. */

/* Books a sight before index `at` (run.count: at the end). note->time is empty: it becomes now. */
bool book_add(struct book *book, const struct book_run *run, size_t at,
              const struct level_sight *sight, const struct book_note *note, struct fault *why);
/* Strikes the sight at `at` and books another in its place, now, or at the time of that one where
 * note->time says so. A turning point whose station
 * changes keeps its two sights together: the other one is changed too. */
bool book_change(struct book *book, const struct book_run *run, size_t at,
                 const struct level_sight *sight, const struct book_note *note, struct fault *why);
/* Whether a struck sight stands there because another one replaced it. */
bool book_is_changed(const struct book_run *run, size_t at);
/* Strikes one sight, an IS or the last sight of the run, or every sight of the setup that `at`
 * belongs to. The reason may be empty, but not where the run's figures are sealed. */
bool book_strike(struct book *book, const struct book_run *run, size_t at, bool setup,
                 const char *reason, struct fault *why);
/* The reason of what was struck, for people; "" where none was given. */
const char *book_strike_reason(const char *why_struck);
/* Whether the reason of what was struck is that its booking was taken back. */
bool book_is_taken_back(const char *why_struck);
/* Refuses what book_strike() would refuse, whatever the reason. */
bool book_may_strike(struct book *book, const struct book_run *run, size_t at, bool setup,
                     struct fault *why);
/* Takes back the last change of the run that is not yet taken back; what says which, for the
 * user. What had been booked is struck, what had been struck counts again. */
bool book_undo(struct book *book, const struct book_run *run, char what[160], struct fault *why);
/* Brings back what book_undo() took back last, as long as nothing else was changed since. */
bool book_redo(struct book *book, const struct book_run *run, char what[160], struct fault *why);

/* Adds a whole run at once, for imports: sights[i] with notes[i], which must count and stand in an
 * order in which they could be booked; a time that is not known stays empty. Instruments and rods
 * as above. */
bool book_take_run(struct book *book, const char *name, const struct level_run *run,
                   const struct book_note *notes, struct fault *why);

/* --- the half-typed form --- */

struct book_draft {
	bool used;
	int64_t at; /* the sight that is changed, or after which one is inserted; in slot 1 only */
	bool inserts;
	int focus;
	bool wires;
	bool again;           /* a BS for another standing of the setup before */
	enum level_unit unit; /* of bare numbers in the texts below, */
	/* but of a bare distance that; the table has no column for it: see book_draft_save(). */
	enum level_unit distance_unit;
	char kind[8], method[12];
	char station[LEVEL_STATION_BYTES];
	char reading[BOOK_SET_BYTES];
	char upper[BOOK_TYPED_BYTES], middle[BOOK_TYPED_BYTES], lower[BOOK_TYPED_BYTES],
	    distance[BOOK_TYPED_BYTES];
	char remark[LEVEL_REMARK_BYTES];
	char instrument[LEVEL_NAME_BYTES], rod[LEVEL_NAME_BYTES];
	char along[BOOK_TYPED_BYTES], photo[LEVEL_REMARK_BYTES];
	char time[BOOK_TIME_BYTES], scaled[BOOK_SCALED_BYTES];
};

/* A bare distance whose unit is not that of the readings is kept with its unit behind it, and comes
 * back so, as one of the readings' unit. Slot 0: a new sight at the end; slot 1: a change or an
 * insertion. An unused draft is dropped. */
bool book_draft_save(struct book *book, int64_t run, const struct book_draft draft[2],
                     struct fault *why);
bool book_draft_load(struct book *book, int64_t run, struct book_draft draft[2], struct fault *why);

#endif
