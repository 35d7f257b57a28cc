/* The terms of a run, and the seal on them. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/ready.h"

static bool read_settings_figures(struct book *book, struct book_figures *out, struct fault *why)
{
	struct book_setting setting;
	struct book_instrument *list;
	struct book_settings settings;
	size_t count;
	bool ok, has_k = false;
	*out = (struct book_figures){0};
	if (!book_settings(book, &settings, why))
		return false;
	for (size_t i = 0; i < book_setting_count(); i++) {
		char carried[BOOK_VALUE_BYTES];
		if (!setting_is_figure(i))
			continue;
		if (!book_setting(book, i, &setting, why))
			return false;
		setting_carry(i, setting.value, &settings.style, carried);
		if (!book_figure_put(out, setting.name, carried, why))
			return false;
		has_k = has_k || (!setting.is_default && (strcmp(setting.name, "k") == 0 ||
		                                          strncmp(setting.name, "dk", 2) == 0));
		if (strcmp(setting.name, "instrument") == 0 &&
		    !book_figure_put(out, "instrument_source",
		                     setting.is_default ? "a default" : "a maker's word", why))
			return false;
	}
	if (!book_figure_put(out, "k_source",
	                     level_k_source_name(has_k ? LEVEL_K_SET : LEVEL_K_DEFAULT), why) ||
	    !book_figure_put(out, BOOK_RULE, "2", why))
		return false;
	if (!book_instruments(book, &list, &count, why))
		return false;
	ok = true;
	for (size_t i = 0; ok && i < count; i++)
		ok = figures_take_instrument(book, out, &list[i], why);
	free(list);
	return ok;
}

bool book_settings_figures(struct book *book, struct book_figures *out, struct fault *why)
{
	struct held *held = book_held(book);
	if (held && held->has_figures) {
		*out = held->figures;
		return true;
	}
	if (!read_settings_figures(book, out, why))
		return false;
	if (held) {
		held->figures = *out;
		held->has_figures = true;
	}
	return true;
}

static bool read_seal(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_seal *seal = item;
	char how[12];
	seal->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, seal->figures.text, sizeof seal->figures.text);
	seal->late = sqlite3_column_int(statement, 2) != 0;
	sql_text(statement, 3, seal->why, sizeof seal->why);
	sql_text(statement, 4, seal->time, sizeof seal->time);
	sql_text(statement, 5, how, sizeof how);
	seal->asked = strcmp(how, "asked") == 0;
	seal->imported = strcmp(how, "imported") == 0;
	return (level_check_text(seal->why, LEVEL_REMARK_CHARS, "reason", why) &&
	        level_check_text(seal->time, BOOK_TIME_BYTES, "time of a seal", why) &&
	        figures_are_sound(&seal->figures, why)) ||
	       book_spoiled(book, why);
}

#define COLUMNS "id, figures, late, why, time, how"

bool book_seals(struct book *book, int64_t run, struct book_seal **seals, size_t *count,
                struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why, "SELECT " COLUMNS " FROM seal WHERE run=?1 ORDER BY id", "i", run),
	    sizeof **seals, read_seal, (void **)seals, count, why);
}

bool seal_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_seal ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM seal WHERE id=?1", "i", id),
	                 read_seal, &ignored, why);
}

bool is_sealed(struct book *book, int64_t run, bool *sealed, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, "SELECT 1 FROM seal WHERE run=?1", "i", run);
	if (!statement)
		return false;
	*sealed = sql_row(book, statement, &ok, why);
	return sql_done(book, statement, ok, why);
}

/* What an unsealed run goes by: settings, then its plan, then its air. */
static bool take_open(struct book *book, const struct book_run_info *info, struct book_k *k,
                      struct fault *why)
{
	struct book_plan plan;
	*k = (struct book_k){.plan = level_air_nothing()};
	if (!book_settings_figures(book, &k->open, why) || !terms_take_airs(book, info->id, k, why))
		return false;
	if (!*info->plan)
		return true;
	return book_plan_find(book, info->plan, &plan, why) &&
	       figures_take_plan(&k->open, &plan.figures, why) &&
	       figures_air(&plan.figures, false, &k->plan, why) &&
	       figures_measuring(&k->open, &k->plan, why);
}

