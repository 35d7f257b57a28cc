/* A sight: one reading on one station, or an offset to it, and the run it belongs to.
 *
 * A setup is one standing of the instrument: exactly one BS first, any number of IS, at most one
 * FS last. A run is setups in order; a BS opens a setup, so setups need no number of their own. A
 * setup may stand a second time, or more often, between the same marks with the instrument at
 * another height: its BS says again. Between setups, and after the last, stand offsets (offset.h).
 */
#ifndef RODBOOK_LEVEL_SIGHT_H
#define RODBOOK_LEVEL_SIGHT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rodbook/level/fault.h"
#include "rodbook/level/length.h"

enum level_kind { LEVEL_BS, LEVEL_IS, LEVEL_FS, LEVEL_OFF };
#define LEVEL_KINDS 4
/* The first LEVEL_METHODS are those of a reading, with a figure each in the terms; the others, and
 * the tape, those of an offset. */
enum level_method { LEVEL_ROD, LEVEL_TAPE, LEVEL_TARGET, LEVEL_RULER, LEVEL_TUBE };
#define LEVEL_METHODS 3
#define LEVEL_ANY_METHODS 5
/* How a distance was got; what nobody said counts as stepped. */
enum level_distance_way { LEVEL_STEPPED, LEVEL_MAPPED, LEVEL_TAPED, LEVEL_WIRED };
#define LEVEL_DISTANCE_WAYS 4

enum level_run_kind { LEVEL_LOOP, LEVEL_LINK, LEVEL_OPEN, LEVEL_CROSSING };

enum level_state {
	LEVEL_BOOKED,
	LEVEL_DRAFT,  /* typed, and counted, but not booked */
	LEVEL_BLANK,  /* being typed, and not yet a reading: shown, not counted */
	LEVEL_STRUCK, /* legible, not counted */
};

/* Names of stations, marks and runs. */
#define LEVEL_STATION_CHARS 40
#define LEVEL_STATION_BYTES 164
#define LEVEL_REMARK_CHARS 120
#define LEVEL_REMARK_BYTES 484
#define LEVEL_NAME_CHARS 40
#define LEVEL_NAME_BYTES 164

/* No run holds more sights, so that no sum of lengths can overflow. */
#define LEVEL_SIGHTS_LIMIT 50000
/* No sight is longer (100 km, in nm). */
#define LEVEL_DISTANCE_LIMIT INT64_C(100000000000000)

/* A reading is signed: below zero the station stands above the line of sight (a rod upside down
 * on a ceiling, a tape down from a mark). Wires go by their signs likewise: the upper one is the
 * most, for upside down it meets the rod nearest to its foot, where least is shown. */
struct level_sight {
	int64_t id; /* the book's number for it; 0 while it has none */
	enum level_kind kind;
	enum level_state state;
	enum level_method method;
	bool wires; /* reading is the mean of upper, middle and lower */
	bool again; /* a BS that opens a second standing between the marks of the setup before */
	bool has_known; /* the station's elevation is known, +- known_u (standard uncertainty) */
	level_nm reading;
	level_nm upper, middle, lower;
	level_nm distance; /* 0 where not known */
	enum level_distance_way distance_by;
	level_nm known, known_u;
	level_nm limit; /* how far off this reading may be, in place of its method's; 0: not said */
	level_nm u;     /* its own standard uncertainty, likewise */
	bool declared;  /* a declared line has its uncertainty already */
	int set_count;  /* readings whose mean this is; 0 or 1: one */
	double set_sd;  /* their standard deviation, m */
	double rod_error; /* m that the rod reads too high by there, as far as it is known */
	int instrument;   /* index into the instruments of the run's terms */
	bool aside;       /* its known elevation is set aside in this run */
	bool surface;     /* the station is the surface of the water itself: read once, at 0 */
	int water_count;  /* water readings taken at the station in this run; 0: none */
	level_nm water;   /* their mean: how far the station stands above the water */
	double water_sd;  /* their standard deviation, m; 0 where water_count < 2 */
	char station[LEVEL_STATION_BYTES];
};

struct level_run {
	enum level_run_kind kind;
	size_t count;
	struct level_sight *sight;
	char turn[LEVEL_STATION_BYTES]; /* a loop out to that mark and back; else empty */
};

/* "BS", "IS", "FS", "OFF"; "rod", "tape", "target", "ruler", "tube"; "loop", "link", "open",
 * "crossing". The finders take any case. */
