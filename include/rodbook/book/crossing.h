/* What a crossing needs beside its sights: instruments, water readings, the air, plans, and the
 * seal on the figures that its prediction and allowance are made of.
 *
 * Figures are texts by name, as the settings have them. Before its first long sight a crossing
 * takes them from the settings, its plan and its air; with that sight they are sealed, and later
 * changes are amendments with a time and a reason. */
#ifndef RODBOOK_BOOK_CROSSING_H
#define RODBOOK_BOOK_CROSSING_H

#include "rodbook/level/air.h"
#include "rodbook/book/book.h"
#include "rodbook/level/fieldtest.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/drop/plan.h"

/* --- figures --- */

#define BOOK_FIGURES_BYTES 4001

/* Lines "name TAB value". */
struct book_figures {
	char text[BOOK_FIGURES_BYTES];
};

/* The value of a figure; false, and "", where there is none. */
bool book_figure(const struct book_figures *figures, const char *name,
                 char value[BOOK_VALUE_BYTES]);
/* Puts a value in place of the one there is; an empty one takes it away. Refuses control
 * characters, and what has no room. */
bool book_figure_put(struct book_figures *figures, const char *name, const char *value,
                     struct fault *why);
/* Figure number i, 0 first; false beyond the last. */
bool book_figure_at(const struct book_figures *figures, size_t i, char name[BOOK_VALUE_BYTES],
                    char value[BOOK_VALUE_BYTES]);

/* --- terms of a run --- */

/* What k of an unsealed run follows from. */
#define BOOK_AIRS_MOST 64
struct book_k {
	struct book_figures open;      /* the figures without a k of the air: settings and plan */
	struct level_air_reading plan; /* the plan's air */
	size_t readings;               /* the run's air, the last so many */
	struct level_air_reading reading[BOOK_AIRS_MOST];
	bool has_line; /* of the run's longest sight, or else of its plan */
	struct level_sightline line;
	struct level_k_found found; /* by the run's air, or the plan's */
};

struct book_terms {
	struct level_terms terms;
	struct book_figures figures;
	enum level_k_source k_source;
	struct book_k k; /* how it came about, while the run is not sealed */
	char strike_rule[BOOK_VALUE_BYTES];
	bool sealed, late; /* late: the sights were there before the seal */
	bool imported;     /* the seal came from another book */
	bool old_rule;     /* sealed when a drop was tested against zero */
	char sealed_time[BOOK_TIME_BYTES];
	size_t amendments;
};

/* The terms that a run is computed with: sealed ones where it is sealed. Instruments by
 * run->instrument. */
bool book_run_terms(struct book *book, const struct book_run *run, struct book_terms *out,
                    struct fault *why);
/* The terms as they would be without a seal: of settings, plan and air as they stand now. */
bool book_open_terms(struct book *book, const struct book_run *run, struct book_terms *out,
                     struct fault *why);
/* Finds k anew for a run as it stands, a draft with it; a sealed one keeps its own. */
bool book_terms_find_k(struct book_terms *terms, const struct book_run *names,
                       const struct level_run *run, struct fault *why);
/* What k by the air that is booked waits for. */
enum book_air_wait {
	BOOK_AIR_WAITS_NOT, /* it is there, or sealed, or no air that can give one was booked */
	BOOK_AIR_WAITS_FOR_SIGHT, /* neither run nor plan says how long the long sight is */
	BOOK_AIR_WAITS_FOR_WATER, /* nor how high above the water the line runs */
};
/* Whether the air that is booked would give a k, of any sight; also where a wind from land leaves
 * it no say. Of terms that are not sealed. */
bool book_terms_air_tells(const struct book_terms *terms);
enum book_air_wait book_terms_air_waits(const struct book_terms *terms);
/* Terms from figures alone; lengths in them carry their unit. */
bool book_terms_of(const struct book_figures *figures, const struct book_run *run,
                   struct level_terms *out, struct fault *why);
/* What every book begins with. */
void book_default_figures(struct book_figures *out);
/* The figures that the settings alone give, with the instruments of the book. */
bool book_settings_figures(struct book *book, struct book_figures *out, struct fault *why);

/* Says that a drop of an unsealed run was shown: if other figures are sealed afterwards, they are
 * sealed late. */
void book_drop_seen(struct book *book, int64_t run, const struct book_k *k);

struct book_seal {
	int64_t id;
	char time[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES]; /* why: empty for the first */
	bool late;
	bool asked;    /* the observer sealed it before any long sight did */
	bool imported; /* it came from another book */
	struct book_figures figures;
};
/* The seal of a run and its amendments, in order; free(*seals). */
bool book_seals(struct book *book, int64_t run, struct book_seal **seals, size_t *count,
                struct fault *why);
/* Seals the figures of a crossing as they stand, before its first long sight does. FAULT_INPUT
 * where it is no crossing, or sealed already. */
bool book_seal(struct book *book, const struct book_run *run, struct fault *why);
/* Changes one sealed figure, for a reason; dk both its sides. FAULT_INPUT where the run is not
 * sealed yet, and for the k that its own drop asks for: that is a result, and cannot be its
 * prediction. */
