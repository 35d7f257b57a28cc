/* Settings: what is set is shown, and set again as it is shown is the same, also when the unit of
 * the book has changed since. */
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "shelf.h"

static struct shelf shelf;

static const char *const dictionary[] = {
    "by height",   "as dk",   "all",   "u95", "bound", "not declared",
    "still",       "flowing", " mm/m", " m",  " km",   " ft",
    " mm",         " + ",     " in",   "'",   "a=",    "; ",
    "ftin",        "ft",      "m",     "in",  "C",     "F",
    "hPa",         "inHg",    "mph",   "kn",  "km/h",  "m/s",
    "third-order", "setups",  "ours",  "0",   "1e",    "-",
    "+",           NULL};

/* "NAME VALUE" with the default as the value. */
static void make(uint64_t *chance, char *text, size_t room)
{
	struct book_setting setting;
	char number[64];
	size_t i = fuzz_below(chance, book_setting_count());
	if (!book_setting(shelf.book, i, &setting, NULL))
		abort();
	fuzz_number(chance, number, sizeof number);
	snprintf(text, room, "%s %s", setting.name, fuzz_below(chance, 3) ? setting.value : number);
}

static size_t find(const char *name, struct book_setting *out)
{
	for (size_t i = 0; i < book_setting_count(); i++)
		if (book_setting(shelf.book, i, out, NULL) && strcmp(out->name, name) == 0)
			return i;
	return book_setting_count();
}

static bool same_meaning(const struct book_settings *a, const struct book_settings *b)
{
	return memcmp(&a->terms, &b->terms, sizeof a->terms) == 0 &&
	       a->setup_figure == b->setup_figure && a->rod_length == b->rod_length &&
	       a->long_sight == b->long_sight && a->stadia_constant == b->stadia_constant &&
	       a->stadia_multiplier == b->stadia_multiplier && a->place == b->place &&
	       a->thermometer_u == b->thermometer_u && strcmp(a->title, b->title) == 0 &&
	       strcmp(a->tolerance.name, b->tolerance.name) == 0;
}

static void check(const char *name, const char *value)
{
	static const char *const units[] = {"ft", "ftin", "in", "m"};
	struct book_settings first, again;
	struct book_setting shown;
	struct fault why = {0};
	memset(&first, 0, sizeof first);
	memset(&again, 0, sizeof again);
	if (!FUZZ_LAW(book_settings(shelf.book, &first, &why),
	              "%s set to \"%s\" spoils the book: %s", name, value, why.text) ||
	    !FUZZ_LAW(find(name, &shown) < book_setting_count() && !shown.is_default,
	              "%s set to \"%s\" is not shown", name, value) ||
	    !FUZZ_LAW(book_set(shelf.book, name, shown.value, &why),
	              "%s set to \"%s\" is shown as \"%s\", which cannot be set: %s", name, value,
	              shown.value, why.text))
		return;
	FUZZ_LAW(book_settings(shelf.book, &again, &why) && same_meaning(&first, &again),
	         "%s set to \"%s\" is shown as \"%s\", which means another", name, value,
	         shown.value);
	for (int i = 0; i < 4; i++) {
		if (strcmp(name, "unit") != 0 && !book_set(shelf.book, "unit", units[i], &why))
			abort();
		if (!FUZZ_LAW(book_settings(shelf.book, &again, &why) &&
		                  same_meaning(&first, &again),
		              "%s set to \"%s\" means another in %s", name, value, units[i]))
			return;
	}
}

static bool one(const char *text, unsigned options)
{
	static const char *const units[] = {"m", "ft", "ftin", "in"};
	char name[40];
	struct fault why = {0};
	size_t size = strcspn(text, " ");
	bool ok;
	if (size >= sizeof name || !text[size])
		return false;
	memcpy(name, text, size);
	name[size] = '\0';
	shelf_begin(&shelf);
	if (!book_set(shelf.book, "unit", units[options & 3], &why))
		abort();
	ok = book_set(shelf.book, name, text + size + 1, &why);
	if (ok)
		check(name, text + size + 1);
	else
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text, "\"%s\" is refused as %d: %s", text,
		         (int)why.kind, why.text);
	shelf_end(&shelf);
	return ok;
}

static bool begin(void)
{
	return shelf_open(&shelf, LEVEL_M) &&
	       book_tolerance_set(shelf.book, "ours", "section=12 mm", NULL);
}

static void end(void)
{
	shelf_close(&shelf);
}

const struct fuzz_target fuzz_target = {
    .name = "setting",
    .words = "settings, set, shown, set again as shown, and in books of another unit",
    .dictionary = dictionary,
    .make = make,
    .tries = 800,
    .begin = begin,
    .one = one,
    .end = end,
};
