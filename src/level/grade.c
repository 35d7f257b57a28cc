#include "rodbook/level/grade.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool refuse(const char *text, struct fault *why)
{
	return fault_say(why, FAULT_INPUT,
	                 "\"%.80s\" is no grade: write a design elevation, as in 12.345, or with "
	                 "the place it holds at and the slope from there on, as in 12.345; 0+000; "
	                 "-0.5 %%",
	                 text);
}

/* The next part of a text that is parted by semicolons, without blanks around it. */
static bool next_part(const char **at, char part[80])
{
	size_t size = strcspn(*at, ";"), first = strspn(*at, " ");
	size_t last = size;
	while (last > first && (*at)[last - 1] == ' ')
		last--;
	if (first > last)
		first = last;
	if (last - first >= 80)
		return false;
	memcpy(part, *at + first, last - first);
	part[last - first] = '\0';
	*at += size + ((*at)[size] == ';');
	return true;
}

/* A decimal number that fills `size` bytes. An exponent, as in 5e-05, is how earlier programs kept
 * a flat slope. */
static bool plain(const char *text, size_t size, double *out)
{
	static const char digits[] = "0123456789";
	char number[40], *at = number;
	size_t whole, decimals = 0;
	if (size >= sizeof number)
		return false;
	memcpy(number, text, size);
	number[size] = '\0';
	at += *at == '-' || *at == '+';
	whole = strspn(at, digits);
	at += whole;
	if (*at == '.') {
		decimals = strspn(++at, digits);
		at += decimals;
	}
	if (whole + decimals == 0)
		return false;
	if (*at == 'e') {
		at++;
		at += *at == '-' || *at == '+';
		if (!*at)
			return false;
		at += strspn(at, digits);
	}
	*out = strtod(number, NULL);
	return !*at;
}

/* A slope of at most 1 with 15 figures and no exponent, which plain() reads again; flatter than
 * 1e-25 it is 0. */
static const char *keep_slope(char out[40], double slope)
{
	int decimals = slope == 0 ? 0 : 14 - (int)floor(log10(fabs(slope)));
	size_t size;
	snprintf(out, 40, "%.*f", decimals > 30 ? 30 : decimals, slope);
	if (!strchr(out, '.'))
		return out;
	size = strlen(out);
	while (out[size - 1] == '0')
		out[--size] = '\0';
	if (out[size - 1] == '.')
		out[--size] = '\0';
	return strcmp(out, "-0") == 0 ? strcpy(out, "0") : out;
}

/* -0.5 %, 1:200, -5 mm/m, or a ratio. */
static bool parse_slope(const char *text, double *out)
{
	size_t size = strlen(text);
	const char *colon = strchr(text, ':');
	double rise, reach;
	if (size > 4 && strcmp(text + size - 4, "mm/m") == 0) {
		while (size > 4 && text[size - 5] == ' ')
			size--;
		if (!plain(text, size - 4, out))
			return false;
		*out /= 1000;
	} else if (size > 1 && text[size - 1] == '%') {
		while (size > 1 && text[size - 2] == ' ')
			size--;
		if (!plain(text, size - 1, out))
			return false;
		*out /= 100;
	} else if (colon) {
		if (!plain(text, (size_t)(colon - text), &rise) ||
		    !plain(colon + 1, strlen(colon + 1), &reach) || reach <= 0)
			return false;
		*out = rise / reach;
	} else if (!plain(text, size, out)) {
		return false;
	}
	return fabs(*out) <= 1;
}

bool level_parse_grade(const char *text, enum level_unit unit, struct level_grade *out,
                       char kept[LEVEL_GRADE_BYTES], struct fault *why)
{
	const struct level_style meters = {.unit = LEVEL_M, .fraction = 1};
	char elevation[80], from[80] = "", slope[80] = "", a[LEVEL_LENGTH_BYTES],
	                    b[LEVEL_LENGTH_BYTES], c[40];
	const char *at = text;
	*out = (struct level_grade){0};
	if (strlen(text) >= LEVEL_GRADE_BYTES || !next_part(&at, elevation) ||
	    (*at && !next_part(&at, from)) || (*at && !next_part(&at, slope)) || *at)
		return refuse(text, why);
	if (!level_parse_length(elevation, unit, &out->elevation, NULL) ||
	    llabs(out->elevation) > LEVEL_DISTANCE_LIMIT ||
	    (*from && !level_parse_along(from, unit, &out->from, NULL)) ||
	    (*slope && !parse_slope(slope, &out->slope)))
		return refuse(text, why);
	if (kept)
		snprintf(kept, LEVEL_GRADE_BYTES, "%.40s m; %.40s m; %.39s",
		         level_format_exact(a, out->elevation, &meters),
		         level_format_exact(b, out->from, &meters), keep_slope(c, out->slope));
	return true;
}

level_nm level_grade_at(const struct level_grade *grade, level_nm along)
{
	return grade->elevation +
	       level_from_meters(grade->slope * level_to_meters(along - grade->from));
}
