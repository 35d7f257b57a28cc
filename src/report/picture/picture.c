#include "report/picture/picture.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "report/front/front.h"
#include "report/html/sheet.h"
#include "report/picture/longsight.h"
#include "text/wrap.h"

double picture_unit(double meters, enum level_unit unit)
{
	static const double per_meter[] = {1, 1e9 / LEVEL_NM_PER_FT, 1e9 / LEVEL_NM_PER_FT,
	                                   1e9 / LEVEL_NM_PER_IN};
	return meters * per_meter[unit];
}

const char *picture_unit_name(enum level_unit unit)
{
	return unit == LEVEL_FTIN ? "ft" : level_unit_name(unit);
}

/* Room for one more; NULL, and the picture is spoiled, where memory is short. */
static void *grow(struct picture *p, void *array, size_t count, size_t *room, size_t size)
{
	size_t more = *room ? 2 * *room : 64;
	void *grown = array;
	if (count < *room)
		return array;
	grown = realloc(array, more * size);
	if (grown)
		*room = more;
	else
		p->out_of_memory = true;
	return grown;
}

static void add_number(struct picture *p, double **array, size_t count, size_t *room, double value)
{
	double *more = grow(p, *array, count, room, sizeof *more);
	if (!more)
		return;
	*array = more;
	more[count] = value;
}

void picture_curve(struct picture *p, const char *name, char sign)
{
	p->curve[p->plot.curves++] = (struct plot_curve){.name = name, .sign = sign};
}

void picture_break(struct picture *p)
{
	picture_sample(p, NAN, NAN);
}

void picture_band(struct picture *p, const char *name, enum plot_pattern pattern)
{
	p->band[p->plot.bands++] = (struct plot_band){.name = name, .pattern = pattern};
}

void picture_sample(struct picture *p, double x, double y)
{
	struct picture_samples *s = &p->samples[p->plot.curves - 1];
	size_t room = s->room;
	add_number(p, &s->x, s->count, &room, x);
	add_number(p, &s->y, s->count, &s->room, y);
	s->count += !p->out_of_memory;
}

void picture_edge(struct picture *p, double x, double low, double high)
{
	struct picture_edges *e = &p->edges[p->plot.bands - 1];
	size_t rooms[] = {e->room, e->room};
	add_number(p, &e->x, e->count, &rooms[0], x);
	add_number(p, &e->low, e->count, &rooms[1], low);
	add_number(p, &e->high, e->count, &e->room, high);
	e->count += !p->out_of_memory;
}

static bool add_name(struct picture *p, char ***names, size_t count, size_t room, const char *name)
{
	char **more = realloc(*names, room * sizeof *more);
	if (more) {
		*names = more;
		more[count] = strdup(name);
	}
	p->out_of_memory = p->out_of_memory || !more || !more[count];
	return more && more[count];
}

void picture_point(struct picture *p, size_t kind, double x, double y, double error,
                   const char *name)
{
	struct plot_point *more =
	    grow(p, p->point, p->plot.points, &p->point_room, sizeof *p->point);
	if (!more)
		return;
	p->point = more;
	if (!add_name(p, &p->point_name, p->plot.points, p->point_room, name))
		return;
	p->point[p->plot.points] =
	    (struct plot_point){x, y, error, p->point_name[p->plot.points], kind, p->quiet};
	p->plot.points++;
}

void picture_mark(struct picture *p, double x, const char *name)
{
	double *more = grow(p, p->mark, p->plot.marks, &p->mark_room, sizeof *p->mark);
	if (!more)
		return;
	p->mark = more;
	if (!add_name(p, &p->mark_name, p->plot.marks, p->mark_room, name))
		return;
	p->mark[p->plot.marks++] = x;
}

void picture_add_notes(struct picture *p, const char *text)
{
	size_t used = p->notes ? strlen(p->notes) : 0, size = strlen(text) + 1;
	char *more = realloc(p->notes, used + size);
	if (!more) {
		p->out_of_memory = true;
		return;
	}
	memcpy(more + used, text, size);
	p->notes = more;
}

