/* The water of a statement: every reading as it was typed and exactly, and the means of each
 * station. */
#include <stdlib.h>
#include <string.h>

#include "report/quantities.h"
#include "report/statement/stated.h"

static void put_reading(FILE *out, const struct book_water *w)
{
	char exact[LEVEL_LENGTH_BYTES];
	struct level_style style = {.unit = LEVEL_M};
	level_format_exact(exact, w->reading, &style);
	fprintf(out, "  %s: typed %s%s%s = %s m; %s", w->station, w->typed,
	        level_is_bare(w->typed) ? " " : "",
	        level_is_bare(w->typed) ? level_unit_name(w->unit) : "", exact, w->time);
	if (*w->remark)
		fprintf(out, "; remark: %s", w->remark);
	if (*w->struck)
		fprintf(out, "; STRUCK %s; why: %s", w->struck, w->why);
	fputc('\n', out);
}

/* Whether reading `at` is the first that counts of its station. */
static bool opens_station(const struct book_water *list, size_t at)
{
	for (size_t i = 0; i < at; i++)
		if (!*list[i].struck && strcmp(list[i].station, list[at].station) == 0)
			return false;
	return !*list[at].struck;
}

bool stated_waters(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_water *list;
	size_t count;
	if (!book_waters(book, run->book.info.id, &list, &count, why))
		return false;
	fprintf(out, "how far the stations stand above the water, as it was read:\n");
	if (count == 0)
		fprintf(out, "  no water was read in this run\n");
	for (size_t i = 0; i < count; i++)
		put_reading(out, &list[i]);
	for (size_t i = 0; i < count; i++) {
		struct level_sight mean = {0};
		if (!opens_station(list, i))
			continue;
		strcpy(mean.station, list[i].station);
		book_water_mean(list, count, &mean);
		fprintf(out, "  %s: mean of %d = %.9f m", mean.station, mean.water_count,
		        level_to_meters(mean.water));
		if (mean.water_count > 1)
			fprintf(out, ", standard deviation of one %.9f m", mean.water_sd);
		fputc('\n', out);
	}
	free(list);
	return true;
}

bool stated_waters_csv(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_water *list;
	size_t count, n = 0;
	char name[40];
	if (!book_waters(book, run->book.info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++) {
		if (*list[i].struck)
			continue;
		snprintf(name, sizeof name, "water_%zu_station", ++n);
		quantity_text(out, name, list[i].station);
		snprintf(name, sizeof name, "water_%zu_h", n);
		quantity_real(out, name, true, level_to_meters(list[i].reading), "m");
	}
	free(list);
	return true;
}

bool stated_crossing(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	if (run->book.run.kind != LEVEL_CROSSING)
		return true;
	if (!stated_waters(out, book, run, why) ||
	    !report_airs(out, book, &run->book.info, false, why))
		return false;
	if (!run->terms.sealed) {
		fputs("figures of the allowance not sealed yet\n", out);
		return true;
	}
	fprintf(out, "figures of the allowance sealed %s%s", run->terms.sealed_time,
	        run->terms.late ? ", late: a drop was seen or booked before" : "");
	if (run->terms.amendments == 1)
		fputs("; amended once since: rodbook drop says how", out);
	else if (run->terms.amendments > 1)
		fprintf(out, "; amended %zu times since: rodbook drop says how",
		        run->terms.amendments);
	fputc('\n', out);
	return true;
}
