/* The texts of a page's row. */
#include "rodbook/report/report.h"

#include <ctype.h>
#include <string.h>

/* 1.432, -2.1 and the like: what can stand on the page as it was typed. */
static bool is_plain_decimal(const char *text)
{
	const char *digits = text + (*text == '-');
	size_t whole = strspn(digits, "0123456789");
	const char *rest = digits + whole;
	if (whole == 0)
		return false;
	if (*rest == '.')
		rest += 1 + strspn(rest + 1, "0123456789");
	return *rest == '\0';
}

/* Writes the reading as it was typed. The mean of wires was not typed; it gets one decimal more, so
 * that sums can be checked by hand. */
static void put_typed(char *cell, const char *typed, enum level_unit unit, level_nm value,
                      bool mean, const struct level_style *style)
{
	bool decimal = style->unit == LEVEL_M || style->unit == LEVEL_FT;
	struct level_style finer = *style;
	if (mean && finer.decimals < 6)
		finer.decimals++;
	if (!mean && decimal && unit == style->unit && is_plain_decimal(typed))
		snprintf(cell, REPORT_CELL_BYTES, "%s", typed);
	else
		level_format_length(cell, value, &finer, false);
}

/* With its sign and the word, so that no eye takes it for a reading. */
static void put_offset(char text[REPORT_CELL_BYTES + 8], const struct level_sight *sight,
                       const struct book_kept *note, const struct level_style *style)
{
	char height[REPORT_CELL_BYTES];
	put_typed(height, note->reading, note->unit, sight->reading, sight->set_count > 1, style);
	snprintf(text, REPORT_CELL_BYTES + 8, "offset %s%s", *height == '-' ? "" : "+", height);
}

void report_cells(const struct level_sight *sight, const struct book_kept *note,
                  const struct level_row *row, const struct level_style *style,
                  struct report_cells *out)
{
	char *reading = sight->kind == LEVEL_BS   ? out->bs
	                : sight->kind == LEVEL_IS ? out->is
	                                          : out->fs;
	const struct level_style own = level_distance_style(style);
	*out = (struct report_cells){0};
	if (row->setup)
		snprintf(out->setup, sizeof out->setup, "%d", row->setup);
	if (sight->kind == LEVEL_OFF && sight->state != LEVEL_BLANK)
		put_offset(out->offset, sight, note, style);
	else if (sight->state != LEVEL_BLANK)
		put_typed(reading, note->reading, note->unit, sight->reading,
		          sight->wires || sight->set_count > 1 || *note->scaled, style);
	if (row->has_hi)
		level_format_length(out->hi, row->hi, style, false);
	if (row->has_elevation)
		level_format_length(out->elevation, row->elevation, style, false);
	if (row->has_corrected)
		level_format_length(out->corrected, row->corrected, style, false);
	if (row->has_step)
		level_format_length(out->step, row->step, style, true);
	if (sight->distance)
		put_typed(out->distance, note->distance,
		          book_distance_unit(note->unit, note->distance_unit), sight->distance,
		          false, &own);
}

bool report_cut(const struct book_run_info *info, const struct book_kept *note,
                const struct level_row *row, level_nm *design, level_nm *cut)
{
	struct level_grade grade;
	level_nm along;
	if (!*info->grade || !*note->along || !row->has_elevation ||
	    !level_parse_grade(info->grade, LEVEL_M, &grade, NULL, NULL) ||
	    !level_parse_along(note->along, note->unit, &along, NULL))
		return false;
	*design = level_grade_at(&grade, along);
	*cut = (row->has_corrected ? row->corrected : row->elevation) - *design;
	return true;
}

void report_standing(const struct level_sight *sight, const struct level_row *row, char *text,
                     size_t size)
{
	text[0] = '\0';
	if (!row->setup)
		return;
	if (sight->kind == LEVEL_BS && row->line.standings > 0)
		snprintf(text, size, "standing %d", row->line.standings + 1);
	else if (sight->kind == LEVEL_FS && row->line.standings > 1)
		snprintf(text, size, "mean of %d", row->line.standings);
}

int report_tail(const char *text)
{
	const char *at = strchr(text, '.');
	if (!at) {
		at = strchr(text, '/');
		while (at && at > text && isdigit((unsigned char)at[-1]))
			at--;
		if (at && at > text && at[-1] == ' ')
			at--;
	}
	if (!at)
		at = text + strlen(text) - (*text && text[strlen(text) - 1] == '"');
	return (int)strlen(at);
}

char *report_meters(char buf[LEVEL_LENGTH_BYTES], double meters, const struct level_style *style,
                    bool plus)
{
	struct level_style finer = *style;
	if (finer.decimals < 6)
		finer.decimals++;
	return level_format_length(buf, level_from_meters(meters), &finer, plus);
}
