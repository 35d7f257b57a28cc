/* What the CSV of a run does not carry, in words. */
#include <stdio.h>
#include <string.h>

#include "rodbook/report/report.h"

static void add(char *text, size_t size, size_t count, const char *one, const char *several)
{
	size_t used = strlen(text);
	if (count == 0)
		return;
	snprintf(text + used, size - used, "%s%zu %s", used ? ", " : "", count,
	         count == 1 ? one : several);
}

static void add_words(char *text, size_t size, bool is, const char *words)
{
	size_t used = strlen(text);
	if (is)
		snprintf(text + used, size - used, "%s%s", used ? ", " : "", words);
}

const char *report_left_behind(const struct work_run *run, char *text, size_t size)
{
	size_t struck = 0, gauges = 0, setouts = 0, heads = 0;
	bool rods = false;
	text[0] = '\0';
	if (run->book.run.kind == LEVEL_CROSSING) {
		snprintf(text, size, "the journal of its changes");
		return text;
	}
	for (size_t i = 0; i < run->book.run.count; i++) {
		struck += !level_counted(&run->book.run.sight[i]);
		rods = rods || *run->book.note[i].rod;
	}
	for (size_t i = 0; i < run->gauge_count; i++)
		gauges += !*run->gauges[i].gauge.struck;
	for (size_t i = 0; i < run->setout_count; i++)
		setouts += !*run->setouts[i].setout.struck;
	for (size_t i = 0; i < run->head_count; i++)
		heads += run->heads[i].stands;
	add(text, size, struck, "struck sight", "struck sights");
	add(text, size, gauges, "gauge reading", "gauge readings");
	add(text, size, setouts, "set-out", "set-outs");
	add(text, size, heads, "head of a page", "heads of pages");
	add(text, size, run->aside_count, "mark set aside", "times that a mark was set aside");
	add_words(text, size, run->book.info.closed, "that it is closed");
	add_words(text, size, *run->book.info.grade, "its grade");
	add_words(text, size, run->book.instruments > 1, "the figures of its levels");
	add_words(text, size, rods, "the figures of its rods");
	return text;
}
