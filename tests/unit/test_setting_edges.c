/* Each setting at the ends of what it may be, and where its value goes; lengths in m, shares of 1.
 */
#include <math.h>

#include "book/store.h"
#include "books.h"
#include "suite.h"

/* A setting whose value is a double of the settings. */
#define AT(member) offsetof(struct book_settings, member)
static const struct {
	const char *name;
	size_t at;
	const char *least;
	double least_value;
	const char *below; /* or NULL */
	const char *most;
	double most_value;
	const char *above; /* or NULL */
} numbers[] = {
    {"k", AT(terms.k), "-20", -20, "-20.01", "20", 20, "20.01"},
    {"dk_low", AT(terms.dk_low), "0", 0, "-0.01", "20", 20, "20.01"},
    {"dk_high", AT(terms.dk_high), "0", 0, "-0.01", "20", 20, "20.01"},
    {"air_common", AT(terms.air_common), "0", 0, "-0.01", "1", 1, "1.01"},
    {"thermometer_u", AT(thermometer_u), "0.01", 0.01, "0.009", "10", 10, "10.01"},
    {"place", AT(place), "0", 0, "-0.01", "1", 1, "1.01"},
    {"power", AT(power), "1", 1, "0.99", "1000", 1000, "1000.1"},
    {"distance_tape", AT(terms.distance_u[LEVEL_TAPED]), "0", 0, "-0.1", "50", 0.5, "50.1"},
    {"distance_wires", AT(terms.distance_u[LEVEL_WIRED]), "0", 0, "-0.1", "50", 0.5, "50.1"},
    {"distance_map", AT(terms.distance_u[LEVEL_MAPPED]), "0", 0, "-0.1", "50", 0.5, "50.1"},
    {"distance_map", AT(terms.distance_u[LEVEL_STEPPED]), "2", 0.02, "x", "50", 0.5, "50.1"},
    {"radius", AT(terms.radius), "1000 km", 1e6, "999.999 km", "6371 km", 6371e3, "far"},
    {"water", AT(terms.water), "0 m", 0, "-1 mm", "5 mm", 0.005, "deep"},
    {"water_floor", AT(terms.water_floor), "0 m", 0, "-1 mm", "5 mm", 0.005, "deep"},
    {"depth", AT(terms.depth), "0 m", 0, "-1 mm", "5 m", 5, "deep"},
    {"setup_tolerance", AT(setup_figure), "1 mm", 0.001, "0 mm", "5 mm", 0.005, "much"},
    {"drift", AT(terms.drift), "0", 0, "-0.01 mm/m", "0.02 mm/m", 0.00002, "much"},
    {"flow", AT(terms.flow), "still", 0, "fast", "0.1 mm/m", 0.0001, "-0.1 mm/m"},
    {"flow", AT(terms.flow), "flowing", -1, "flow", "still", 0, ""},
    {"instrument", AT(terms.instrument[0].tolerance), "0.1 mm/m", 0.0001, "0 mm/m", "1 mm in 10 m",
     0.0001, "x"},
    {"rod_reading", AT(terms.reading_fixed[0]), "0", 0, "-1 mm", "1 mm", 0.001, "1"},
    {"tape_reading", AT(terms.reading_fixed[1]), "0", 0, "-1 mm", "2 mm", 0.002, "1"},
    {"target_reading", AT(terms.reading_fixed[2]), "0", 0, "-1 mm", "3 mm", 0.003, "1"},
    {"rod_reading", AT(terms.reading_slope[0]), "1 mm", 0, "1 mm +", "1 mm + 0.01 mm/m", 1e-5,
     "1 mm + x"},
    {"tape_reading", AT(terms.reading_slope[1]), "1 mm", 0, "1 mm +", "1 mm+0.01 mm/m", 1e-5,
     "1 mm + x"},
    {"target_reading", AT(terms.reading_slope[2]), "1 mm", 0, "1 mm +", "1 mm  +  0.01 mm/m", 1e-5,
     "1 mm + x"},
};

static double value_at(struct shelf *s, size_t at)
{
	struct book_settings got;
	ck_assert_msg(book_settings(s->book, &got, &s->why), "%s", s->why.text);
	return *(double *)((char *)&got + at);
}