static bool has_instruments(const struct held *held, const struct book_run *run)
{
	if (held->instruments != run->instruments)
		return false;
	for (int i = 1; i < run->instruments; i++)
		if (strcmp(held->instrument[i], run->instrument[i]) != 0)
			return false;
	return true;
}

/* The terms of figures: most runs of a book have those of the run before. */
static bool terms_by_figures(struct book *book, const struct book_run *run,
                             const struct book_figures *figures, struct level_terms *out,
                             struct fault *why)
{
	struct held *held = book_held(book);
	if (held && has_instruments(held, run) && strcmp(held->of.text, figures->text) == 0) {
		*out = held->terms;
		return true;
	}
	if (!book_terms_of(figures, run, out, why))
		return false;
	if (!held)
		return true;
	held->of = *figures;
	held->terms = *out;
	held->instruments = run->instruments;
	memcpy(held->instrument, run->instrument, sizeof held->instrument);
	return true;
}

bool book_open_terms(struct book *book, const struct book_run *run, struct book_terms *out,
                     struct fault *why)
{
	*out = (struct book_terms){0};
	if (!take_open(book, &run->info, &out->k, why))
		return false;
	book_figure(&out->k.open, "strike_rule", out->strike_rule);
	return terms_find_figures(out, &run->run, why) &&
	       terms_by_figures(book, run, &out->figures, &out->terms, why);
}

bool book_run_terms(struct book *book, const struct book_run *run, struct book_terms *out,
                    struct fault *why)
{
	struct book_seal *seals;
	size_t count;
	char rule[BOOK_VALUE_BYTES];
	*out = (struct book_terms){0};
	if (!book_seals(book, run->info.id, &seals, &count, why))
		return false;
	if (count) {
		out->sealed = true;
		out->late = seals[0].late;
		out->imported = seals[0].imported;
		strcpy(out->sealed_time, seals[0].time);
		out->amendments = count - 1;
		out->figures = seals[count - 1].figures;
		out->old_rule = !book_figure(&out->figures, BOOK_RULE, rule);
	}
	free(seals);
	if (!count)
		return book_open_terms(book, run, out, why);
	out->k_source = figures_k_source(&out->figures);
	book_figure(&out->figures, "strike_rule", out->strike_rule);
	return book_terms_of(&out->figures, run, &out->terms, why);
}

