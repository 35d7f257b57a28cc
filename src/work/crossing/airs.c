#include "rodbook/work/airs.h"

#include <stdlib.h>

#include "work/crossing/since.h"

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

/* Whether what counts is another air than at the seal. */
static bool differs(const struct book_terms *terms, const struct book_air *air)
{
	return air_counts(terms, air) != (*air->struck == '\0');
}

static bool find_since(struct book *book, const struct book_run *run,
                       const struct book_terms *terms, struct work_airs *out, struct fault *why)
{
	struct book_air *list;
	size_t count;
	if (!terms->sealed || (terms->amendments && terms->k_source == LEVEL_K_SET))
		return true;
	if (!book_airs(book, run->info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		out->since_seal = out->since_seal || differs(terms, &list[i]);
	free(list);
	return true;
}

bool work_airs(struct book *book, const struct book_run *run, const struct book_terms *terms,
               bool hidden, struct work_airs *out, struct fault *why)
{
	struct book_terms open;
	*out = (struct work_airs){0};
	if (run->run.kind != LEVEL_CROSSING || hidden)
		return true;
	if (!find_since(book, run, terms, out, why))
		return false;
	if (!is_measured(terms->k_source))
		return true;
	if (terms->sealed && !book_open_terms(book, run, &open, why))
		return false;
	out->wind_unsaid = lacks_wind(terms->sealed ? &open.k : &terms->k);
	return true;
}
