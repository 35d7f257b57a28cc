/* The draft: from the form's texts to a page that counts it. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/along.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/set.h"
#include "rodbook/work/next.h"
#include "rodbook/work/sight.h"
#include "screen/editor.h"

struct book_draft *editor_slot(struct editor *ed)
{
	return &ed->slot[ed->target != TARGET_NEW];
}

size_t editor_booked(const struct editor *ed, size_t i)
{
	if (i + 1 >= ed->work.count)
		return ed->run.run.count;
	if (ed->target != TARGET_INSERT || i < ed->at)
		return i;
	return i == ed->at ? ed->run.run.count : i - 1;
}

struct book_kept editor_note(const struct editor *ed, size_t i)
{
	static const struct book_note none;
	size_t booked = editor_booked(ed, i);
	if (i == ed->at)
		return book_kept_of(&ed->draft_note);
	return booked < ed->run.run.count ? ed->run.note[booked] : book_kept_of(&none);
}

/* The booked texts, in the form; where the book has changed its unit since, with theirs. */
static void texts_of(const struct editor *ed, size_t i, struct book_draft *draft)
{
	const struct level_sight *sight = &ed->run.run.sight[i];
	work_draft_of(sight, &ed->run.note[i], &ed->settings.style, draft);
	draft->focus = sight->wires ? WORK_UPPER : WORK_READING;
}

/* A number half typed goes on where it was left; a name is rather typed anew. */
static bool is_number_begun(struct book_draft *draft)
{
	enum work_text focus = (enum work_text)draft->focus;
	return draft->focus >= 0 && draft->focus < WORK_TEXTS && entry_is_number(focus) &&
	       *work_draft_text(draft, focus, NULL);
}

static void open_form(struct editor *ed)
{
	entry_close(ed->entry);
	ed->entry = entry_open(editor_slot(ed));
	if (!ed->entry)
		editor_fail(ed, "out of memory");
	else if (ed->target == TARGET_NEW && ed->slot[0].used && is_number_begun(&ed->slot[0]))
		entry_continue(ed->entry);
}

void editor_reopen(struct editor *ed)
{
	open_form(ed);
	if (ed->entry)
		editor_update(ed);
}

void editor_restore(struct editor *ed, const struct book_draft *draft)
{
	*editor_slot(ed) = *draft;
	editor_reopen(ed);
	if (ed->entry && is_number_begun(editor_slot(ed)))
		entry_continue(ed->entry);
}

void editor_aim(struct editor *ed, enum target target, size_t at)
{
	ed->target = target;
	ed->at = target == TARGET_NEW ? ed->run.run.count : at;
	if (target == TARGET_CHANGE)
		texts_of(ed, at, &ed->slot[1]);
	else if (target == TARGET_INSERT)
		editor_suggest(ed, &ed->slot[1]);
	else if (!ed->slot[0].used)
		editor_suggest(ed, &ed->slot[0]);
	open_form(ed);
	if (!ed->entry || !working_fill(ed)) {
		editor_fail(ed, "out of memory");
		return;
	}
	editor_update(ed);
}

bool editor_touched(const struct editor *ed)
{
	struct book_draft booked, now;
	if (ed->target == TARGET_NEW)
		return ed->slot[0].used;
	now = ed->slot[1];
	if (ed->target == TARGET_INSERT)
		return *now.reading || *now.upper || *now.distance || *now.remark;
	texts_of(ed, ed->at, &booked);
	return work_drafts_differ(&booked, &now);
}

bool editor_read(const struct editor *ed, const struct book_draft *draft, struct level_sight *sight,
                 struct book_note *note, struct fault *why)
{
	const struct work_reader reader = {.settings = ed->settings,
	                                   .rods = ed->rods,
	                                   .rod_count = ed->rod_count,
	                                   .leaves_names = true};
	struct work_parted parted;
	struct work_typed typed = work_draft_typed(draft, &parted);
	if (ed->target == TARGET_CHANGE)
		work_typed_keep(&typed, &ed->run.run.sight[ed->at], &ed->run.note[ed->at],
		                draft->unit, &parted);
	return work_read_sight(&reader, &typed, sight, note, why);
}

