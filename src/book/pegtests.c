/* Peg tests of the book's instruments. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/time.h"

struct level_style book_pegtest_style(const struct book_pegtest *test)
{
	struct level_style style = {.unit = test->unit, .distance = test->unit};
	level_unit_find(test->distance_unit, &style.distance);
	return style;
}

bool book_read_standings(const char *text, const struct level_style *bare,
                         struct level_standing out[LEVEL_STANDINGS_MOST], size_t *count,
                         struct fault *why)
{
	*count = 0;
	for (;;) {
		char one[300];
		size_t size = strcspn(text, ";");
		if (*count == LEVEL_STANDINGS_MOST || size >= sizeof one)
			return fault_say(why, FAULT_INPUT, "a peg test has at most %d standings",
			                 LEVEL_STANDINGS_MOST);
		memcpy(one, text, size);
		one[size] = '\0';
		if (!level_parse_standing(one, bare, &out[*count], why))
			return false;
		++*count;
		if (text[size] == '\0')
			return true;
		text += size + 1;
	}
}

/* Empty, or a number up to 20. */
static bool is_number(const char *text, double least, const char *what, struct fault *why)
{
	char *end;
	double value = strtod(text, &end);
	return !*text ||
	       (!*end && text[strspn(text, "0123456789.+-")] == '\0' && value >= least &&
	        value <= 20) ||
	       fault_say(why, FAULT_INPUT,
	                 "%s of a peg test is a number from %g to 20, not \"%.20s\"", what, least,
	                 text);
}

bool book_pegtest_way(const struct book_pegtest *test, struct level_peg_way *out, struct fault *why)
{
	out->k = *test->k ? strtod(test->k, NULL) : LEVEL_PEG_K;
	out->dk = *test->dk ? strtod(test->dk, NULL) : LEVEL_PEG_DK_SUN;
	out->method = test->method;
	return is_number(test->k, -20, "k", why) && is_number(test->dk, 0, "dk", why);
}

bool book_pegtest_sky(const char *sky, const char **dk, struct fault *why)
{
	static const struct {
		const char *word, *dk;
	} skies[] = {
	    {"sunny", "4"}, {"cloudy", "1"}, {"overcast", "1"}, {"shade", "1"}, {"water", "1"}};
	size_t size = strlen(sky);
	*dk = "";
	if (!size)
		return true;
	for (size_t i = 0; i < sizeof skies / sizeof *skies; i++)
		if (strncmp(skies[i].word, sky, size) == 0) {
			*dk = skies[i].dk;
			return true;
		}
	return fault_say(why, FAULT_INPUT,
	                 "a peg test is made in sun, under cloud, or over water: sun, cloud "
	                 "or water, not \"%.20s\"",
	                 sky);
}

static bool is_sound(const struct book_pegtest *test, struct fault *why)
{
	struct level_standing standings[LEVEL_STANDINGS_MOST];
	const struct level_style bare = book_pegtest_style(test);
	size_t count;
	double value;
	return level_check_name(test->instrument, "instrument", why) &&
	       level_check_text(test->standings, BOOK_FIGURES_BYTES / 4, "standings", why) &&
	       level_check_text(test->time, BOOK_TIME_BYTES, "time of a peg test", why) &&
	       level_check_text(test->booked, BOOK_TIME_BYTES, "time of booking", why) &&
	       book_read_standings(test->standings, &bare, standings, &count, why) &&
	       level_parse_tilt(test->tilt, &value, why) &&
	       level_parse_tilt(test->tilt_u, &value, why) && is_number(test->k, -20, "k", why) &&
	       is_number(test->dk, 0, "dk", why);
}

static bool read_test(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_pegtest *test = item;
	char unit[8], method[8];
	test->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, test->instrument, sizeof test->instrument);
	sql_text(statement, 2, unit, sizeof unit);
	level_unit_find(unit, &test->unit);
	sql_text(statement, 3, test->standings, sizeof test->standings);
	sql_text(statement, 4, test->tilt, sizeof test->tilt);
	sql_text(statement, 5, test->tilt_u, sizeof test->tilt_u);
	sql_text(statement, 6, test->time, sizeof test->time);
	sql_text(statement, 7, test->k, sizeof test->k);
	sql_text(statement, 8, test->dk, sizeof test->dk);
	sql_text(statement, 9, method, sizeof method);
	level_method_find(method, &test->method);
	sql_text(statement, 10, test->distance_unit, sizeof test->distance_unit);
	sql_text(statement, 11, test->booked, sizeof test->booked);
	return is_sound(test, why) || book_spoiled(book, why);
}

#define COLUMNS                                                                                    \
	"id, instrument, unit, standings, tilt, tilt_u, time, k, dk, method, distance_unit, "      \
	"booked"

