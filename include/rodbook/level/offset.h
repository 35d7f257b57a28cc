/* An offset: the height of one mark above another that no instrument carried, by a tape along a
 * pole, a ruler or a level tube. It carries the line on from the mark where it stands to its
 * station, which stands so much (reading) above; below, where it is less than 0. It has no
 * distance, and takes no curvature, refraction, tilt or rod's error. */
#ifndef RODBOOK_LEVEL_OFFSET_H
#define RODBOOK_LEVEL_OFFSET_H

#include "rodbook/level/drop/drop.h"

/* Standard uncertainties of an offset whose own is not given, m; a tape has that of the terms
 * (common practice, no source). */
#define LEVEL_RULER_U 0.0005
#define LEVEL_TUBE_U 0.002

/* The uncertainty of any sight, level_reading_u() of its reach; an offset has no distance. */
struct level_mean_u level_sight_u(const struct level_terms *terms, const struct level_sight *sight);

/* Whether a method measures a sight of that kind: an offset by tape, ruler or tube, all else by
 * rod, tape or target. */
bool level_method_suits(enum level_kind kind, enum level_method method);
/* Whether a sight of that kind carries the line on to its station: an FS or an offset. */
bool level_carries_on(enum level_kind kind);

/* What a tube showed at both ends, read at once: "A; B", A at the mark that the offset goes from.
 * The station stands A - B above it. Refuses a text that is not two lengths. */
bool level_parse_ends(const char *text, enum level_unit bare, level_nm ends[2], struct fault *why);

#endif
