/* What is to be cut and filled between the ground and a design grade. */
#include <math.h>

#include "report/picture/picture.h"

/* Of a straight line through the first two samples. */
static double line_at(const struct picture_samples *line, double x)
{
	double length = line->x[1] - line->x[0];
	return length == 0 ? line->y[0]
	                   : line->y[0] + (line->y[1] - line->y[0]) * (x - line->x[0]) / length;
}

/* sign: +1 what of the ground stands above the line, -1 what is below it. */
static void shade(struct picture *out, const struct picture_samples *ground,
                  const struct picture_samples *line, int sign)
{
	double before = 0;
	for (size_t i = 0; i < ground->count; i++) {
		double x = ground->x[i], above = ground->y[i] - line_at(line, x);
		double at = line_at(line, x), to = at + sign * fmax(sign * above, 0);
		if (i > 0 && before * above < 0) {
			double share = before / (before - above);
			double cross = ground->x[i - 1] + share * (x - ground->x[i - 1]);
			picture_edge(out, cross, line_at(line, cross), line_at(line, cross));
		}
		picture_edge(out, x, fmin(at, to), fmax(at, to));
		before = above;
	}
}

void picture_cut_and_fill(struct picture *out, size_t ground, size_t line)
{
	const struct picture_samples *of = out->samples;
	if (out->out_of_memory || of[line].count < 2 || of[ground].count < 2)
		return;
	picture_band(out, "cut: ground above the grade", PLOT_LEANING);
	shade(out, &of[ground], &of[line], 1);
	picture_band(out, "fill: ground below it", PLOT_DOTTED);
	shade(out, &of[ground], &of[line], -1);
}
