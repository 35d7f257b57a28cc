/* The sights of a statement, and what they stand on. */
#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/statement/stated.h"
#include "rodbook/level/along.h"
#include "rodbook/level/offset.h"

size_t stated_number(const struct work_run *run, size_t at)
{
	size_t number = 0;
	if (!level_counted(&run->book.run.sight[at]))
		return 0;
	for (size_t i = 0; i <= at; i++)
		number += level_counted(&run->book.run.sight[i]);
	return number;
}

static const char *exactly(char text[LEVEL_LENGTH_BYTES + 8], level_nm value,
                           const struct level_style *style)
{
	level_format_exact(text, value, style);
	snprintf(text + strlen(text), 8, " %s", level_file_unit(style->unit));
	return text;
}

static void put_part(FILE *out, const char *what, const char *text)
{
	if (*text)
		fprintf(out, "; %s%s", what, text);
}

/* As typed, bare numbers in the unit they were typed in. */
static void put_typed(FILE *out, const struct level_sight *s, const struct book_kept *n)
{
	const char *unit = level_unit_name(n->unit);
	if (s->wires)
		fprintf(out, "wires %s, %s, %s in %s", n->upper, n->middle, n->lower, unit);
	else
		fprintf(out, "%s%s%s", n->reading, level_is_bare(n->reading) ? " " : "",
		        level_is_bare(n->reading) ? unit : "");
	/* An offset says them in words. */
	if (s->kind == LEVEL_OFF)
		return;
	if (*n->limit)
		fprintf(out, " +- %s", n->limit);
	if (*n->u)
		fprintf(out, ", u %s", n->u);
	if (s->declared)
		fprintf(out, ", declared");
}

/* The mark that an offset goes on from: the one before it that counts. */
static const char *goes_from(const struct work_run *run, size_t i)
{
	size_t before = level_counted_before(&run->book.run, i);
	return before < run->book.run.count ? run->book.run.sight[before].station : "no mark";
}

/* An offset's own uncertainty: by what it was given, or by its method. */
static void put_offset_u(FILE *out, const struct work_run *run, size_t i)
{
	const struct book_kept *n = &run->book.note[i];
	struct level_mean_u mean = level_sight_u(&run->terms.terms, &run->book.run.sight[i]);
	const char *given = *n->limit ? n->limit : n->u;
	fprintf(out, "u %.9f m, ", mean.u);
	if (*given)
		fprintf(out, "%s as typed %s%s%s", *n->limit ? "a limit" : "u", given,
		        level_is_bare(given) ? " " : "",
		        level_is_bare(given) ? level_unit_name(n->unit) : "");
	else
		fputs("by its method", out);
	if (*n->ends)
		fprintf(out, "; the tube showed %s in %s", n->ends, level_unit_name(n->unit));
}

/* Everything that is booked of one sight. */
static void put_sight(FILE *out, const struct work_run *run, size_t i)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct book_kept *n = &run->book.note[i];
	const struct level_style *style = &run->settings.style;
	const struct level_style own = level_distance_style(style);
	char exact[LEVEL_LENGTH_BYTES + 8], standing[40];
	level_nm design, cut;
	char typed[REPORT_TYPED_BYTES], scaling[BOOK_SCALED_BYTES], way[LINES_WAY_BYTES],
	    made[LEVEL_LENGTH_BYTES + 20];
	exactly(exact, s->reading, style);
	fprintf(out, "%s %s: typed ", level_kind_name(s->kind), s->station);
	put_typed(out, s, n);
	fprintf(out, " = %s", exact);
	if (s->set_count > 1)
		fprintf(out, " (mean of %d, sd %.9f m)", s->set_count, s->set_sd);
	exactly(exact, s->distance, &own);
	if (s->kind == LEVEL_OFF) {
		fprintf(out, " above %s; by %s\n      %s; ", goes_from(run, i),
		        level_method_name(s->method), *n->time ? n->time : "time not known");
		put_offset_u(out, run, i);
	} else {
		fprintf(out, "; distance %s%s; by %s\n", s->distance ? exact : "not known",
		        lines_way(run, i, way), level_method_name(s->method));
		fprintf(out, "      %s%s; instrument %s; rod %s",
		        *n->time ? n->time : "time not known", report_typed(n->booked, typed),
		        *n->instrument ? n->instrument : "without a name",
		        *n->rod ? n->rod : "without a name");
	}
	report_standing(s, &run->page.row[i], standing, sizeof standing);
	put_part(out, "", standing);
	put_part(out, "place along ",
	         level_carry_along(exact, sizeof exact, n->along, n->unit, style->unit));
	if (level_counted(s) && report_cut(&run->book.info, n, &run->page.row[i], &design, &cut)) {
		put_part(out, "design ", exactly(exact, design, style));
		put_part(out, cut < 0 ? "fill " : "cut ",
		         exactly(exact, cut < 0 ? -cut : cut, style));
	}
	put_part(out, "", lines_wires(run, i, made));
	put_part(out, "remark: ", n->remark);
	put_part(out, "booked against: ", n->overridden);
	put_part(out, "photograph ", n->photo);
	put_part(out, "SHA-256 ", n->photo_digest);
	put_part(out, "scaled from ",
	         level_carry_scaling(scaling, sizeof scaling, n->scaled, n->unit, style->unit));
	put_part(out, "STRUCK ", n->struck);
	put_part(out, "why: ", *n->struck ? book_strike_reason(n->why) : "");
	fputc('\n', out);
}

