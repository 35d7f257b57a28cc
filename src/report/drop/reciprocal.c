/* Two banks on paper. */
#include <math.h>

#include "report/lines.h"
#include "report/quantities.h"

/* What the air and the tilt are shown by. */
#define CHANGE_OF_K 0.1
#define CHANGE_OF_TILT 0.00001

static void sights_line(FILE *out, const char *bank, const struct level_bank *sights,
                        const struct level_style *style)
{
	char far[LEVEL_LENGTH_BYTES], near[LEVEL_LENGTH_BYTES];
	fprintf(
	    out, "%s: %s across, %s to the mark beside it\n", bank,
	    level_format_distance(far, level_from_meters(sights->far_sight.distance), style, false),
	    level_format_distance(near, level_from_meters(sights->near_sight.distance), style,
	                          false));
}

static void cautions(FILE *out, const struct level_reciprocal *r, const struct level_style *style)
{
	struct level_style finer = lines_finer(style);
	char moved[LEVEL_LENGTH_BYTES];
	fprintf(out,
	        "the rise is free of curvature, refraction and tilt, if the air did not "
	        "change\nfrom one bank to the other; k changed by %.1f would move it by %s\n",
	        CHANGE_OF_K,
	        level_format_length(moved, level_from_meters(CHANGE_OF_K * r->bend / 2), &finer,
	                            false));
	fprintf(out,
	        "sight both ways at once, or one soon after the other, then in the other order\n");
	fprintf(out, "two levels leave both their tilts in it: exchange them, and take the mean\n");
}

void report_reciprocal(FILE *out, const struct level_bank *a, const struct level_bank *b,
                       const struct level_reciprocal *r, const struct level_style *style, bool csv)
{
	if (csv) {
		quantity_header(out);
		quantity_length(out, "rise", true, r->rise, style);
		quantity_length(out, "combined", true, r->combined, style);
		quantity_meters(out, "u_rise", true, r->u_rise, style);
		quantity_real(out, "k", r->has_k, r->k, "");
		return;
	}
	fprintf(out, "reciprocal sights, in %s\n", level_unit_words(style->unit));
	sights_line(out, "level near A", a, style);
	sights_line(out, "level near B", b, style);
	lines_length(out, "rise from A to B", level_to_meters(r->rise), style, true, "");
	lines_length(out, "combined", level_to_meters(r->combined), style, true,
	             "by which one bank reads too high");
	lines_length(out, "u of both", r->u_rise, style, false, "by the readings alone");
	if (r->has_k)
		fprintf(out, "%-24s %12.3f   u %.3f, with the tilt as given\n", "k", r->k, r->u_k);
	else
		fprintf(out, "%-24s %12s   not without the tilt (--tilt T)\n", "k", "-");
	cautions(out, r, style);
	if (r->has_k)
		fprintf(out,
		        "k is a result of these sights, and cannot be their own prediction; a tilt "
		        "of\n0.01 mm/m more would make it %.3f larger\n",
		        CHANGE_OF_TILT * r->lever / r->bend);
}
