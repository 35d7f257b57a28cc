/* Every length that a book takes from its user, in every unit it can be typed in, and in units that
 * no length has. One inch is 25.4 mm, 1 ft 0.3048 m, 1 mile 1609.344 m, 1 US survey foot 1200/3937
 * m (NIST SP 811, B.8); the products by hand. */
#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"
#include "rodbook/level/along.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/reciprocal.h"
#include "rodbook/level/scale.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static enum level_unit unit_of(struct shelf *s)
{
	struct book_settings settings;
	ck_assert(book_settings(s->book, &settings, &s->why));
	return settings.style.unit;
}

static enum level_unit distance_unit_of(struct shelf *s)
{
	struct book_settings settings;
	ck_assert(book_settings(s->book, &settings, &s->why));
	return settings.style.distance;
}

/* Opens a book of that unit with the runs that the doors write to. */
static void open_runs(struct shelf *s, enum level_unit unit)
{
	shelf_open(s, unit);
	shelf_begin(s, "over", LEVEL_CROSSING);
	shelf_begin(s, "sights", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1 m"));
	shelf_begin(s, "offsets", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1 m"));
	ck_assert(shelf_book(s, LEVEL_FS, "B", "1 m"));
}

/* Books a sight with one text of the user's; `got` is what was made of it. */
static bool book_text(struct shelf *s, enum level_kind kind, enum work_text text, const char *typed,
                      struct level_sight *got)
{
	static unsigned stations;
	char station[20];
	struct work_typed sight = {
	    .text = {[WORK_SIGHT] = level_kind_name(kind), [WORK_READING] = "1 m"}};
	struct work_booked booked;
	snprintf(station, sizeof station, "P%u", stations++);
	sight.text[WORK_STATION] = station;
	if (text == WORK_ENDS)
		sight.text[WORK_READING] = NULL;
	sight.text[text] = typed;
	if (!work_book_sight(s->book, kind == LEVEL_OFF ? "offsets" : "sights", &sight, &booked,
	                     &s->why))
		return false;
	shelf_take(s, kind == LEVEL_OFF ? 3 : 2);
	*got = s->run.run.sight[s->run.run.count - 1];
	return true;
}

static bool door_reading(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight = {0};
	bool ok = book_text(s, LEVEL_IS, WORK_READING, typed, &sight);
	*got = sight.reading;
	return ok;
}

static bool door_negative(struct shelf *s, const char *typed, level_nm *got)
{
	char below[40];
	struct level_sight sight = {0};
	bool ok;
	snprintf(below, sizeof below, "-%s", typed);
	ok = book_text(s, LEVEL_IS, WORK_READING, below, &sight);
	*got = -sight.reading;
	return ok;
}

static bool door_set(struct shelf *s, const char *typed, level_nm *got)
{
	char set[80];
	struct level_sight sight = {0};
	bool ok;
	snprintf(set, sizeof set, "%s; %s", typed, typed);
	ok = book_text(s, LEVEL_IS, WORK_READING, set, &sight);
	*got = sight.reading;
	return ok;
}

static bool door_distance(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight = {0};
	bool ok = book_text(s, LEVEL_IS, WORK_DISTANCE, typed, &sight);
	*got = sight.distance;
	return ok;
}

static bool door_limit(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight = {0};
	bool ok = book_text(s, LEVEL_IS, WORK_LIMIT, typed, &sight);
	*got = sight.limit;
	return ok;
}

static bool door_u(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight = {0};
	bool ok = book_text(s, LEVEL_IS, WORK_U, typed, &sight);
	*got = sight.u;
	return ok;
}

static bool door_offset(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight = {0};
	bool ok = book_text(s, LEVEL_OFF, WORK_READING, typed, &sight);
	*got = sight.reading;
	return ok;
}

/* The height of TO above FROM is the reading at FROM less that at TO. */
static bool door_ends(struct shelf *s, const char *typed, level_nm *got)
{
	char ends[80];
	struct level_sight sight = {0};
	bool ok;
	snprintf(ends, sizeof ends, "%s; 0 m", typed);
	ok = book_text(s, LEVEL_OFF, WORK_ENDS, ends, &sight);
	*got = sight.reading;
	return ok;
}

static bool door_along(struct shelf *s, const char *typed, level_nm *got)
{
	struct level_sight sight;
	*got = 0;
	return book_text(s, LEVEL_IS, WORK_ALONG, typed, &sight) &&
	       level_parse_along(s->run.note[s->run.run.count - 1].along, unit_of(s), got, &s->why);
}

static bool door_scale(struct shelf *s, const char *typed, level_nm *got)
{
	char text[120];
	struct level_scaling scaling;
	snprintf(text, sizeof text, "0 m@0; %s@1000; hair 500", typed);
	*got = 0;
	if (!level_parse_scaling(text, unit_of(s), &scaling, &s->why))
		return false;
	*got = scaling.high;
	return true;
}

static bool door_bank(struct shelf *s, const char *typed, level_nm *got)
{
	char text[80];
	struct level_bank bank = {0};
	bool ok;
	snprintf(text, sizeof text, "%s,1 m", typed);
	ok = level_parse_bank(text, unit_of(s), true, &bank, &s->why);
	*got = bank.near;
	return ok;
}

static bool door_water(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_water *list;
	size_t count;
	if (!book_water_add(s->book, 1, "E", typed, "", "", &s->why))
		return false;
	ck_assert(book_waters(s->book, 1, &list, &count, &s->why));
	*got = list[count - 1].reading;
	free(list);
	return true;
}

static bool door_air(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_air air = {.low = "10"}, *list;
	size_t count;
	snprintf(air.low_height, sizeof air.low_height, "%s", typed);
	if (!book_air_add(s->book, 1, &air, &s->why))
		return false;
	ck_assert(book_airs(s->book, 1, &list, &count, &s->why));
	*got = level_from_meters(list[count - 1].reading.low_height);
	free(list);
	return true;
}

static bool door_gauge(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_gauge *list;
	size_t count;
	if (!book_gauge_add(s->book, 1, "G", typed, "", "", &s->why))
		return false;
	ck_assert(book_gauges(s->book, 1, &list, &count, &s->why));
	*got = list[count - 1].reading;
	free(list);
	return true;
}

static bool door_setout(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_setout *list;
	size_t count;
	if (!book_setout_set(s->book, 1, "S", typed, &s->why))
		return false;
	ck_assert(book_setouts(s->book, 1, &list, &count, &s->why));
	*got = list[count - 1].wanted;
	free(list);
	return true;
}

static bool mark_of(struct shelf *s, const char *elevation, const char *u, struct book_mark *out)
{
	struct book_mark *list;
	size_t count;
	if (!book_mark_set(s->book, "M", elevation, u, "", &s->why))
		return false;
	ck_assert(book_marks(s->book, &list, &count, &s->why));
	*out = list[0];
	free(list);
	return true;
}

static bool door_mark(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_mark mark = {0};
	bool ok = mark_of(s, typed, "", &mark);
	*got = mark.elevation;
	return ok;
}

static bool door_mark_u(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_mark mark = {0};
	bool ok = mark_of(s, "10 m", typed, &mark);
	*got = mark.u;
	return ok;
}

static bool door_setting(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_settings settings;
	if (!book_set(s->book, "rod_length", typed, &s->why))
		return false;
	ck_assert(book_settings(s->book, &settings, &s->why));
	*got = settings.rod_length;
	return book_set(s->book, "rod_length", "5 m", &s->why);
}

static bool door_long_sight(struct shelf *s, const char *typed, level_nm *got)
{
	struct book_settings settings;
	if (!book_set(s->book, "long_sight", typed, &s->why))
		return false;
	ck_assert(book_settings(s->book, &settings, &s->why));
	*got = settings.long_sight;
	return true;
}

static bool door_standing(struct shelf *s, const char *typed, level_nm *got)
{
	char text[80];
	struct level_standing standing = {0};
	struct level_style style = level_style_default(unit_of(s));
	bool ok;
	snprintf(text, sizeof text, "30 m,%s,30 m,1 m", typed);
	ok = level_parse_standing(text, &style, &standing, &s->why);
	*got = standing.reading_a;
	return ok;
}

static bool door_standing_distance(struct shelf *s, const char *typed, level_nm *got)
{
	char text[80];
	struct level_standing standing = {0};
	struct level_style style = level_style_default(unit_of(s));
	bool ok;
	style.distance = distance_unit_of(s);
	snprintf(text, sizeof text, "%s,1 m,30 m,1 m", typed);
	ok = level_parse_standing(text, &style, &standing, &s->why);
	*got = standing.distance_a;
	return ok;
}

static const struct {
	const char *name;
	bool (*door)(struct shelf *s, const char *typed, level_nm *got);
	bool distance; /* bare numbers are in the unit of distances */
} doors[] = {
    {"reading", door_reading, false},
    {"reading below zero", door_negative, false},
    {"set", door_set, false},
    {"distance", door_distance, true},
    {"limit", door_limit, false},
    {"u", door_u, false},
    {"offset", door_offset, false},
    {"ends", door_ends, false},
    {"along", door_along, true},
    {"scale", door_scale, false},
    {"bank", door_bank, false},
    {"water", door_water, false},
    {"air", door_air, false},
    {"gauge", door_gauge, false},
    {"setout", door_setout, false},
    {"mark", door_mark, false},
    {"u of a mark", door_mark_u, false},
    {"rod_length", door_setting, false},
    {"long_sight", door_long_sight, true},
    {"standing", door_standing, false},
    {"distance of a standing", door_standing_distance, true},
};
#define DOORS (sizeof doors / sizeof *doors)

static const struct {
	const char *typed;
	level_nm nm;
} named[] = {
    {"2 m", 2000000000},         {"2 meters", 2000000000}, {"1 meter", 1000000000},
    {"200 cm", 2000000000},      {"2000 mm", 2000000000},  {"0.002 km", 2000000000},
    {"2 ft", 609600000},         {"2 feet", 609600000},    {"1 foot", 304800000},
    {"2'", 609600000},           {"2 in", 50800000},       {"2 inches", 50800000},
    {"1 inch", 25400000},        {"2\"", 50800000},        {"15 1/2 in", 393700000},
    {"1' 3 1/2\"", 393700000},   {"0.001 mi", 1609344000}, {"0.001 mile", 1609344000},
    {"0.001 miles", 1609344000}, {"2 usft", 609601219},
};

static const struct {
	enum level_unit unit;
	level_nm bare, distance; /* what 2 is */
} bare[] = {
    {LEVEL_M, 2000000000, 2000000000},
    {LEVEL_FT, 609600000, 609600000},
    {LEVEL_FTIN, 609600000, 609600000},
    {LEVEL_IN, 50800000, 609600000}, /* a distance is never in inches */
};
#define UNITS (sizeof bare / sizeof *bare)

/* In a book of inches, whose bare numbers are farthest from any of these. */
START_TEST(test_named)
{
	struct shelf s;
	open_runs(&s, LEVEL_IN);
	for (size_t d = 0; d < DOORS; d++)
		for (size_t i = 0; i < sizeof named / sizeof *named; i++) {
			level_nm got = -1;
			ck_assert_msg(doors[d].door(&s, named[i].typed, &got), "%s %s: %s",
			              doors[d].name, named[i].typed, s.why.text);
			ck_assert_msg(got == named[i].nm, "%s %s: %lld", doors[d].name,
			              named[i].typed, (long long)got);
		}
	shelf_close(&s);
}
END_TEST

START_TEST(test_bare)
{
	for (size_t u = 0; u < UNITS; u++) {
		struct shelf s;
		open_runs(&s, bare[u].unit);
		for (size_t d = 0; d < DOORS; d++) {
			level_nm got = -1;
			ck_assert_msg(doors[d].door(&s, "2", &got), "%s: %s", doors[d].name,
			              s.why.text);
			ck_assert_msg(got == (doors[d].distance ? bare[u].distance : bare[u].bare),
			              "%s, unit %d: %lld", doors[d].name, (int)bare[u].unit,
			              (long long)got);
		}
		shelf_close(&s);
	}
}
END_TEST

START_TEST(test_wrong)
{
	static const char *const wrong[] = {"2 kg", "2 deg", "2 yd", "2 %", "3/4 ft", "2 m 3"};
	for (size_t u = 0; u < UNITS; u += UNITS - 1) {
		struct shelf s;
		open_runs(&s, bare[u].unit);
		for (size_t d = 0; d < DOORS; d++)
			for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
				level_nm got;
				s.why = (struct fault){0};
				ck_assert_msg(!doors[d].door(&s, wrong[i], &got), "%s took %s",
				              doors[d].name, wrong[i]);
				ck_assert_msg(s.why.kind == FAULT_INPUT, "%s %s: %s", doors[d].name,
				              wrong[i], s.why.text);
			}
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("units", test_named, test_bare, test_wrong);
}