void picture_note(struct picture *p, const char *format, ...)
{
	char line[800];
	va_list list;
	va_start(list, format);
	vsnprintf(line, sizeof line, format, list);
	va_end(list);
	picture_add_notes(p, line);
	picture_add_notes(p, "\n");
}

void picture_state(struct picture *p, const struct work_run *run)
{
	char *text = NULL;
	size_t size = 0;
	FILE *out;
	if (run->closing_count == 0)
		return;
	snprintf(p->title + strlen(p->title), sizeof p->title - strlen(p->title), ", %s",
	         report_state(&run->book.info));
	out = open_memstream(&text, &size);
	if (out)
		report_closings(out, run);
	if (out && fclose(out) == 0 && text)
		picture_add_notes(p, text);
	else
		p->out_of_memory = true;
	free(text);
}

void picture_answer(const struct level_finding *finding, char *text, size_t size)
{
	const char *reserve = level_answer_reserve(finding);
	snprintf(text, size, "%s (%s)%s%s", level_answer_brief(finding->answer),
	         level_answer_code(finding->answer), *reserve ? "\n" : "",
	         reserve + strspn(reserve, "; "));
}

/* Says below the title where and when a run was made, and what came of it in a few words. */
static void headline(struct picture *p, const struct work_run *run)
{
	struct front front;
	char answer[480];
	front_of(run, &front);
	if (work_drop_of(run) == WORK_ANSWERED)
		picture_answer(&run->closing.finding, answer, sizeof answer);
	else
		report_verdict(run, answer, sizeof answer);
	snprintf(p->subtitle, sizeof p->subtitle, "%s%s%.300s\n%s", front.when,
	         *front.where ? "; " : "", front.where, answer);
}

void picture_free(struct picture *p)
{
	for (size_t i = 0; i < PICTURE_CURVES; i++) {
		free(p->samples[i].x);
		free(p->samples[i].y);
	}
	for (size_t i = 0; i < PICTURE_BANDS; i++) {
		free(p->edges[i].x);
		free(p->edges[i].low);
		free(p->edges[i].high);
	}
	for (size_t i = 0; i < p->plot.points; i++)
		free(p->point_name[i]);
	for (size_t i = 0; i < p->plot.marks; i++)
		free(p->mark_name[i]);
	free(p->notes);
	free(p->point_name);
	free(p->mark_name);
	free(p->point);
	free(p->mark);
	*p = (struct picture){0};
}

static void put_number(char text[32], double value)
{
	text[0] = '\0';
	if (isfinite(value))
		snprintf(text, 32, "%.12g", value);
}

static void csv_row(FILE *out, const char *what, const char *name, double x, double y, double error)
{
	char number[3][32];
	const char *fields[] = {what, name ? name : "", number[0], number[1], number[2]};
	put_number(number[0], x);
	put_number(number[1], y);
	put_number(number[2], error);
	csv_write(out, fields, 5, "\n");
}

/* Every number that is drawn, in the order of the drawing. */
static void draw_csv(FILE *out, const struct plot *plot)
{
	fputs("element,name,x,y,error\n", out);
	for (size_t i = 0; i < plot->curves; i++)
		for (size_t j = 0; j < plot->curve[i].count; j++)
			if (plot_drawable(plot->curve[i].x[j]) &&
			    plot_drawable(plot->curve[i].y[j]))
				csv_row(out, "curve", plot->curve[i].name, plot->curve[i].x[j],
				        plot->curve[i].y[j], NAN);
	for (size_t i = 0; i < plot->points; i++)
		csv_row(out, "point", plot->point[i].name, plot->point[i].x, plot->point[i].y,
		        plot->point[i].error > 0 ? plot->point[i].error : NAN);
	for (size_t i = 0; i < plot->marks; i++)
		csv_row(out, "upright", plot->mark_name[i], plot->mark[i], NAN, NAN);
}

static void draw_text(FILE *out, const struct picture *p)
{
	enum { COLUMNS = 78, ROWS = 22 };
	char grid[ROWS * (COLUMNS + 1)];
	if (!plot_text(&p->plot, COLUMNS, ROWS, grid))
		return;
	for (int row = 0; row < ROWS; row++)
		fprintf(out, "%s\n", grid + row * (COLUMNS + 1));
	if (p->notes)
		wrap_text(out, p->notes, COLUMNS);
}