static bool insert(struct book *book, int64_t run, const char *act,
                   const struct book_figures *figures, bool late, const char *reason,
                   const char *how, struct fault *why)
{
	return sql_run(
	           book, why,
	           "INSERT INTO seal(id, run, figures, late, why, time, how) "
	           "VALUES((SELECT coalesce(max(id), 0) + 1 FROM seal), ?1, ?2, ?3, ?4, ?5, ?6)",
	           "itittt", run, figures->text, (int64_t)late, reason, book->now, how) &&
	       journal_enter_numbered(book, act, run, "seal", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

bool seal_insert(struct book *book, int64_t run, const char *act,
                 const struct book_figures *figures, bool late, const char *reason,
                 struct fault *why)
{
	return insert(book, run, act, figures, late, reason, "", why);
}

/* Whether there is a sight that could show a drop: a long one, or a setup of unequal sights. */
bool shows_drop(const struct level_run *run, level_nm long_sight)
{
	const struct level_sight *bs = NULL;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *sight = &run->sight[i];
		if (!level_counted(sight))
			continue;
		if (sight->distance >= long_sight)
			return true;
		if (sight->kind == LEVEL_BS)
			bs = sight;
		else if (sight->kind == LEVEL_FS && bs &&
		         (!sight->distance || !bs->distance ||
		          sight->distance - bs->distance > LEVEL_UNEQUAL ||
		          bs->distance - sight->distance > LEVEL_UNEQUAL))
			return true;
	}
	return false;
}

void book_drop_seen(struct book *book, int64_t run, const struct book_k *k)
{
	if (book->seen_run == run)
		return;
	book->seen_run = run;
	book->seen = *k;
}

/* Whether other figures, or other air, stand now than when the drop was shown. */
static bool is_changed(const struct book_k *seen, const struct book_k *now)
{
	return strcmp(seen->open.text, now->open.text) != 0 || seen->readings != now->readings ||
	       memcmp(seen->reading, now->reading, now->readings * sizeof *now->reading) != 0;
}

/* An instrument that came into use after the seal brings its figures by an amendment. */
static bool amend_instruments(struct book *book, const struct book_run *run,
                              const struct book_seal *last, struct fault *why)
{
	struct book_figures figures = last->figures;
	struct book_instrument *list;
	char name[LEVEL_NAME_BYTES + 20], ignored[BOOK_VALUE_BYTES];
	size_t count;
	bool ok = true, added = false;
	if (!book_instruments(book, &list, &count, why))
		return false;
	for (int i = 1; ok && i < run->instruments; i++) {
		snprintf(name, sizeof name, "instrument %s", run->instrument[i]);
		if (book_figure(&figures, name, ignored))
			continue;
		for (size_t j = 0; ok && j < count; j++)
			if (strcmp(list[j].name, run->instrument[i]) == 0) {
				ok = figures_take_instrument(book, &figures, &list[j], why);
				added = true;
			}
	}
	free(list);
	return ok && (!added || seal_insert(book, run->info.id, "amend", &figures, false,
	                                    "an instrument came into use", why));
}

/* Figures chosen with the drop in view are no better than afterwards. */
static bool is_seen(const struct book *book, const struct book_run *run,
                    const struct book_terms *terms)
{
	return book->seen_run == run->info.id && is_changed(&book->seen, &terms->k);
}

static bool seal(struct book *book, const struct book_run *run, const struct level_run *before,
                 struct fault *why)
{
	struct book_settings settings;
	struct book_terms terms;
	bool late;
	if (!book_settings(book, &settings, why))
		return false;
	late = !before || shows_drop(before, settings.long_sight);
	if (!shows_drop(&run->run, settings.long_sight))
		return true;
	if (!book_run_terms(book, run, &terms, why))
		return false;
	return insert(book, run->info.id, "seal", &terms.figures,
	              late || is_seen(book, run, &terms), "", "", why);
}

static bool seal_asked(struct book *book, const struct book_run *run, struct fault *why)
{
	struct book_settings settings;
	struct book_terms terms;
	if (!book_settings(book, &settings, why) || !book_run_terms(book, run, &terms, why))
		return false;
	if (run->run.kind != LEVEL_CROSSING)
		return fault_say(why, FAULT_INPUT, "only the figures of a crossing are sealed");
	if (terms.sealed)
		return fault_say(why, FAULT_INPUT,
		                 "the figures of %.160s are sealed already, since %s: amend them",
		                 run->info.name, terms.sealed_time);
	return insert(book, run->info.id, "seal", &terms.figures,
	              shows_drop(&run->run, settings.long_sight) || is_seen(book, run, &terms), "",
	              "asked", why);
}

bool book_seal(struct book *book, const struct book_run *run, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, check_fresh(book, run, why) && seal_asked(book, run, why), why);
}

bool seal_if_due(struct book *book, int64_t run, const struct level_run *before, struct fault *why)
{
	struct book_run_info info;
	struct book_run loaded;
	struct book_seal *seals;
	size_t count;
	bool ok;
	if (!run_head(book, run, &info, why))
		return false;
	if (info.kind != LEVEL_CROSSING)
		return true;
	if (!book_seals(book, run, &seals, &count, why))
		return false;
	ok = book_load(book, run, &loaded, why);
	if (ok) {
		ok = count ? amend_instruments(book, &loaded, &seals[count - 1], why)
		           : seal(book, &loaded, before, why);
		book_run_free(&loaded);
	}
	free(seals);
	return ok;
}
