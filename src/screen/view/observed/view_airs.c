/* The air of a run. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/work/next.h"
#include "rodbook/work/wind.h"
#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/air_hints.h"
#include "screen/view/views.h"

enum { PRESSURE, LOW, HIGH, WATER, ABOVE, WIND, FROM, SKY, OBSERVED, AIR_QUESTIONS };

/* "15.2 C@1 m" into its two texts. */
static bool take_at(const struct question *question, enum air_example which,
                    const struct book_settings *settings, char value[24],
                    char height[BOOK_TYPED_BYTES], struct fault *why)
{
	char a[24], b[24];
	if (!*question->text)
		return true;
	if (!level_split_at(question->text, a, b, sizeof a)) {
		char example[AIR_EXAMPLE_BYTES];
		fault_say(why, FAULT_INPUT, "%s is written with its height behind an @, as in %s",
		          question->label, air_example(example, which, settings));
		return fault_at(why, question->field);
	}
	strcpy(value, a);
	strcpy(height, b);
	return true;
}

/* The answers as an air. */
static bool take_air(const struct question *q, const struct book_settings *settings,
                     struct book_air *air, struct fault *why)
{
	struct {
		int question;
		enum air_example example;
		char *value, *height;
	} pairs[] = {{LOW, AIR_EXAMPLE_LOW, air->low, air->low_height},
	             {HIGH, AIR_EXAMPLE_HIGH, air->high, air->high_height},
	             {ABOVE, AIR_EXAMPLE_ABOVE, air->at, air->at_height},
	             {WIND, AIR_EXAMPLE_WIND, air->wind_speed, air->wind_height}};
	snprintf(air->pressure, sizeof air->pressure, "%.23s", q[PRESSURE].text);
	snprintf(air->water, sizeof air->water, "%.23s", q[WATER].text);
	snprintf(air->wind_from, sizeof air->wind_from, "%.7s", q[FROM].text);
	snprintf(air->sky, sizeof air->sky, "%s", q[SKY].text);
	snprintf(air->time, sizeof air->time, "%.39s", q[OBSERVED].text);
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		if (!take_at(&q[pairs[i].question], pairs[i].example, settings, pairs[i].value,
		             pairs[i].height, why))
			return false;
	return true;
}

/* What the questions are, by the units of the book. */
static const struct {
	const char *label, *lead, *follows;
	enum air_example example;
	int most;
	const char *field;
} measured[] = {
    [PRESSURE] = {"Pressure", "At the place itself, not reduced to the sea",
                  " Empty: 1013 hPa.\n"
                  "  1006 hPa, 29.7 inHg. It changes k little: 10 hPa change it by one per cent.",
                  AIR_EXAMPLE_PRESSURE, 20, "pressure"},
    [LOW] = {"Low", "The lower thermometer and its height",
             " Best below the line.\n"
             "  15.2 C@1 m, 59.4 F at 3 ft: what it shows, then how high it hangs above the\n"
             "  water. The two thermometers tell by how much the air grows warmer upward.",
             AIR_EXAMPLE_LOW, 20, "low"},
    [HIGH] = {"High", "The upper one, best above the line",
              " Shaded, aired.\n"
              "  14.8 C@6 m, 58.6 F at 20 ft.\n"
              "  Where the air below is the warmer one, light bends up, and k is below 0.",
              AIR_EXAMPLE_HIGH, 20, "high"},
    [WATER] = {"Water", "The water's surface, by the thermometer dipped into it",
               "\n"
               "  18.2 C, without a height. With the next two it gives k where no mast stands:\n"
               "  how much warmer the water is than the air, and how the wind mixes both.",
               AIR_EXAMPLE_WATER, 20, "water"},
    [ABOVE] = {"Above it", "The same thermometer then held above the water",
               "\n"
               "  15.1 C@2 m, 59.2 F at 6 ft.\n"
               "  One thermometer for both, so that its own error drops out.",
               AIR_EXAMPLE_ABOVE, 20, "at"},
    [WIND] = {"Wind", "Wind there, with its height",
              "\n"
              "  3 m/s@2 m, 7 mph at 6 ft. A strong breeze is asked about once: is it a\n"
              "  temperature?",
              AIR_EXAMPLE_WIND, 20, "wind"},
};
#define MEASURED (sizeof measured / sizeof *measured)

static const struct question from = {
    "Wind from",
    "water or land: where the wind at the mast comes from.\n"
    "  From land it brings the land's air: then nothing that was read at this mast\n"
    "  counts, and k is the default, wide as it is.",
    "", 7, "wind_from"};
static const struct question sky = {
    "Sky", "Such as: overcast.\n  In words, for whoever reads it; no k comes from it.", "", 60,
    "sky"};