const char *level_kind_name(enum level_kind kind);
bool level_kind_find(const char *name, enum level_kind *kind);
const char *level_method_name(enum level_method method);
/* A method of a reading; a method of a reading or an offset. */
bool level_method_find(const char *name, enum level_method *method);
bool level_any_method_find(const char *name, enum level_method *method);
/* "step", "map", "tape", "wires". */
const char *level_distance_way_name(enum level_distance_way way);
bool level_distance_way_find(const char *name, enum level_distance_way *way);
const char *level_run_kind_name(enum level_run_kind kind);
bool level_run_kind_find(const char *name, enum level_run_kind *kind);

/* Mean of three wires, rounded once to 1 nm. */
level_nm level_wire_mean(level_nm upper, level_nm middle, level_nm lower);
/* Distance from the wires: multiplier x (upper - lower) + constant (stadia; the multiplier is
 * usually 100 and the constant 0); negative where the wires are in the wrong order. */
level_nm level_wire_distance(level_nm upper, level_nm lower, int64_t multiplier, level_nm constant);

/* Whether text is good UTF-8 of at most `chars` characters without control, invisible or
 * combining ones (they could falsify what a screen shows). `what` names it in the message. */
bool level_check_text(const char *text, size_t chars, const char *what, struct fault *why);

/* Writes a text with all that a terminal might obey, or an eye not see, in plain letters: what
 * level_check_text() refuses becomes <U+001B>, and a byte that is no UTF-8 <9B>. TAB and LF stay
 * where `lines`. Cut to size bytes (NUL included), never within a character; returns out. Every
 * message goes through this (fault_say()). */
const char *level_show_text(char *out, size_t size, const char *text, bool lines);

/* Takes the blanks off both ends of a text, in place. */
void level_trim(char *text);

/* Whether a text holds another one anywhere, in whatever case. Cases are paired for letters of
 * Latin, Greek and Cyrillic (U+0000 to U+017F, U+0386 to U+03CE, U+0400 to U+045F) as Unicode's
 * CaseFolding.txt has them, recalled, but for those that fold to more than one letter. */
bool level_holds_text(const char *text, const char *part);

/* Whether text can name a station, a mark or a run: as level_check_text(), not empty, and no blank
 * at either end, which no eye would see. `what` is "station", "mark" or "run". */
bool level_check_name(const char *text, const char *what, struct fault *why);

/* The same of the station of a sight: one of an IS without a name is told of names that an IS has.
 */
bool level_check_station(const char *name, enum level_kind kind, struct fault *why);

/* Whether the rod and the sight can be: the reading, above or below zero, by rod or target not
 * longer than the rod, by tape not longer than 100 m; the wires in their order; distance (where
 * given) above 0 and within LEVEL_DISTANCE_LIMIT; the station named; the method one of its kind. An
 * offset is not longer than 100 m, and has neither wires nor a distance. */
bool level_check_sight(const struct level_sight *sight, level_nm rod_length,
                       const struct level_style *style, struct fault *why);

/* The counted BS of the first standing that the counted sight at index `at` is in, or is in a
 * repetition of; run->count where no BS opens its setup, as of an offset. */
size_t level_first_standing(const struct level_run *run, size_t at);
/* Whether another standing may follow the counted sight before index `at`: it is an FS and the end
 * of a setup. Its first BS, or run->count. */
size_t level_may_repeat(const struct level_run *run, size_t at);

/* Whether `draft` may stand at index `at` of the run: in place of the sight there when `replace`,
 * else before it. The rules: one BS first, no IS or FS without it, no second FS, and a BS on the
 * mark where the line stands; a further standing between the marks of the first one; an offset
 * behind an FS or another offset, with nothing put between. A replaced sight of a turning point may
 * have another station: its partner is to be replaced with it. */
bool level_check_place(const struct level_run *run, size_t at, bool replace,
                       const struct level_sight *draft, struct fault *why);

/* Whether a station is named as a passing turning point is: TP and a number. */
bool level_is_passing(const char *station);

/* The next free name of a passing turning point: one more than the highest of the run, also of a
 * struck one, whose name stays legible. */
void level_next_turning_point(const struct level_run *run, char station[LEVEL_STATION_BYTES]);

/* What is likely to come at index `at`: after a BS or IS an FS, on the mark of the one struck there
 * last, else on the next free TP; after an FS or an offset a BS on that same mark, at the start a
 * BS, and inside a whole setup an IS. station may come back empty. */
void level_suggest(const struct level_run *run, size_t at, enum level_kind *kind,
                   char station[LEVEL_STATION_BYTES]);

/* The nearest counted sight before index `at`, or from `at` on; run->count where there is none. */
size_t level_counted_before(const struct level_run *run, size_t at);
size_t level_counted_from(const struct level_run *run, size_t at);
/* The other sight of the turning point at index `at`: the BS behind its FS or offset, or that
 * before its BS; run->count where it has none. */
size_t level_partner(const struct level_run *run, size_t at);
bool level_counted(const struct level_sight *sight);

#endif