/* The draft as a sight: counted once its texts are a reading that may stand there. */
static struct level_sight sight_of(struct editor *ed, const struct book_draft *draft)
{
	struct level_sight sight;
	struct book_note ignored;
	struct fault why = {0};
	bool read = editor_read(ed, draft, &sight, &ed->draft_note, &why);
	if (!read && why.field &&
	    (strcmp(why.field, "distance") == 0 || strcmp(why.field, "remark") == 0)) {
		/* A distance half typed must not hide the elevation. */
		struct book_draft less = *draft;
		less.distance[0] = less.remark[0] = '\0';
		read = editor_read(ed, &less, &sight, &ignored, NULL);
	}
	if (!read && strchr(draft->reading, '+')) {
		/* Nor a limit half typed. */
		struct book_draft less = *draft;
		*strchr(less.reading, '+') = '\0';
		read = editor_read(ed, &less, &sight, &ignored, NULL);
	}
	sight.state = LEVEL_DRAFT;
	strcpy(sight.station, draft->station);
	work_find_equipment(&ed->run, ed->rods, ed->rod_count, &ed->draft_note, &sight);
	editor_find_known(ed, &sight);
	if (!read ||
	    !level_check_place(&ed->run.run, ed->at, ed->target == TARGET_CHANGE, &sight, NULL))
		sight.state = LEVEL_BLANK;
	if (!read)
		sight.distance = 0;
	return sight;
}

/* k hangs on the line of the long sight, and so on the draft; whether it stayed as it was. */
static bool find_k(struct editor *ed)
{
	struct level_terms before = ed->terms.terms;
	book_terms_find_k(&ed->terms, &ed->run, &ed->work, NULL);
	return before.k == ed->terms.terms.k;
}

/* The book is asked for a station once its name is whole. */
static void ask_station(struct editor *ed, const char *station)
{
	if (strcmp(ed->asked, station) == 0 || entry_focus(ed->entry) == WORK_STATION)
		return;
	strcpy(ed->asked, station);
	ed->has_found = false;
	if (*station &&
	    !work_determined(ed->book, &ed->run, station, &ed->found, &ed->has_found, NULL))
		ed->has_found = false;
}

static void compare(struct editor *ed)
{
	const struct level_rule rule = {&ed->settings.tolerance, ed->settings.setup_figure};
	const struct level_sight *sight = &ed->work.sight[ed->at];
	ed->compared = (struct work_compared){.holds = true};
	if (sight->state != LEVEL_DRAFT || sight->kind == LEVEL_BS)
		return;
	ask_station(ed, sight->station);
	ed->compared = work_compare(
	    &ed->work, &ed->page, &ed->terms.terms, &rule, ed->at,
	    ed->has_found && strcmp(ed->asked, sight->station) == 0 ? &ed->found : NULL);
}

void editor_update(struct editor *ed)
{
	struct book_draft *draft = editor_slot(ed);
	struct level_sight sight;

	entry_read(ed->entry, draft);
	sight = sight_of(ed, draft);
	working_put(ed, &sight);
	if (ed->work.kind == LEVEL_CROSSING && !find_k(ed))
		ed->page.count = 0;
	if (!level_reduce(&ed->work, ed->page.count, &ed->terms.terms, &ed->page)) {
		editor_fail(ed, "out of memory");
		return;
	}
	ed->closing = level_close(&ed->work, &ed->page, &ed->terms.terms, &ed->settings.tolerance,
	                          ed->settings.setup_figure);
	work_hide(&ed->settings, &ed->terms, ed->work.kind, &ed->closing);
	compare(ed);
	editor_find_alike(ed);
	if (!ed->terms.sealed && level_drop_is_seen(&ed->closing) && ed->closing.finding.turn != 0)
		book_drop_seen(ed->book, ed->run.info.id, &ed->terms.k);
}

/* To an offset and back the method changes too, lest a rod be booked as a tape; and an offset has
 * no wires. was: the kind before. */
static void follow_method(struct editor *ed, const char *was)
{
	struct book_draft *slot = editor_slot(ed);
	enum level_method method;
	enum level_kind kind;
	if (!level_kind_find(slot->kind, &kind) || (strcmp(was, "OFF") == 0) == (kind == LEVEL_OFF))
		return;
	method = work_usual_method(&ed->run.run, ed->at, kind);
	if (ed->target == TARGET_CHANGE &&
	    level_method_suits(kind, ed->run.run.sight[ed->at].method))
		method = ed->run.run.sight[ed->at].method;
	entry_choose(ed->entry, WORK_METHOD, level_method_name(method));
	if (kind == LEVEL_OFF && slot->wires) {
		editor_wires(ed);
		ed->message[0] = '\0';
	}
}

