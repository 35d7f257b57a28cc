/* Areas between two lines of an SVG drawing. */
#include <math.h>

#include "plot/plot_svg.h"
#include "plot/plot_xml.h"

static const struct {
	const char *name, *definition;
} patterns[PLOT_PATTERNS] = {
    [PLOT_LEANING] = {"leaning",
                      "width=\"8\" height=\"8\"><rect width=\"8\" height=\"8\" fill=\"#b4cbe3\"/>"
                      "<path d=\"M-2 2L2 -2M0 8L8 0M6 10L10 6\" stroke=\"#14508c\" "
                      "stroke-width=\"1.5\"/>"},
    [PLOT_DOTTED] = {"dotted",
                     "width=\"8\" height=\"8\"><rect width=\"8\" height=\"8\" fill=\"#fbeed9\"/>"
                     "<circle cx=\"2\" cy=\"2\" r=\"1.2\" fill=\"#8a3c00\"/>"
                     "<circle cx=\"6\" cy=\"6\" r=\"1.2\" fill=\"#8a3c00\"/>"},
    [PLOT_PLAIN] = {"plain", "width=\"8\" height=\"8\"><rect width=\"8\" height=\"8\" "
                             "fill=\"#dde3ea\"/>"},
};

void svg_put_pattern(FILE *out, enum plot_pattern pattern)
{
	fprintf(out, "url(#%s)", patterns[pattern].name);
}

void svg_put_patterns(FILE *out)
{
	fputs("<defs>\n", out);
	for (int i = 0; i < PLOT_PATTERNS; i++)
		fprintf(out, "<pattern id=\"%s\" patternUnits=\"userSpaceOnUse\" %s</pattern>\n",
		        patterns[i].name, patterns[i].definition);
	fputs("</defs>\n", out);
}

static bool has(const struct plot_band *band, size_t i)
{
	return svg_is_drawn(band->x[i], band->low[i]) && plot_drawable(band->high[i]);
}

static void put_band(FILE *out, const struct svg_axes *axes, const struct plot_band *band)
{
	for (size_t from = 0, to; from < band->count; from = to + 1) {
		for (to = from; to < band->count && has(band, to);)
			to++;
		if (to < from + 2)
			continue;
		fputs("<path class=\"band\" fill=\"", out);
		svg_put_pattern(out, band->pattern);
		fputs("\" d=\"", out);
		for (size_t i = from; i < to; i++)
			fprintf(out, "%c%.3f %.3f", i > from ? 'L' : 'M', svg_x(axes, band->x[i]),
			        svg_y(axes, band->high[i]));
		for (size_t i = to; i-- > from;)
			fprintf(out, "L%.3f %.3f", svg_x(axes, band->x[i]),
			        svg_y(axes, band->low[i]));
		fputs("z\"><title>", out);
		xml_put(out, band->name);
		fputs("</title></path>\n", out);
	}
}

void svg_put_bands(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	if (plot->bands)
		svg_put_patterns(out);
	for (size_t i = 0; i < plot->bands; i++)
		put_band(out, axes, &plot->band[i]);
}
