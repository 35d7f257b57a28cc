/* The field test as a form that counts its pairs down. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

static const struct field_place places[] = {{0, 1, 12, 14, 40, "Backsight"},
                                            {0, 32, 43, 14, 40, "Foresight"}};

static const char *const hints[] = {"What the rod behind shows at the cross-hair: 1.432, 57 3/8.",
                                    "What the rod in front shows: the pair is booked by Enter."};
static const char bar[] =
    " Enter next, then books  Ctrl-D strike the last pair  Esc back\n"
    "  Enter             on to the foresight; on it, books the pair\n"
    "  Ctrl-D            strikes the last pair, to be read again\n"
    "  Esc               turns back: the pairs are booked, the test goes on later";

static size_t wanted(const struct book_fieldtest *test)
{
	return test->full ? LEVEL_FIELDTEST_FULL : LEVEL_FIELDTEST_SIMPLIFIED;
}

/* Where to stand for pair number n, from 0. */
static void put_where(const struct book_fieldtest *test, size_t n, char *text, size_t size)
{
	size_t all = wanted(test);
	if (n >= all)
		snprintf(text, size, "all %zu pairs are there: Esc turns back", all);
	else if (!test->full)
		snprintf(text, size, "pair %zu of %zu, %zu to go: %s", n + 1, all, all - n,
		         n < all / 2 ? "midway between rods 60 m apart" : "near one of the rods");
	else
		snprintf(text, size, "pair %zu of %zu, %zu to go: midway between rods 60 m apart%s",
		         n + 1, all, all - n, n < all / 2 ? "" : ", the rods exchanged");
}

/* What the pairs so far come to, as text lines; free it. */
static char *figures(const struct book_fieldtest *test, const struct level_pair *pairs,
                     size_t count, const struct level_style *style)
{
	struct level_fieldtest result;
	struct fault why = {0};
	char *text = NULL;
	double sigma;
	size_t used = 0;
	FILE *out = open_memstream(&text, &used);
	if (!out)
		return NULL;
	if (count < wanted(test)) {
		fprintf(out, "move the level a little and level it anew before each pair\n");
	} else if (!level_fieldtest(pairs, count, test->full, &result, &why)) {
		fprintf(out, "%s\n", why.text);
	} else {
		if (*test->sigma && level_parse_sigma(test->sigma, test->unit, &sigma, NULL))
			level_fieldtest_hold(&result, sigma);
		report_fieldtest(out, &result, false, style, false);
	}
	fclose(out);
	return text;
}

static void paint_pairs(const struct level_pair *pairs, size_t count,
                        const struct level_style *style, int row, int rows)
{
	size_t first = count > (size_t)rows ? count - (size_t)rows : 0;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], d[LEVEL_LENGTH_BYTES], text[400];
	for (size_t i = first; i < count; i++) {
		snprintf(
		    text, sizeof text, "%3zu  BS %s  FS %s  difference %s", i + 1,
		    level_format_length(a, pairs[i].backsight, style, false),
		    level_format_length(b, pairs[i].foresight, style, false),
		    level_format_length(d, pairs[i].backsight - pairs[i].foresight, style, true));
		term_text(stdscr, row++, 1, COLS - 2, text);
	}
}

static void paint_lines(const char *text, int row, int last)
{
	char part[600];
	while (text && *text && row < last) {
		size_t size = term_fitting(text, COLS - 2);
		snprintf(part, sizeof part, "%.*s", (int)size, text);
		term_text(stdscr, row++, 1, COLS - 2, part);
		text += size + strspn(text + size, " ");
		text += *text == '\n';
	}
}

static void paint(struct fields *fields, const struct book_fieldtest *test,
                  const struct level_pair *pairs, size_t count, const struct level_style *style,
                  const char *message)
{
	char title[LEVEL_NAME_BYTES + 60], where[200], *text;
	bool whole = count >= wanted(test);
	snprintf(title, sizeof title, "Field test of %s, %s, in %s", test->instrument,
	         test->full ? "full" : "simplified", level_unit_words(test->unit));
	if (!term_begin_page(title))
		return;
	put_where(test, count, where, sizeof where);
	term_text(stdscr, 1, 1, COLS - 2, where);
	text = figures(test, pairs, count, style);
	if (!whole)
		paint_pairs(pairs, count, style, 6, LINES - 11);
	paint_lines(text, whole ? 6 : 4, LINES - 4);
	free(text);
	term_message(LINES - 3, 2, A_BOLD, message);
	view_bar(bar);
	wnoutrefresh(stdscr);
	fields_show(fields, 2);
	doupdate();
}

/* Where to stand is the meaning of both fields. */
static void help(const struct fields *fields, const struct book_fieldtest *test, size_t count)
{
	char where[200];
	int i = fields_focus(fields);
	put_where(test, count, where, sizeof where);
	view_hints("A field test",
	           &(struct hints){places[i].name, where, hints[i], bar, view_fields_keys});
}

