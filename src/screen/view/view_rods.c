/* The rods of the book. */
#include <stdlib.h>
#include <string.h>

#include "screen/editor.h"
#include "screen/pane/rows.h"
#include "screen/view/views.h"

static void ask_rod(struct book *book, const struct book_rod *old, char *message, size_t size)
{
	struct question questions[] = {
	    {"Name", "A name for the rod, such as its number.", "", LEVEL_NAME_CHARS, "name"},
	    {"Zero",
	     "What it reads too high by at its zero, as 0.3 mm; empty: 0.\n"
	     "  A worn foot reads too high. One rod cancels it by itself, two rods over an\n"
	     "  even number of setups.",
	     "", 40, "zero"},
	    {"Scale",
	     "Parts per million by which its units are too long; empty: 0.\n"
	     "  20: a meter of it is 0.02 mm too long. It counts with the height climbed.",
	     "", 20, "scale"},
	    {"Expansion",
	     "ppm/K above the reference temperature; empty: not known.\n"
	     "  By the maker: about 1 of invar, about 23 of aluminum.",
	     "", 20, "expansion"},
	    {"Reference",
	     "Degrees C at which the scale holds.\n  20. It goes with the expansion: give both, or "
	     "neither.",
	     "", 20, "reference"},
	    {"Length", "Its length, as 4 m.\n  A longer reading than that is refused as a slip.",
	     "", 40, "length"},
	    {"Remark", "", "", LEVEL_REMARK_CHARS, "remark"}};
	int cursor = 0;
	struct fault why = {0};
	if (old) {
		strcpy(questions[0].text, old->name);
		strcpy(questions[1].text, old->zero);
		strcpy(questions[2].text, old->scale);
		strcpy(questions[3].text, old->expansion);
		strcpy(questions[4].text, old->reference);
		strcpy(questions[5].text, old->longest);
		strcpy(questions[6].text, old->remark);
	}
	message[0] = '\0';
	while (ask("A rod", questions, 7, &cursor, message)) {
		struct book_rod rod = {0};
		snprintf(rod.name, sizeof rod.name, "%.160s", questions[0].text);
		snprintf(rod.zero, sizeof rod.zero, "%.60s", questions[1].text);
		snprintf(rod.scale, sizeof rod.scale, "%.20s", questions[2].text);
		snprintf(rod.expansion, sizeof rod.expansion, "%.20s", questions[3].text);
		snprintf(rod.reference, sizeof rod.reference, "%.20s", questions[4].text);
		snprintf(rod.longest, sizeof rod.longest, "%.60s", questions[5].text);
		snprintf(rod.remark, sizeof rod.remark, "%.480s", questions[6].text);
		if (book_rod_set(book, &rod, &why)) {
			snprintf(message, size, "%s is in the book", rod.name);
			return;
		}
		snprintf(message, size, "%s", why.text);
		cursor = question_at(questions, 7, &why, cursor);
	}
	message[0] = '\0';
}

bool view_rods(struct book *book, char picked[LEVEL_NAME_BYTES])
{
	char message[640] = "";
	size_t at = 0;
	bool done = false;
	int key = 0;
	picked[0] = '\0';
	while (!done && key != TERM_KEY_ESCAPE) {
		struct book_rod *list;
		struct rows rows = {0};
		struct fault why = {0};
		size_t count;
		if (!book_rods(book, &list, &count, &why) || !rows_open(&rows, count + 1)) {
			rows_close(&rows);
			free(list);
			return false;
		}
		strcpy(rows.name[0], "-");
		strcpy(rows.text[0], "a rod without a name, taken as true");
		for (size_t i = 0; i < count; i++) {
			snprintf(rows.name[i + 1], ROW_BYTES, "%s", list[i].name);
			snprintf(rows.text[i + 1], ROW_BYTES,
			         "zero %s  scale %s ppm  expansion %s ppm/K from %s C  %s",
			         *list[i].zero ? list[i].zero : "-",
			         *list[i].scale ? list[i].scale : "-",
			         *list[i].expansion ? list[i].expansion : "-",
			         *list[i].reference ? list[i].reference : "-", list[i].remark);
		}
		key = list_choose("The rod of the sight that is typed", rows.line, count + 1, &at,
		                  "nc",
		                  " Up Down choose  Enter take  n new  c change  Esc turn back\n"
		                  "  Enter          the sight that is typed is read on this rod\n"
		                  "  n              names another rod\n"
		                  "  c              changes what is known of it\n"
		                  "  Esc            turns back",
		                  message);
		message[0] = '\0';
		if (key == 'n' || (key == 'c' && at > 0)) {
			ask_rod(book, key == 'c' ? &list[at - 1] : NULL, message, sizeof message);
		} else if (key == KEY_ENTER) {
			if (at > 0)
				strcpy(picked, list[at - 1].name);
			done = true;
		}
		rows_close(&rows);
		free(list);
	}
	return done;
}