static const struct question observed = QUESTION_TIME;

/* The questions, empty; hints: room for what they are. */
static void put_questions(const struct book_settings *settings, struct question q[AIR_QUESTIONS],
                          char hints[MEASURED][AIR_HINT_BYTES])
{
	for (size_t i = 0; i < MEASURED; i++)
		q[i] = (struct question){.label = measured[i].label,
		                         .hint = air_hint(hints[i], measured[i].lead,
		                                          measured[i].example, measured[i].follows,
		                                          settings),
		                         .most = measured[i].most,
		                         .field = measured[i].field};
	q[FROM] = from;
	q[SKY] = sky;
	q[OBSERVED] = observed;
}

/* A value with its height, as it is typed. */
static void put_at(struct question *question, const char *value, const char *height)
{
	if (*value)
		snprintf(question->text, sizeof question->text, "%s@%s", value, height);
}

/* An air that is booked, into the questions. */
static void put_air(const struct book_air *air, struct question *q)
{
	snprintf(q[OBSERVED].text, sizeof q->text, "%s", air->time);
	snprintf(q[PRESSURE].text, sizeof q->text, "%s", air->pressure);
	put_at(&q[LOW], air->low, air->low_height);
	put_at(&q[HIGH], air->high, air->high_height);
	snprintf(q[WATER].text, sizeof q->text, "%s", air->water);
	put_at(&q[ABOVE], air->at, air->at_height);
	put_at(&q[WIND], air->wind_speed, air->wind_height);
	snprintf(q[FROM].text, sizeof q->text, "%s", air->wind_from);
	snprintf(q[SKY].text, sizeof q->text, "%s", air->sky);
}

/* Whether what was read of this air is enough for a k. */
static bool is_enough(const struct book_air *air)
{
	return (*air->low && *air->high) || (*air->water && *air->at && *air->wind_speed);
}

/* What was sealed never moves by itself. A wind that is not said takes no k away, one from land
 * does. */
static void say_booked(const struct editor *ed, const struct book_air *air, bool changed,
                       char *message, size_t size)
{
	if (!ed->terms.sealed && !*air->wind_from && is_enough(air)) {
		snprintf(message, size,
		         "air %s; say where the wind came from (Enter on it): land gives no k",
		         changed ? "changed" : "booked");
		return;
	}
	snprintf(message, size, "the air is %s%s",
	         changed ? "changed; the old one stays, struck" : "booked",
	         ed->terms.sealed ? "; the run is sealed, k stays until you amend it: F11, figures"
	         : strcmp(air->wind_from, "land") == 0
	             ? "; the wind comes from land: it gives no k, and the default counts"
	             : "");
}

static void say_doubted(const char *wind, const struct book_settings *settings, char *message,
                        size_t size)
{
	const char *unit = level_quantity_unit(LEVEL_SPEED, settings->units.of[LEVEL_SPEED]);
	bool bare = level_is_bare(wind);
	snprintf(message, size,
	         "no rod stands still in a wind of %s%s%s: is it a temperature? Enter books it all "
	         "the same",
	         wind, bare ? " " : "", bare ? unit : "");
}

/* Asks once about a height that is doubted; whether it did, and *cursor is then its question. */
static bool asks_height(const struct question *q, enum level_unit unit, char doubted[60],
                        int *cursor, char *message, size_t size)
{
	static const int with_height[] = {LOW, HIGH, ABOVE, WIND};
	char value[60], height[60];
	for (size_t i = 0; i < sizeof with_height / sizeof *with_height; i++) {
		const char *text = q[with_height[i]].text;
		if (!level_split_at(text, value, height, sizeof value) ||
		    !work_doubt_height(height, unit))
			continue;
		if (strncmp(text, doubted, 59) == 0)
			return false;
		snprintf(doubted, 60, "%.59s", text);
		snprintf(message, size,
		         "%.20s inches above the water, or %.20s ft? Enter books the inches",
		         height, height);
		*cursor = with_height[i];
		return true;
	}
	return false;
}

/* The day of the last air, where notes of another day are typed. */
static void put_day(const struct editor *ed, char *text)
{
	struct book_air *list;
	size_t count;
	if (!book_airs(ed->book, ed->run.info.id, &list, &count, NULL))
		return;
	if (count)
		work_paper_day(ed->book, list[count - 1].time, list[count - 1].booked, text);
	free(list);
}

/* Changes an air; where the book wants a reason, it is asked for until there is one, or the user
 * turns back. */
