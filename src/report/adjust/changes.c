/* Changes between epochs: adjusting, comparing and writing. */
#include "rodbook/report/changes.h"

#include "report/adjust/adjust.h"
#include "report/html/sheet.h"
#include "report/picture/picture.h"

_Static_assert(REPORT_EPOCHS_MOST == WORK_EPOCHS_MOST, "as many as are told apart by name");

static bool load(struct book *book, const struct report_changes *how, struct work_epochs *epochs,
                 struct fault *why)
{
	struct work_names runs[REPORT_EPOCHS_MOST];
	struct work_epochs_wish wish = {.epoch = runs,
	                                .epochs = how->epochs,
	                                .hold = {how->hold.text, how->hold.count},
	                                .by = how->by};
	bool ok = book_hold(book, why);
	if (!ok)
		return false;
	for (size_t i = 0; i < how->epochs; i++)
		runs[i] = (struct work_names){how->epoch[i].text, how->epoch[i].count};
	ok = adjust_read_sd(book, how->sd, &wish.sigma, why) &&
	     work_epochs_load(book, &wish, epochs, why);
	book_release(book);
	return ok;
}

static bool draw(FILE *out, const struct work_epochs *epochs, struct fault *why)
{
	struct picture picture = {0};
	bool ok = picture_changes(epochs, &picture, why) &&
	          picture_draw(out, &picture, REPORT_AS_SVG, why);
	picture_free(&picture);
	return ok;
}

static bool write_part(FILE *out, void *of, enum sheet_part part, struct fault *why)
{
	const struct work_epochs *epochs = of;
	if (part == SHEET_DRAWING)
		return draw(out, epochs, why);
	if (part == SHEET_WORDS)
		return changes_text(out, epochs, why);
	/* The CSV has the first two epochs; the words have all. */
	if (epochs->epochs == 2)
		changes_csv(out, epochs);
	return true;
}

static bool write_form(FILE *out, struct book *book, struct work_epochs *epochs,
                       enum report_form form, struct fault *why)
{
	char title[LEVEL_REMARK_BYTES + 80];
	switch (form) {
	case REPORT_AS_CSV:
		changes_csv(out, epochs);
		return true;
	case REPORT_AS_SVG:
		return draw(out, epochs, why);
	case REPORT_AS_HTML:
		return sheet_title(book, "changes of marks", title, sizeof title, why) &&
		       sheet_html(out, book, title, write_part, epochs, why);
	case REPORT_AS_TEXT:
		break;
	}
	return changes_text(out, epochs, why);
}

bool report_changes(FILE *out, struct book *book, const struct report_changes *how,
                    enum report_form form, bool *agree, struct fault *why)
{
	struct work_epochs epochs = {0};
	bool ok = load(book, how, &epochs, why);
	*agree = true;
	for (size_t i = 1; ok && i < epochs.epochs; i++)
		*agree = *agree && epochs.compared[i].changes.agrees != LEVEL_NO;
	ok = ok && write_form(out, book, &epochs, form, why);
	work_epochs_free(&epochs);
	return ok;
}
