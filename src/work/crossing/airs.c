#include "rodbook/work/airs.h"

static bool is_measured(enum level_k_source source)
{
	return source == LEVEL_K_THERMOMETERS || source == LEVEL_K_WATER;
}

/* Whether an air that gives a k does not say where its wind came from. */
static bool lacks_wind(const struct book_k *k)
{
	for (size_t i = 0; k->has_line && i < k->readings; i++)
		if (k->reading[i].from == LEVEL_WIND_NOT_SAID &&
		    is_measured(level_k_find(&k->reading[i], &k->line, LEVEL_OVER_WATER).source))
			return true;
	return false;
}

bool work_airs(struct book *book, const struct book_run *run, const struct book_terms *terms,
               bool hidden, struct work_airs *out, struct fault *why)
{
	struct book_terms open;
	*out = (struct work_airs){0};
	if (run->run.kind != LEVEL_CROSSING || hidden || !is_measured(terms->k_source))
		return true;
	if (terms->sealed && !book_open_terms(book, run, &open, why))
		return false;
	out->wind_unsaid = lacks_wind(terms->sealed ? &open.k : &terms->k);
	return true;
}
