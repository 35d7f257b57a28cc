/* A reading scaled from a photograph: reading and limit are what its text makes, and nothing else.
 */
#include "book/store.h"
#include "rodbook/level/set.h"

static bool makes(const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	struct level_scaling scaling;
	struct level_scaled scaled;
	if (!level_parse_scaling(note->scaled, note->unit, &scaling, why) ||
	    !level_scale(&scaling, &scaled, why))
		return false;
	return (scaled.reading == sight->reading && scaled.limit == sight->limit &&
	        !level_is_set(note->reading)) ||
	       fault_say(
	           why, FAULT_INPUT,
	           "reading and limit are not what \"%.120s\" makes: change that, or empty it",
	           note->scaled);
}

bool scaled_is_true(const struct level_sight *sight, const struct book_note *note,
                    struct fault *why)
{
	if (!*note->scaled)
		return true;
	if (sight->kind == LEVEL_OFF || sight->wires || *note->u) {
		fault_say(why, FAULT_INPUT,
		          "only one reading of a sight, with a limit and no u, is scaled from a "
		          "photograph");
		return fault_at(why, "scaled");
	}
	return (level_check_text(note->scaled, BOOK_SCALED_CHARS, "scaling of a photograph", why) &&
	        makes(sight, note, why)) ||
	       fault_at(why, "scaled");
}
