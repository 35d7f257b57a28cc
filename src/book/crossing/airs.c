/* The air during a crossing, and the k that follows from it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* A quantity where it was read, else NAN. */
static bool take(const char *text, enum level_quantity quantity, double *value, struct fault *why)
{
	return !*text || level_parse_quantity(text, quantity, 0, value, why);
}

/* Of what has no height: one behind it belongs to a thermometer in the air, or to the wind. */
static bool has_no_height(const char *text, const char *what, const char *field, struct fault *why)
{
	char value[60], height[60];
	if (!level_split_at(text, value, height, sizeof value))
		return true;
	fault_say(why, FAULT_INPUT,
	          "%s has no height: does \"%.40s\" belong to a thermometer, low, high or above "
	          "the water, or to the wind?",
	          what, text);
	return fault_at(why, field);
}

static bool take_height(const char *text, enum level_unit unit, double *value, struct fault *why)
{
	level_nm length;
	if (!*text)
		return true;
	if (!level_parse_length(text, unit, &length, why))
		return false;
	*value = level_to_meters(length);
	return true;
}

/* The texts as figures; those of an air that cannot be are refused. */
static bool reckon(struct book_air *air, struct fault *why)
{
	struct level_air_reading *r = &air->reading;
	const struct {
		const char *text, *field;
		enum level_quantity quantity;
		double *value;
	} quantities[] = {
	    {air->pressure, "pressure", LEVEL_PRESSURE, &r->pressure},
	    {air->low, "low", LEVEL_TEMPERATURE, &r->low},
	    {air->high, "high", LEVEL_TEMPERATURE, &r->high},
	    {air->water, "water", LEVEL_TEMPERATURE, &r->water},
	    {air->at, "at", LEVEL_TEMPERATURE, &r->at},
	    {air->wind_speed, "wind", LEVEL_SPEED, &r->wind},
	};
	const struct {
		const char *text, *field;
		double *value;
	} heights[] = {{air->low_height, "low", &r->low_height},
	               {air->high_height, "high", &r->high_height},
	               {air->at_height, "at", &r->at_height},
	               {air->wind_height, "wind", &r->wind_height}};
	*r = level_air_nothing();
	if (!has_no_height(air->pressure, "the pressure", "pressure", why) ||
	    !has_no_height(air->water, "the water's surface", "water", why))
		return false;
	for (size_t i = 0; i < sizeof quantities / sizeof *quantities; i++)
		if (!take(quantities[i].text, quantities[i].quantity, quantities[i].value, why))
			return fault_at(why, quantities[i].field);
	for (size_t i = 0; i < sizeof heights / sizeof *heights; i++)
		if (!take_height(heights[i].text, air->unit, heights[i].value, why))
			return fault_at(why, heights[i].field);
	if (*air->wind_from && !level_wind_from_find(air->wind_from, &r->from, why))
		return fault_at(why, "wind_from");
	return level_air_reading_check(r, why);
}

static bool is_clean(const struct book_air *air, struct fault *why)
{
	const struct {
		const char *text, *what, *field;
		size_t most;
	} texts[] = {{air->pressure, "air pressure", "pressure", 20},
	             {air->low, "temperature", "low", 20},
	             {air->high, "temperature", "high", 20},
	             {air->at, "temperature", "at", 20},
	             {air->low_height, "height", "low", BOOK_TYPED_CHARS},
	             {air->high_height, "height", "high", BOOK_TYPED_CHARS},
	             {air->at_height, "height", "at", BOOK_TYPED_CHARS},
	             {air->wind_height, "height", "wind", BOOK_TYPED_CHARS},
	             {air->water, "water temperature", "water", 20},
	             {air->wind, "wind", "wind", 60},
	             {air->wind_speed, "wind", "wind", 20},
	             {air->sky, "sky", "sky", 60},
	             {air->time, "time", "time", BOOK_TIME_BYTES - 1},
	             {air->booked, "time of booking", "booked", BOOK_TIME_BYTES},
	             {air->struck, "time of striking", "struck", BOOK_TIME_BYTES},
	             {air->why, "reason", "why", LEVEL_REMARK_CHARS}};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		if (!level_check_text(texts[i].text, texts[i].most, texts[i].what, why))
			return fault_at(why, texts[i].field);
	return true;
}

