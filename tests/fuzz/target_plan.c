/* Plans and marks: what a book keeps is found as it was given, drawn without a number that is none,
 * and taken by another book as the same. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/report/adjustment.h"
#include "shelf.h"

static struct shelf here, there;

/* Lines "name TAB value" of a plan; lines "mark|elevation|u|source" of marks. */
static const char *const seeds[] = {
    "distance\t400 m\nnear\t5 m\nhi\t2.5 m\ntarget\t1 m\n",
    "distance\t1200 ft\nnear\t15 ft\nk\t0.2\ndk\t0.5\nlevel\tL1\npole\t4 m\n",
    "distance\t300 m\nnear\t3 m\nhi\t4 m\nair\t1013 hPa,15.2 C@1 m,14.8 C@6 m\nover\twater\n",
    "distance\t800 m\nnear\t10 m\nhi\t3 m\nwater_temperature\t12\nat\t15@2 m\nwind\t3@2 m\n"
    "wind_from\twater\n",
    "distance\t500 m\nnear\t5 m\nlatitude\t48.5\nazimuth\t120\nwater_readings\t4\n",
    "PEG|12.345|2 mm|oak \"peg\"\nSTONE|-3 ft||=1+1\nPEG|12.346\n",
    "A|4' 3/8\"|1/16 in|",
    NULL};
static const char *const dictionary[] = {"distance\t",
                                         "near\t",
                                         "hi\t",
                                         "target\t",
                                         "pole\t",
                                         "over\t",
                                         "water",
                                         "land",
                                         "air\t",
                                         "pressure\t",
                                         "low\t",
                                         "high\t",
                                         "water_temperature\t",
                                         "at\t",
                                         "wind\t",
                                         "wind_from\t",
                                         "latitude\t",
                                         "azimuth\t",
                                         "water_readings\t",
                                         "near_method\ttarget",
                                         "far_method\ttape",
                                         "distance_by\tmap",
                                         "level\tL1",
                                         "k\t",
                                         "dk\t",
                                         "radius\t",
                                         "\n",
                                         "@",
                                         " m",
                                         " ft",
                                         " C",
                                         " F",
                                         "PEG|",
                                         "|",
                                         "'",
                                         "\"",
                                         " mm",
                                         "declared\ta=1 mm",
                                         "flow\tflowing",
                                         "depth\t",
                                         NULL};

/* Computing takes longest here, so one of the papers is made each time, and seldom the table. */
static void check_drawn(const struct book_figures *figures, unsigned options)
{
	struct report_plan plan = {.style = level_style_default(LEVEL_M)};
	struct book_figures settings;
	struct fault why = {0};
	char *text = NULL;
	size_t size;
	FILE *out;
	if (!book_settings_figures(here.book, &settings, &why) ||
	    !book_plan_of(&settings, 5 * LEVEL_NM_PER_M, figures, &plan.plan, &plan.figures,
	                  &why) ||
	    !level_plan_check(&plan.plan, &why))
		return;
	out = open_memstream(&text, &size);
	if (options >> 4 & 7)
		report_plan(out, &plan, options >> 3 & 1);
	else
		report_plan_table(out, &plan, plan.plan.distance, 2 * plan.plan.distance,
		                  plan.plan.distance / 4, true);
	fclose(out);
	FUZZ_LAW(!strstr(text, "nan"), "the plan \"%s\" is said as\n%s", figures->text, text);
	free(text);
}

static bool check_plan(const struct book_figures *figures, unsigned options)
{
	struct book_plan plan;
	struct fault why = {0};
	if (!book_plan_set(here.book, "across", figures, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
		         "the plan \"%s\" is refused as %d: %s", figures->text, (int)why.kind,
		         why.text);
		return false;
	}
	if (!FUZZ_LAW(book_plan_find(here.book, "across", &plan, &why),
	              "the plan \"%s\" cannot be found again: %s", figures->text, why.text))
		return true;
	FUZZ_LAW(strcmp(plan.figures.text, figures->text) == 0, "the plan \"%s\" is kept as \"%s\"",
	         figures->text, plan.figures.text);
	check_drawn(figures, options);
	return true;
}