bool picture_draw(FILE *out, struct picture *p, enum report_form form, struct fault *why)
{
	if (p->out_of_memory)
		return fault_memory(why);
	for (size_t i = 0; i < p->plot.curves; i++) {
		p->curve[i].x = p->samples[i].x;
		p->curve[i].y = p->samples[i].y;
		p->curve[i].count = p->samples[i].count;
	}
	for (size_t i = 0; i < p->plot.bands; i++) {
		p->band[i].x = p->edges[i].x;
		p->band[i].low = p->edges[i].low;
		p->band[i].high = p->edges[i].high;
		p->band[i].count = p->edges[i].count;
	}
	p->plot.band = p->band;
	p->plot.curve = p->curve;
	p->plot.point = p->point;
	p->plot.mark = p->mark;
	p->plot.mark_name = (const char *const *)p->mark_name;
	p->plot.title = p->title;
	p->plot.x_name = p->x_name;
	p->plot.y_name = p->y_name;
	p->plot.notes = p->notes;
	p->plot.subtitle = p->subtitle;
	if (form == REPORT_AS_SVG)
		plot_svg(out, &p->plot);
	else if (form == REPORT_AS_CSV)
		draw_csv(out, &p->plot);
	else if (form == REPORT_AS_HTML)
		fprintf(out, "%s\n%s", p->subtitle, p->notes ? p->notes : "");
	else
		draw_text(out, p);
	return true;
}

static bool draw_run(FILE *out, struct book *book, enum report_picture which, const char *name,
                     enum report_form form, struct picture *picture, struct fault *why)
{
	struct work_run run;
	bool ok;
	if (!work_run_load(book, name, NULL, &run, why))
		return false;
	ok = which == REPORT_PROFILE ? picture_profile(&run, picture, why)
	                             : picture_longsight(&run, picture, why);
	if (ok)
		headline(picture, &run);
	if (ok && which == REPORT_LONGSIGHT && form == REPORT_AS_SVG &&
	    work_drop_of(&run) == WORK_ANSWERED)
		ok = picture->out_of_memory ? fault_memory(why)
		                            : longsight_svg(out, &run, picture, why);
	else
		ok = ok && picture_draw(out, picture, form, why);
	work_run_free(&run);
	return ok;
}

static bool draw(FILE *out, struct book *book, enum report_picture which, const char *const *names,
                 size_t count, enum report_form form, struct fault *why)
{
	struct picture picture = {0};
	bool ok;
	if (which == REPORT_CLOSURES)
		ok = picture_closures(book, names, count, form == REPORT_AS_CSV, &picture, why) &&
		     picture_draw(out, &picture, form, why);
	else
		ok = draw_run(out, book, which, names[0], form, &picture, why);
	picture_free(&picture);
	return ok;
}

/* Which picture of what. */
struct wanted {
	struct book *book;
	enum report_picture which;
	const char *const *names;
	size_t count;
};

static bool write_part(FILE *out, void *of, enum sheet_part part, struct fault *why)
{
	const struct wanted *w = of;
	return draw(out, w->book, w->which, w->names, w->count,
	            part == SHEET_DRAWING   ? REPORT_AS_SVG
	            : part == SHEET_FIGURES ? REPORT_AS_CSV
	                                    : REPORT_AS_HTML,
	            why);
}

bool report_picture(FILE *out, struct book *book, enum report_picture which,
                    const char *const *names, size_t count, enum report_form form,
                    struct fault *why)
{
	struct wanted wanted = {book, which, names, count};
	char what[LEVEL_NAME_BYTES + 40] = "how the runs close";
	char title[LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60];
	if (which == REPORT_PROFILE)
		snprintf(what, sizeof what, "profile of run %s", names[0]);
	if (which == REPORT_LONGSIGHT)
		snprintf(what, sizeof what, "long sight of run %s", names[0]);
	if (form != REPORT_AS_HTML)
		return draw(out, book, which, names, count, form, why);
	return sheet_title(book, what, title, sizeof title, why) &&
	       sheet_html(out, book, title, write_part, &wanted, why);
}
