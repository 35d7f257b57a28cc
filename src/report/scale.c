/* A reading scaled from a photograph, on paper. */
#include "report/lines.h"
#include "report/quantities.h"

void report_scaled(FILE *out, const struct level_scaled *scaled, const struct level_style *style,
                   bool csv)
{
	struct level_style finer = lines_finer(style);
	char reading[LEVEL_LENGTH_BYTES], limit[LEVEL_LENGTH_BYTES];
	if (csv) {
		quantity_header(out);
		quantity_length(out, "reading", true, scaled->reading, style);
		quantity_length(out, "limit", true, scaled->limit, style);
		return;
	}
	fprintf(out, "%s +- %s%s\n", level_format_length(reading, scaled->reading, &finer, false),
	        level_format_length(limit, scaled->limit, &finer, false),
	        level_unit_after(style->unit));
}
