/* What stands beside and below the rows of a page, on the screen and on paper. */
#include <string.h>

#include "rodbook/level/along.h"
#include "report/lines.h"

#define HOUR_AT 11 /* "2026-05-04T09:30:00+02:00" */

void lines_remark(FILE *out, const struct work_run *run, size_t i, const char *part,
                  enum lines_stamp stamp)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct book_kept *n = &run->book.note[i];
	const struct level_row *row = &run->page.row[i];
	char made[LEVEL_LENGTH_BYTES + 20];
	char standing[40], differ[LEVEL_LENGTH_BYTES], typed[REPORT_TYPED_BYTES];
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], scaling[BOOK_SCALED_BYTES];
	struct level_style finer = lines_finer(&run->settings.style);
	level_nm design, cut;
	if (*n->struck) {
		const char *reason = book_strike_reason(n->why);
		char hour[6] = "";
		if (stamp == LINES_HOUR && strlen(n->struck) >= HOUR_AT + 5)
			snprintf(hour, sizeof hour, "%.5s", n->struck + HOUR_AT);
		fprintf(out, "%sstruck %s%s%s", part, *hour ? hour : n->struck, *reason ? ", " : "",
		        reason);
		part = ": ";
	}
	report_standing(s, row, standing, sizeof standing);
	if (*standing) {
		fprintf(out, "%s%s", part, standing);
		if (s->kind == LEVEL_FS)
			fprintf(out, ", rises differ by %s",
			        level_format_length(differ, row->line.differ, &run->settings.style,
			                            false));
		part = ": ";
	}
	if (*n->limit || *n->u || s->declared) {
		fprintf(out, "%s%s%s%s%s%s", part, *n->limit ? "+- " : "",
		        *n->scaled ? level_format_length(a, s->limit, &finer, false)
		                   : level_carry_text(a, sizeof a, n->limit, n->unit,
		                                      run->settings.style.unit),
		        *n->u ? "u " : "",
		        level_carry_text(b, sizeof b, n->u, n->unit, run->settings.style.unit),
		        s->declared ? (*n->limit || *n->u ? ", declared" : "declared") : "");
		part = ": ";
	}
	if (s->wires) {
		fprintf(out, "%swires %s, %s, %s", part, n->upper, n->middle, n->lower);
		if (*lines_wires(run, i, made))
			fprintf(out, ": %s", made);
		part = ": ";
	}
	if (*n->ends) {
		fprintf(out, "%stube %s", part, n->ends);
		part = ": ";
	} else if (s->method != LEVEL_ROD) {
		fprintf(out, "%s%s", part, level_method_name(s->method));
		part = ": ";
	}
	if (*n->along) {
		fprintf(
		    out, "%sat %s", part,
		    level_carry_along(a, sizeof a, n->along, n->unit, run->settings.style.unit));
		part = ": ";
		if (level_counted(s) && report_cut(&run->book.info, n, row, &design, &cut))
			fprintf(out, ", design %s, %s %s",
			        level_format_length(a, design, &run->settings.style, false),
			        cut < 0 ? "fill" : "cut",
			        level_format_length(b, cut < 0 ? -cut : cut, &run->settings.style,
			                            false));
	}
	if (*n->remark) {
		fprintf(out, "%s%s", part, n->remark);
		part = ": ";
	}
	if (*n->photo) {
		fprintf(out, "%sphoto %s", part, n->photo);
		part = ": ";
	}
	if (*n->scaled) {
		fprintf(out, "%sscaled from %s", part,
		        level_carry_scaling(scaling, sizeof scaling, n->scaled, n->unit,
		                            run->settings.style.unit));
		part = ": ";
	}
	if (*n->booked)
		fprintf(out, "%sobserved %.16s%s", part, n->time, report_typed(n->booked, typed));
}

/* Tested tilts that are taken off what is corrected. */
void lines_tilts(FILE *out, const struct work_run *run)
{
	for (int i = 0; i < run->book.instruments; i++) {
		const struct level_instrument *with = &run->terms.terms.instrument[i];
		if (i > 0 && level_test_counts(&run->terms.terms, i))
			fprintf(out, "the tilt of %s, %+.4f mm/m, is taken off what is corrected\n",
			        run->book.instrument[i], with->tilt * 1000);
	}
}

static bool has_standings(const struct work_run *run)
{
	for (size_t i = 0; i < run->page.count; i++)
		if (run->page.row[i].line.standings > 1)
			return true;
	return false;
}

void lines_standings(FILE *out, const struct work_run *run)
{
	if (has_standings(run))
		fputs("where a setup stands more than once, its mean counts in the sums, once\n",
		      out);
}

static void put_held(FILE *out, const char *before, const char *station, const char *time,
                     const char *words, const char *struck, const char *why)
{
	fprintf(out, "%s%s, %s: %s%s%s%s%s\n", before, station, time, words,
	        *struck ? "; STRUCK " : "", struck, *struck ? ", why: " : "", why);
}

void lines_held(FILE *out, const struct work_run *run, bool struck)
{
	const struct level_style *style = &run->settings.style;
	char words[4 * LEVEL_LENGTH_BYTES + 40], typed[REPORT_TYPED_BYTES];
	for (size_t i = 0; i < run->gauge_count; i++) {
		const struct book_gauge *g = &run->gauges[i].gauge;
		if (*g->struck && !struck)
			continue;
		report_gauge_words(&run->gauges[i], style, words, sizeof words);
		strncat(words, report_typed(g->booked, typed), sizeof words - strlen(words) - 1);
		put_held(out, "gauge ", g->station, g->time, words, g->struck, g->why);
	}
	for (size_t i = 0; i < run->setout_count; i++) {
		const struct book_setout *s = &run->setouts[i].setout;
		if (*s->struck && !struck)
			continue;
		report_setout_words(&run->setouts[i], style, words, sizeof words);
		put_held(out, "set out ", s->station, s->time, words, s->struck, s->why);
	}
}

void lines_heading(const struct work_run *run, enum lines_paper paper, char *text, size_t size)
{
	const char *title = run->settings.title, *name = run->book.info.name;
	const char *kind = level_run_kind_name(run->book.run.kind);
	const char *unit = level_unit_words(run->settings.style.unit);
	int used = *title ? snprintf(text, size, "%s, ", title) : 0;
	text += used;
	size -= (size_t)used;
	switch (paper) {
	case LINES_RUN:
		snprintf(text, size, "run %s, %s, in %s", name, kind, unit);
		break;
	case LINES_PAGE:
		snprintf(text, size, "page of run %s, %s, in %s", name, kind, unit);
		break;
	case LINES_CLOSING:
		snprintf(text, size, "closing of run %s, %s, in %s", name, kind, unit);
		break;
	case LINES_DROP:
		snprintf(text, size, "drop of run %s, %s, in %s", name, kind, unit);
		break;
	case LINES_STATEMENT:
		snprintf(text, size, "statement of run %s, %s, in %s", name, kind, unit);
		break;
	}
}

void lines_cautions(FILE *out)
{
	fputs("Never point the telescope at the sun; keep rods away from overhead lines;\n"
	      "leave when lightning is near; mind traffic, ice, deep and moving water, and\n"
	      "do not work beside them alone. Boundaries, construction and legal levels\n"
	      "belong to licensed practice and local codes: this paper is a record, and\n"
	      "makes nobody a surveyor.\n",
	      out);
}

void lines_signatures(FILE *out)
{
	fputs("signed:\n"
	      "  observer  ______________________________   date  ____________________\n"
	      "  checked   ______________________________   date  ____________________\n",
	      out);
}