bool book_amend(struct book *book, const struct book_run *run, const char *name, const char *value,
                const char *reason, struct fault *why);

/* --- instruments --- */

struct book_instrument {
	int64_t id;
	char name[LEVEL_NAME_BYTES];
	char tolerance[BOOK_TYPED_BYTES];                      /* a slope */
	char tilt[BOOK_TYPED_BYTES], tilt_u[BOOK_TYPED_BYTES]; /* slopes; empty: not tested */
	char remark[LEVEL_REMARK_BYTES];
	char time[BOOK_TIME_BYTES];
};

/* The instrument of the sight that was booked last in any run, offsets and struck sights apart;
 * empty where it has no name, or none was booked. */
bool book_last_instrument(struct book *book, char name[LEVEL_NAME_BYTES], struct fault *why);
bool book_instruments(struct book *book, struct book_instrument **list, size_t *count,
                      struct fault *why);
/* Adds an instrument, or gives it other figures, which strikes the old ones. tilt and tilt_u both
 * or neither. */
bool book_instrument_set(struct book *book, const struct book_instrument *instrument,
                         struct fault *why);

struct book_pegtest {
	int64_t id;
	char instrument[LEVEL_NAME_BYTES];
	enum level_unit unit;               /* of bare readings in standings */
	char distance_unit[8];              /* of bare distances; empty: that of the readings */
	char standings[BOOK_FIGURES_BYTES]; /* "DA,A,DB,B; DA,A,DB,B; ..." as typed */
	char tilt[BOOK_TYPED_BYTES], tilt_u[BOOK_TYPED_BYTES];
	char k[24], dk[24]; /* of the air of the test; empty: nobody said */
	enum level_method method;
	char time[BOOK_TIME_BYTES];
	char booked[BOOK_TIME_BYTES]; /* when it was typed; empty: when it was made */
};

/* "sunny", "cloudy", "overcast", "shade" or "water", or their beginning (the pegs stand in sun over
 * land, the next three under cloud, by water), as the dk of a test, a text; "" for an empty one. */
bool book_pegtest_sky(const char *sky, const char **dk, struct fault *why);
/* In what air it was made, in sun over land where nobody said, and how it was read. Refuses a k or
 * dk that is no number. */
bool book_pegtest_way(const struct book_pegtest *test, struct level_peg_way *out,
                      struct fault *why);
/* The peg tests of an instrument (NULL: of all), the oldest first; free(*list). */
bool book_pegtests(struct book *book, const char *instrument, struct book_pegtest **list,
                   size_t *count, struct fault *why);
/* Of *given: instrument, standings, k, dk, method, time (empty: now). Reads the standings, computes
 * the test with the book's settings, keeps both, and gives the instrument the tilt found; one that
 * is not in the book yet gets the settings' tolerance. */
bool book_pegtest_add(struct book *book, const struct book_pegtest *given,
                      struct level_peg_result *out, struct fault *why);
/* Reads "DA,A,DB,B; ..." into standings. */
/* The units that a peg test was typed in. */
struct level_style book_pegtest_style(const struct book_pegtest *test);
bool book_read_standings(const char *text, const struct level_style *bare,
                         struct level_standing out[LEVEL_STANDINGS_MOST], size_t *count,
                         struct fault *why);

/* --- field tests --- */

#define BOOK_PAIRS_BYTES 8001

struct book_fieldtest {
	int64_t id;
	char instrument[LEVEL_NAME_BYTES];
	bool full;
	char sigma[BOOK_TYPED_BYTES]; /* stated, or empty */
	enum level_unit unit;
	char
	    pairs[BOOK_PAIRS_BYTES]; /* "backsight,foresight; ..." as typed, struck ones behind x */
	char time[BOOK_TIME_BYTES];
};

/* The field tests of an instrument (NULL: of all), the oldest first; free(*list). */
bool book_fieldtests(struct book *book, const char *instrument, struct book_fieldtest **list,
                     size_t *count, struct fault *why);
bool book_fieldtest_begin(struct book *book, const char *instrument, bool full, const char *sigma,
                          int64_t *id, struct fault *why);
/* Books a pair; strikes the last one that counts. */
bool book_fieldtest_pair(struct book *book, int64_t id, const char *backsight,
                         const char *foresight, struct fault *why);
bool book_fieldtest_strike(struct book *book, int64_t id, struct fault *why);
/* The pairs that count. */
bool book_read_pairs(const char *text, enum level_unit unit,
                     struct level_pair out[LEVEL_FIELDTEST_MOST], size_t *count, struct fault *why);

/* --- rods --- */

struct book_rod {
	int64_t id;
	char name[LEVEL_NAME_BYTES];
	/* Texts, each may be empty: what it reads too high by at its zero; ppm by which its units
	 * are too long; ppm/K more above the reference temperature, degrees C; its length. */
	char zero[BOOK_TYPED_BYTES], scale[24], expansion[24], reference[24],
	    longest[BOOK_TYPED_BYTES];
	char remark[LEVEL_REMARK_BYTES];
};

