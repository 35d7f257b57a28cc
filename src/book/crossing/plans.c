/* Plans of long sights, kept by name. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* Whether figures are clean, and make a plan. */
static bool plan_is_sound(const struct book_figures *figures, struct fault *why)
{
	struct book_figures defaults, merged;
	struct level_plan plan;
	struct book_figures unnamed = *figures;
	book_default_figures(&defaults);
	/* Which levels there are, the book knows. */
	return book_figure_put(&unnamed, "level", "", why) && figures_are_sound(figures, why) &&
	       book_plan_of(&defaults, 0, &unnamed, &plan, &merged, why);
}

static bool read_plan(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_plan *plan = item;
	plan->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, plan->name, sizeof plan->name);
	sql_text(statement, 2, plan->figures.text, sizeof plan->figures.text);
	sql_text(statement, 3, plan->time, sizeof plan->time);
	return (level_check_name(plan->name, "plan", why) &&
	        level_check_text(plan->time, BOOK_TIME_BYTES, "time of a plan", why) &&
	        plan_is_sound(&plan->figures, why)) ||
	       book_spoiled(book, why);
}

#define COLUMNS "id, name, figures, time"

bool book_plans(struct book *book, struct book_plan **list, size_t *count, struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT " COLUMNS " FROM plan WHERE struck IS NULL ORDER BY id",
	                          ""),
	                sizeof **list, read_plan, (void **)list, count, why);
}

bool plan_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_plan ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM plan WHERE id=?1", "i", id),
	                 read_plan, &ignored, why);
}

/* id 0 where there is none. */
static bool find(struct book *book, const char *name, struct book_plan *out, struct fault *why)
{
	bool found;
	*out = (struct book_plan){0};
	return sql_one(book,
	               sql_query(book, why,
	                         "SELECT " COLUMNS " FROM plan WHERE name=?1 AND struck IS NULL",
	                         "t", name),
	               read_plan, out, &found, why);
}

bool book_plan_find(struct book *book, const char *name, struct book_plan *out, struct fault *why)
{
	if (!find(book, name, out, why))
		return false;
	return out->id || fault_say(why, FAULT_INPUT, "there is no plan %.160s in this book", name);
}

/* A run that goes by a plan must not change under it. */
static bool is_free(struct book *book, const char *name, struct fault *why)
{
	char run[LEVEL_NAME_BYTES] = "";
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why, "SELECT name FROM run WHERE plan=?1 ORDER BY id LIMIT 1", "t", name);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		sql_text(statement, 0, run, sizeof run);
	ok = sql_done(book, statement, ok, why);
	return ok &&
	       (!*run || fault_say(why, FAULT_INPUT,
	                           "the run %.100s goes by the plan %.100s: keep this one under "
	                           "another name",
	                           run, name));
}

