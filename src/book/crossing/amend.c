/* Amendments: a sealed figure that is changed later, with a reason. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/page.h"

/* Whether a figure is an instrument's: its tolerance, or its tested tilt. */
static bool is_instrument(const char *name, const struct book_figures *figures)
{
	char ignored[BOOK_VALUE_BYTES];
	return (strncmp(name, "instrument ", 11) == 0 || strncmp(name, "tilt ", 5) == 0 ||
	        strncmp(name, "tilt_u ", 7) == 0) &&
	       book_figure(figures, name, ignored);
}

/* A k this near to the one that the drop itself asks for would make any drop agree. */
#define OWN_K 0.005

static bool is_own_k(const struct book_run *run, const struct book_terms *now, const char *value)
{
	struct level_page page = {0};
	struct level_closing closing;
	char *end;
	double k = strtod(value, &end);
	bool own = false;
	if (end == value || !level_reduce(&run->run, 0, &now->terms, &page))
		return false;
	closing = level_close(&run->run, &page, &now->terms,
	                      level_tolerance_find("third-order", NULL), 0);
	own = closing.has_observed && closing.finding.turn != 0 &&
	      fabs(k - closing.finding.k_needed) < OWN_K;
	level_page_free(&page);
	return own;
}

/* dk is both sides. */
static bool put(struct book_figures *figures, const char *name, const char *value,
                struct fault *why)
{
	char ignored[BOOK_VALUE_BYTES];
	if (strcmp(name, "dk") != 0 || !book_figure(figures, "dk_low", ignored))
		return book_figure_put(figures, name, value, why);
	return book_figure_put(figures, "dk_low", value, why) &&
	       book_figure_put(figures, "dk_high", value, why);
}

static bool amend(struct book *book, const struct book_run *run, const char *name,
                  const char *value, const char *reason, struct fault *why)
{
	struct book_terms now;
	struct book_settings settings;
	char carried[BOOK_VALUE_BYTES], source[LEVEL_REMARK_BYTES], said[BOOK_VALUE_BYTES],
	    figure[LEVEL_NAME_BYTES + 20];
	size_t setting = setting_find(name);
	bool is_setting = setting < book_setting_count() && setting_is_figure(setting);
	if (!book_settings(book, &settings, why) || !book_run_terms(book, run, &now, why))
		return false;
	if (run->run.kind != LEVEL_CROSSING && !now.sealed)
		return fault_say(why, FAULT_INPUT,
		                 "only the figures of a crossing are sealed: change the settings");
	if (!now.sealed)
		return fault_say(why, FAULT_INPUT,
		                 "this run is not sealed yet: change its plan or the settings");
	if (!is_setting && !is_instrument(name, &now.figures))
		return fault_say(why, FAULT_INPUT,
		                 "%.60s is no figure that was sealed; those are the names below "
		                 "\"sealed\": rodbook drop BOOK RUN",
		                 name);
	if (!*value)
		return fault_say(why, FAULT_INPUT, "an amendment gives a value");
	snprintf(carried, sizeof carried, "%s", value);
	if (is_setting)
		setting_carry(setting, value, &settings.style, carried);
	if (strcmp(name, "k") == 0 && is_own_k(run, &now, carried))
		return fault_say(why, FAULT_INPUT,
		                 "that is the k which this crossing's own drop asks for: it is a "
		                 "result, and cannot be its prediction");
	if (!put(&now.figures, name, carried, why) ||
	    !book_terms_of(&now.figures, run, &now.terms, why))
		return false;
	/* The figure has another source from now on. Of one with an instrument behind it
	 * nothing says so: "instrument L_source" is the level L_source. */
	snprintf(figure, sizeof figure, "%.60s_source", name);
	snprintf(source, sizeof source, "amended: %.200s", reason);
	if (is_setting && book_figure(&now.figures, figure, said) &&
	    !book_figure_put(&now.figures, figure, source, why))
		return false;
	return seal_insert(book, run->info.id, "amend", &now.figures, false, reason, why);
}

bool book_amend(struct book *book, const struct book_run *run, const char *name, const char *value,
                const char *reason, struct fault *why)
{
	if (!*reason) {
		fault_say(why, FAULT_INPUT, "an amendment needs a reason: say why");
		return fault_at(why, "reason");
	}
	if (!level_check_text(reason, LEVEL_REMARK_CHARS - 10, "reason", why))
		return fault_at(why, "reason");
	if (!txn_begin(book, why))
		return false;
	return txn_end(
	    book, check_fresh(book, run, why) && amend(book, run, name, value, reason, why), why);
}
