/* A reading scaled from a photograph: between two marks whose readings are known, by where marks
 * and cross-hair lie in it. Places are in pixels, or in the units of a ruler laid on a print, along
 * one straight line, counted either way; they are kept in millionths. */
#ifndef RODBOOK_LEVEL_SCALE_H
#define RODBOOK_LEVEL_SCALE_H

#include "rodbook/level/length.h"

/* 1 px in the counts below. */
#define LEVEL_PX INT64_C(1000000)
/* What a place may be off by where nobody says: 1 px (common practice, no source). */
#define LEVEL_PX_U LEVEL_PX
/* The word that stands for a reading which its scaling makes. */
#define LEVEL_SCALED_WORD "scaled"

struct level_scaling {
	level_nm low, high;               /* readings of the two marks */
	int64_t low_px, high_px, hair_px; /* their places, and that of the cross-hair */
	int64_t u_px;                     /* what each of the three places may be off by */
};

struct level_scaled {
	level_nm reading; /* rounded once, half away from zero */
	level_nm limit;   /* rounded once, up */
	bool far;         /* the hair is more than half the separation beyond a mark */
};

/* With t = (hair - low)/(high - low) in places, P = |high - low| in places, M = max(t, 1 - t):
 *
 *	reading = low + t (high - low) in readings
 *	limit   = 2 u |high - low| max(1/P, M/(P - 2u))
 *
 * The limit is the most that the reading can move when all three places are off by up to u at once.
 * Where P > 2u the reading goes one way with each place, so the most is at a corner of the eight:
 * with both marks off one way and the hair the other it moves by 2u/P of high - low; with the marks
 * off towards each other and the hair along with the nearer one, by M 2u/(P - 2u). No other corner
 * moves it by more. The readings of the marks are taken as true.
 *
 * FAULT_INPUT for marks with one reading or in one place, or not more than 2u apart, for u that is
 * not above 0, and for readings and limits over 100 m. */
bool level_scale(const struct level_scaling *scaling, struct level_scaled *out, struct fault *why);

/* Reads a place, "1204" or "1204.5": at most 1 000 000 either way, 6 decimals. */
bool level_parse_px(const char *text, int64_t *out, struct fault *why);
/* Reads a mark and its place, "0.5@1204"; a bare reading is in the unit given. */
bool level_parse_placed(const char *text, enum level_unit bare, level_nm *mark, int64_t *px,
                        struct fault *why);
/* Reads "0.5@1204; 1.0@2310; hair 1650; u 2" in this order; without u it is LEVEL_PX_U. */
bool level_parse_scaling(const char *text, enum level_unit bare, struct level_scaling *out,
                         struct fault *why);
/* Copies such a text with the unit behind marks that are bare, where `unit`, which it was typed in,
 * is not `here`; another text as it is, and one that has no room then. Returns buf. */
char *level_carry_scaling(char *buf, size_t size, const char *text, enum level_unit unit,
                          enum level_unit here);

/* Writes a reading or a limit so scaled, exactly: in meters, with m behind it where bare numbers
 * are in another unit. buf has LEVEL_SCALED_BYTES at least; returns buf. */
#define LEVEL_SCALED_BYTES 40
char *level_scaled_text(char *buf, level_nm value, enum level_unit bare);

#endif