bool book_pegtests(struct book *book, const char *instrument, struct book_pegtest **list,
                   size_t *count, struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " COLUMNS
	              " FROM pegtest WHERE instrument=coalesce(?1, instrument) ORDER BY id",
	              "t", instrument),
	    sizeof **list, read_test, (void **)list, count, why);
}

bool pegtest_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_pegtest ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT " COLUMNS " FROM pegtest WHERE id=?1", "i", id),
	    read_test, &ignored, why);
}

static bool insert(struct book *book, const struct book_pegtest *test, struct fault *why)
{
	return sql_run(book, why,
	               "INSERT INTO pegtest(id, instrument, unit, standings, tilt, tilt_u, k, dk, "
	               "method, time, distance_unit, booked) "
	               "VALUES((SELECT coalesce(max(id), 0) + 1 FROM pegtest), ?1, ?2, ?3, ?4, ?5, "
	               "?6, ?7, ?8, ?9, ?10, ?11)",
	               "tuttttttttt", test->instrument, (int)test->unit, test->standings,
	               test->tilt, test->tilt_u, test->k, test->dk, level_method_name(test->method),
	               test->time, test->distance_unit, test->booked) &&
	       journal_enter_numbered(book, "peg test", 0, "pegtest",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

/* The instrument with the tilt found; its tolerance stays. */
static bool apply(struct book *book, const struct book_pegtest *test, int sets, struct fault *why)
{
	struct book_instrument found = {0}, *list;
	struct book_setting setting;
	size_t count;
	if (!book_instruments(book, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].name, test->instrument) == 0)
			found = list[i];
	free(list);
	if (!*found.name) {
		strcpy(found.name, test->instrument);
		if (!book_setting(book, setting_find("instrument"), &setting, why))
			return false;
		snprintf(found.tolerance, sizeof found.tolerance, "%.60s", setting.value);
	}
	strcpy(found.tilt, test->tilt);
	strcpy(found.tilt_u, test->tilt_u);
	snprintf(found.remark, sizeof found.remark, "peg test of %.10s, %d set%s", test->time, sets,
	         sets == 1 ? "" : "s");
	return book_instrument_set(book, &found, why);
}

/* Whether no test of the instrument was made on a later day: one that is typed late does not take
 * the place of what was found after it. */
static bool is_latest(struct book *book, const struct book_pegtest *test, bool *out,
                      struct fault *why)
{
	struct book_pegtest *list;
	size_t count;
	if (!book_pegtests(book, test->instrument, &list, &count, why))
		return false;
	*out = true;
	for (size_t i = 0; i < count; i++)
		if (level_is_time(list[i].time) &&
		    level_day_number(list[i].time) > level_day_number(test->time))
			*out = false;
	free(list);
	return true;
}

/* A reading that no rod can give is a slip. */
static bool on_rod(const struct level_standing *list, size_t count,
                   const struct book_settings *settings, struct fault *why)
{
	for (size_t i = 0; i < count; i++)
		if (!check_on_rod(list[i].reading_a, settings, why) ||
		    !check_on_rod(list[i].reading_b, settings, why))
			return false;
	return true;
}

bool book_pegtest_add(struct book *book, const struct book_pegtest *given,
                      struct level_peg_result *out, struct fault *why)
{
	struct book_pegtest test = *given;
	struct book_settings settings;
	struct level_standing list[LEVEL_STANDINGS_MOST];
	struct level_peg_way way;
	size_t count;
	bool ok, latest;
	if (!book_settings(book, &settings, why) ||
	    !level_check_name(test.instrument, "instrument", why) ||
	    !book_pegtest_way(&test, &way, why))
		return false;
	test.unit = settings.style.unit;
	strcpy(test.distance_unit, settings.style.distance == test.unit
	                               ? ""
	                               : level_unit_name(settings.style.distance));
	if (!book_read_standings(test.standings, &settings.style, list, &count, why) ||
	    !on_rod(list, count, &settings, why) ||
	    !level_peg_test(list, count, &settings.terms, &way, out, why) ||
	    !level_peg_is_likely(out, why))
		return false;
	/* whole nanometers a meter */
	snprintf(test.tilt, sizeof test.tilt, "%+.6f mm/m", out->tilt * 1000);
	snprintf(test.tilt_u, sizeof test.tilt_u, "%.6f mm/m", out->u * 1000);
	if (strtod(test.tilt, NULL) == 0)
		strcpy(test.tilt, "0");
	if (strtod(test.tilt_u, NULL) == 0)
		return fault_say(why, FAULT_INPUT,
		                 "no test is without error: the settings give rod readings none");
	if (!txn_begin(book, why))
		return false;
	ok = observed_at(book, test.time, test.booked, why) && is_sound(&test, why) &&
	     is_latest(book, &test, &latest, why) && insert(book, &test, why) &&
	     (!latest || apply(book, &test, out->sets, why));
	return txn_end(book, ok, why);
}