void stated_sights(FILE *out, const struct work_run *run)
{
	size_t number = 0;
	bool any = false;
	fprintf(out, "sights that count, in their order:\n");
	for (size_t i = 0; i < run->book.run.count; i++) {
		if (!level_counted(&run->book.run.sight[i]))
			continue;
		fprintf(out, "%4zu  ", ++number);
		put_sight(out, run, i);
	}
	if (number == 0)
		fprintf(out, "  none\n");
	fprintf(out, "\nsights that were struck, and count no more:\n");
	for (size_t i = 0; i < run->book.run.count; i++) {
		if (level_counted(&run->book.run.sight[i]))
			continue;
		fprintf(out, "   x  ");
		put_sight(out, run, i);
		any = true;
	}
	if (!any)
		fprintf(out, "  none\n");
}

static bool stands_on(const struct work_run *run, const char *mark)
{
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) &&
		    strcmp(run->book.run.sight[i].station, mark) == 0)
			return true;
	return false;
}

bool stated_marks(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_mark *list;
	size_t count;
	bool any = false;
	char elevation[LEVEL_LENGTH_BYTES + 8], u[LEVEL_LENGTH_BYTES + 8];
	if (!book_marks(book, &list, &count, why))
		return false;
	fprintf(out, "known elevations of its stations:\n");
	for (size_t i = 0; i < count; i++) {
		if (!stands_on(run, list[i].name))
			continue;
		exactly(elevation, list[i].elevation, &run->settings.style);
		exactly(u, list[i].u, &run->settings.style);
		fprintf(out, "  %s %s, u %s; %s", list[i].name, elevation,
		        *list[i].u_typed ? u : "not given, taken as 0",
		        *list[i].source ? list[i].source : "no source given");
		put_part(out, "", list[i].description);
		put_part(out, "found: ", list[i].reach);
		fputc('\n', out);
		any = true;
	}
	if (!any)
		fprintf(out, "  none: the start is taken as 0\n");
	free(list);
	return true;
}

static bool is_read(const struct work_run *run, const char *rod)
{
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) &&
		    run->book.run.sight[i].kind != LEVEL_OFF &&
		    strcmp(run->book.note[i].rod, rod) == 0)
			return true;
	return false;
}

bool stated_rods(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_rod *list;
	size_t count;
	if (!book_rods(book, &list, &count, why))
		return false;
	fprintf(out, "rods:\n");
	if (level_counted_from(&run->book.run, 0) == run->book.run.count)
		fprintf(out, "  none: no sight counts\n");
	if (is_read(run, ""))
		fprintf(out, "  a rod without a name, taken as true\n");
	for (size_t i = 0; i < count; i++) {
		if (!is_read(run, list[i].name))
			continue;
		fprintf(out, "  %s", list[i].name);
		put_part(out, "reads too high at zero by ", list[i].zero);
		put_part(out, "units too long by ppm ", list[i].scale);
		put_part(out, "expansion ppm/K ", list[i].expansion);
		put_part(out, "from C ", list[i].reference);
		put_part(out, "length ", list[i].longest);
		put_part(out, "", list[i].remark);
		fputc('\n', out);
	}
	if (run->book.has_celsius)
		fprintf(out, "  temperature for them, the mean of the lower thermometer: %.2f C\n",
		        run->book.celsius);
	free(list);
	return true;
}
