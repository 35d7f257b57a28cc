#include "report/page/sections.h"

#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/quantities.h"
#include "rodbook/level/doubles.h"
#include "rodbook/work/limits.h"
#include "text/cells.h"

/* "holds", with what it may be. */
static void judged(enum level_answer holds, bool provisional, level_nm allowable,
                   const struct level_style *style, char *text, size_t size)
{
	char most[LEVEL_LENGTH_BYTES];
	if (holds == LEVEL_UNKNOWN)
		snprintf(text, size, "not judged");
	else
		snprintf(text, size, "%s; may be %s%s",
		         holds == LEVEL_YES ? "holds" : "DOES NOT HOLD",
		         level_format_length(most, allowable, style, false),
		         provisional ? " by setups, provisional" : "");
}

void report_failing(const char *from, const char *mark, level_nm by, level_nm allowable,
                    const struct level_style *style, char *text, size_t size)
{
	struct level_style finer = lines_telling(by, allowable, style);
	char missed[LEVEL_LENGTH_BYTES], most[LEVEL_LENGTH_BYTES];
	level_format_length(missed, by, &finer, true);
	level_format_length(most, allowable, &finer, false);
	if (*from)
		snprintf(text, size,
		         "%s to %s and back differ by %s, may by %s%s: level that section "
		         "again",
		         from, mark, missed, most, level_unit_after(style->unit));
	else
		snprintf(text, size,
		         "found less given at %s is %s, may be %s%s: this run, that mark or the "
		         "known one before it is wrong",
		         mark, missed, most, level_unit_after(style->unit));
}

void report_moved(const struct book_moved *moved, const struct level_style *style, char *text,
                  size_t size)
{
	const char *unit = level_unit_after(style->unit),
	           *done = moved->at_seal ? "sealed" : "closed";
	char then[LEVEL_LENGTH_BYTES], now[LEVEL_LENGTH_BYTES] = "not known";
	if (moved->has_now)
		strcat(level_format_length(now, moved->now, style, false), unit);
	level_format_length(then, moved->then, style, false);
	if (moved->has_then)
		snprintf(text, size, "%.40s is %s since %.25s; this run was %s with %s%s",
		         moved->mark, now, moved->time, done, then, unit);
	else
		snprintf(text, size,
		         "%.40s is %s since %.25s; when this run was %s it was not known",
		         moved->mark, now, moved->time, done);
}

/* The column of names. */
#define SECTION_NAME 22

static void section_line(FILE *out, const struct level_section *s, const struct level_style *page)
{
	const struct level_style finer = lines_telling(s->difference, s->allowable, page),
	                         *style = s->has_allowable ? &finer : page;
	char name[LEVEL_STATION_BYTES + 10], found[LEVEL_LENGTH_BYTES], given[LEVEL_LENGTH_BYTES],
	    by[LEVEL_LENGTH_BYTES], words[100];
	snprintf(name, sizeof name, "check %s", s->to);
	judged(s->holds, s->provisional, s->allowable, style, words, sizeof words);
	cells_put(out, name, SECTION_NAME);
	fprintf(out, " %12s  found %s, given %s, from %s: %s\n",
	        level_format_length(by, s->difference, style, true),
	        level_format_length(found, s->found, style, false),
	        level_format_length(given, s->given, style, false), s->from, words);
}

static void double_line(FILE *out, const struct level_double *d, const struct level_style *page)
{
	const struct level_style finer = lines_telling(d->divergence, d->allowable, page),
	                         *style = d->has_allowable ? &finer : page;
	char name[2 * LEVEL_STATION_BYTES + 10], by[LEVEL_LENGTH_BYTES], mean[LEVEL_LENGTH_BYTES],
	    words[100];
	snprintf(name, sizeof name, "%s - %s", d->from, d->to);
	judged(d->holds, d->provisional, d->allowable, style, words, sizeof words);
	cells_put(out, name, SECTION_NAME);
	fprintf(out, " %12s  there and back; mean rise %s: %s\n",
	        level_format_length(by, d->divergence, style, true),
	        level_format_length(mean, d->mean, style, true), words);
}

