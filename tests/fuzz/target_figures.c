/* Figures by name: what is put is there, in order, and gives the same terms when it is put anew. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/book/crossing.h"

static const char *const seeds[] = {
    "k\t0.2\ndk\t0.5\nradius\t6371 km\n",
    "instrument L1\t0.1 mm/m\ntilt L1\t0.02 mm/m\ntilt_u L1\t0.01 mm/m\ntilt_sets L1\t3\ntilt_g "
    "L1\t12.5 m\n",
    "declared\ta=1 mm; b=0.01 mm/m\nwater\t2 mm\nflow\t0.1 mm/m\ndecides\tall\n",
    "rod_reading\t0.5 mm + 0.010 mm/m\nwind_speed\t12 mph\nair_common\t0.3\nrule\t4\n",
    "k\t0.2\nk\t0.3\nk\t\nx\ty\n",
    NULL};
static const char *const dictionary[] = {"k\t",
                                         "dk\t",
                                         "dk_low\t",
                                         "dk_high\t",
                                         "radius\t",
                                         "declared\t",
                                         "water\t",
                                         "flow\t",
                                         "decides\t",
                                         "rule\t",
                                         "wind_speed\t",
                                         "instrument L1\t",
                                         "tilt L1\t",
                                         "tilt_sets L1\t",
                                         "tilt_g L1\t",
                                         "instrument ",
                                         "tilt ",
                                         "by height",
                                         "as dk",
                                         "not declared",
                                         "still",
                                         "all",
                                         "u95",
                                         " mm/m",
                                         " m",
                                         " km",
                                         "\n",
                                         "\t",
                                         "air_common\t",
                                         "drift\t",
                                         "depth\t",
                                         "place\t",
                                         "thermometer_u\t",
                                         "distance_tape\t",
                                         NULL};

/* The same list, kept the plain way. */
struct list {
	int count;
	char name[128][300], value[128][300];
};

static bool check_list(const struct book_figures *figures, const struct list *list)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	bool same = true;
	int i = 0;
	for (; book_figure_at(figures, (size_t)i, name, value); i++)
		same = same && i < list->count && strcmp(name, list->name[i]) == 0 &&
		       strcmp(value, list->value[i]) == 0;
	for (int j = 0; j < list->count; j++)
		same = same && book_figure(figures, list->name[j], value) &&
		       strcmp(value, list->value[j]) == 0;
	return FUZZ_LAW(same && i == list->count, "the figures \"%s\" are not those that were put",
	                figures->text);
}

static void put(struct list *list, const char *name, const char *value)
{
	int i = 0;
	while (i < list->count && strcmp(list->name[i], name) != 0)
		i++;
	if (*value) {
		if (i == list->count)
			list->count++;
		strcpy(list->name[i], name);
		strcpy(list->value[i], value);
	} else if (i < list->count) {
		list->count--;
		memmove(list->name[i], list->name[i + 1],
		        sizeof list->name[0] * (size_t)(list->count - i));
		memmove(list->value[i], list->value[i + 1],
		        sizeof list->value[0] * (size_t)(list->count - i));
	}
}

/* Puts each line "name TAB value"; false where one is refused. */
static bool put_lines(const char *text, struct book_figures *figures, struct list *list)
{
	bool all = true;
	while (*text) {
		char name[300], value[300];
		size_t size = strcspn(text, "\n"), split = strcspn(text, "\t\n");
		struct fault why = {0};
		if (split < sizeof name && size - split <= sizeof value && list->count < 127) {
			snprintf(name, sizeof name, "%.*s", (int)split, text);
			snprintf(value, sizeof value, "%.*s", (int)(size - split - (split < size)),
			         text + split + (split < size));
			if (book_figure_put(figures, name, value, &why))
				put(list, name, value);
			else
				all = FUZZ_LAW(why.kind == FAULT_INPUT && *why.text,
				               "a figure is refused without a reason") &&
				      false;
		}
		text += size + (text[size] == '\n');
	}
	return all;
}

static bool one(const char *text, unsigned options)
{
	static struct list list, twice;
	struct book_figures figures = {0}, back = {0};
	struct book_run run = {.instruments = options & 1 ? 2 : 1};
	struct level_terms terms, again;
	struct fault why = {0};
	bool all;
	list.count = twice.count = 0;
	strcpy(run.instrument[1], "L1");
	if (options & 2)
		book_default_figures(&figures);
	for (char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	     book_figure_at(&figures, (size_t)list.count, name, value);)
		put(&list, name, value);
	all = put_lines(text, &figures, &list);
	if (!check_list(&figures, &list))
		return false;
	put_lines(figures.text, &back, &twice);
	FUZZ_LAW(strcmp(figures.text, back.text) == 0, "the figures \"%s\" put anew are \"%s\"",
	         figures.text, back.text);
	memset(&terms, 0, sizeof terms);
	memset(&again, 0, sizeof again);
	if (!book_terms_of(&figures, &run, &terms, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text, "\"%s\" is refused without a reason",
		         text);
		return false;
	}
	FUZZ_LAW(terms.radius >= 1e6 && terms.k >= -20 && terms.k <= 20 && terms.dk_low >= 0 &&
	             terms.dk_high >= 0 && terms.instrument[0].tolerance > 0,
	         "\"%s\" makes terms that cannot be", figures.text);
	FUZZ_LAW(book_terms_of(&back, &run, &again, &why) && again.k == terms.k &&
	             again.radius == terms.radius && again.flow == terms.flow &&
	             again.wind == terms.wind && again.drift == terms.drift &&
	             memcmp(again.instrument, terms.instrument, sizeof terms.instrument) == 0,
	         "\"%s\" makes other terms when it is put anew", figures.text);
	return all;
}

const struct fuzz_target fuzz_target = {
    .name = "figures",
    .words = "figures by name, put, listed, and made into terms twice",
    .seeds = seeds,
    .dictionary = dictionary,
    .most = 2000,
    .tries = 15000,
    .one = one,
};
