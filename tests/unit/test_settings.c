/* Settings: their defaults, what they may be, and that a unit changes no other. */
#include "rodbook/book/book.h"

#include "books.h"
#include "suite.h"

static struct book_settings settings_of(struct shelf *s)
{
	struct book_settings out;
	ck_assert_msg(book_settings(s->book, &out, &s->why), "%s", s->why.text);
	return out;
}

static struct book_setting setting_of(struct shelf *s, const char *name)
{
	struct book_setting out = {0};
	for (size_t i = 0; i < book_setting_count(); i++) {
		ck_assert(book_setting(s->book, i, &out, &s->why));
		if (strcmp(out.name, name) == 0)
			return out;
	}
	ck_abort_msg("no setting %s", name);
}

/* Tilt 0.10 mm/m is the limit of third order in FGCC 1984 (recalled), k is Gauss's value; dk and
 * the reading figures are common practice, no source. */
START_TEST(test_defaults)
{
	struct shelf s;
	struct book_settings got;
	size_t chosen = 0;
	shelf_open(&s, LEVEL_M);
	got = settings_of(&s);
	ck_assert_str_eq(got.title, "");
	ck_assert_int_eq(got.style.unit, LEVEL_M);
	ck_assert_int_eq(got.style.decimals, 3);
	ck_assert_int_eq(got.style.fraction, 64);
	ck_assert_str_eq(got.tolerance.name, "third-order");
	ck_assert_double_eq(got.setup_figure, 0.002);
	ck_assert_double_eq(got.terms.instrument[0].tolerance, 0.0001);
	ck_assert_double_eq(got.terms.k, 0.13);
	ck_assert(!got.dk_low_set && !got.dk_high_set);
	ck_assert(!got.terms.air_declared);
	ck_assert_double_eq_tol(got.terms.drift, 0.00001, 1e-18);
	ck_assert_double_eq(got.terms.water_floor, 0.002);
	ck_assert_double_eq_tol(got.terms.distance_u[LEVEL_TAPED], 0.001, 1e-18);
	ck_assert_double_eq_tol(got.terms.distance_u[LEVEL_WIRED], 0.01, 1e-18);
	ck_assert_double_eq_tol(got.terms.distance_u[LEVEL_MAPPED], 0.01, 1e-18);
	ck_assert_double_eq_tol(got.terms.distance_u[LEVEL_STEPPED], 0.01, 1e-18);
	ck_assert_double_eq(got.thermometer_u, 0.2);
	ck_assert_double_eq(got.place, 0.2);
	ck_assert_double_eq(got.terms.radius, 6371000);
	ck_assert_double_eq(got.terms.declared[0].bound, 0);
	ck_assert_double_eq(got.terms.water, 0);
	ck_assert_int_eq(got.terms.decides, LEVEL_BY_U95);
	ck_assert_double_eq(got.terms.reading_fixed[LEVEL_ROD], 0.0005);
	ck_assert_double_eq_tol(got.terms.reading_slope[LEVEL_ROD], 0.00001, 1e-18);
	ck_assert_double_eq(got.terms.reading_fixed[LEVEL_TAPE], 0.001);
	ck_assert_double_eq(got.terms.reading_slope[LEVEL_TAPE], 0);
	ck_assert_double_eq(got.terms.reading_fixed[LEVEL_TARGET], 0.0003);
	ck_assert_double_eq_tol(got.terms.reading_slope[LEVEL_TARGET], 0.000005, 1e-18);
	ck_assert_int_eq(got.rod_length, 5 * LEVEL_NM_PER_M);
	ck_assert_int_eq(got.stadia_multiplier, 100);
	ck_assert_int_eq(got.stadia_constant, 0);
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_setting one;
		ck_assert(book_setting(s.book, i, &one, &s.why));
		ck_assert(*one.name && *one.what);
		chosen += !one.is_default;
	}
	/* the unit alone was chosen */
	ck_assert_uint_eq(chosen, 1);
	ck_assert(!setting_of(&s, "unit").is_default);
	/* a default that is written is chosen */
	ck_assert(book_set(s.book, "k", "0.13", &s.why));
	ck_assert(!setting_of(&s, "k").is_default);
	shelf_close(&s);
}
END_TEST