/* What the divergences say, where every section's length is known. */
static bool divergences_of(const struct work_run *run, struct level_divergences *out)
{
	*out = (struct level_divergences){0};
	for (size_t i = 0; i < run->double_count; i++) {
		const struct level_double *d = &run->doubles[i];
		if (!d->has_length || d->length <= 0)
			return false;
		level_divergence_add(out, level_to_meters(d->divergence),
		                     level_to_meters(d->length) / 1000);
	}
	return run->double_count > 0;
}

static void divergence_lines(FILE *out, const struct work_run *run)
{
	struct level_divergences all;
	char single[LEVEL_LENGTH_BYTES], twice[LEVEL_LENGTH_BYTES];
	if (!divergences_of(run, &all))
		return;
	fprintf(out,
	        "standard deviation of 1 km leveled once %s, there and back %s%s, from %d "
	        "section%s\n",
	        report_meters(single, level_sd_single(&all), &run->settings.style, false),
	        report_meters(twice, level_sd_double(&all), &run->settings.style, false),
	        level_unit_after(run->settings.style.unit), all.count, all.count == 1 ? "" : "s");
	if (level_divergences_lean(&all))
		fprintf(out,
		        "the differences lean one way: a systematic error is in them, and these "
		        "standard deviations do not contain it\n");
}

/* The marks set aside that are not held again. */
static void aside_lines(FILE *out, const struct work_run *run)
{
	for (size_t i = 0; i < run->aside_count; i++) {
		const struct book_aside *aside = &run->asides[i];
		bool last = true;
		for (size_t j = i + 1; j < run->aside_count; j++)
			last = last && strcmp(run->asides[j].mark, aside->mark) != 0;
		if (last && aside->aside)
			fprintf(out, "%s is set aside since %s: %s\n", aside->mark, aside->time,
			        aside->why);
	}
}

void sections_marks(FILE *out, const struct work_run *run)
{
	char text[400];
	aside_lines(out, run);
	for (size_t i = 0; i < run->book.moved_count; i++) {
		report_moved(&run->book.moved[i], &run->settings.style, text, sizeof text);
		fprintf(out, "%s\n", text);
	}
}

void sections_lines(FILE *out, const struct work_run *run)
{
	for (size_t i = 0; i < run->section_count; i++)
		section_line(out, &run->sections[i], &run->settings.style);
	for (size_t i = 0; i < run->double_count; i++)
		double_line(out, &run->doubles[i], &run->settings.style);
	divergence_lines(out, run);
	sections_marks(out, run);
}

#define KEY_BYTES (2 * LEVEL_STATION_BYTES + 40)

/* How often a station was the end of a section before this one. */
static size_t met_before(const struct work_run *run, size_t at)
{
	size_t count = 0;
	for (size_t i = 0; i < at; i++)
		count += strcmp(run->sections[i].to, run->sections[at].to) == 0;
	return count;
}

static void judged_csv(FILE *out, const char *key, level_nm by, const char *by_key,
                       bool has_allowable, level_nm allowable, enum level_answer holds,
                       const struct level_style *style)
{
	char name[KEY_BYTES];
	snprintf(name, sizeof name, "%s%s", key, by_key);
	quantity_length(out, name, true, by, style);
	snprintf(name, sizeof name, "%s_allowable", key);
	quantity_length(out, name, has_allowable, allowable, style);
	snprintf(name, sizeof name, "%s_holds", key);
	quantity_text(out, name, quantity_answer(holds));
}

static void put_part(FILE *out, const char *key, const char *part, level_nm value,
                     const struct level_style *style)
{
	char name[KEY_BYTES + 8];
	snprintf(name, sizeof name, "%s%s", key, part);
	quantity_length(out, name, true, value, style);
}

