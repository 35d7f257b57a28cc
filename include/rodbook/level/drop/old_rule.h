/* The rule under which crossings of books up to version 3 were sealed. */
#ifndef RODBOOK_LEVEL_DROP_OLD_RULE_H
#define RODBOOK_LEVEL_DROP_OLD_RULE_H

#include "rodbook/level/drop/finding.h"

/* What that rule says of an observed drop, m: it asked whether the drop parts from zero, not from
 * what a flat surface shows in the same air, and a crossing sealed under it is judged anew.
 * observed is D as it is today; the tilts in it are exchanged for those that counted then. */
enum level_drop_answer level_answer_before(const struct level_drop_sums *sums,
                                           const struct level_terms *terms,
                                           const struct level_ends *ends, double observed);

#endif
