/* Values of settings, from text to number. `name` is the setting, for the message; false and *why
 * where the text is no such value. */
#ifndef BOOK_SETTING_SETTING_PARSE_H
#define BOOK_SETTING_SETTING_PARSE_H

#include <stdbool.h>
#include <stdint.h>

#include "rodbook/level/fault.h"
#include "rodbook/level/length.h"

bool setting_parse_number(const char *text, double least, double most, const char *name,
                          double *value, struct fault *why);
bool setting_parse_whole(const char *text, double least, double most, const char *name,
                         int64_t *value, struct fault *why);
/* A length above 0, or of 0 where `zero`; a bare number has `unit`. */
bool setting_parse_positive(const char *text, enum level_unit unit, bool zero, const char *name,
                            level_nm *value, struct fault *why);
/* A length of 0 or more, in m. */
bool setting_parse_meters(const char *text, enum level_unit unit, const char *name, double *meters,
                          struct fault *why);
/* "0.5 mm + 0.010 mm/m", in m and m/m, or the first part alone. */
bool setting_parse_reading(const char *text, enum level_unit unit, const char *name, double *fixed,
                           double *slope, struct fault *why);
/* 0: still; -1: flowing, by a slope not known; else the slope, m/m. */
bool setting_parse_flow(const char *text, double *flow, struct fault *why);

#endif
