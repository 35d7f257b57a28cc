/* What a form begins with: what is likely to come next. */
#include <string.h>

#include "rodbook/work/next.h"
#include "screen/editor.h"

static struct work_next_given given_of(const struct editor *ed)
{
	return (struct work_next_given){.book = ed->book,
	                                .run = &ed->run,
	                                .marks = ed->marks,
	                                .mark_count = ed->mark_count,
	                                .waters = ed->waters,
	                                .water_count = ed->water_count,
	                                .far = ed->has_far ? &ed->far : NULL,
	                                .figures = &ed->terms.figures,
	                                .chosen_instrument =
	                                    ed->has_chosen_level ? ed->chosen_level : NULL,
	                                .last_instrument = ed->last_instrument,
	                                .style = ed->settings.style,
	                                .series = ed->series};
}

void editor_suggest(const struct editor *ed, struct book_draft *draft)
{
	const struct work_next_given given = given_of(ed);
	size_t at = ed->target == TARGET_NEW ? ed->run.run.count : ed->at;
	work_next(&given, at, draft);
	if (ed->target == TARGET_INSERT) {
		draft->inserts = true;
		draft->at = at > 0 ? ed->run.run.sight[at - 1].id : 0;
	}
}

void editor_suggest_station(const struct editor *ed, enum level_kind kind,
                            char station[LEVEL_STATION_BYTES])
{
	const struct work_next_given given = given_of(ed);
	work_next_station(&given, ed->at, kind, station);
}
