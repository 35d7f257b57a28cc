#include "rodbook/work/wind.h"

bool work_doubt_wind(const char *typed, const struct book_settings *settings)
{
	double speed;
	return level_parse_quantity(typed, LEVEL_SPEED, settings->units.of[LEVEL_SPEED], &speed,
	                            NULL) &&
	       speed >= WORK_WIND_MOST;
}

bool work_doubt_height(const char *typed, enum level_unit unit)
{
	level_nm height;
	return unit == LEVEL_IN && level_is_bare(typed) &&
	       level_parse_length(typed, unit, &height, NULL) && height > 0 &&
	       height < LEVEL_NM_PER_FT;
}
