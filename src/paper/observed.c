/* Lists of what was observed beside the sights: instruments, water, air. */
#include <stdlib.h>

#include "paper/lines.h"
#include "paper/quantities.h"

bool paper_instruments(FILE *out, struct book *book, bool csv, struct fault *why)
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
		fprintf(out, "%-16s tolerance %s", list[i].name, list[i].tolerance);
		if (*list[i].tilt)
			fprintf(out, "  tilt %s +- %s (standard uncertainty)", list[i].tilt,
			        list[i].tilt_u);
		fprintf(out, "%s%s\n", *list[i].remark ? "  " : "", list[i].remark);
	}
	free(list);
	return true;
}

bool paper_waters(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                  struct fault *why)
{
	struct book_water *list;
	struct book_settings settings;
	char text[LEVEL_LENGTH_BYTES];
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
			fprintf(out, "%-16s %12s  %s%s%s%s%s%s%s\n", list[i].station,
			        level_format_length(text, list[i].reading, &settings.style, false),
			        list[i].time, *list[i].remark ? "  " : "", list[i].remark,
			        *list[i].struck ? "  struck " : "", list[i].struck,
			        *list[i].why ? ": " : "", list[i].why);
		}
	}
	free(list);
	return true;
}

static void put_air(FILE *out, const struct book_air *a)
{
	fprintf(out, "%s", a->time);
	if (*a->pressure)
		fprintf(out, "  %s hPa", a->pressure);
	if (*a->low)
		fprintf(out, "  %s C at %s", a->low, a->low_height);
	if (*a->high)
		fprintf(out, "  %s C at %s", a->high, a->high_height);
	if (*a->water)
		fprintf(out, "  water %s C", a->water);
	if (*a->wind)
		fprintf(out, "  wind: %s", a->wind);
	if (*a->sky)
		fprintf(out, "  sky: %s", a->sky);
	if (a->has_k)
		fprintf(out, "  k %.3f, u %.3f", a->k, a->u);
	if (*a->struck)
		fprintf(out, "  struck %s: %s", a->struck, a->why);
	fputc('\n', out);
}

bool paper_airs(FILE *out, struct book *book, const struct book_run_info *run, bool csv,
                struct fault *why)
{
	struct book_air *list;
	size_t count;
	if (!book_airs(book, run->id, &list, &count, why))
		return false;
	if (csv)
		quantity_header(out);
	else if (count == 0)
		fprintf(out, "no air was booked in this run\n");
	for (size_t i = 0; i < count; i++) {
		if (!csv) {
			put_air(out, &list[i]);
		} else if (!*list[i].struck) {
			quantity_text(out, "time", list[i].time);
			quantity_real(out, "k", list[i].has_k, list[i].k, "");
			quantity_real(out, "u_k", list[i].has_k, list[i].u, "");
		}
	}
	free(list);
	return true;
}