/* "name|elevation|u|source" */
static bool mark(const char *line, enum level_unit unit)
{
	char part[4][140] = {"", "", "", ""};
	struct book_mark *list = NULL;
	struct fault why = {0};
	level_nm elevation = 0, u = 0;
	size_t count;
	bool found = false;
	for (int i = 0; i < 4 && *line; i++) {
		size_t size = strcspn(line, "|");
		snprintf(part[i], sizeof part[i], "%.*s", (int)(size < 139 ? size : 139), line);
		line += size + (line[size] == '|');
	}
	if (!book_mark_set_in(here.book, unit, part[0], part[1], part[2], part[3], &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
		         "the mark \"%s\" is refused as %d: %s", part[0], (int)why.kind, why.text);
		return false;
	}
	FUZZ_LAW(level_parse_length(part[1], unit, &elevation, &why) &&
	             (!*part[2] || level_parse_length(part[2], unit, &u, &why)),
	         "the mark \"%s\" is kept at \"%s\" +- \"%s\"", part[0], part[1], part[2]);
	if (!FUZZ_LAW(book_marks(here.book, &list, &count, &why), "the marks cannot be read: %s",
	              why.text))
		return true;
	for (size_t i = 0; i < count; i++)
		found |= strcmp(list[i].name, part[0]) == 0 && list[i].elevation == elevation &&
		         list[i].u == u && strcmp(list[i].source, part[3]) == 0;
	FUZZ_LAW(found, "the mark \"%s\" is not there as it was given", part[0]);
	free(list);
	return true;
}

static void check_marks_taken(void)
{
	struct fault why = {0};
	char *first = shelf_export_marks(&here, &why), *second = NULL;
	if (!FUZZ_LAW(first != NULL, "the marks cannot be exported: %s", why.text))
		return;
	shelf_begin(&there);
	if (FUZZ_LAW(shelf_import(&there, first, &why), "marks that were exported: %s\n%s",
	             why.text, first)) {
		second = shelf_export_marks(&there, &why);
		FUZZ_LAW(second && strcmp(first, second) == 0, "marks exported twice:\n%s\n%s",
		         first, second ? second : why.text);
	}
	shelf_end(&there);
	free(first);
	free(second);
}

static void check_whole_taken(void)
{
	struct fault why = {0};
	char *first = shelf_export_whole(&here, &why), *second = NULL;
	if (!FUZZ_LAW(first != NULL, "the book cannot be exported: %s", why.text))
		return;
	shelf_begin(&there);
	if (FUZZ_LAW(shelf_import(&there, first, &why), "a book that was exported: %s\n%s",
	             why.text, first)) {
		second = shelf_export_whole(&there, &why);
		FUZZ_LAW(second && strcmp(first, second) == 0, "a book exported twice:\n%s\n%s",
		         first, second ? second : why.text);
	}
	shelf_end(&there);
	free(first);
	free(second);
}

static bool one(const char *text, unsigned options)
{
	struct book_figures figures = {0};
	enum level_unit unit = (enum level_unit)(options & 3);
	bool all = *text != '\0', marks = false;
	shelf_begin(&here);
	while (*text) {
		char line[600], *tab;
		size_t size = strcspn(text, "\n");
		snprintf(line, sizeof line, "%.*s", (int)(size < 599 ? size : 599), text);
		text += size + (text[size] == '\n');
		tab = strchr(line, '\t');
		if (tab) {
			*tab = '\0';
			all &= book_figure_put(&figures, line, tab + 1, NULL);
		} else if (strchr(line, '|')) {
			bool taken = mark(line, unit);
			marks |= taken;
			all &= taken;
		}
	}
	if (*figures.text)
		all &= check_plan(&figures, options);
	if (marks)
		check_marks_taken();
	if ((options >> 8 & 15) == 0)
		check_whole_taken();
	shelf_end(&here);
	return all;
}

static bool begin(void)
{
	struct book_instrument level = {
	    .name = "L1", .tolerance = "0.1 mm/m", .tilt = "0.02 mm/m", .tilt_u = "0.01 mm/m"};
	return shelf_open(&here, LEVEL_M) && shelf_open(&there, LEVEL_FT) &&
	       book_instrument_set(here.book, &level, NULL);
}

static void end(void)
{
	shelf_close(&here);
	shelf_close(&there);
}

const struct fuzz_target fuzz_target = {
    .name = "plan",
    .words = "plans and marks, kept, found, printed, exported and taken by another book",
    .seeds = seeds,
    .dictionary = dictionary,
    .most = 1200,
    .tries = 600,
    .begin = begin,
    .one = one,
    .end = end,
};
