/* The air during a crossing, and the k that follows from it. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

static bool number(const char *text, double least, double most, const char *what, double *value,
                   struct fault *why)
{
	char *end = NULL;
	bool digits = *text && text[strspn(text, "0123456789.+-")] == '\0';
	*value = digits ? strtod(text, &end) : 0;
	return (digits && !*end && *value >= least && *value <= most) ||
	       fault_say(why, FAULT_INPUT, "%s is a number from %g to %g, not \"%.20s\"", what,
	                 least, most, text);
}

static bool height(const char *text, enum level_unit unit, double *value, struct fault *why)
{
	level_nm length;
	if (!level_parse_length(text, unit, &length, why))
		return false;
	*value = level_to_meters(length);
	return true;
}

/* k where pressure and both thermometers are there; half of a gradient is refused. */
static bool reckon(struct book_air *air, struct fault *why)
{
	struct level_air physical = {.thermometer_u = LEVEL_THERMOMETER_U};
	int given = (*air->pressure != 0) + (*air->low != 0) + (*air->high != 0);
	air->has_k = given == 3;
	if ((*air->low != 0) != (*air->low_height != 0) ||
	    (*air->high != 0) != (*air->high_height != 0))
		return fault_say(why, FAULT_INPUT,
		                 "each thermometer has a temperature and a height");
	if ((*air->pressure &&
	     !number(air->pressure, 300, 1100, "air pressure in hPa", &physical.pressure, why)) ||
	    (*air->low &&
	     (!number(air->low, -90, 60, "a temperature in degrees C", &physical.celsius[0], why) ||
	      !height(air->low_height, air->unit, &physical.height[0], why))) ||
	    (*air->high && (!number(air->high, -90, 60, "a temperature in degrees C",
	                            &physical.celsius[1], why) ||
	                    !height(air->high_height, air->unit, &physical.height[1], why))))
		return false;
	if (!air->has_k)
		return true;
	if (!level_air_check(&physical, why))
		return false;
	level_air_k(&physical, &air->k, &air->u);
	return true;
}

static bool is_sound(struct book_air *air, struct fault *why)
{
	double ignored;
	return level_check_text(air->pressure, 20, "air pressure", why) &&
	       level_check_text(air->low, 20, "temperature", why) &&
	       level_check_text(air->high, 20, "temperature", why) &&
	       level_check_text(air->low_height, BOOK_TYPED_CHARS, "height", why) &&
	       level_check_text(air->high_height, BOOK_TYPED_CHARS, "height", why) &&
	       level_check_text(air->water, 20, "water temperature", why) &&
	       level_check_text(air->wind, 60, "wind", why) &&
	       level_check_text(air->sky, 60, "sky", why) &&
	       level_check_text(air->time, BOOK_TIME_BYTES - 1, "time", why) &&
	       level_check_text(air->struck, BOOK_TIME_BYTES, "time of striking", why) &&
	       level_check_text(air->why, LEVEL_REMARK_CHARS, "reason", why) &&
	       (!*air->water || number(air->water, -10, 60, "the water's temperature in degrees C",
	                               &ignored, why)) &&
	       reckon(air, why);
}

static bool read_air(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_air *air = item;
	char unit[8];
	air->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, unit, sizeof unit);
	level_unit_find(unit, &air->unit);
	sql_text(statement, 2, air->pressure, sizeof air->pressure);
	sql_text(statement, 3, air->low, sizeof air->low);
	sql_text(statement, 4, air->low_height, sizeof air->low_height);
	sql_text(statement, 5, air->high, sizeof air->high);
	sql_text(statement, 6, air->high_height, sizeof air->high_height);
	sql_text(statement, 7, air->water, sizeof air->water);
	sql_text(statement, 8, air->wind, sizeof air->wind);
	sql_text(statement, 9, air->sky, sizeof air->sky);
	sql_text(statement, 10, air->time, sizeof air->time);
	sql_text(statement, 11, air->struck, sizeof air->struck);
	sql_text(statement, 12, air->why, sizeof air->why);
	return is_sound(air, why) || book_spoiled(book, why);
}

