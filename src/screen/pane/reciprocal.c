/* Reciprocal leveling in the live pane. */
#include "rodbook/level/reciprocal.h"

#include <math.h>
#include <string.h>

#include "screen/editor.h"

void reciprocal_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	struct level_reciprocal_pair pair;
	char rise[LEVEL_LENGTH_BYTES], u[LEVEL_LENGTH_BYTES], off[LEVEL_LENGTH_BYTES];
	/* The new sight's empty row belongs to the setup before it. */
	size_t at = ed->work.sight[ed->at].state == LEVEL_BLANK
	                ? level_counted_before(&ed->work, ed->at)
	                : ed->at;
	text[0] = '\0';
	if (at >= ed->work.count ||
	    !level_reciprocal_in(&ed->work, &ed->page, at, &ed->terms.terms, &pair))
		return;
	snprintf(text, size, "reciprocal: %.20s to %.20s %s, u %s; far sights %s too %s", pair.a,
	         pair.b, level_format_length(rise, pair.got.rise, style, true),
	         report_meters(u, pair.got.u_rise, style, false),
	         report_meters(off, fabs(level_to_meters(pair.got.combined)), style, false),
	         pair.got.combined < 0 ? "low" : "high");
	if (pair.got.has_k)
		snprintf(text + strlen(text), size - strlen(text), ", k %.2f", pair.got.k);
}
