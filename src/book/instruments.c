/* Instruments, each in one state of adjustment. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

static bool is_sound(const struct book_instrument *i, struct fault *why)
{
	double value;
	if (!level_check_name(i->name, "instrument", why))
		return fault_at(why, "name");
	if (!level_check_text(i->tolerance, BOOK_TYPED_CHARS, "tolerance", why) ||
	    !level_parse_slope(i->tolerance, &value, why))
		return fault_at(why, "tolerance");
	if (!level_check_text(i->tilt, BOOK_TYPED_CHARS, "tilt", why) ||
	    (*i->tilt && !level_parse_tilt(i->tilt, &value, why)))
		return fault_at(why, "tilt");
	if (!level_check_text(i->tilt_u, BOOK_TYPED_CHARS, "uncertainty of the tilt", why) ||
	    (*i->tilt_u && !level_parse_tilt(i->tilt_u, &value, why)))
		return fault_at(why, "tilt_u");
	if (!level_check_text(i->remark, LEVEL_REMARK_CHARS, "remark", why))
		return fault_at(why, "remark");
	if (!level_check_text(i->time, BOOK_TIME_BYTES, "time of an instrument", why))
		return fault_at(why, "time");
	if (!*i->tilt != !*i->tilt_u) {
		fault_say(why, FAULT_INPUT,
		          "a tested tilt and its standard uncertainty come together");
		return fault_at(why, *i->tilt ? "tilt_u" : "tilt");
	}
	if (!*i->tilt || value > 0)
		return true;
	fault_say(why, FAULT_INPUT,
	          "the standard uncertainty of a tilt is above 0: no test is without error");
	return fault_at(why, "tilt_u");
}

static bool read_instrument(struct book *book, sqlite3_stmt *statement, void *item,
                            struct fault *why)
{
	struct book_instrument *i = item;
	i->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, i->name, sizeof i->name);
	sql_text(statement, 2, i->tolerance, sizeof i->tolerance);
	sql_text(statement, 3, i->tilt, sizeof i->tilt);
	sql_text(statement, 4, i->tilt_u, sizeof i->tilt_u);
	sql_text(statement, 5, i->remark, sizeof i->remark);
	sql_text(statement, 6, i->time, sizeof i->time);
	return is_sound(i, why) || book_spoiled(book, why);
}

#define COLUMNS "id, name, tolerance, tilt, tilt_u, remark, time"

bool book_instruments(struct book *book, struct book_instrument **list, size_t *count,
                      struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " COLUMNS " FROM instrument WHERE struck IS NULL ORDER BY id", ""),
	    sizeof **list, read_instrument, (void **)list, count, why);
}

bool instrument_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_instrument ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT " COLUMNS " FROM instrument WHERE id=?1", "i", id),
	    read_instrument, &ignored, why);
}

/* The test that gave an instrument its tilt; false where it was declared, not found by pegs. */
static bool last_test(struct book *book, const struct book_instrument *i, bool *found,
                      struct book_pegtest *out, struct fault *why)
{
	struct book_pegtest *tests;
	size_t count;
	*found = false;
	if (!*i->tilt)
		return true;
	if (!book_pegtests(book, i->name, &tests, &count, why))
		return false;
	for (size_t t = 0; t < count; t++)
		if (strcmp(tests[t].tilt, i->tilt) == 0 &&
		    strcmp(tests[t].tilt_u, i->tilt_u) == 0) {
			*out = tests[t];
			*found = true;
		}
	free(tests);
	return true;
}

static bool put(struct book_figures *figures, const char *what, const char *name, const char *value,
                struct fault *why)
{
	char figure[LEVEL_NAME_BYTES + 20];
	snprintf(figure, sizeof figure, "%s %s", what, name);
	return book_figure_put(figures, figure, value, why);
}

/* What the pegs say of the tilt beside its size: u with the air of the test, how many sets, g. */
static bool take_test(struct book *book, struct book_figures *figures,
                      const struct book_instrument *i, const struct book_pegtest *test,
                      struct fault *why)
{
	const struct level_style bare = book_pegtest_style(test);
	struct book_settings settings;
	struct level_standing standings[LEVEL_STANDINGS_MOST];
	struct level_peg_result result;
	struct level_peg_way way;
	size_t count;
	char text[40];
	if (!book_settings(book, &settings, why) || !book_pegtest_way(test, &way, why) ||
	    !book_read_standings(test->standings, &bare, standings, &count, why) ||
	    !level_peg_test(standings, count, &settings.terms, &way, &result, why))
		return false;
	snprintf(text, sizeof text, "%.6f mm/m", result.u * 1000);
	if (!put(figures, "tilt_u", i->name, text, why))
		return false;
	snprintf(text, sizeof text, "%d", result.by_spread ? result.sets : 0);
	if (!put(figures, "tilt_sets", i->name, text, why))
		return false;
	snprintf(text, sizeof text, "%.4f m", result.g);
	return put(figures, "tilt_g", i->name, text, why);
}

bool figures_take_instrument(struct book *book, struct book_figures *figures,
                             const struct book_instrument *i, struct fault *why)
{
	struct book_pegtest test;
	bool found;
	if (!put(figures, "instrument", i->name, i->tolerance, why) ||
	    !put(figures, "tilt", i->name, i->tilt, why) ||
	    !put(figures, "tilt_u", i->name, i->tilt_u, why) ||
	    !last_test(book, i, &found, &test, why))
		return false;
	return !found || take_test(book, figures, i, &test, why);
}

/* Of the figures of a seal, in bytes, kept for what plan, air and other settings bring. */
#define ROOM_KEPT 1000

bool instruments_have_room(struct book *book, struct fault *why)
{
	struct book_figures figures;
	struct fault words = {0};
	bool fits = book_settings_figures(book, &figures, &words);
	if (!fits && words.kind != FAULT_INPUT)
		return fault_say(why, words.kind, "%s", words.text);
	return (fits && strlen(figures.text) + ROOM_KEPT < sizeof figures.text) ||
	       fault_say(why, FAULT_INPUT,
	                 "there is no room for another instrument: a seal has the figures of all; "
	                 "begin a new book for it");
}

static bool set_instrument(struct book *book, const struct book_instrument *i, struct fault *why)
{
	return named_retire(book, "instrument", i->name, why) &&
	       sql_run(book, why,
	               "INSERT INTO instrument(name, tolerance, tilt, tilt_u, remark, time) "
	               "VALUES(?1, ?2, ?3, ?4, ?5, ?6)",
	               "tttttt", i->name, i->tolerance, i->tilt, i->tilt_u, i->remark, book->now) &&
	       journal_enter_numbered(book, "instrument", 0, "instrument",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why) &&
	       instruments_have_room(book, why);
}

bool book_instrument_set(struct book *book, const struct book_instrument *instrument,
                         struct fault *why)
{
	if (!is_sound(instrument, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, set_instrument(book, instrument, why), why);
}

static bool read_name(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	(void)why;
	sql_text(statement, 0, item, LEVEL_NAME_BYTES);
	return true;
}

bool book_last_instrument(struct book *book, char name[LEVEL_NAME_BYTES], struct fault *why)
{
	bool found;
	name[0] = '\0';
	return sql_one(
	    book,
	    sql_query(book, why,
	              "SELECT instrument FROM sight WHERE struck IS NULL AND kind<>'OFF' "
	              "ORDER BY id DESC LIMIT 1",
	              ""),
	    read_name, name, &found, why);
}