START_TEST(test_bad_values)
{
	static const char *const bad[][2] = {
	    {"unit", "yd"},
	    {"unit", ""},
	    {"unit", "M"},
	    {"decimals", "7"},
	    {"decimals", "-1"},
	    {"decimals", "2.5"},
	    {"decimals", ""},
	    {"fraction", "0"},
	    {"fraction", "3"},
	    {"fraction", "128"},
	    {"tolerance", "fourth"},
	    {"setup_tolerance", "-2 mm"},
	    {"instrument", "0 mm/m"},
	    {"instrument", "1 m/m"},
	    {"instrument", "good"},
	    {"k", "high"},
	    {"k", "21"},
	    {"k", "nan"},
	    {"k", "0.1 "},
	    {"k", "0x1"},
	    {"dk", "-0.1"},
	    {"dk", "as dk"},
	    {"dk_low", "by height"},
	    {"dk_high", "21"},
	    {"air_common", "1.1"},
	    {"drift", "-0.01 mm/m"},
	    {"drift", "1 mm"},
	    {"distance_map", "51"},
	    {"thermometer_u", "0"},
	    {"place", "1.1"},
	    {"temperature_unit", "K"},
	    {"pressure_unit", "mb"},
	    {"wind_unit", "ft/s"},
	    {"depth", "-1 m"},
	    {"declared", "compensator=-0.01 mm/m"},
	    {"radius", "999 m"},
	    {"radius", "-6371 km"},
	    {"declared", "-1 mm"},
	    {"water", "deep"},
	    {"decides", "both"},
	    {"rod_length", "0"},
	    {"rod_length", "-5"},
	    {"rod_length", "101 m"},
	    {"rod_reading", "0.5 mm + much"},
	    {"rod_reading", "-1 mm"},
	    {"tape_reading", ""},
	    {"target_reading", "+"},
	    {"stadia_multiplier", "0"},
	    {"stadia_multiplier", "99.5"},
	    {"stadia_constant", "-0.3"},
	    {"title", "a\tb"},
	    {"title", "\xc3"},
	    {"title", "\xe2\x80\xae"},
	    {"colour", "red"},
	};
	struct shelf s;
	struct book_settings before, after;
	size_t size, now_size;
	char *file, *now;

	shelf_open(&s, LEVEL_M);
	before = settings_of(&s);
	file = slurp(s.path, &size);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		s.why.text[0] = '\0';
		ck_assert_msg(!book_set(s.book, bad[i][0], bad[i][1], &s.why), "%s %s", bad[i][0],
		              bad[i][1]);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		ck_assert_uint_gt(strlen(s.why.text), 20);
	}
	after = settings_of(&s);
	ck_assert_mem_eq(&before, &after, sizeof before);
	now = slurp(s.path, &now_size);
	ck_assert_uint_eq(size, now_size);
	ck_assert_mem_eq(file, now, size);
	free(file);
	free(now);
	shelf_close(&s);
}
END_TEST

START_TEST(test_good_values)
{
	struct shelf s;
	struct book_settings got;
	char title[481] = "";
	shelf_open(&s, LEVEL_M);
	/* 120 characters of four bytes each */
	for (int i = 0; i < 120; i++)
		strcat(title, "\xf0\x9f\x8c\x8a");
	ck_assert(book_set(s.book, "title", title, &s.why));
	ck_assert(book_set(s.book, "tolerance", "stream-gauge", &s.why));
	ck_assert(book_set(s.book, "instrument", "1/16 in in 300 ft", &s.why));
	ck_assert(book_set(s.book, "k", "-1.5", &s.why));
	ck_assert(book_set(s.book, "dk", "0", &s.why));
	ck_assert(book_set(s.book, "radius", "6378.137 km", &s.why));
	ck_assert(book_set(s.book, "dk_high", "0.5", &s.why));
	/* bound is what earlier versions called if all add up; it is written as all */
	ck_assert(book_set(s.book, "decides", "bound", &s.why));
	ck_assert_str_eq(setting_of(&s, "decides").value, "all");
	ck_assert(book_set(s.book, "drift", "0", &s.why));
	ck_assert(book_set(s.book, "air_common", "0", &s.why));
	ck_assert(book_set(s.book, "wind_unit", "kn", &s.why));
	ck_assert(book_set(s.book, "rod_reading", "1 mm+2 mm in 100 m", &s.why));
	ck_assert(book_set(s.book, "tape_reading", "1/16 in", &s.why));
	ck_assert(book_set(s.book, "stadia_multiplier", "333", &s.why));
	ck_assert(book_set(s.book, "stadia_constant", "0.3 m", &s.why));
	got = settings_of(&s);
	ck_assert_str_eq(got.title, title);
	ck_assert_str_eq(got.tolerance.name, "stream-gauge");
	/* 1/16 in in 300 ft = 1/57600 */
	ck_assert_double_eq_tol(got.terms.instrument[0].tolerance, 1.0 / 57600, 1e-18);
	ck_assert_double_eq(got.terms.k, -1.5);
	ck_assert(got.dk_low_set && got.dk_high_set);
	ck_assert_double_eq(got.terms.dk_low, 0);
	ck_assert_double_eq(got.terms.dk_high, 0.5);
	ck_assert_double_eq(got.terms.drift, 0);
	ck_assert(got.terms.air_declared);
	ck_assert_int_eq(got.units.of[LEVEL_SPEED], 2);
	ck_assert_double_eq(got.terms.radius, 6378137);
	ck_assert_int_eq(got.terms.decides, LEVEL_BY_ALL);
	ck_assert_double_eq(got.terms.reading_fixed[LEVEL_ROD], 0.001);
	ck_assert_double_eq_tol(got.terms.reading_slope[LEVEL_ROD], 0.00002, 1e-18);
	/* 1/16 in = 1.5875 mm */
	ck_assert_double_eq(got.terms.reading_fixed[LEVEL_TAPE], 0.0015875);
	ck_assert_int_eq(got.stadia_multiplier, 333);
	ck_assert_int_eq(got.stadia_constant, 300000000);
	shelf_close(&s);
}
END_TEST