static bool set(struct book *book, const char *name, const struct book_figures *figures,
                struct fault *why)
{
	return is_free(book, name, why) && named_retire(book, "plan", name, why) &&
	       sql_run(book, why, "INSERT INTO plan(name, figures, time) VALUES(?1, ?2, ?3)", "ttt",
	               name, figures->text, book->now) &&
	       journal_enter_numbered(book, "plan", 0, "plan", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

bool book_plan_set(struct book *book, const char *name, const struct book_figures *figures,
                   struct fault *why)
{
	if (!level_check_name(name, "plan", why) || !plan_is_sound(figures, why) ||
	    !book_plan_check(figures, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, set(book, name, figures, why), why);
}

/* A length of the plan in m; *has says whether it is there. */
static bool length_of(const struct book_figures *figures, const char *name, bool *has,
                      double *value, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	level_nm length = 0;
	bool is_distance = strcmp(name, "distance") == 0 || strcmp(name, "near") == 0;
	*has = book_figure(figures, name, text);
	if (!*has)
		return true;
	if (!(is_distance ? level_parse_distance : level_parse_length)(text, LEVEL_M, &length, why))
		return false;
	*value = level_to_meters(length);
	return true;
}

static bool method_of(const struct book_figures *figures, const char *name,
                      enum level_method *method, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	*method = LEVEL_ROD;
	if (!book_figure(figures, name, text))
		return true;
	return level_method_find(text, method) ||
	       fault_say(why, FAULT_INPUT, "a method is rod, tape or target, not \"%.40s\"", text);
}

static bool angle_of(const char *text, double most, const char *what, double *value,
                     struct fault *why)
{
	char *end;
	*value = strtod(text, &end);
	return (*text && !*end && fabs(*value) <= most) ||
	       fault_say(why, FAULT_INPUT, "%s is a number of degrees from -%g to %g", what, most,
	                 most);
}

/* The radius in the direction of the sight, where latitude and azimuth are given. */
static bool take_direction(struct book_figures *figures, struct fault *why)
{
	char latitude[BOOK_VALUE_BYTES], azimuth[BOOK_VALUE_BYTES], radius[60];
	double phi, alpha;
	bool has_latitude = book_figure(figures, "latitude", latitude);
	bool has_azimuth = book_figure(figures, "azimuth", azimuth);
	if (!has_latitude && !has_azimuth)
		return true;
	if (!has_latitude || !has_azimuth)
		return fault_say(why, FAULT_INPUT,
		                 "latitude and azimuth come together: the radius hangs on both");
	if (!angle_of(latitude, 90, "latitude", &phi, why) ||
	    !angle_of(azimuth, 360, "azimuth", &alpha, why))
		return false;
	snprintf(radius, sizeof radius, "%.3f m", level_earth_radius(phi, alpha));
	return book_figure_put(figures, "radius", radius, why);
}

/* A temperature or a wind with its height, "15.2 C@1 m". */
static bool take_at(const struct book_figures *figures, const char *name,
                    enum level_quantity quantity, double *value, double *height, struct fault *why)
{
	char text[BOOK_VALUE_BYTES], part[60], length[60];
	level_nm nm;
	if (!book_figure(figures, name, text))
		return true;
	if (!level_split_at(text, part, length, sizeof part))
		return fault_say(why, FAULT_INPUT,
		                 "%s is written value@height, as in %s, not \"%.40s\"", name,
		                 quantity == LEVEL_SPEED ? "3 m/s@2 m" : "15.2 C@1 m", text);
	if (!level_parse_quantity(part, quantity, 0, value, why) ||
	    !level_parse_length(length, LEVEL_M, &nm, why))
		return false;
	*height = level_to_meters(nm);
	return true;
}

bool figures_air(const struct book_figures *figures, bool strict, struct level_air_reading *air,
                 struct fault *why)
{
	static const struct level_air_units units;
	char text[BOOK_VALUE_BYTES];
	*air = level_air_nothing();
	if (book_figure(figures, "air", text) &&
	    !level_air_parse(text, &units, LEVEL_M, air, why)) {
		if (strict)
			return false;
		*air = level_air_nothing();
	}
	if ((book_figure(figures, "pressure", text) &&
	     !level_parse_quantity(text, LEVEL_PRESSURE, 0, &air->pressure, why)) ||
	    !take_at(figures, "low", LEVEL_TEMPERATURE, &air->low, &air->low_height, why) ||
	    !take_at(figures, "high", LEVEL_TEMPERATURE, &air->high, &air->high_height, why) ||
	    (book_figure(figures, "water_temperature", text) &&
	     !level_parse_quantity(text, LEVEL_TEMPERATURE, 0, &air->water, why)) ||
	    !take_at(figures, "at", LEVEL_TEMPERATURE, &air->at, &air->at_height, why) ||
	    !take_at(figures, "wind", LEVEL_SPEED, &air->wind, &air->wind_height, why))
		return false;
	if (book_figure(figures, "wind_from", text) && !level_wind_from_find(text, &air->from, why))
		return false;
	return !strict || level_air_reading_check(air, why);
}

bool figures_measuring(const struct book_figures *figures, struct level_air_reading *air,
                       struct fault *why)
{
	static const char *const names[] = {"thermometer_u", "place"};
	struct book_settings measuring = {0};
	for (int i = 0; i < 2; i++) {
		size_t setting = setting_find(names[i]);
		char text[BOOK_VALUE_BYTES];
		book_figure(figures, names[i], text);
		if (!setting_apply(&measuring, setting, *text ? text : setting_default(setting),
		                   why))
			return false;
	}
	air->thermometer_u = measuring.thermometer_u;
	air->place = measuring.place;
	return true;
}

bool figures_take_plan(struct book_figures *merged, const struct book_figures *plan,
                       struct fault *why)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	static const char *const sides[] = {"dk_low", "dk_high"};
	bool has_k = false;
	/* dk of a plan is both sides, whatever the settings say of one. */
	if (book_figure(plan, "dk", value))
		for (int i = 0; i < 2; i++)
			if (!book_figure_put(merged, sides[i], "", why))
				return false;
	for (size_t i = 0; book_figure_at(plan, i, name, value); i++) {
		has_k = has_k || strcmp(name, "k") == 0 || strncmp(name, "dk", 2) == 0;
		if (!book_figure_put(merged, name, value, why))
			return false;
	}
	if (has_k && !book_figure_put(merged, "k_source", level_k_source_name(LEVEL_K_PLAN), why))
		return false;
	if (book_figure(plan, "instrument", value) &&
	    !book_figure_put(merged, "instrument_source", "a maker's word", why))
		return false;
	return take_direction(merged, why);
}

static bool way_of(const struct book_figures *figures, enum level_distance_way *way,
                   struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	*way = LEVEL_STEPPED;
	return !book_figure(figures, "distance_by", text) || level_distance_way_find(text, way) ||
	       fault_say(why, FAULT_INPUT,
	                 "a distance is got by tape, wires, map or step, not \"%.40s\"", text);
}

/* Readings of the water at each end: ten where nobody said. */
static bool waters_of(const struct book_figures *figures, int *count, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	*count = 10;
	if (!book_figure(figures, "water_readings", text))
		return true;
	*count = atoi(text);
	return (*count >= 1 && *count <= 1000 && text[strspn(text, "0123456789")] == '\0') ||
	       fault_say(why, FAULT_INPUT, "the water is read from 1 to 1000 times at each end");
}

static bool over_of(const struct book_figures *figures, enum level_over *over, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	*over = LEVEL_OVER_WATER;
	if (!book_figure(figures, "over", text) || strcmp(text, "water") == 0)
		return true;
	*over = LEVEL_OVER_LAND;
	return strcmp(text, "land") == 0 ||
	       fault_say(why, FAULT_INPUT, "a sight runs over water or over land, not \"%.40s\"",
	                 text);
}

bool book_plan_check(const struct book_figures *figures, struct fault *why)
{
	struct level_air_reading ignored;
	return figures_air(figures, true, &ignored, why);
}

/* k of the plan: by its air where that gives one at its distance. */
static bool plan_k(struct book_figures *merged, struct level_plan *out, struct fault *why)
{
	struct book_figures open = *merged;
	struct level_sightline line = {out->has_hi ? out->hi : (double)NAN, out->distance,
	                               out->terms.radius};
	struct level_k_found found = level_k_find(&out->air, &line, out->over);
	enum level_k_source set = figures_k_source(&open);
	if (!figures_take_k(&open, &found, merged, why) ||
	    !book_terms_of(merged, NULL, &out->terms, why))
		return false;
	out->k_source = figures_k_source(merged);
	out->by_air = out->k_source != set || set == LEVEL_K_DEFAULT;
	if (!found.has && set == LEVEL_K_DEFAULT)
		out->terms.no_k = true;
	return true;
}

/* The level that the plan names, with its test, in place of the unnamed one. */
static bool take_level(const struct book_figures *merged, struct level_terms *terms,
                       struct fault *why)
{
	struct book_run run = {.instruments = 2};
	struct level_terms named;
	char name[BOOK_VALUE_BYTES], figure[BOOK_VALUE_BYTES + 20], ignored[BOOK_VALUE_BYTES];
	if (!book_figure(merged, "level", name))
		return true;
	snprintf(figure, sizeof figure, "instrument %s", name);
	if (strlen(name) >= sizeof run.instrument[1] || !book_figure(merged, figure, ignored))
		return fault_say(why, FAULT_INPUT, "there is no instrument %.160s in this book",
		                 name);
	strcpy(run.instrument[1], name);
	if (!book_terms_of(merged, &run, &named, why))
		return false;
	terms->instrument[0] = named.instrument[1];
	return true;
}

bool book_plan_of(const struct book_figures *settings, level_nm rod,
                  const struct book_figures *figures, struct level_plan *out,
                  struct book_figures *merged, struct fault *why)
{
	bool has, has_pole;
	*merged = *settings;
	*out = (struct level_plan){0};
	if (!figures_take_plan(merged, figures, why) ||
	    !book_terms_of(merged, NULL, &out->terms, why) ||
	    !length_of(figures, "distance", &has, &out->distance, why) ||
	    !length_of(figures, "near", &has, &out->near, why) ||
	    !length_of(figures, "hi", &out->has_hi, &out->hi, why) ||
	    !length_of(figures, "target", &out->has_target, &out->target, why) ||
	    !length_of(figures, "pole", &has_pole, &out->pole, why) ||
	    !method_of(figures, "near_method", &out->near_method, why) ||
	    !method_of(figures, "far_method", &out->far_method, why) ||
	    !way_of(figures, &out->distance_by, why) || !waters_of(figures, &out->waters, why) ||
	    !over_of(figures, &out->over, why) || !figures_air(figures, false, &out->air, why))
		return false;
	if (!figures_measuring(merged, &out->air, why))
		return false;
	if (!has_pole)
		out->pole = level_to_meters(rod);
	if (!plan_k(merged, out, why) || !take_level(merged, &out->terms, why))
		return false;
	if (out->air.wind > 0)
		out->terms.wind = out->air.wind;
	return true;
}
