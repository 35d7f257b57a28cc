/* A set: one sight read several times, "1.432; 1.433; 1.431". A reading that was struck stays
 * where it stood, behind an x: "1.432; x1.533; 1.431". */
#ifndef RODBOOK_LEVEL_SET_H
#define RODBOOK_LEVEL_SET_H

#include "rodbook/level/length.h"

#define LEVEL_SET_MOST 40

struct level_set {
	int count; /* readings that count; at least 1 */
	int struck;
	level_nm reading[LEVEL_SET_MOST]; /* those that count, in order */
	level_nm mean;                    /* rounded once to 1 nm */
	double sd;       /* sample standard deviation, m; 0 where count < 2: one alone has none */
	int farthest;    /* index of the reading farthest from the mean; -1 where count < 2 */
	level_nm off_by; /* its distance from the mean, with its sign */
};

/* Whether the text is a set, not one length: it holds a semicolon. */
bool level_is_set(const char *text);
/* Reads a set, or one length alone. Refuses what is no length, more than LEVEL_SET_MOST readings,
 * and a set of which every reading is struck. */
bool level_parse_set(const char *text, enum level_unit bare, struct level_set *out,
                     struct fault *why);
/* The reading that the text goes on with, trimmed, into `one`; moves *at behind its semicolon.
 * False behind the last, or where it has no room. */
#define LEVEL_SET_READING_BYTES 64
bool level_next_reading(const char **at, char one[LEVEL_SET_READING_BYTES]);
/* As level_carry_text(), for each reading of a set. Returns buf, which may hold less where it is
 * too small. */
char *level_carry_set(char *buf, size_t size, const char *text, enum level_unit unit,
                      enum level_unit here);

#endif
