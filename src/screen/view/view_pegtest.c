/* The peg test as a form: where to stand, what was read, and the tilt at every key. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

static const struct field_place places[] = {
    {0, 1, 20, 12, 40, "1st standing: A at"},
    {0, 40, 47, 12, 40, "read A"},
    {1, 15, 20, 12, 40, "B at"},
    {1, 40, 47, 12, 40, "read B"},
    {3, 1, 20, 12, 40, "2nd standing: A at"},
    {3, 40, 47, 12, 40, "read A"},
    {4, 15, 20, 12, 40, "B at"},
    {4, 40, 47, 12, 40, "read B"},
    {6, 1, 20, 12, 8, "Sky"},
    {6, 40, 51, 12, 8, "Read by"},
    {7, 1, 20, 25, BOOK_TIME_BYTES - 1, "Made at"},
};
#define DISTANCE_HINT(apart, near)                                                                 \
	"From the level to the peg: 30 m, 98 ft; the next set proposes it again.\n"                \
	"  First standing: midway between pegs " apart " apart, both distances alike.\n"           \
	"  Second standing: near one peg, such as " near ".\n"                                     \
	"  Midway a tilt shows the same on both rods and drops out of their difference."
static const char distance_hint[] = DISTANCE_HINT("50 to 100 m", "5 m from A and 55 m from B");
static const char distance_hint_feet[] =
    DISTANCE_HINT("160 to 330 ft", "15 ft from A and 180 ft from B");
static const char reading_hint[] =
    "What the rod on that peg shows at the cross-hair: 1.432, 57 3/8.\n"
    "  Read both pegs from one standing of the level.";
/* What each field is; the lines behind the first are for F1. */
static const char *const hints[] = {
    distance_hint,
    reading_hint,
    distance_hint,
    reading_hint,
    distance_hint,
    reading_hint,
    distance_hint,
    reading_hint,
    "The sky during the test: sun, cloud or water; empty: sun.\n"
    "  It says how much the air may bend the light: that counts in the tilt's u.\n"
    "  overcast and shade count as cloud. water: the sights went over water.",
    "How the rods are read: rod, tape or target; empty: rod.\n"
    "  It says how far off one reading may be, which counts in the u of the tilt.",
    HINT_TIME};
/* Enter goes distance A, reading A, distance B, reading B: the order of a standing. */
#define FIELDS ((int)(sizeof places / sizeof *places))
#define SKY (FIELDS - 3)
#define READ_BY (FIELDS - 2)
#define MADE_AT (FIELDS - 1)
#define FORM_ROWS 8

static const char bar[] =
    " Enter next  Ctrl-N next set  ^K/^B keep  Ctrl-U empty  Esc back\n"
    "  Enter             on to the next field; from the second set on Enter, Up and\n"
    "                    Down skip the distances, Tab and Shift-Tab stop there\n"
    "  Ctrl-N            the set counts; the form asks for the next one's readings\n"
    "  Ctrl-K or Ctrl-B  keeps the test with every whole set\n"
    "  Esc               turns back: nothing is kept";

struct pegs {
	struct book_settings settings;
	char tolerance[BOOK_TYPED_BYTES]; /* of the level; empty: none */
	int done;                         /* whole sets before the form's */
	char earlier[BOOK_FIGURES_BYTES]; /* sets that are done */
	struct fields *fields;
	bool odd_asked; /* a set that differs from the others was asked about */
};

static const char *hint_of(const struct pegs *pegs)
{
	const char *hint = hints[fields_focus(pegs->fields)];
	bool feet = pegs->settings.style.distance != LEVEL_M;
	return hint == distance_hint && feet ? distance_hint_feet : hint;
}

/* The form as "DA,A,DB,B; DA,A,DB,B"; false while a field is empty. */
static bool form_text(const struct fields *fields, char *text, size_t size)
{
	size_t used = 0;
	for (int i = 0; i < SKY; i++) {
		char typed[80], one[80];
		fields_text(fields, i, typed, sizeof typed);
		if (!*typed)
			return false;
		/* The comma parts the fields: those in thousands go, a decimal one becomes a point.
		 */
		if (i % 2)
			strcpy(one, typed);
		else
			level_plain_distance(one, sizeof one, typed);
		one[strcspn(one, ",")] = one[strcspn(one, ",")] ? '.' : '\0';
		used += (size_t)snprintf(text + used, size - used, "%s%s",
		                         i == 0   ? ""
		                         : i == 4 ? "; "
		                                  : ",",
		                         one);
		if (used >= size)
			return false;
	}
	return true;
}

