/* A design elevation, or a straight grade, that ground is held against: cut where the ground stands
 * above it, fill where it stands below. */
#ifndef RODBOOK_LEVEL_GRADE_H
#define RODBOOK_LEVEL_GRADE_H

#include "rodbook/level/along.h"

struct level_grade {
	level_nm elevation; /* at `from` */
	level_nm from;      /* along the line, nm */
	double slope;       /* rise per length along the line, positive upward; 0: level */
};

#define LEVEL_GRADE_BYTES 160

/* Reads "ELEVATION", or "ELEVATION; FROM; SLOPE": from where along the line, and -0.5 %, 1:200,
 * -5 mm/m or a plain ratio, up to 1 in size. Bare numbers in the unit given. Writes it in a form
 * that keeps its units into `kept` (may be NULL). FAULT_INPUT. */
bool level_parse_grade(const char *text, enum level_unit unit, struct level_grade *out,
                       char kept[LEVEL_GRADE_BYTES], struct fault *why);
/* The design elevation at a place along the line, rounded once to 1 nm. */
level_nm level_grade_at(const struct level_grade *grade, level_nm along);

#endif
