#include "rodbook/work/remedy.h"

struct work_done work_done(const struct level_run *run, enum level_k_source air,
                           const struct work_tested *tested)
{
	level_nm longest = 0;
	struct work_done out = {
	    .air = air, .in_sets = tested->in_sets, .test_of_day = tested->of_day};
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *sight = &run->sight[i];
		if (!level_counted(sight) || sight->distance <= longest)
			continue;
		longest = sight->distance;
		out.target = sight->method == LEVEL_TARGET;
	}
	return out;
}

static enum work_remedy for_air(enum level_k_source source)
{
	switch (source) {
	case LEVEL_K_WATER:
		return WORK_ANOTHER_HOUR;
	case LEVEL_K_THERMOMETERS:
		return WORK_WATER_TOO;
	default:
		return WORK_MEASURE_AIR;
	}
}

enum work_remedy work_remedy(enum level_allowance_line line, const struct work_done *done)
{
	switch (line) {
	case LEVEL_LINE_READING:
		return done->target ? WORK_READ_MORE : WORK_SIGHT_A_TARGET;
	case LEVEL_LINE_REFRACTION:
		return for_air(done->air);
	case LEVEL_LINE_DECLARED:
		return WORK_TRANSFER_AGAIN;
	case LEVEL_LINE_WATER:
		return WORK_STILL_WATER;
	case LEVEL_LINE_KNOWN:
		return WORK_LEVEL_MARKS;
	case LEVEL_LINE_DRIFT:
		return done->test_of_day ? WORK_TEST_AFTER : WORK_TEST_THAT_DAY;
	case LEVEL_LINE_DISTANCE:
		return WORK_MEASURE_DISTANCES;
	default:
		return done->in_sets ? WORK_MORE_SETS : WORK_PEGS_IN_SETS;
	}
}