static void book_pair(struct book *book, struct fields *fields, int64_t id, char *message,
                      size_t size)
{
	char backsight[64], foresight[64];
	struct fault why = {0};
	fields_text(fields, 0, backsight, sizeof backsight);
	fields_text(fields, 1, foresight, sizeof foresight);
	if (book_fieldtest_pair(book, id, backsight, foresight, &why)) {
		fields_set(fields, 0, "");
		fields_set(fields, 1, "");
		fields_go(fields, 0);
		message[0] = '\0';
	} else {
		snprintf(message, size, "%s", why.text);
	}
}

/* Reads the test anew, with its pairs. */
static bool reload(struct book *book, const char *instrument, int64_t id,
                   struct book_fieldtest *test, struct level_pair *pairs, size_t *count,
                   struct fault *why)
{
	struct book_fieldtest *list;
	size_t tests;
	bool found = false;
	if (!book_fieldtests(book, instrument, &list, &tests, why))
		return false;
	for (size_t i = 0; i < tests; i++)
		if (list[i].id == id) {
			*test = list[i];
			found = true;
		}
	free(list);
	return found && book_read_pairs(test->pairs, test->unit, pairs, count, why);
}

static void run_test(struct book *book, const char *instrument, int64_t id, char *message,
                     size_t size)
{
	struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	const char *const texts[] = {"", ""};
	struct book_fieldtest test;
	struct level_style style;
	struct fault why = {0};
	size_t count;
	struct fields *fields = fields_open(1, places, 2, texts);
	message[0] = '\0';
	while (fields) {
		struct key key;
		enum field_answer answer;
		if (!reload(book, instrument, id, &test, pairs, &count, &why)) {
			snprintf(message, size, "%s", why.text);
			break;
		}
		style = level_style_default(test.unit);
		paint(fields, &test, pairs, count, &style, message);
		answer = fields_read(fields, &key);
		if (answer == FIELDS_GONE || answer == FIELDS_BACK)
			break;
		if (answer != FIELDS_RESIZED)
			message[0] = '\0';
		if (answer == FIELDS_HELP)
			help(fields, &test, count);
		else if (answer == FIELDS_DONE)
			book_pair(book, fields, id, message, size);
		else if (answer == FIELDS_REFUSED)
			snprintf(message, size, "that cannot stand here");
		else if (term_is_control(&key, 'd'))
			snprintf(message, size, "%s",
			         book_fieldtest_strike(book, id, &why) ? "struck; read it again"
			                                               : why.text);
	}
	fields_close(fields);
}

static int64_t begin_test(struct book *book, const char *instrument, char *message, size_t size)
{
	static const struct list_line extents[] = {
	    {"simplified", "10 pairs from midway, 10 from near one rod", NULL},
	    {"full", "20 pairs from midway, the rods exchanged, 20 pairs more", NULL}};
	struct question sigma = {"Sigma", "Stated standard deviation, as 0.7 mm/km; empty: none.",
	                         "", 40, "sigma"};
	struct fault why = {0};
	size_t at = 0;
	int64_t id;
	message[0] = '\0';
	if (list_choose("The field test", extents, 2, &at, "",
	                " Up Down choose  Enter accept  Esc turn back", "") != KEY_ENTER)
		return 0;
	while (ask("What is it held against?", &sigma, 1, NULL, message)) {
		if (book_fieldtest_begin(book, instrument, at == 1, sigma.text, &id, &why))
			return id;
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
	return 0;
}

void view_fieldtests(struct book *book, const char *instrument)
{
	struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	char message[640] = "", title[LEVEL_NAME_BYTES + 40];
	size_t at = 0;
	int key = 0;
	snprintf(title, sizeof title, "Field tests of %s", instrument);
	while (key != TERM_KEY_ESCAPE) {
		struct book_fieldtest *list;
		struct rows rows = {0};
		struct fault why = {0};
		size_t count;
		int64_t id = 0;
		if (!book_fieldtests(book, instrument, &list, &count, &why) ||
		    !rows_open(&rows, count)) {
			rows_close(&rows);
			free(list);
			return;
		}
		for (size_t i = 0; i < count; i++) {
			size_t done = 0;
			book_read_pairs(list[i].pairs, list[i].unit, pairs, &done, NULL);
			snprintf(rows.name[i], ROW_BYTES, "%.16s", list[i].time);
			snprintf(rows.text[i], ROW_BYTES, "%s, %zu of %zu pairs",
			         list[i].full ? "full" : "simplified", done, wanted(&list[i]));
		}
		if (count == 0 && !*message)
			strcpy(message, "no field test yet: n begins one");
		key = list_choose(title, rows.line, count, &at, "n",
		                  " Up Down choose  Enter go on  n new  Esc turn back", message);
		message[0] = '\0';
		if (key == 'n')
			id = begin_test(book, instrument, message, sizeof message);
		else if (key == KEY_ENTER && count)
			id = list[at].id;
		rows_close(&rows);
		free(list);
		if (id)
			run_test(book, instrument, id, message, sizeof message);
	}
}
