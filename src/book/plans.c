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
	book_default_figures(&defaults);
	return figures_are_sound(figures, why) &&
	       book_plan_of(&defaults, figures, &plan, &merged, why);
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

bool book_plans(struct book *book, struct book_plan **list, size_t *count, struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT id, name, figures, time FROM plan WHERE struck IS NULL "
	                          "ORDER BY id",
	                          ""),
	                sizeof **list, read_plan, (void **)list, count, why);
}

/* id 0 where there is none. */
static bool find(struct book *book, const char *name, struct book_plan *out, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why, "SELECT id, name, figures, time FROM plan WHERE name=?1 AND struck IS NULL",
	    "t", name);
	*out = (struct book_plan){0};
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		ok = read_plan(book, statement, out, why);
	sql_done(statement);
	return ok;
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
	sql_done(statement);
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
	    !txn_begin(book, why))
		return false;
	return txn_end(book, set(book, name, figures, why), why);
}

/* A length of the plan in m; *has says whether it is there. */
static bool length_of(const struct book_figures *figures, const char *name, bool *has,
                      double *value, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	level_nm length;
	*has = book_figure(figures, name, text);
	if (!*has)
		return true;
	if (!level_parse_length(text, LEVEL_M, &length, why))
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

static bool take_plan_air(struct book_figures *figures, struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	struct level_air air;
	double k, u;
	if (!book_figure(figures, "air", text))
		return true;
	if (!level_air_parse(text, &air, why))
		return false;
	level_air_k(&air, &k, &u);
	return figures_take_k(figures, k, u, "the plan's air", why);
}

/* How far a default k may be off goes by how low the line runs. */
static bool take_height(const struct book_figures *plan, struct book_figures *merged,
                        struct fault *why)
{
	char source[BOOK_VALUE_BYTES], text[BOOK_VALUE_BYTES];
	double hi = 0;
	bool has_hi;
	book_figure(merged, "dk_source", source);
	if (book_figure(plan, "dk", text) || strcmp(source, "a default") != 0)
		return true;
	if (!length_of(plan, "hi", &has_hi, &hi, why))
		return false;
	snprintf(text, sizeof text, "%g",
	         has_hi && hi >= LEVEL_CLEARANCE_CALM ? LEVEL_DK_HIGH : LEVEL_DK_LOW);
	return book_figure_put(merged, "dk", text, why);
}

bool figures_take_plan(struct book_figures *merged, const struct book_figures *plan,
                       struct fault *why)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	if (!take_height(plan, merged, why))
		return false;
	for (size_t i = 0; book_figure_at(plan, i, name, value); i++)
		if (!book_figure_put(merged, name, value, why))
			return false;
	if (book_figure(plan, "k", value) && !book_figure_put(merged, "k_source", "the plan", why))
		return false;
	if (book_figure(plan, "dk", value) &&
	    !book_figure_put(merged, "dk_source", "the plan", why))
		return false;
	if (book_figure(plan, "instrument", value) &&
	    !book_figure_put(merged, "instrument_source", "a maker's word", why))
		return false;
	return take_direction(merged, why) && take_plan_air(merged, why);
}

bool book_plan_of(const struct book_figures *settings, const struct book_figures *figures,
                  struct level_plan *out, struct book_figures *merged, struct fault *why)
{
	bool has;
	*merged = *settings;
	*out = (struct level_plan){0};
	if (!figures_take_plan(merged, figures, why) ||
	    !book_terms_of(merged, NULL, &out->terms, why) ||
	    !length_of(figures, "distance", &has, &out->distance, why) ||
	    !length_of(figures, "near", &has, &out->near, why) ||
	    !length_of(figures, "hi", &out->has_hi, &out->hi, why) ||
	    !length_of(figures, "target", &out->has_target, &out->target, why) ||
	    !method_of(figures, "near_method", &out->near_method, why) ||
	    !method_of(figures, "far_method", &out->far_method, why))
		return false;
	return true;
}
