/* The settings of a book: read, and kept. */
#include "book/setting/setting_list.h"
#include "book/store.h"

#include <stdio.h>
#include <string.h>

static bool read_value(struct book *book, size_t i, char value[BOOK_VALUE_BYTES], bool *is_default,
                       struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT value FROM setting WHERE name=?1", "t", setting_name(i));
	if (!statement)
		return false;
	*is_default = !sql_row(book, statement, &ok, why);
	if (*is_default)
		snprintf(value, BOOK_VALUE_BYTES, "%s", setting_default(i));
	else
		sql_text(statement, 0, value, BOOK_VALUE_BYTES);
	return sql_done(book, statement, ok, why);
}

/* What the book says of all settings; where it says nothing, the default. */
struct values {
	struct {
		char text[BOOK_VALUE_BYTES];
		bool is_default;
	} of[SETTINGS];
};

/* In one query, for each run that is read asks for them. */
static bool read_values(struct book *book, struct values *out, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, "SELECT name, value FROM setting", "");
	if (!statement)
		return false;
	for (size_t i = 0; i < SETTINGS; i++) {
		snprintf(out->of[i].text, BOOK_VALUE_BYTES, "%s", setting_default(i));
		out->of[i].is_default = true;
	}
	while (sql_row(book, statement, &ok, why)) {
		const char *name = (const char *)sqlite3_column_text(statement, 0);
		size_t bytes = (size_t)sqlite3_column_bytes(statement, 0), i;
		/* A name with a NUL in it is another one. */
		i = name && strlen(name) == bytes ? setting_find(name) : SETTINGS;
		if (i == SETTINGS)
			continue;
		sql_text(statement, 1, out->of[i].text, BOOK_VALUE_BYTES);
		out->of[i].is_default = false;
	}
	return sql_done(book, statement, ok, why);
}

static bool read_settings(struct book *book, struct book_settings *out, struct fault *why)
{
	const size_t unit = setting_find("unit"), distances = setting_find("distance_unit"),
	             decimals = setting_find("decimals");
	struct values values;
	*out = (struct book_settings){0};
	if (!read_values(book, &values, why))
		return false;
	/* The units first: bare lengths hang on them, and a spoiled title must not hide them. */
	setting_apply_in(book, out, unit, values.of[unit].text, NULL);
	setting_apply_in(book, out, distances, values.of[distances].text, NULL);
	for (size_t i = 0; i < SETTINGS; i++) {
		const char *value = values.of[i].text;
		if (!level_check_text(value, BOOK_VALUE_BYTES, setting_name(i), why) ||
		    !setting_apply_in(book, out, i, value, why))
			return book_spoiled(book, why);
		/* Each unit has its own usual number of decimals. */
		if (i == decimals && values.of[i].is_default)
			out->style.decimals = level_style_default(out->style.unit).decimals;
	}
	return true;
}

bool book_settings(struct book *book, struct book_settings *out, struct fault *why)
{
	struct held *held = book_held(book);
	if (held && held->has_settings) {
		*out = held->settings;
		return true;
	}
	if (!read_settings(book, out, why))
		return false;
	if (held) {
		held->settings = *out;
		held->has_settings = true;
	}
	return true;
}

bool book_setting(struct book *book, size_t i, struct book_setting *out, struct fault *why)
{
	const bool decimals = i == setting_find("decimals");
	struct book_settings all;
	struct fault read = {0};
	char kept[BOOK_VALUE_BYTES];
	*out = (struct book_setting){.name = setting_name(i),
	                             .group = setting_group(i),
	                             .title = setting_title(i),
	                             .what = setting_what(i),
	                             .initial = decimals ? NULL : setting_default(i)};
	if (!read_value(book, i, kept, &out->is_default, why))
		return false;
	snprintf(out->value, sizeof out->value, "%s", setting_today(i, kept));
	if (out->is_default && (decimals || i == setting_find("distance_unit"))) {
		bool has = book_settings(book, &all, &read);
		/* A spoiled setting hides no other one (in a rescue, which reads rows back, it is a
		 * FAULT_INPUT); want of memory is no spoiled setting. */
		if (!has && read.kind != FAULT_SPOILED && read.kind != FAULT_INPUT)
			return fault_say(why, read.kind, "%s", read.text);
		if (has && decimals)
			snprintf(out->value, sizeof out->value, "%d", all.style.decimals);
		else if (has)
			snprintf(out->value, sizeof out->value, "%s",
			         level_unit_name(all.style.distance));
	}
	return level_check_text(out->value, BOOK_VALUE_BYTES, out->name, why) ||
	       book_spoiled(book, why);
}

static bool write_value(struct book *book, size_t i, const char *value, struct fault *why)
{
	struct fault read = {0};
	char *before = journal_row(book, "setting", setting_name(i), &read);
	bool ok = (read.kind == FAULT_NONE || fault_say(why, read.kind, "%s", read.text)) &&
	          sql_run(book, why,
	                  "INSERT INTO setting(name, value) VALUES(?1, ?2) "
	                  "ON CONFLICT(name) DO UPDATE SET value=excluded.value",
	                  "tt", setting_name(i), value) &&
	          journal_enter(book, "set", 0, "setting", setting_name(i), before, 0, why);
	sqlite3_free(before);
	return ok;
}

bool book_set(struct book *book, const char *name, const char *value, struct fault *why)
{
	struct book_settings settings;
	char kept[BOOK_VALUE_BYTES];
	size_t i = setting_find(name);

	if (i == book_setting_count())
		return fault_say(
		    why, FAULT_INPUT,
		    "there is no setting %.60s; the list with what each means: rodbook set "
		    "BOOK",
		    name);
	/* Of the settings only the units matter here, so that a spoiled one can be set right. */
	book_settings(book, &settings, NULL);
	if (!level_check_text(value, LEVEL_REMARK_CHARS, name, why) ||
	    !setting_apply_in(book, &settings, i, value, why))
		return false;
	setting_carry(i, value, &settings.style, kept);
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, write_value(book, i, kept, why), why);
}