bool book_airs(struct book *book, int64_t run, struct book_air **list, size_t *count,
               struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT id, unit, pressure, low, low_height, high, high_height, "
	                          "water, wind, sky, time, struck, why FROM air WHERE run=?1 ORDER "
	                          "BY id",
	                          "i", run),
	                sizeof **list, read_air, (void **)list, count, why);
}

static bool add(struct book *book, int64_t run, const struct book_air *a, struct fault *why)
{
	return check_open(book, run, why) &&
	       sql_run(book, why,
	               "INSERT INTO air(run, unit, pressure, low, low_height, high, high_height, "
	               "water, wind, sky, time) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, "
	               "?11)",
	               "iuttttttttt", run, (int)a->unit, a->pressure, a->low, a->low_height,
	               a->high, a->high_height, a->water, a->wind, a->sky,
	               *a->time ? a->time : book->now) &&
	       journal_enter_numbered(book, "air", run, "air", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

bool book_air_add(struct book *book, int64_t run, const struct book_air *air, struct fault *why)
{
	struct book_air fresh = *air;
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	fresh.unit = settings.style.unit;
	if (!is_sound(&fresh, why))
		return false;
	if (!*fresh.pressure && !*fresh.low && !*fresh.high && !*fresh.water && !*fresh.wind &&
	    !*fresh.sky)
		return fault_say(why, FAULT_INPUT, "nothing of the air is given");
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add(book, run, &fresh, why), why);
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

/* Mean k of the bookings. The same thermometers hang through all of them: their uncertainty is that
 * of one, with the mean's own spread beside it. */
static void mean_k(const struct book_air *list, size_t count, int *n, double *k, double *u)
{
	double sum = 0, squares = 0;
	*n = 0;
	*u = 0;
	for (size_t i = 0; i < count; i++)
		if (list[i].has_k && !*list[i].struck) {
			sum += list[i].k;
			*u = fmax(*u, list[i].u);
			++*n;
		}
	*k = *n ? sum / *n : 0;
	for (size_t i = 0; i < count; i++)
		if (list[i].has_k && !*list[i].struck)
			squares += (list[i].k - *k) * (list[i].k - *k);
	if (*n > 1)
		*u = sqrt(*u * *u + squares / (*n - 1) / *n);
}

bool figures_take_k(struct book_figures *figures, double k, double u, const char *source,
                    struct fault *why)
{
	char text[BOOK_VALUE_BYTES];
	double old_k, old_dk, dk = level_air_dk(u);
	book_figure(figures, "k", text);
	old_k = strtod(text, NULL);
	book_figure(figures, "dk", text);
	old_dk = strtod(text, NULL);
	/* Thermometers that tell less than is known without them change nothing, unless they refute
	 * it. */
	if (dk >= old_dk && fabs(k - old_k) - 2 * u <= old_dk) {
		snprintf(text, sizeof text,
		         "%.4f by the air, +- %.4f: no better than what is "
		         "known without it",
		         k, dk);
		return book_figure_put(figures, "k_air", text, why);
	}
	snprintf(text, sizeof text, "%.4f", k);
	if (!book_figure_put(figures, "k", text, why))
		return false;
	snprintf(text, sizeof text, "%.4f", dk);
	return book_figure_put(figures, "dk", text, why) &&
	       book_figure_put(figures, "dk_source", source, why) &&
	       book_figure_put(figures, "k_source", source, why);
}

bool figures_take_air(struct book *book, int64_t run, struct book_figures *figures,
                      struct fault *why)
{
	struct book_air *list;
	char source[60];
	size_t count;
	double k, u;
	int n;
	if (!book_airs(book, run, &list, &count, why))
		return false;
	mean_k(list, count, &n, &k, &u);
	free(list);
	snprintf(source, sizeof source, "the air, booked %d time%s", n, n == 1 ? "" : "s");
	return n == 0 || figures_take_k(figures, k, u, source, why);
}
