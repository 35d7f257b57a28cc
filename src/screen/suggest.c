/* What a form begins with: what is likely to come next. */
#include <string.h>

#include "screen/editor.h"

enum level_method editor_usual_method(const struct level_run *run, size_t at, enum level_kind kind)
{
	for (size_t i = at; i-- > 0;)
		if (level_counted(&run->sight[i]) && run->sight[i].kind == kind)
			return run->sight[i].method;
	return kind == LEVEL_OFF ? LEVEL_TAPE : LEVEL_ROD;
}

/* The last sight before index `at` that an instrument took; run->count where there is none. */
static size_t sight_before(const struct level_run *run, size_t at)
{
	do
		at = level_counted_before(run, at);
	while (at < run->count && run->sight[at].kind == LEVEL_OFF);
	return at;
}

/* One reading or three wires, as in the sight before. */
static bool usual_wires(const struct level_run *run, size_t at)
{
	size_t before = sight_before(run, at);
	return before < run->count && run->sight[before].wires;
}

/* That of the sight before; of a run that begins, the one last looked through. */
static void usual_instrument(const struct editor *ed, size_t at, char name[LEVEL_NAME_BYTES])
{
	size_t before = sight_before(&ed->run.run, at);
	strcpy(name,
	       before < ed->run.run.count ? ed->run.note[before].instrument : ed->last_instrument);
}

/* The BS before index `at`; run->count where there is none. */
static size_t bs_before(const struct level_run *run, size_t at)
{
	while (at-- > 0)
		if (level_counted(&run->sight[at]) && run->sight[at].kind == LEVEL_BS)
			return at;
	return run->count;
}

/* The rod stays on its turning point for the BS; the one of the BS before goes ahead to the FS,
 * with one rod and with two. */
static void usual_rod(const struct editor *ed, size_t at, enum level_kind kind,
                      char name[LEVEL_NAME_BYTES])
{
	const struct level_run *run = &ed->run.run;
	size_t before = sight_before(run, at), bs = bs_before(run, at), earlier;
	if (before == run->count)
		return;
	earlier = bs < run->count ? bs_before(run, bs) : run->count;
	if (kind == LEVEL_FS && earlier < run->count)
		before = earlier;
	strcpy(name, ed->run.note[before].rod);
}

/* A crossing goes to the one other mark where the water was read. */
static void suggest_shore(const struct editor *ed, char station[LEVEL_STATION_BYTES])
{
	const struct level_run *run = &ed->run.run;
	size_t bs = bs_before(run, run->count);
	const char *shore = NULL;
	if (run->kind != LEVEL_CROSSING || bs == run->count || run->sight[bs].again)
		return;
	for (size_t i = 0; i < ed->water_count; i++) {
		const char *name = ed->waters[i].station;
		if (*ed->waters[i].struck || strcmp(name, run->sight[bs].station) == 0)
			continue;
		if (shore && strcmp(shore, name) != 0)
			return;
		shore = name;
	}
	if (shore)
		strcpy(station, shore);
}

/* Notes of another day that are typed one after the other keep their day, at an hour that nobody
 * said. */
static void usual_day(const struct editor *ed, size_t at, char time[BOOK_TIME_BYTES])
{
	const struct level_run *run = &ed->run.run;
	size_t before = level_counted_before(run, at);
	const struct book_note *note;
	char today[BOOK_TIME_BYTES], ignored[BOOK_TIME_BYTES];
	if (before == run->count)
		return;
	note = &ed->run.note[before];
	if (*note->booked && book_complete_time(ed->book, "", today, ignored, NULL) &&
	    strncmp(note->booked, today, 10) == 0 && strncmp(note->time, today, 10) != 0)
		snprintf(time, BOOK_TIME_BYTES, "%.10s", note->time);
}

void editor_suggest(const struct editor *ed, struct book_draft *draft)
{
	enum level_kind kind;
	size_t at = ed->target == TARGET_NEW ? ed->run.run.count : ed->at;

	*draft = (struct book_draft){.wires = usual_wires(&ed->run.run, at),
	                             .unit = ed->settings.style.unit,
	                             .distance_unit = ed->settings.style.distance,
	                             .focus = WORK_STATION};
	level_suggest(&ed->run.run, at, &kind, draft->station);
	if (kind == LEVEL_FS && ed->target == TARGET_NEW && ed->has_far) {
		*draft = ed->far;
		draft->used = false;
		usual_instrument(ed, at, draft->instrument);
		usual_day(ed, at, draft->time);
		return;
	}
	if (kind == LEVEL_FS && ed->target == TARGET_NEW)
		suggest_shore(ed, draft->station);
	strcpy(draft->method, level_method_name(editor_usual_method(&ed->run.run, at, kind)));
	usual_instrument(ed, at, draft->instrument);
	usual_day(ed, at, draft->time);
	usual_rod(ed, at, kind, draft->rod);
	if (ed->target == TARGET_INSERT) {
		draft->inserts = true;
		draft->at = at > 0 ? ed->run.run.sight[at - 1].id : 0;
	} else if (level_counted_from(&ed->run.run, 0) == ed->run.run.count &&
	           ed->mark_count == 1) {
		strcpy(draft->station, ed->marks[0].name);
	}
	strcpy(draft->kind, level_kind_name(kind));
}
