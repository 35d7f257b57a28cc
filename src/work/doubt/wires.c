#include "rodbook/work/wires.h"

#include <string.h>

#define DIGITS "0123456789"

int work_wire_decimals(const struct book_run *run, size_t at)
{
	while (at-- > 0) {
		const struct book_kept *note = &run->note[at];
		int decimals = level_decimals(note->upper);
		if (!run->run.sight[at].wires || !level_counted(&run->run.sight[at]))
			continue;
		return note->unit <= LEVEL_FT && decimals == level_decimals(note->middle) &&
		               decimals == level_decimals(note->lower)
		           ? decimals
		           : -1;
	}
	return -1;
}

level_nm work_wires_make(const struct book_settings *settings, const struct level_sight *sight)
{
	return sight->wires
	           ? level_wire_distance(sight->upper, sight->lower, settings->stadia_multiplier,
	                                 settings->stadia_constant)
	           : 0;
}

bool work_part_wires(const char *typed, int decimals, enum level_unit unit, char *wire, char *rest)
{
	size_t whole = strspn(typed, DIGITS), first, begun;
	const char *behind = typed + whole;
	if (decimals < 1 || unit > LEVEL_FT || *behind++ != '.')
		return false;
	begun = strspn(behind, DIGITS);
	first = whole + 1 + (size_t)decimals;
	if (strcmp(behind + begun, ".") != 0 || begun < (size_t)decimals ||
	    begun - (size_t)decimals > (unit == LEVEL_M ? 1 : 2) || first >= BOOK_TYPED_BYTES)
		return false;
	memcpy(wire, typed, first);
	wire[first] = '\0';
	strcpy(rest, typed + first);
	return true;
}