START_TEST(test_numbers)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
		const char *const bad[] = {numbers[i].below, numbers[i].above};
		ck_assert_msg(book_set(s.book, numbers[i].name, numbers[i].most, &s.why), "%s",
		              s.why.text);
		ck_assert_double_eq_tol(value_at(&s, numbers[i].at), numbers[i].most_value,
		                        1e-12 * (1 + fabs(numbers[i].most_value)));
		ck_assert_msg(book_set(s.book, numbers[i].name, numbers[i].least, &s.why), "%s",
		              s.why.text);
		ck_assert_double_eq_tol(value_at(&s, numbers[i].at), numbers[i].least_value,
		                        1e-12 * (1 + fabs(numbers[i].least_value)));
		for (int j = 0; j < 2; j++) {
			s.why = (struct fault){0};
			ck_assert_msg(!book_set(s.book, numbers[i].name, bad[j], &s.why), "%s %s",
			              numbers[i].name, bad[j]);
			ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		}
	}
	shelf_close(&s);
}
END_TEST

START_TEST(test_others)
{
	struct shelf s;
	struct book_settings got;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "dk", "0.3", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert(got.dk_low_set && got.dk_high_set);
	ck_assert_double_eq(got.terms.dk_low, 0.3);
	ck_assert_double_eq(got.terms.dk_high, 0.3);
	ck_assert(book_set(s.book, "dk_high", "0.5", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert_double_eq(got.terms.dk_low, 0.3);
	ck_assert_double_eq(got.terms.dk_high, 0.5);
	ck_assert(book_set(s.book, "dk", "by height", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert(!got.dk_low_set && got.dk_high_set);
	ck_assert(book_set(s.book, "dk_high", "as dk", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert(!got.dk_low_set && !got.dk_high_set);
	ck_assert(!got.terms.air_declared);
	ck_assert(book_set(s.book, "air_common", "0.5", &s.why));
	ck_assert(book_set(s.book, "blind", "yes", &s.why));
	ck_assert(book_set(s.book, "decides", "all", &s.why));
	ck_assert(book_set(s.book, "long_sight", "120", &s.why));
	ck_assert(book_set(s.book, "rod_length", "100 m", &s.why));
	ck_assert(book_set(s.book, "stadia_multiplier", "1000", &s.why));
	ck_assert(book_set(s.book, "stadia_constant", "0", &s.why));
	ck_assert(book_set(s.book, "copy_to", "/media/stick", &s.why));
	ck_assert(book_set(s.book, "strike_rule", "none", &s.why));
	ck_assert(book_set(s.book, "decimals", "6", &s.why));
	ck_assert(book_set(s.book, "fraction", "64", &s.why));
	ck_assert(book_set(s.book, "temperature_unit", "F", &s.why));
	ck_assert(book_set(s.book, "pressure_unit", "inHg", &s.why));
	ck_assert(book_set(s.book, "wind_unit", "km/h", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert(got.terms.air_declared && got.blind);
	ck_assert_int_eq(got.terms.decides, LEVEL_BY_ALL);
	ck_assert_int_eq(got.long_sight, INT64_C(120000000000));
	ck_assert_int_eq(got.rod_length, INT64_C(100000000000));
	ck_assert_int_eq(got.stadia_multiplier, 1000);
	ck_assert_int_eq(got.stadia_constant, 0);
	ck_assert_str_eq(got.copy_to, "/media/stick");
	ck_assert_str_eq(got.strike_rule, "none");
	ck_assert_int_eq(got.style.decimals, 6);
	ck_assert_int_eq(got.style.fraction, 64);
	ck_assert_int_eq(got.units.of[LEVEL_TEMPERATURE], 1);
	ck_assert_int_eq(got.units.of[LEVEL_PRESSURE], 1);
	ck_assert_int_eq(got.units.of[LEVEL_SPEED], 3);
	ck_assert(book_set(s.book, "decimals", "0", &s.why));
	ck_assert(book_set(s.book, "fraction", "1", &s.why));
	ck_assert(book_set(s.book, "stadia_multiplier", "1", &s.why));
	ck_assert(book_set(s.book, "air_common", "not declared", &s.why));
	ck_assert(book_set(s.book, "blind", "no", &s.why));
	ck_assert(book_set(s.book, "decides", "u95", &s.why));
	ck_assert(book_settings(s.book, &got, &s.why));
	ck_assert(got.style.decimals == 0 && got.style.fraction == 1 && !got.blind);
	ck_assert(!got.terms.air_declared && got.terms.decides == LEVEL_BY_U95);
	shelf_close(&s);
}
END_TEST

START_TEST(test_words)
{
	static const char *const cases[][3] = {
	    {"distance_unit", "in",
	     "distance_unit must be m, ft or \"by unit\" (follows the unit of readings), not "
	     "\"in\""},
	    {"distance_unit", "ftin", "distance_unit must be m, ft or \"by unit\""},
	    {"unit", "yd", "unit must be m, ft, ftin or in, not \"yd\""},
	    {"fraction", "3", "fraction is 1, 2, 4, 8, 16, 32 or 64"},
	    {"fraction", "65", "fraction is a number from 1 to 64"},
	    {"decimals", "2.5", "decimals is a whole number, not \"2.5\""},
	    {"decimals", "7", "decimals is a number from 0 to 6"},
	    {"stadia_multiplier", "1001", "stadia_multiplier is a number from 1 to 1000"},
	    {"stadia_constant", "-1", "stadia_constant is a length of 0 or more, not \"-1\""},
	    {"long_sight", "0", "long_sight is a length above 0, not \"0\""},
	    {"rod_length", "0", "rod_length is a length above 0"},
	    {"rod_length", "100.001 m", "rod_length is at most 100 m"},
	    {"setup_tolerance", "0 m", "setup_tolerance is a length above 0"},
	    {"blind", "maybe", "blind is yes or no, not \"maybe\""},
	    {"decides", "both", "decides is u95 or all, not \"both\""},
	    {"flow", "fast", "flow is still, flowing, or a slope such as 0.1 mm/m, not \"fast\""},
	    {"radius", "999 km", "radius is at least 1000 km"},
	    {"wind_unit", "ft/s", "wind_unit is one of m/s, mph, kn, km/h, not \"ft/s\""},
	    {"temperature_unit", "K", "temperature_unit is one of C, F, not \"K\""},
	    {"rod_reading", "1", "rod_reading is a length, or a length and a slope"},
	    {"color", "red", "there is no setting color"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(!book_set(s.book, cases[i][0], cases[i][1], &s.why), "%s %s",
		              cases[i][0], cases[i][1]);
		FAULT(&s, FAULT_INPUT, cases[i][2]);
	}
	shelf_close(&s);
}
END_TEST

/* What prediction and allowance are made of, by the table in the manual; and each default is a
 * value that may be set. */
START_TEST(test_figures)
{
	static const char *const figures = " instrument k dk dk_low dk_high air_common drift "
	                                   "radius declared water water_floor flow "
	                                   "depth decides strike_rule distance_tape distance_wires "
	                                   "distance_map thermometer_u place "
	                                   "rod_reading tape_reading target_reading ";
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_setting setting;
		char name[60];
		snprintf(name, sizeof name, " %s ", setting_name(i));
		ck_assert_msg(setting_is_figure(i) == (strstr(figures, name) != NULL), "%s", name);
		ck_assert_uint_eq(setting_find(setting_name(i)), i);
		ck_assert(book_setting(s.book, i, &setting, &s.why));
		ck_assert_str_eq(setting.name, setting_name(i));
		ck_assert(setting.is_default == (strcmp(setting.name, "unit") != 0));
		ck_assert_uint_gt(strlen(setting.what), 10);
		ck_assert_msg(book_set(s.book, setting.name, setting_default(i), &s.why), "%s: %s",
		              setting.name, s.why.text);
		ck_assert(book_setting(s.book, i, &setting, &s.why));
		ck_assert(!setting.is_default);
	}
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("setting_edges", test_numbers, test_others, test_words, test_figures);
}
