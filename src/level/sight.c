/* What a sight is: names, wires, and what cannot be one. */
#include "rodbook/level/sight.h"
#include "level/wide.h"
#include "rodbook/level/offset.h"

#include <string.h>
#include <strings.h>

static const char *const kind_names[] = {"BS", "IS", "FS", "OFF"};
static const char *const method_names[] = {"rod", "tape", "target", "ruler", "tube"};
static const char *const run_kind_names[] = {"loop", "link", "open", "crossing"};
static const char *const ways[] = {"step", "map", "tape", "wires"};

/* Index of name among count names, any case; -1 where it is not there. */
static int find(const char *const *names, int count, const char *name)
{
	for (int i = 0; i < count; i++)
		if (strcasecmp(names[i], name) == 0)
			return i;
	return -1;
}

const char *level_kind_name(enum level_kind kind)
{
	return kind_names[kind];
}

bool level_kind_find(const char *name, enum level_kind *kind)
{
	int i = find(kind_names, LEVEL_KINDS, name);
	if (i >= 0)
		*kind = (enum level_kind)i;
	return i >= 0;
}

const char *level_method_name(enum level_method method)
{
	return method_names[method];
}

bool level_method_find(const char *name, enum level_method *method)
{
	int i = find(method_names, LEVEL_METHODS, name);
	if (i >= 0)
		*method = (enum level_method)i;
	return i >= 0;
}

bool level_any_method_find(const char *name, enum level_method *method)
{
	int i = find(method_names, LEVEL_ANY_METHODS, name);
	if (i >= 0)
		*method = (enum level_method)i;
	return i >= 0;
}

const char *level_distance_way_name(enum level_distance_way way)
{
	return ways[way];
}

bool level_distance_way_find(const char *name, enum level_distance_way *way)
{
	int i = find(ways, LEVEL_DISTANCE_WAYS, name);
	if (i < 0)
		return false;
	*way = (enum level_distance_way)i;
	return true;
}

const char *level_run_kind_name(enum level_run_kind kind)
{
	return run_kind_names[kind];
}

bool level_run_kind_find(const char *name, enum level_run_kind *kind)
{
	int i = find(run_kind_names, 4, name);
	if (i >= 0)
		*kind = (enum level_run_kind)i;
	return i >= 0;
}

level_nm level_wire_mean(level_nm upper, level_nm middle, level_nm lower)
{
	return level_round_ratio((level_wide)upper + middle + lower, 3);
}

level_nm level_wire_distance(level_nm upper, level_nm lower, int64_t multiplier, level_nm constant)
{
	return multiplier * (upper - lower) + constant;
}

bool level_counted(const struct level_sight *sight)
{
	return sight->state == LEVEL_BOOKED || sight->state == LEVEL_DRAFT;
}

/* A pole measured by tape may be longer than the rod, but there is no pole of this length. */
#define TAPE_LIMIT (100 * LEVEL_NM_PER_M)

static bool check_reading(level_nm reading, const char *what, const struct level_sight *sight,
                          level_nm rod_length, const struct level_style *style, struct fault *why)
{
	char shown[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	level_nm size = reading < 0 ? -reading : reading;
	if (sight->method == LEVEL_TAPE || sight->kind == LEVEL_OFF)
		return size <= TAPE_LIMIT ||
		       fault_say(why, FAULT_INPUT, "the %s is over 100 m: measure it again", what);
	if (size > rod_length)
		return fault_say(why, FAULT_INPUT,
		                 "the %s %s is longer than the rod (%s): read it again, or give "
		                 "the rod its length",
		                 what, level_format_length(shown, reading, style, false),
		                 level_format_length(limit, rod_length, style, false));
	return true;
}

static bool check_offset(const struct level_sight *sight, struct fault *why)
{
	if (sight->wires)
		return fault_say(why, FAULT_INPUT, "an offset is one height: it has no wires");
	return !sight->distance ||
	       fault_say(why, FAULT_INPUT, "an offset has no distance: leave it empty");
}

bool level_check_station(const char *name, enum level_kind kind, struct fault *why)
{
	if (kind == LEVEL_IS && name[strspn(name, " ")] == '\0')
		return fault_say(why, FAULT_INPUT,
		                 "the station has no name: write one, such as 0+20 or DITCH");
	return level_check_name(name, "station", why);
}

bool level_check_sight(const struct level_sight *sight, level_nm rod_length,
                       const struct level_style *style, struct fault *why)
{
	if (!level_check_station(sight->station, sight->kind, why))
		return false;
	if (!level_method_suits(sight->kind, sight->method))
		return fault_say(why, FAULT_INPUT,
		                 sight->kind == LEVEL_OFF
		                     ? "an offset is measured by tape, ruler or tube"
		                     : "a reading is taken by rod, tape or target");
	if (sight->kind == LEVEL_OFF && !check_offset(sight, why))
		return false;
	if (sight->wires) {
		if (!check_reading(sight->upper, "upper wire", sight, rod_length, style, why) ||
		    !check_reading(sight->middle, "middle wire", sight, rod_length, style, why) ||
		    !check_reading(sight->lower, "lower wire", sight, rod_length, style, why))
			return false;
		if (sight->upper < sight->middle || sight->middle < sight->lower)
			return fault_say(
			    why, FAULT_INPUT,
			    "the wires are out of order: upper reads most, lower least");
	} else if (!check_reading(sight->reading, "reading", sight, rod_length, style, why)) {
		return false;
	}
	if (sight->distance < 0)
		return fault_say(
		    why, FAULT_INPUT,
		    "the distance is negative: write a length above 0, or leave it empty");
	if (sight->distance > LEVEL_DISTANCE_LIMIT)
		return fault_say(why, FAULT_INPUT,
		                 "the distance is over 100 km: write a shorter one");
	return true;
}