/* 0.3048 m to the foot: a bare length keeps what it meant when the unit changes. */
START_TEST(test_bare_lengths_keep)
{
	static const char *const lengths[] = {"setup_tolerance", "declared", "water", "rod_length",
	                                      "stadia_constant"};
	struct shelf s;
	struct book_settings got;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
		ck_assert(book_set(s.book, lengths[i], "4", &s.why));
	ck_assert(book_set(s.book, "radius", "6371000", &s.why));
	for (enum level_unit unit = LEVEL_M; unit <= LEVEL_IN; unit++) {
		ck_assert(book_set(s.book, "unit", level_unit_name(unit), &s.why));
		got = settings_of(&s);
		ck_assert_int_eq(got.style.unit, unit);
		ck_assert_double_eq(got.setup_figure, 4);
		ck_assert_double_eq(got.terms.declared[0].bound, 4);
		ck_assert_double_eq(got.terms.water, 4);
		ck_assert_double_eq(got.terms.radius, 6371000);
		ck_assert_int_eq(got.rod_length, 4 * LEVEL_NM_PER_M);
		ck_assert_int_eq(got.stadia_constant, 4 * LEVEL_NM_PER_M);
	}
	/* the book is in inches now; and back to meters from feet and inches */
	ck_assert(book_set(s.book, "rod_length", "196", &s.why));
	ck_assert(book_set(s.book, "unit", "ftin", &s.why));
	ck_assert_int_eq(settings_of(&s).rod_length, 196 * LEVEL_NM_PER_IN);
	ck_assert(book_set(s.book, "rod_length", "13", &s.why));
	ck_assert(book_set(s.book, "unit", "m", &s.why));
	ck_assert_int_eq(settings_of(&s).rod_length, 13 * LEVEL_NM_PER_FT);
	ck_assert_str_eq(setting_of(&s, "rod_length").value, "13 ft");
	shelf_close(&s);
}
END_TEST

/* Two decimals of a foot, three of a meter, until somebody chooses. */
START_TEST(test_decimals_follow_unit)
{
	struct shelf s;
	shelf_open(&s, LEVEL_FT);
	ck_assert_int_eq(settings_of(&s).style.decimals, 2);
	ck_assert_str_eq(setting_of(&s, "decimals").value, "2");
	ck_assert(book_set(s.book, "unit", "m", &s.why));
	ck_assert_int_eq(settings_of(&s).style.decimals, 3);
	ck_assert(book_set(s.book, "decimals", "4", &s.why));
	ck_assert(book_set(s.book, "unit", "ft", &s.why));
	ck_assert_int_eq(settings_of(&s).style.decimals, 4);
	shelf_close(&s);
}
END_TEST

/* Every setting stands once in the list for people, those of a group together, under a title that
 * no other one has. */
START_TEST(test_listed)
{
	struct shelf s;
	struct book_setting before[100];
	size_t count = book_setting_count();
	shelf_open(&s, LEVEL_M);
	ck_assert(count < 100);
	for (size_t i = 0; i < count; i++) {
		size_t groups = 0;
		ck_assert(book_setting_listed(i) < count);
		ck_assert(book_setting(s.book, book_setting_listed(i), &before[i], &s.why));
		ck_assert(*before[i].title && *before[i].what && *before[i].group);
		for (size_t j = 0; j < i; j++) {
			ck_assert_str_ne(before[j].name, before[i].name);
			ck_assert_str_ne(before[j].title, before[i].title);
			groups += strcmp(before[j].group, before[i].group) == 0;
		}
		if (groups)
			ck_assert_str_eq(before[i - 1].group, before[i].group);
	}
	ck_assert_uint_eq(book_setting_listed(count), count);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("settings", test_defaults, test_bad_values, test_good_values,
	                 test_bare_lengths_keep, test_decimals_follow_unit, test_listed);
}