bool book_rods(struct book *book, struct book_rod **list, size_t *count, struct fault *why);
/* Adds a rod, or gives it other figures, which strikes the old ones. */
bool book_rod_set(struct book *book, const struct book_rod *rod, struct fault *why);
/* The longest reading of a rod of the list, or `fallback` where its length is not known. */
level_nm book_rod_length(const struct book_rod *list, size_t count, const char *name,
                         level_nm fallback);
/* How much too high a rod of the list reads at this reading, m (level_rod_error()); 0 for a name
 * that is not there. */
double book_rod_error(const struct book_rod *list, size_t count, const char *name, level_nm reading,
                      bool has_celsius, double celsius);

/* --- water --- */

struct book_water {
	int64_t id;
	char station[LEVEL_STATION_BYTES];
	enum level_unit unit;
	char typed[BOOK_TYPED_BYTES];
	level_nm reading; /* how far the station stands above the water */
	char time[BOOK_TIME_BYTES], remark[LEVEL_REMARK_BYTES];
	char booked[BOOK_TIME_BYTES]; /* when it was typed; empty: when it was observed */
	char struck[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES];
};

/* Those of a run in the order in which they were read, struck ones too; free(*list). */
bool book_waters(struct book *book, int64_t run, struct book_water **list, size_t *count,
                 struct fault *why);
/* Books a reading; bare numbers in the book's unit, an empty time is now. */
bool book_water_add(struct book *book, int64_t run, const char *station, const char *typed,
                    const char *time, const char *remark, struct fault *why);
/* The same for each reading of a text with semicolons between them: all of them, or none. */
bool book_water_add_set(struct book *book, int64_t run, const char *station, const char *typed,
                        const char *time, const char *remark, struct fault *why);
/* Puts count, mean (rounded once to 1 nm) and standard deviation of a station's readings, of a
 * surface where none was read one of 0, into a sight on it. */
void book_water_mean(const struct book_water *list, size_t count, struct level_sight *sight);
bool book_water_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                       struct fault *why);

/* --- air --- */

struct book_air {
	int64_t id;
	enum level_unit unit;
	/* As typed, each may be empty: pressure, two thermometers, the water's surface, the
	 * thermometer above it, the wind, and where it comes from: "water" or "land". */
	char pressure[24], low[24], low_height[BOOK_TYPED_BYTES], high[24],
	    high_height[BOOK_TYPED_BYTES];
	char water[24], at[24], at_height[BOOK_TYPED_BYTES], wind_speed[24],
	    wind_height[BOOK_TYPED_BYTES], wind_from[8];
	char wind[BOOK_VALUE_BYTES], sky[BOOK_VALUE_BYTES]; /* wind: words of an older book */
	char time[BOOK_TIME_BYTES], struck[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES];
	char booked[BOOK_TIME_BYTES];     /* when it was typed; empty: when it was observed */
	struct level_air_reading reading; /* the same as figures, with the settings' u */
};

bool book_airs(struct book *book, int64_t run, struct book_air **list, size_t *count,
               struct fault *why);
/* Books the air; what was not observed may stay empty, but not all of it. An empty time is now. */
bool book_air_add(struct book *book, int64_t run, const struct book_air *air, struct fault *why);
bool book_air_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                     struct fault *why);
/* Strikes a booked air for the reason, and books another one in its place: both or neither. An
 * empty reason is "changed"; of a sealed run it is refused, FAULT_INPUT at "reason". */
bool book_air_change(struct book *book, int64_t run, int64_t id, const struct book_air *air,
                     const char *reason, struct fault *why);
/* A booked air as it is typed under these settings: with a unit wherever a bare number would mean
 * something else today. */
struct book_air book_air_typed(const struct book_air *air, const struct book_settings *settings);

/* --- plans --- */

struct book_plan {
	int64_t id;
	char name[LEVEL_NAME_BYTES];
	struct book_figures figures;
	char time[BOOK_TIME_BYTES];
};

bool book_plans(struct book *book, struct book_plan **list, size_t *count, struct fault *why);
bool book_plan_find(struct book *book, const char *name, struct book_plan *out, struct fault *why);
/* Keeps a plan by name; another one of that name is struck. */
bool book_plan_set(struct book *book, const char *name, const struct book_figures *figures,
                   struct fault *why);
/* The plan that a crossing goes by; an empty name: none. Refused of other runs, and once the run is
 * sealed. */
bool book_run_set_plan(struct book *book, int64_t run, const char *name, struct fault *why);
/* From a plan's figures to a plan; what it leaves open is the settings'. Beside those of the
 * settings they are: level (an instrument's name), distance, near, near_method, far_method,
 * distance_by, hi, target, pole, water_readings, over, latitude, azimuth, and of the air: air, or
 * pressure, low, high, water_temperature, at, wind and wind_from. rod: height of the far pole where
 * none is given, 0 for none. merged: both, as the plan is reckoned, with its k. */
bool book_plan_of(const struct book_figures *settings, level_nm rod,
                  const struct book_figures *figures, struct level_plan *out,
                  struct book_figures *merged, struct fault *why);
/* Refuses what no plan is, among it air that cannot be. */
bool book_plan_check(const struct book_figures *figures, struct fault *why);

#endif
