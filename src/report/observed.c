/* Lists of what was observed beside the sights: instruments, water, air. */
#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/quantities.h"
#include "text/cells.h"

bool report_instruments(FILE *out, struct book *book, bool csv, struct fault *why)
{
	struct book_instrument *list;
	size_t count;
	if (!book_instruments(book, &list, &count, why))
		return false;
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out,
		        "no instruments by name: the level is the one of the setting instrument\n");
	for (size_t i = 0; i < count; i++) {
		if (csv) {
			quantity_text(out, "instrument", list[i].name);
			quantity_text(out, "tolerance", list[i].tolerance);
			quantity_text(out, "tilt", list[i].tilt);
			quantity_text(out, "tilt_u", list[i].tilt_u);
			continue;
		}
		cells_put(out, list[i].name, 16);
		fprintf(out, " tolerance %s", list[i].tolerance);
		if (*list[i].tilt)
			fprintf(out, "  tilt %s +- %s (standard uncertainty)", list[i].tilt,
			        list[i].tilt_u);
		fprintf(out, "%s%s\n", *list[i].remark ? "  " : "", list[i].remark);
	}
	free(list);
	return true;
}

bool report_waters(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                   struct fault *why)
{
	struct book_water *list;
	struct book_settings settings;
	char text[LEVEL_LENGTH_BYTES], typed[REPORT_TYPED_BYTES];
	size_t count;
	if (!book_settings(book, &settings, why) || !book_waters(book, run->id, &list, &count, why))
		return false;
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out, "no water was read in this run\n");
	for (size_t i = 0; i < count; i++) {
		if (csv && !*list[i].struck) {
			quantity_text(out, "station", list[i].station);
			quantity_length(out, "water", true, list[i].reading, &settings.style);
			quantity_text(out, "time", list[i].time);
		} else if (!csv) {
			cells_put(out, list[i].station, 16);
			fprintf(out, " %12s  %s%s%s%s%s%s%s%s\n",
			        level_format_length(text, list[i].reading, &settings.style, false),
			        list[i].time, report_typed(list[i].booked, typed),
			        *list[i].remark ? "  " : "", list[i].remark,
			        *list[i].struck ? "  struck " : "", list[i].struck,
			        *list[i].why ? ": " : "", list[i].why);
		}
	}
	free(list);
	return true;
}

/* A value with the unit it has where none was typed. */
static void put_quantity(FILE *out, const char *before, const char *text, const char *unit,
                         const char *height)
{
	if (!*text)
		return;
	fprintf(out, "%s%s%s%s", before, text, strpbrk(text, " CFhHikmn") ? "" : " ",
	        strpbrk(text, " CFhHikmn") ? "" : unit);
	if (*height)
		fprintf(out, " at %s", height);
}

static void write_air(FILE *out, const struct book_air *a)
{
	put_quantity(out, "", a->pressure, "hPa", "");
	put_quantity(out, "  ", a->low, "C", a->low_height);
	put_quantity(out, "  ", a->high, "C", a->high_height);
	put_quantity(out, "  water ", a->water, "C", "");
	put_quantity(out, "  above it ", a->at, "C", a->at_height);
	put_quantity(out, "  wind ", a->wind_speed, "m/s", a->wind_height);
	if (*a->wind_from)
		fprintf(out, "  wind from %s", a->wind_from);
	if (*a->wind)
		fprintf(out, "  wind: %s", a->wind);
	if (*a->sky)
		fprintf(out, "  sky: %s", a->sky);
	if (*a->struck)
		fprintf(out, "  struck %s: %s", a->struck, a->why);
}

void report_air_text(const struct book_air *air, char *text, size_t size)
{
	FILE *out = fmemopen(text, size, "w");
	size_t blanks;
	text[0] = '\0';
	if (!out)
		return;
	write_air(out, air);
	fclose(out);
	text[size - 1] = '\0';
	blanks = strspn(text, " ");
	memmove(text, text + blanks, strlen(text + blanks) + 1);
}

static void put_air(FILE *out, const struct book_air *a)
{
	char text[REPORT_AIR_BYTES], typed[REPORT_TYPED_BYTES];
	report_air_text(a, text, sizeof text);
	fprintf(out, "%s%s  %s\n", a->time, report_typed(a->booked, typed), text);
}