/* After another kind of sight was chosen: a station that was only suggested goes, or comes; and a
 * BS that is inserted goes behind the setup it was typed in. was: the kind before. */
static void follow_kind(struct editor *ed, const char *was)
{
	const struct book_draft *draft = editor_slot(ed);
	char suggested[LEVEL_STATION_BYTES] = "";
	enum level_kind kind;
	if (ed->target == TARGET_CHANGE)
		return;
	if (ed->target == TARGET_INSERT && strcmp(draft->kind, "BS") == 0) {
		size_t next = level_counted_from(&ed->run.run, ed->at);
		while (next < ed->run.run.count && ed->run.run.sight[next].kind == LEVEL_IS)
			next = level_counted_from(&ed->run.run, next + 1);
		if (next < ed->run.run.count && ed->run.run.sight[next].kind == LEVEL_FS) {
			editor_aim(ed, TARGET_INSERT, next + 1);
			entry_set_focus(ed->entry, WORK_SIGHT);
			return;
		}
	}
	/* What is not the first BS must not begin a run, whatever its station. */
	if (level_counted_from(&ed->run.run, 0) == ed->run.run.count) {
		editor_update(ed);
		return;
	}
	if (level_kind_find(was, &kind))
		editor_suggest_station(ed, kind, suggested);
	if ((!*draft->station || strcmp(draft->station, suggested) == 0) &&
	    level_kind_find(draft->kind, &kind)) {
		editor_suggest_station(ed, kind, suggested);
		entry_choose(ed->entry, WORK_STATION, suggested);
	}
	editor_update(ed);
}

void editor_changed(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	char kind[sizeof slot->kind];
	strcpy(kind, slot->kind);
	slot->used = true;
	ed->message[0] = ed->warned[0] = ed->photos_asked[0] = '\0';
	if (!ed->draft_unsaved)
		ed->unsaved_since = term_milliseconds();
	ed->draft_unsaved = true;
	editor_update(ed);
	if (strcmp(kind, slot->kind) != 0) {
		follow_method(ed, kind);
		follow_kind(ed, kind);
	}
}

void editor_instrument(struct editor *ed, const char *name)
{
	struct book_draft *slot = editor_slot(ed);
	struct book_instrument *list = NULL;
	size_t count = 0;
	int index = book_run_instrument(&ed->run, name);
	struct book_terms terms;
	struct fault why = {0};
	if (ed->run.info.closed) {
		editor_say(ed, "this run is closed: no sights are to come");
		return;
	}
	if (index < 0) {
		editor_say(ed, "a run has at most %d instruments", LEVEL_INSTRUMENTS - 1);
		return;
	}
	/* A sealed run takes the figures of a new one with its first sight; until then they are the
	 * instrument's own. */
	if (book_run_terms(ed->book, &ed->run, &terms, &why))
		ed->terms = terms;
	else if (book_instruments(ed->book, &list, &count, &why))
		for (size_t i = 0; i < count; i++)
			if (strcmp(list[i].name, name) == 0)
				level_parse_slope(list[i].tolerance,
				                  &ed->terms.terms.instrument[index].tolerance,
				                  &why);
	free(list);
	strcpy(ed->chosen_level, name);
	ed->has_chosen_level = true;
	strcpy(slot->instrument, name);
	slot->used = true;
	ed->draft_unsaved = true;
	ed->unsaved_since = term_milliseconds();
	editor_update(ed);
	editor_say(ed, "the sights to come are by %s", *name ? name : "the unnamed level");
}

void editor_rod(struct editor *ed, const char *name)
{
	struct book_draft *slot = editor_slot(ed);
	if (ed->run.info.closed) {
		editor_say(ed, "this run is closed: no sights are to come");
		return;
	}
	strcpy(slot->rod, name);
	slot->used = true;
	ed->draft_unsaved = true;
	ed->unsaved_since = term_milliseconds();
	editor_update(ed);
	editor_say(ed, "this sight is on %s; the next ones follow it over the turning points",
	           *name ? name : "a rod without a name");
}