/* Earlier sets and the form's, as one text; false where there is no whole set. */
static bool all_text(const struct pegs *pegs, char *text, size_t size)
{
	char form[700];
	bool whole = form_text(pegs->fields, form, sizeof form);
	if (!whole && !*pegs->earlier)
		return false;
	snprintf(text, size, "%s%s%s", pegs->earlier, whole && *pegs->earlier ? "; " : "",
	         whole ? form : "");
	return true;
}

/* In what air, by the sky, and how the rods are read. */
static bool take_way(const struct pegs *pegs, struct book_pegtest *out, struct fault *why)
{
	char sky[40], method[40];
	const char *dk;
	fields_text(pegs->fields, SKY, sky, sizeof sky);
	fields_text(pegs->fields, READ_BY, method, sizeof method);
	if (!book_pegtest_sky(sky, &dk, why))
		return false;
	strcpy(out->dk, dk);
	return !*method || level_method_find(method, &out->method) ||
	       fault_say(why, FAULT_INPUT, "a method is rod, tape or target, not \"%.40s\"",
	                 method);
}

static bool reckon(const struct pegs *pegs, struct level_peg_result *out, struct fault *why)
{
	struct level_standing standings[LEVEL_STANDINGS_MOST];
	struct book_pegtest test = {0};
	struct level_peg_way way;
	char text[BOOK_FIGURES_BYTES + 710];
	size_t count;
	if (!all_text(pegs, text, sizeof text))
		return fault_say(
		    why, FAULT_INPUT,
		    "stand midway between two pegs, then near one of them; fill in both");
	if (!take_way(pegs, &test, why) || !book_pegtest_way(&test, &way, why))
		return false;
	return book_read_standings(text, &pegs->settings.style, standings, &count, why) &&
	       level_peg_test(standings, count, &pegs->settings.terms, &way, out, why) &&
	       level_peg_is_likely(out, why);
}

/* A|------(1)------|B to scale: where the instrument stood. */
static void draw(const struct pegs *pegs, int first, int row)
{
	char da[80], db[80], line[70];
	level_nm a, b;
	int width = 60, at;
	fields_text(pegs->fields, first, da, sizeof da);
	fields_text(pegs->fields, first + 2, db, sizeof db);
	memset(line, '-', sizeof line);
	line[0] = 'A';
	line[width] = 'B';
	line[width + 1] = '\0';
	at = first ? width / 12 : width / 2;
	if (level_parse_distance(da, pegs->settings.style.distance, &a, NULL) &&
	    level_parse_distance(db, pegs->settings.style.distance, &b, NULL) && a > 0 && b > 0)
		at = (int)lround((double)a / ((double)a + (double)b) * width);
	at = at < 2 ? 2 : at > width - 2 ? width - 2 : at;
	line[at - 1] = '(';
	line[at] = first ? '2' : '1';
	line[at + 1] = ')';
	term_text(stdscr, row, 4, COLS - 5, line);
}