static bool read_air(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_air *air = item;
	const struct {
		char *text;
		size_t size;
	} texts[] = {
	    {air->pressure, sizeof air->pressure},
	    {air->low, sizeof air->low},
	    {air->low_height, sizeof air->low_height},
	    {air->high, sizeof air->high},
	    {air->high_height, sizeof air->high_height},
	    {air->water, sizeof air->water},
	    {air->wind, sizeof air->wind},
	    {air->sky, sizeof air->sky},
	    {air->at, sizeof air->at},
	    {air->at_height, sizeof air->at_height},
	    {air->wind_speed, sizeof air->wind_speed},
	    {air->wind_height, sizeof air->wind_height},
	    {air->wind_from, sizeof air->wind_from},
	    {air->time, sizeof air->time},
	    {air->struck, sizeof air->struck},
	    {air->why, sizeof air->why},
	    {air->booked, sizeof air->booked},
	};
	char unit[8];
	air->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, unit, sizeof unit);
	level_unit_find(unit, &air->unit);
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		sql_text(statement, (int)i + 2, texts[i].text, texts[i].size);
	if (!is_clean(air, why))
		return book_spoiled(book, why);
	/* Older versions took air that serves no k: it stays legible. */
	if (!reckon(air, NULL))
		air->reading = level_air_nothing();
	return true;
}

#define COLUMNS                                                                                    \
	"id, unit, pressure, low, low_height, high, high_height, water, wind, sky, at, "           \
	"at_height, wind_speed, wind_height, wind_from, time, struck, why, booked"

bool book_airs(struct book *book, int64_t run, struct book_air **list, size_t *count,
               struct fault *why)
{
	struct book_settings settings;
	if (!book_settings(book, &settings, why) ||
	    !sql_list(book,
	              sql_query(book, why, "SELECT " COLUMNS " FROM air WHERE run=?1 ORDER BY id",
	                        "i", run),
	              sizeof **list, read_air, (void **)list, count, why))
		return false;
	for (size_t i = 0; i < *count; i++) {
		(*list)[i].reading.thermometer_u = settings.thermometer_u;
		(*list)[i].reading.place = settings.place;
	}
	return true;
}

bool air_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_air ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM air WHERE id=?1", "i", id),
	                 read_air, &ignored, why);
}

static bool add(struct book *book, int64_t run, const struct book_air *a, struct fault *why)
{
	struct book_air timed = *a;
	return check_open(book, run, why) && observed_at(book, timed.time, timed.booked, why) &&
	       sql_run(book, why,
	               "INSERT INTO air(run, unit, pressure, low, low_height, high, high_height, "
	               "water, wind, sky, at, at_height, wind_speed, wind_height, wind_from, time, "
	               "booked) "
	               "VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, "
	               "?16, ?17)",
	               "iuttttttttttttttt", run, (int)a->unit, a->pressure, a->low, a->low_height,
	               a->high, a->high_height, a->water, a->wind, a->sky, a->at, a->at_height,
	               a->wind_speed, a->wind_height, a->wind_from, timed.time, timed.booked) &&
	       journal_enter_numbered(book, "air", run, "air", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

/* Bare numbers keep the meaning that they have today. */
static void carry(char text[24], enum level_quantity quantity, const struct level_air_units *units)
{
	char out[24];
	level_carry_quantity(out, sizeof out, text, quantity, units->of[quantity]);
	strcpy(text, out);
}

/* The air as it is kept, with the units that bare numbers have today; one that cannot be is
 * refused. */
static bool take_air(struct book *book, const struct book_air *air, struct book_air *fresh,
                     struct fault *why)
{
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	*fresh = *air;
	fresh->unit = settings.style.unit;
	carry(fresh->pressure, LEVEL_PRESSURE, &settings.units);
	carry(fresh->low, LEVEL_TEMPERATURE, &settings.units);
	carry(fresh->high, LEVEL_TEMPERATURE, &settings.units);
	carry(fresh->water, LEVEL_TEMPERATURE, &settings.units);
	carry(fresh->at, LEVEL_TEMPERATURE, &settings.units);
	carry(fresh->wind_speed, LEVEL_SPEED, &settings.units);
	/* The sky is words: a figure with a height there is one that no k would ever come from. */
	if (!is_clean(fresh, why) || !reckon(fresh, why) ||
	    (strspn(fresh->sky, "+-.0123456789") &&
	     !has_no_height(fresh->sky, "the sky", "sky", why)))
		return false;
	if (*fresh->wind_from && !*fresh->low && !*fresh->high && !*fresh->at &&
	    !*fresh->wind_speed) {
		fault_say(why, FAULT_INPUT,
		          "where the wind comes from goes with thermometers or the wind: give them "
		          "too, or change the air that has them");
		return fault_at(why, "wind_from");
	}
	return *fresh->pressure || *fresh->low || *fresh->high || *fresh->water || *fresh->at ||
	       *fresh->wind_speed || *fresh->wind_from || *fresh->sky ||
	       fault_say(why, FAULT_INPUT, "nothing of the air is given");
}

bool book_air_add(struct book *book, int64_t run, const struct book_air *air, struct fault *why)
{
	struct book_air fresh;
	return take_air(book, air, &fresh, why) && txn_begin(book, why) &&
	       txn_end(book, add(book, run, &fresh, why), why);
}

bool book_air_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                     struct fault *why)
{
	if (!*reason)
		return fault_say(why, FAULT_INPUT, "the air is struck for a reason: say why");
	if (!level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why) || !txn_begin(book, why))
		return false;
	return txn_end(book,
	               check_open(book, run, why) &&
	                   row_strike(book, "strike air", "air", run, id, reason, 0, why),
	               why);
}