void sections_csv(FILE *out, const struct work_run *run)
{
	const struct level_style *style = &run->settings.style;
	struct level_divergences all;
	char key[KEY_BYTES];
	for (size_t i = 0; i < run->section_count; i++) {
		const struct level_section *s = &run->sections[i];
		size_t before = met_before(run, i);
		snprintf(key, sizeof key, "check_%s", s->to);
		if (before)
			snprintf(key + strlen(key), sizeof key - strlen(key), "_%zu", before + 1);
		judged_csv(out, key, s->difference, "", s->has_allowable, s->allowable, s->holds,
		           style);
		put_part(out, key, "_found", s->found, style);
		put_part(out, key, "_given", s->given, style);
	}
	for (size_t i = 0; i < run->double_count; i++) {
		const struct level_double *d = &run->doubles[i];
		snprintf(key, sizeof key, "section_%s_%s", d->from, d->to);
		judged_csv(out, key, d->divergence, "_divergence", d->has_allowable, d->allowable,
		           d->holds, style);
		put_part(out, key, "_rise", d->mean, style);
	}
	if (run->double_count) {
		bool known = divergences_of(run, &all);
		quantity_meters(out, "km_sd_double", known, level_sd_double(&all), style);
		quantity_meters(out, "km_sd_single", known, level_sd_single(&all), style);
	}
}

/* The limits of one answer, in words behind it; how many. far: those alone that distances would
 * tell, of which the misclosure has a figure by setups; else all but those. */
static int put_limits(FILE *out, const struct work_run *run, const enum work_kept kept[WORK_LIMITS],
                      enum work_kept which, bool far, const char *before)
{
	static const char *const words[WORK_LIMITS] = {
	    "misclosure", "sights",    "setup imbalance",   "imbalance", "half intervals",
	    "standings",  "clearance", "test of the level", "readings",  "sections"};
	int count = 0;
	for (int i = 0; i < WORK_LIMITS; i++)
		if (kept[i] == which &&
		    far == (which == WORK_NOT_KNOWN &&
		            work_limit_wants_distances(run, (enum work_limit)i)))
			fprintf(out, "%s%s%s", count++ ? ", " : before, words[i],
			        far && i == WORK_LIMIT_MISCLOSURE ? " by length" : "");
	return count;
}

void sections_limits(FILE *out, const struct work_run *run, bool csv)
{
	static const char *const answer[] = {"", "kept", "broken", "unknown"};
	enum work_kept kept[WORK_LIMITS];
	enum level_run_kind kind = run->book.run.kind;
	int said, asked = 0;
	if (!run->closing.has_misclosure || (kind != LEVEL_LOOP && kind != LEVEL_LINK))
		return;
	work_limits(run, kept);
	for (int i = 0; csv && i < WORK_LIMITS; i++) {
		char key[40];
		snprintf(key, sizeof key, "limit_%s", work_limit_name((enum work_limit)i));
		if (kept[i] != WORK_NOT_ASKED)
			quantity_text(out, key, answer[kept[i]]);
	}
	if (csv)
		return;
	for (int i = 0; i < WORK_LIMITS; i++)
		asked += kept[i] != WORK_NOT_ASKED;
	/* A rule of one figure is told by the verdict. */
	if (asked <= 2)
		return;
	fprintf(out, "%s:", run->closing.set->title);
	said = put_limits(out, run, kept, WORK_BROKEN, false, " broken: ");
	said +=
	    put_limits(out, run, kept, WORK_NOT_KNOWN, true,
	               said ? "; not known without distances: " : " not known without distances: ");
	said += put_limits(out, run, kept, WORK_NOT_KNOWN, false,
	                   said ? "; not known: " : " not known: ");
	if (said)
		put_limits(out, run, kept, WORK_KEPT, false, "; kept: ");
	else
		fputs(" kept", out);
	fputc('\n', out);
}
