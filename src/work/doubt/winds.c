#include "rodbook/work/wind.h"

bool work_doubt_wind(const char *typed, const struct book_settings *settings)
{
	double speed;
	return level_parse_quantity(typed, LEVEL_SPEED, settings->units.of[LEVEL_SPEED], &speed,
	                            NULL) &&
	       speed >= WORK_WIND_MOST;
}
