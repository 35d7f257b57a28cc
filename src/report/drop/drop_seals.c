/* What was sealed of a crossing, and what was changed since. */
#include <string.h>

#include "report/drop/drop.h"
#include "report/lines.h"
#include "text/cells.h"

/* The answer by another set of terms; false where they do not serve. */
static bool closed_by(const struct work_run *run, const struct book_figures *figures,
                      struct level_closing *out)
{
	struct level_terms terms;
	struct level_page page = {0};
	struct fault ignored;
	if (!book_terms_of(figures, &run->book, &terms, &ignored) ||
	    !level_reduce(&run->book.run, 0, &terms, &page))
		return false;
	*out = level_close(&run->book.run, &page, &terms, &run->settings.tolerance,
	                   run->settings.setup_figure);
	level_page_free(&page);
	return out->has_observed;
}

/* Not for a reader: by which rule the seal is judged is said with the answer. */
static bool is_inner(const char *name)
{
	return strcmp(name, "rule") == 0;
}

/* What says where k or the tolerance is from: it changes with its figure. */
static bool is_source(const char *name)
{
	return strcmp(name, "k_source") == 0 || strcmp(name, "instrument_source") == 0;
}

/* What one amendment changed. */
static void put_amendment(FILE *out, const struct book_seal *before, const struct book_seal *after)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES], old[BOOK_VALUE_BYTES];
	fprintf(out, "amended %s: %s\n", after->time, after->why);
	for (size_t i = 0; book_figure_at(&after->figures, i, name, value); i++)
		if (!is_source(name) &&
		    (!book_figure(&before->figures, name, old) || strcmp(old, value) != 0))
			fprintf(out, "  %s: %s%s, before %s%s\n", name, value,
			        book_figure_unit(name), *old ? old : "nothing",
			        *old ? book_figure_unit(name) : "");
}

/* What a reader would take a figure for otherwise. */
static const char *remark_of(const struct book_seal *seal, const char *name, const char *value)
{
	char source[BOOK_VALUE_BYTES];
	if (strncmp(name, "tilt_sets ", 10) == 0 && strcmp(value, "0") == 0)
		return "   no count of sets: u is that of the readings";
	if (strcmp(name, "air") == 0 && book_figure(&seal->figures, "k_source", source) &&
	    strcmp(source, level_k_source_name(LEVEL_K_PLAN)) != 0 &&
	    strcmp(source, level_k_source_name(LEVEL_K_PLAN_AIR)) != 0)
		return "   of the plan; k is by what k_source says";
	return "";
}

/* Whether the seal holds the tolerance of a level with a name. */
static bool has_named(const struct book_seal *seal)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	for (size_t i = 0; book_figure_at(&seal->figures, i, name, value); i++)
		if (strncmp(name, "instrument ", 11) == 0)
			return true;
	return false;
}

/* Whether levels with a name alone read, or will: no sight was read by one without. */
static bool all_named(const struct book_seal *seal, const struct level_run *run)
{
	size_t counted = 0;
	for (size_t i = 0; i < run->count; i++) {
		if (!level_counted(&run->sight[i]) || run->sight[i].kind == LEVEL_OFF)
			continue;
		if (run->sight[i].instrument == 0)
			return false;
		counted++;
	}
	return counted > 0 || has_named(seal);
}

/* The tolerance of the unnamed level, and where it is from. */
static bool is_unnamed(const char *name)
{
	return strcmp(name, "instrument") == 0 || strcmp(name, "instrument_source") == 0;
}

static void put_sealed(FILE *out, const struct book_seal *seal, const struct level_run *run)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	fprintf(out, "sealed %s%s:\n", seal->time,
	        seal->late       ? ", AFTER a drop was seen or booked"
	        : seal->imported ? " in another book, and imported"
	        : seal->asked    ? ", before any long sight was booked"
	                         : ", when the first long sight was booked");
	for (size_t i = 0; book_figure_at(&seal->figures, i, name, value); i++)
		if (!is_inner(name) && !(is_unnamed(name) && all_named(seal, run))) {
			fputs("  ", out);
			cells_put(out, name, 16);
			fprintf(out, " %s%s%s\n", value, book_figure_unit(name),
			        remark_of(seal, name, value));
		}
}

void drop_seals(FILE *out, const struct work_run *run, const struct book_seal *seals, size_t count)
{
	struct level_closing first;
	if (count == 0) {
		fprintf(out, "nothing is sealed: the figures are those of the settings today\n");
		return;
	}
	put_sealed(out, &seals[0], &run->book.run);
	for (size_t i = 1; i < count; i++)
		put_amendment(out, &seals[i - 1], &seals[i]);
	if (count > 1 && closed_by(run, &seals[0].figures, &first)) {
		struct level_style finer = lines_finer(&run->settings.style);
		char a[LEVEL_LENGTH_BYTES], p[LEVEL_LENGTH_BYTES];
		level_format_length(a, level_from_meters(first.allowance.decides), &finer, false);
		level_format_length(p, level_from_meters(first.predicted), &finer, false);
		fprintf(out, "as sealed, unamended      %s: predicted %s, allowance %s\n",
		        first.finding.none ? "no answer" : level_answer_code(first.finding.answer),
		        p, a);
	}
}
