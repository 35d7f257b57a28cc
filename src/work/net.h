/* A net gathered from the runs of a book, and adjusted. */
#ifndef WORK_NET_H
#define WORK_NET_H

#include "rodbook/level/net.h"
#include "rodbook/report/paper.h"
#include "rodbook/level/spread.h"

/* A piece of a run between two marks of the net: one observed height difference. */
struct net_piece {
	const char *run;
	bool corrected; /* curvature, refraction and tilts are off, all its distances being known */
	level_nm length; /* of BS and FS, where corrected */
	int setups;
};

struct net_chain;
struct net_station;

struct net_paper {
	struct book_settings settings;
	enum level_by by;
	bool fallback;                      /* by setups, because not all distances are known */
	char no_distance[LEVEL_NAME_BYTES]; /* a run where one is not known, or empty */
	size_t runs, left_out;              /* runs in the net, and those not complete */
	char (*left)[LEVEL_NAME_BYTES];     /* the names of the latter */
	size_t reopened;                    /* runs in the net that were closed, and opened again */
	char (*again)[LEVEL_NAME_BYTES];    /* their names */
	struct net_piece *piece;            /* as the net's lines */
	struct level_net net;
	struct level_net_mark *mark; /* the net's own */
	struct level_net_line *line;
	struct level_net_result result;
	struct net_chain *chain; /* what was read of the runs, */
	struct net_station *station;
	size_t stations, station_room, *bucket, buckets; /* and their stations by name */
};

/* What is asked of a net: the runs, or none for all that are no crossings and complete; by, or
 * NULL; the stated standard deviation, m, or 0. */
struct net_wish {
	const char *const *runs;
	size_t count;
	const enum level_by *by;
	double sigma;
	level_progress *progress; /* or NULL */
	void *context;
};

/* Loads the runs, breaks them at the marks of the net, and adjusts. Free with net_free() whatever
 * it returns. */
bool net_load(struct book *book, const struct net_wish *wish, struct net_paper *out,
              struct fault *why);
void net_free(struct net_paper *net);

/* The adjusted net for people, and as CSV. */
bool net_text(FILE *out, const struct net_paper *net, struct fault *why);
void net_csv(FILE *out, const struct net_paper *net);
/* The adjusted run; sigma as above. */
bool spread_text(FILE *out, const struct paper_run *run, const struct level_spread *spread,
                 double sigma, struct fault *why);
void spread_csv(FILE *out, const struct paper_run *run, const struct level_spread *spread,
                double sigma);
/* Whether a standard deviation, m, is one that can be shown: there, and such as nanometers hold. */
bool adjust_shows(double sd);
/* A standard deviation of unit weight, m per root of a km or of a setup, "0.0075 m per root of a
 * km"; in feet or inches what it is of a mile, "0.031 ft per root of a mile". The stated one also
 * as it was stated, "0.0127 ft per root of a mile (0.0100 ft per root of a km)". */
#define ADJUST_WORDS_BYTES (2 * LEVEL_LENGTH_BYTES + 60)
const char *adjust_sd(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                      const struct level_style *style);
const char *adjust_sd_stated(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                             const struct level_style *style);
/* The variance of unit weight, m^2 per km or setup, in the unit squared per km, mile or setup. */
const char *adjust_variance(char text[ADJUST_WORDS_BYTES], double variance, enum level_by by,
                            const struct level_style *style);
/* One row `mark,elevation,sd,fixed` each, and one of height differences. sd in m, NAN: none. */
void adjust_mark_csv(FILE *out, const char *mark, level_nm elevation, double sd, bool fixed,
                     const struct level_style *style);
struct adjust_line {
	const char *run, *from, *to;
	bool has_length, has_standardized, has_redundancy;
	level_nm length, observed, adjusted;
	double standardized, redundancy;
	int setups;
};
void adjust_lines_header(FILE *out);
void adjust_line_csv(FILE *out, const struct adjust_line *line, const struct level_style *style);

#endif