static bool change(struct editor *ed, int64_t old, const struct book_air *air, struct fault *why)
{
	char reason[LEVEL_REMARK_BYTES] = "";
	const char *said = "";
	while (!book_air_change(ed->book, ed->run.info.id, old, air, reason, why)) {
		if (!why->field || strcmp(why->field, "reason") != 0)
			return false;
		if (!ask_reason("Change an air", "The figures are sealed: why is the air changed?",
		                reason, said)) {
			why->text[0] = '\0';
			return false;
		}
		said = why->text;
	}
	return true;
}

/* Asks for an air, or for another one in the place of `old`. A wind that is doubted is booked when
 * it is entered twice. Whether one was booked. */
static bool read_air(struct editor *ed, const struct book_air *old, char *message, size_t size)
{
	struct question questions[AIR_QUESTIONS];
	struct fault why = {0};
	char doubted[24] = "", doubted_height[60] = "", hints[MEASURED][AIR_HINT_BYTES];
	int cursor = PRESSURE;
	put_questions(&ed->settings, questions, hints);
	if (old) {
		struct book_air typed = book_air_typed(old, &ed->settings);
		put_air(&typed, questions);
	} else
		put_day(ed, questions[OBSERVED].text);
	message[0] = '\0';
	while (ask(old ? "Change an air" : "The air", questions, AIR_QUESTIONS, &cursor, message)) {
		struct book_air air = {0};
		int64_t run = ed->run.info.id;
		bool taken = take_air(questions, &ed->settings, &air, &why);
		if (taken && work_doubt_wind(air.wind_speed, &ed->settings) &&
		    strcmp(air.wind_speed, doubted) != 0) {
			strcpy(doubted, air.wind_speed);
			say_doubted(air.wind_speed, &ed->settings, message, size);
			cursor = WIND;
			continue;
		}
		if (taken && asks_height(questions, ed->settings.style.unit, doubted_height,
		                         &cursor, message, size))
			continue;
		if (taken && (old ? change(ed, old->id, &air, &why)
		                  : book_air_add(ed->book, run, &air, &why))) {
			say_booked(ed, &air, old != NULL, message, size);
			return true;
		}
		snprintf(message, size, "%s", why.text);
		cursor = question_at(questions, AIR_QUESTIONS, &why, cursor);
	}
	message[0] = '\0';
	return false;
}

/* What is struck says why before all else; its figures stand below the list. */
static void list_airs(const struct book_air *list, size_t count, struct rows *rows,
                      char (*details)[ROW_BYTES])
{
	for (size_t i = 0; i < count; i++) {
		const struct book_air *a = &list[i];
		/* month, day and time: a run is of one year */
		snprintf(rows->name[i], ROW_BYTES, "%.11s",
		         strlen(a->time) > 16 ? a->time + 5 : a->time);
		report_air_text(a, details[i], ROW_BYTES);
		if (*a->struck)
			snprintf(rows->text[i], ROW_BYTES, "x struck: %s", a->why);
		else
			strcpy(rows->text[i], details[i]);
		rows->line[i].detail = details[i];
	}
}

static const char bar[] =
    " Up Down choose  Enter change  n new  s strike  Esc turn back\n"
    "  Enter          changes the air: the old one stays in the list, struck\n"
    "  n              books another air\n"
    "  s              strikes an air, with a reason\n"
    "  Esc            turns back\n"
    "k comes from all the air that is booked here, until the figures are sealed.";

void view_airs(struct editor *ed)
{
	char message[640] = "";
	size_t at = 0;
	int key = 0;
	while (key != TERM_KEY_ESCAPE) {
		struct book_air *list;
		struct rows rows = {0};
		struct fault why = {0};
		char(*details)[ROW_BYTES];
		size_t count;
		bool struck;
		if (!book_airs(ed->book, ed->run.info.id, &list, &count, &why))
			return;
		details = calloc(count + 1, sizeof *details);
		if (!details || !rows_open(&rows, count)) {
			rows_close(&rows);
			free(details);
			free(list);
			return;
		}
		list_airs(list, count, &rows, details);
		if (count == 0 && !*message)
			strcpy(message, "no air was booked yet: n books it");
		key = list_choose("The air of this run", rows.line, count, &at, "ns", bar, message);
		message[0] = '\0';
		struck = count && *list[at].struck;
		/* The bar goes to what is new: the last line. */
		if (key == 'n' && read_air(ed, NULL, message, sizeof message))
			at = count;
		else if (key == KEY_ENTER && struck)
			strcpy(message, "that one is struck: n books another one");
		else if (key == KEY_ENTER && count &&
		         read_air(ed, &list[at], message, sizeof message))
			at = count;
		else if (key == 's' && struck)
			strcpy(message, "that one is struck already");
		else if (key == 's' && count)
			ask_strike(ed->book, ed->run.info.id, list[at].id, "Strike an air",
			           book_air_strike, message, sizeof message);
		rows_close(&rows);
		free(details);
		free(list);
	}
}
