/* A picture that is put together bit by bit, and then drawn in characters, as SVG, or as numbers.
 */
#ifndef REPORT_PICTURE_PICTURE_H
#define REPORT_PICTURE_PICTURE_H

#include "plot/plot.h"
#include "rodbook/report/report.h"
#include "work/crossing/crossings.h"
#include "work/epochs.h"

#define PICTURE_CURVES 6
#define PICTURE_BANDS 2

struct picture {
	struct plot plot;
	struct plot_curve curve[PICTURE_CURVES];
	struct picture_samples {
		double *x, *y;
		size_t count, room;
	} samples[PICTURE_CURVES];
	struct plot_band band[PICTURE_BANDS];
	struct picture_edges {
		double *x, *low, *high;
		size_t count, room;
	} edges[PICTURE_BANDS];
	struct plot_point *point;
	char **point_name;
	size_t point_room;
	bool quiet; /* the names of the next points are not written in a drawing */
	double *mark;
	char **mark_name;
	size_t mark_room;
	char title[600], subtitle[2 * PLOT_SUBTITLE_BYTES], x_name[60], y_name[60];
	char *notes; /* lines below the drawing */
	bool out_of_memory;
};

/* Meters in the unit of the drawing, feet for feet and inches; and that unit's name. */
double picture_unit(double meters, enum level_unit unit);
const char *picture_unit_name(enum level_unit unit);

/* Begins another curve, which the next samples belong to; name must outlive the picture. */
void picture_curve(struct picture *picture, const char *name, char sign);
void picture_sample(struct picture *picture, double x, double y);
/* The curve is broken here. */
void picture_break(struct picture *picture);
/* Begins another band, which the next edges belong to; name must outlive the picture. */
void picture_band(struct picture *picture, const char *name, enum plot_pattern pattern);
void picture_edge(struct picture *picture, double x, double low, double high);
/* kind: index into the plot's kinds. */
void picture_point(struct picture *picture, size_t kind, double x, double y, double error,
                   const char *name);
void picture_mark(struct picture *picture, double x, const char *name);
void picture_note(struct picture *picture, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Whole lines of any length behind the notes that there are. */
void picture_add_notes(struct picture *picture, const char *lines);
/* Shades what is to be cut and filled between two of the curves, by index: the ground, and a
 * straight line of two samples. */
void picture_cut_and_fill(struct picture *picture, size_t ground, size_t line);
/* Says in title and notes that a run was closed, or opened again and why. */
void picture_state(struct picture *picture, const struct work_run *run);
/* The answer of a finding, as lines below a title: in few words with its code, and where it is
 * narrow that. */
void picture_answer(const struct level_finding *finding, char *text, size_t size);
void picture_free(struct picture *picture);

/* Draws it; as HTML what it says in words, the lines below the title and the notes, which a paper
 * has beside the drawing. False only where memory was short. */
bool picture_draw(FILE *out, struct picture *picture, enum report_form form, struct fault *why);

/* The pictures; each fills one that begins as all zeros. */
bool picture_profile(const struct work_run *run, struct picture *out, struct fault *why);
bool picture_longsight(const struct work_run *run, struct picture *out, struct fault *why);
/* Misclosures as shares of their allowables; as_lengths: as they are, for CSV. */
bool picture_closures(struct book *book, const char *const *names, size_t count, bool as_lengths,
                      struct picture *out, struct fault *why);
/* The picture of a run as SVG, which the caller frees: its long sight, or its profile; NULL where
 * there is nothing to draw. False with the fault. */
bool picture_of_run(struct book *book, const struct work_run *run, char **svg, struct fault *why);
/* Several crossings over distance, each less what flat would show in its air, with flat, the
 * prediction, and what all of them make together; `where`: the book, for the lines below the title.
 * Behind it notes with a line a crossing where it stands alone. */
void picture_drops(const struct crossings *crossings, const struct level_combined *combined,
                   const char *where, bool alone, struct picture *out);
/* Changes of marks over the epochs. */
bool picture_changes(const struct work_epochs *epochs, struct picture *out, struct fault *why);

#endif
