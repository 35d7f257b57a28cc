#include "report/front/front.h"
#include "report/lines.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/work/times.h"
#include "rodbook/report/report.h"

void front_add(struct front *front, const char *name, const char *value, const char *note)
{
	struct front_row *row = &front->row[front->rows];
	if (front->rows == FRONT_ROWS)
		return;
	front->rows++;
	snprintf(row->name, sizeof row->name, "%s", name);
	snprintf(row->value, sizeof row->value, "%s", value);
	snprintf(row->note, sizeof row->note, "%s", note);
}

char *front_length(char buf[LEVEL_LENGTH_BYTES], const struct front *front, double meters,
                   bool plus)
{
	level_format_length(buf, level_from_meters(meters), &front->style, plus);
	snprintf(buf + strlen(buf), LEVEL_LENGTH_BYTES - strlen(buf), "%s",
	         level_unit_after(front->style.unit));
	return buf;
}

void front_add_length(struct front *front, const char *name, double meters, bool plus,
                      const char *note)
{
	char text[LEVEL_LENGTH_BYTES];
	front_add(front, name, front_length(text, front, meters, plus), note);
}

void front_doubt(struct front *front, const char *what, const char *size, const char *tells)
{
	struct front_doubt *doubt = &front->doubt[front->doubts];
	if (front->doubts == FRONT_DOUBTS)
		return;
	front->doubts++;
	snprintf(doubt->what, sizeof doubt->what, "%s", what);
	snprintf(doubt->size, sizeof doubt->size, "%s", size);
	snprintf(doubt->tells, sizeof doubt->tells, "%s", tells);
}

/* The last that was written of it; heads carry texts on. */
static const char *head_text(const struct work_run *run, enum book_head_text text)
{
	return run->head_count ? run->heads[run->head_count - 1].text[text] : "";
}

void front_proven(struct front *front, const struct book_verified *verified)
{
	char answer[sizeof front->answer];
	if (!*verified->difference)
		return;
	strcpy(answer, front->answer);
	snprintf(
	    front->answer, sizeof front->answer,
	    "THE BOOK WAS ALTERED: its rows are not as its journal has them; see the end of the "
	    "workings, and rely on nothing here. %.700s",
	    answer);
}

/* Of a crossing as many decimals as two figures of its allowance have, three where they are below
 * 30, so that its lines do not round to nothing; in inches and of other runs as on the page: a
 * fraction of its own would be another figure than that of the workings. */
static struct level_style carried(const struct work_run *run)
{
	struct level_style style = run->settings.style;
	double limit = run->closing.allowance.decides;
	double unit = style.unit == LEVEL_M ? 1 : 0.3048;
	if (run->book.run.kind != LEVEL_CROSSING || limit <= 0 || style.unit > LEVEL_FT)
		return style;
	style.decimals = 1 - (int)floor(log10(limit / unit) + 1e-9);
	style.decimals += limit / unit * pow(10, style.decimals) < 30;
	style.decimals = style.decimals < 0 ? 0 : style.decimals > 5 ? 5 : style.decimals;
	return style;
}

void front_of(const struct work_run *run, struct front *out)
{
	*out = (struct front){.style = carried(run)};
	lines_when(run, out->when, sizeof out->when);
	snprintf(out->who, sizeof out->who, "%s", head_text(run, BOOK_HEAD_PARTY));
	snprintf(out->level, sizeof out->level, "%s", head_text(run, BOOK_HEAD_INSTRUMENT));
	snprintf(out->rods, sizeof out->rods, "%s", head_text(run, BOOK_HEAD_RODS));
	snprintf(out->where, sizeof out->where, "%s", head_text(run, BOOK_HEAD_PLACE));
	if (run->book.run.kind == LEVEL_CROSSING)
		front_crossing(run, out);
	else
		front_leveled(run, out);
}