static void paint_result(const struct pegs *pegs, int row)
{
	struct level_peg_result result = {0};
	struct fault why = {0};
	const struct level_style *style = &pegs->settings.style;
	char text[400], sky[40], over[REPORT_TILT_BYTES], a[LEVEL_LENGTH_BYTES],
	    b[LEVEL_LENGTH_BYTES], tilt[REPORT_TILT_BYTES];
	if (!reckon(pegs, &result, &why)) {
		term_message(row, 2, A_NORMAL, why.text);
		return;
	}
	fields_text(pegs->fields, SKY, sky, sizeof sky);
	snprintf(text, sizeof text, "%s, %d set%s; u of the air %.2g (%s)",
	         report_tilt(tilt, result.tilt, result.u), result.sets, result.sets == 1 ? "" : "s",
	         result.air * 1000, *sky ? "by the sky" : "no sky: as in sun");
	term_text(stdscr, row, 1, COLS - 2, text);
	snprintf(text, sizeof text, "%+.2f arc seconds; %s", level_tilt_arcsec(result.tilt),
	         report_tilt_over(over, result.tilt, style));
	term_text(stdscr, row + 1, 1, COLS - 2, text);
	snprintf(text, sizeof text,
	         "curvature off, the last standing should have read %s on A, %s on B",
	         level_format_length(a, level_from_meters(result.should_a), style, false),
	         level_format_length(b, level_from_meters(result.should_b), style, false));
	term_text(stdscr, row + 2, 1, COLS - 2, text);
	report_pegtest_words(&result, &pegs->settings.tolerance, text, sizeof text);
	attrset(A_BOLD);
	term_text(stdscr, row + 3, 1, COLS - 2, text);
	report_pegtest_counts(&result, pegs->tolerance, text, sizeof text);
	term_text(stdscr, row + 4, 1, COLS - 2, text);
	attrset(A_NORMAL);
}

static void paint(const struct pegs *pegs, const char *title, const char *message)
{
	char set[LEVEL_NAME_BYTES + 120];
	snprintf(set, sizeof set, "%s: set %d", title, pegs->done + 1);
	if (!term_begin_page(set))
		return;
	view_first_line(10, 1, A_NORMAL, hint_of(pegs));
	draw(pegs, 0, 11);
	draw(pegs, 4, 12);
	paint_result(pegs, 14);
	term_message(LINES - 3, 2, A_BOLD, message);
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(pegs->fields, 2);
	doupdate();
}

/* The present set joins those that are done. The next one is made between the same pegs, so the
 * distances stay, to be accepted or typed over; the readings are asked for anew. */
static void next_set(struct pegs *pegs, char *message, size_t size)
{
	struct level_peg_result result;
	struct fault why = {0};
	char form[700];
	size_t used = strlen(pegs->earlier);
	if (!form_text(pegs->fields, form, sizeof form) || !reckon(pegs, &result, &why)) {
		snprintf(message, size, "%s", why.kind ? why.text : "this set is not whole yet");
		return;
	}
	if (used + strlen(form) + 3 >= sizeof pegs->earlier) {
		snprintf(message, size, "no more sets: keep these");
		return;
	}
	snprintf(pegs->earlier + used, sizeof pegs->earlier - used, "%s%s", used ? "; " : "", form);
	pegs->done++;
	for (int i = 1; i < SKY; i += 2)
		fields_set(pegs->fields, i, "");
	fields_go(pegs->fields, 1);
	snprintf(message, size, "the set counts; set the instrument up anew for the next");
}

static void take_tolerance(struct book *book, const char *instrument,
                           char tolerance[BOOK_TYPED_BYTES])
{
	struct book_instrument *list;
	size_t count;
	if (!book_instruments(book, &list, &count, NULL))
		return;
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].name, instrument) == 0)
			strcpy(tolerance, list[i].tolerance);
	free(list);
}

static void say_kept(const struct pegs *pegs, const char *instrument,
                     const struct level_peg_result *result, char *message, size_t size)
{
	char tilt[REPORT_TILT_BYTES], counts[120];
	report_pegtest_counts(result, pegs->tolerance, counts, sizeof counts);
	snprintf(message, size, "kept: %s has %s%s%s", instrument,
	         report_tilt(tilt, result->tilt, result->u), *counts ? "; " : "", counts);
}