static bool is_live(struct book *book, int64_t run, int64_t id, struct fault *why)
{
	bool ok = true, live;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT 1 FROM air WHERE id=?1 AND run=?2 AND struck IS NULL",
	              "ii", id, run);
	if (!statement)
		return false;
	live = sql_row(book, statement, &ok, why);
	return sql_done(book, statement, ok, why) &&
	       (live ||
	        fault_say(why, FAULT_INPUT,
	                  "that air was struck, or belongs to another run: book a new one"));
}

/* Once the figures are sealed a change is held against them: it has a reason. */
static bool has_reason(struct book *book, int64_t run, const char *reason, struct fault *why)
{
	bool sealed = false;
	if (*reason)
		return true;
	if (!is_sealed(book, run, &sealed, why))
		return false;
	if (!sealed)
		return true;
	fault_say(why, FAULT_INPUT, "the run is sealed: its air is changed for a reason: say why");
	return fault_at(why, "reason");
}

bool book_air_change(struct book *book, int64_t run, int64_t id, const struct book_air *air,
                     const char *reason, struct fault *why)
{
	struct book_air fresh;
	return take_air(book, air, &fresh, why) &&
	       level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why) &&
	       txn_begin(book, why) &&
	       txn_end(book,
	               check_open(book, run, why) && is_live(book, run, id, why) &&
	                   has_reason(book, run, reason, why) &&
	                   row_strike(book, "strike air", "air", run, id,
	                              *reason ? reason : "changed", 0, why) &&
	                   add(book, run, &fresh, why),
	               why);
}

/* A bare number of the book means the first unit; where today's is another one, it says so. */
static void say_unit(char text[24], enum level_quantity quantity,
                     const struct level_air_units *today)
{
	char carried[24];
	level_carry_quantity(carried, sizeof carried, text, quantity, today->of[quantity]);
	if (strcmp(carried, text) != 0)
		snprintf(carried, sizeof carried, "%.18s %s", text,
		         level_quantity_unit(quantity, 0));
	strcpy(text, carried);
}

struct book_air book_air_typed(const struct book_air *air, const struct book_settings *settings)
{
	struct book_air out = *air;
	char *const heights[] = {out.low_height, out.high_height, out.at_height, out.wind_height};
	say_unit(out.pressure, LEVEL_PRESSURE, &settings->units);
	say_unit(out.low, LEVEL_TEMPERATURE, &settings->units);
	say_unit(out.high, LEVEL_TEMPERATURE, &settings->units);
	say_unit(out.water, LEVEL_TEMPERATURE, &settings->units);
	say_unit(out.at, LEVEL_TEMPERATURE, &settings->units);
	say_unit(out.wind_speed, LEVEL_SPEED, &settings->units);
	for (size_t i = 0; i < sizeof heights / sizeof *heights; i++) {
		char carried[BOOK_TYPED_BYTES];
		if (*heights[i])
			strcpy(heights[i], level_carry_text(carried, sizeof carried, heights[i],
			                                    air->unit, settings->style.unit));
	}
	return out;
}
