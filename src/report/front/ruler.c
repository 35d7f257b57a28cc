#include "report/front/ruler.h"

#include <math.h>

#define STEPS_MOST 6

struct ruler ruler_of(const struct front_scale *s)
{
	struct ruler out = {fmin(fmin(s->flat, s->seen), s->low),
	                    fmax(fmax(s->flat, s->seen), s->high)};
	double room;
	if (!isnan(s->round)) {
		out.from = fmin(out.from, s->round);
		out.to = fmax(out.to, s->round);
	}
	out.from = fmin(out.from, 0);
	out.to = fmax(out.to, 0);
	room = (out.to - out.from) / 20;
	out.from -= out.from < 0 ? room : 0;
	out.to += room;
	return out;
}

/* 1, 2 or 5 of a power of ten; of inches a power of two, of feet and inches beyond eight inches
 * whole feet. */
static double step_of(double range, enum level_unit unit)
{
	double power, share;
	if (unit == LEVEL_FTIN && range / STEPS_MOST > 8)
		return 12 * fmax(1, step_of(range / 12, LEVEL_FT));
	if (unit > LEVEL_FT)
		return exp2(ceil(log2(range / STEPS_MOST)));
	power = pow(10, floor(log10(range / STEPS_MOST)));
	share = range / STEPS_MOST / power;
	return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
}

struct ruler_numbers ruler_numbers_of(const struct ruler *ruler, const struct level_style *style)
{
	struct ruler_numbers out = {0};
	struct level_style rounded = *style;
	double unit = style->unit == LEVEL_M ? 1 : style->unit == LEVEL_FT ? 0.3048 : 0.0254;
	double step;
	if (!(ruler->to > ruler->from))
		return out;
	step = step_of((ruler->to - ruler->from) / unit, style->unit);
	rounded.decimals = step >= 1 ? 0 : (int)ceil(-log10(step) - 1e-9);
	for (double i = ceil(ruler->from / unit / step - 1e-9);
	     i * step * unit <= ruler->to && out.count < RULER_NUMBERS; i++) {
		out.at[out.count] = i * step * unit;
		level_format_length(out.text[out.count], level_from_meters(out.at[out.count]),
		                    &rounded, false);
		out.count++;
	}
	return out;
}