static bool keep(struct book *book, struct pegs *pegs, const char *instrument, char *message,
                 size_t size)
{
	struct level_peg_result result = {0};
	struct book_pegtest test = {0};
	struct fault why = {0};
	char text[BOOK_FIGURES_BYTES + 710];
	if (!all_text(pegs, text, sizeof text)) {
		snprintf(message, size, "there is no whole set to keep yet");
		return false;
	}
	if (strlen(text) >= sizeof test.standings) {
		snprintf(message, size, "a peg test has at most %d standings",
		         LEVEL_STANDINGS_MOST);
		return false;
	}
	if (!pegs->odd_asked && reckon(pegs, &result, &why) && result.odd) {
		snprintf(message, size, "a set may be misread: Ctrl-K again keeps it all the same");
		pegs->odd_asked = true;
		return false;
	}
	strcpy(test.standings, text);
	snprintf(test.instrument, sizeof test.instrument, "%s", instrument);
	fields_text(pegs->fields, MADE_AT, test.time, sizeof test.time);
	if (take_way(pegs, &test, &why) && book_pegtest_add(book, &test, &result, &why)) {
		say_kept(pegs, instrument, &result, message, size);
		return true;
	}
	snprintf(message, size, "%s", why.text);
	return false;
}

static void help(const struct pegs *pegs, const char *title)
{
	const char *name = places[fields_focus(pegs->fields)].name;
	view_hints(title, &(struct hints){name, "", hint_of(pegs), bar, view_fields_keys});
}

static bool is_begun(const struct pegs *pegs)
{
	char text[60];
	bool begun = *pegs->earlier != '\0';
	for (int i = 0; i < FIELDS && !begun; i++) {
		fields_text(pegs->fields, i, text, sizeof text);
		begun = *text != '\0';
	}
	return begun;
}

/* From the second set on Enter, Down and Up go from reading to reading: the distances stand. Tab
 * and Shift-Tab stop at them. */
static void skip_distance(struct pegs *pegs, int before, const struct key *key)
{
	int at = fields_focus(pegs->fields);
	int by = key->kind == KEY_IS_CODE && key->value == KEY_UP ? -1 : 1;
	bool tab = key->value == (key->kind == KEY_IS_CODE ? KEY_BTAB : '\t');
	char text[60];
	if (!*pegs->earlier || tab || at != (before + by + FIELDS) % FIELDS || at >= SKY || at % 2)
		return;
	fields_text(pegs->fields, at, text, sizeof text);
	if (*text)
		fields_go(pegs->fields, (at + by + FIELDS) % FIELDS);
}

bool view_pegtest(struct book *book, const char *instrument, char *said, size_t size)
{
	struct pegs pegs = {0};
	const char *texts[FIELDS];
	char message[640] = "", title[LEVEL_NAME_BYTES + 100], units[LEVEL_LENGTH_BYTES];
	struct fault why = {0};
	bool kept = false, asked = false;
	int focus;
	if (!book_settings(book, &pegs.settings, &why)) {
		snprintf(said, size, "%s", why.text);
		return false;
	}
	take_tolerance(book, instrument, pegs.tolerance);
	for (int i = 0; i < FIELDS; i++)
		texts[i] = "";
	pegs.fields = fields_open(FORM_ROWS, places, FIELDS, texts);
	snprintf(title, sizeof title, "Peg test of %s, in %s", instrument,
	         level_style_words(units, &pegs.settings.style));
	while (pegs.fields && !kept) {
		struct key key;
		enum field_answer answer;
		paint(&pegs, title, message);
		focus = fields_focus(pegs.fields);
		answer = fields_read(pegs.fields, &key);
		if (answer == FIELDS_MOVED)
			skip_distance(&pegs, focus, &key);
		if (answer == FIELDS_HELP)
			help(&pegs, title);
		if (answer == FIELDS_RESIZED || answer == FIELDS_HELP)
			continue;
		if (answer == FIELDS_GONE || (answer == FIELDS_BACK && (asked || !is_begun(&pegs))))
			break;
		asked = answer == FIELDS_BACK;
		message[0] = '\0';
		pegs.odd_asked = pegs.odd_asked && answer == FIELDS_ACCEPT;
		if (asked)
			strcpy(message, "Esc again drops what is typed; Ctrl-K keeps a whole set");
		else if (answer == FIELDS_ACCEPT)
			kept = keep(book, &pegs, instrument, message, sizeof message);
		else if (term_is_control(&key, 'n'))
			next_set(&pegs, message, sizeof message);
		else if (answer == FIELDS_REFUSED)
			strcpy(message, "that cannot stand here");
	}
	fields_close(pegs.fields);
	snprintf(said, size, "%s", message);
	return kept;
}