static void csv_airs(FILE *out, const struct book_air *list, size_t count)
{
	quantity_header(out);
	for (size_t i = 0; i < count; i++) {
		const struct book_air *a = &list[i];
		const char *const texts[][2] = {
		    {"time", a->time},
		    {"pressure", a->pressure},
		    {"low", a->low},
		    {"low_height", a->low_height},
		    {"high", a->high},
		    {"high_height", a->high_height},
		    {"water_temperature", a->water},
		    {"at", a->at},
		    {"at_height", a->at_height},
		    {"wind", a->wind_speed},
		    {"wind_height", a->wind_height},
		    {"wind_from", a->wind_from},
		};
		if (*a->struck)
			continue;
		for (size_t j = 0; j < sizeof texts / sizeof *texts; j++)
			quantity_text(out, texts[j][0], texts[j][1]);
	}
}

/* k of the run by this air, with both ways where both are possible. */
static void put_k(FILE *out, const struct book_terms *terms, bool csv)
{
	const struct level_k k = {terms->terms.k, terms->terms.dk_low, terms->terms.dk_high};
	char text[200];
	bool asked = false;
	if (csv) {
		if (terms->k.has_line)
			lines_k_csv(out, &k, terms->k_source);
		lines_found_csv(out, &terms->k.found);
		return;
	}
	if (!terms->k.has_line) {
		fprintf(out, "k hangs on the height and length of the long sight: book it, or its "
		             "plan\n");
		return;
	}
	report_k(&terms->terms, terms->k_source, text, sizeof text);
	fprintf(out, "%s\n", text);
	lines_found(out, &terms->k.found);
	for (size_t i = 0; i < terms->k.readings && !asked; i++)
		asked = terms->k.reading[i].from == LEVEL_WIND_NOT_SAID;
	if (asked && terms->k_source != LEVEL_K_DEFAULT)
		fprintf(out, "where the wind came from is not said: on the shore that it leaves no "
		             "mast counts\n");
}

/* What was sealed counts, whatever the air booked later gives. */
static void put_sealed_k(FILE *out, const struct book_terms *open, const struct book_terms *sealed)
{
	const struct level_terms *a = &open->terms, *b = &sealed->terms;
	char text[200];
	if (!sealed->sealed || (open->k.has_line && a->k == b->k && a->dk_low == b->dk_low &&
	                        a->dk_high == b->dk_high))
		return;
	report_k(b, sealed->k_source, text, sizeof text);
	fprintf(out, "what counts is sealed: %s\n", text);
}

/* What the k that counts makes of flat and round. */
static void put_air_words(FILE *out, const struct book_terms *counts)
{
	const char *words = report_air_words(counts->terms.k, counts->terms.radius);
	if (*words && (counts->sealed || counts->k.has_line))
		fprintf(out, "%s\n", words);
}

bool report_airs(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                 struct fault *why)
{
	struct book_air *list;
	struct book_run loaded;
	struct book_terms terms, sealed;
	size_t count;
	bool ok;
	if (!book_load(book, run->id, &loaded, why))
		return false;
	ok = book_open_terms(book, &loaded, &terms, why) &&
	     book_run_terms(book, &loaded, &sealed, why);
	book_run_free(&loaded);
	if (!ok || !book_airs(book, run->id, &list, &count, why))
		return false;
	if (csv)
		csv_airs(out, list, count);
	else if (count == 0)
		fprintf(out, "no air was booked in this run\n");
	for (size_t i = 0; i < count && !csv; i++)
		put_air(out, &list[i]);
	free(list);
	put_k(out, &terms, csv);
	if (csv && sealed.sealed)
		quantity_real(out, "k_sealed", true, sealed.terms.k, "");
	if (!csv) {
		put_sealed_k(out, &terms, &sealed);
		put_air_words(out, sealed.sealed ? &sealed : &terms);
	}
	return true;
}

const char *report_water_unused(char text[REPORT_UNUSED_BYTES], const char *station, bool back)
{
	snprintf(text, REPORT_UNUSED_BYTES,
	         back ? "the run is back at its start: water read at %s counts for nothing, and "
	                "none is needed"
	              : "water was read at %s, which is no end of this run: it counts for nothing",
	         station);
	return text;
}
