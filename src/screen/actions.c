/* What the keys do to the book. A change is on disk when the message says so. */
#include <string.h>

#include "rodbook/level/offset.h"
#include "rodbook/book/photos.h"
#include "screen/editor.h"
#include "screen/view/views.h"

/* Shows the book as it now is, with the form on the new sight. */
void editor_reload(struct editor *ed)
{
	char said[sizeof ed->message];
	enum look look = ed->message_look;
	struct book_draft typed = ed->slot[0];
	struct fault why = {0};
	strcpy(said, ed->message);
	if (!editor_load(ed, ed->run.info.id, &why)) {
		snprintf(ed->message, sizeof ed->message,
		         "%.200s; the book cannot be shown anew: %.400s", said, why.text);
		return;
	}
	/* What is half typed may not be on disk yet. */
	if (typed.used && ed->target == TARGET_NEW) {
		work_draft_carry(&typed, &ed->settings.style);
		ed->slot[0] = typed;
		ed->draft_unsaved = true;
		ed->unsaved_since = term_milliseconds();
		editor_aim(ed, TARGET_NEW, 0);
	}
	strcpy(ed->message, said);
	ed->message_look = look;
}

/* A refused change: what was typed stays. A book changed from outside is read again. */
void editor_refused(struct editor *ed, const struct fault *why)
{
	editor_refuse(ed, "%s", why->text);
	if (why->kind == FAULT_STALE) {
		editor_save_draft(ed);
		editor_reload(ed);
	}
}

/* The form's texts as a sight that can be booked; else says why, with the cursor on the field. */
static bool read_form(struct editor *ed, struct level_sight *sight)
{
	struct fault why = {0};
	enum level_kind kind;
	const struct book_draft *draft = editor_slot(ed);
	if (!level_kind_find(draft->kind, &kind)) {
		editor_refuse(ed, "the sight is BS, IS, FS or OFF: type b, i, f or o");
		entry_set_focus(ed->entry, WORK_SIGHT);
		return false;
	}
	if (editor_read(ed, draft, sight, &ed->draft_note, &why))
		return true;
	editor_refuse(ed, "%s", why.text);
	entry_set_focus(ed->entry, entry_field_named(why.field));
	return false;
}

/* The sight, what was wanted there and the end of its draft in one: a crash cannot book it twice.
 */
static bool write_sight(struct editor *ed, const struct level_sight *sight, const char *wanted,
                        struct fault *why)
{
	struct book_draft left[2] = {ed->slot[0], {0}};
	bool ok;
	if (ed->target == TARGET_NEW)
		left[0].used = false;
	if (!book_begin(ed->book, why))
		return false;
	ok = ed->target == TARGET_CHANGE
	         ? book_change(ed->book, &ed->run, ed->at, sight, &ed->draft_note, why)
	         : book_add(ed->book, &ed->run, ed->at, sight, &ed->draft_note, why);
	ok = ok &&
	     (!*wanted || book_setout_set(ed->book, ed->run.info.id, sight->station, wanted, why));
	ok = ok && (!(ed->draft_on_disk || left[0].used) ||
	            book_draft_save(ed->book, ed->run.info.id, left, why));
	return book_finish(ed->book, ok, why) && ok;
}

/* After an insertion at `at`: whether the line still has a gap behind it. */
static bool gap_behind(const struct editor *ed, size_t at)
{
	const struct level_run *run = &ed->run.run;
	size_t next = level_counted_from(run, at + 1);
	if (next == run->count || run->sight[next].kind != LEVEL_BS)
		return false;
	return !level_carries_on(run->sight[at].kind) ||
	       strcmp(run->sight[at].station, run->sight[next].station) != 0;
}

/* A half-typed BS was to stand on the mark of the last FS: it goes along with its name. */
static void follow_name(struct editor *ed, const struct level_sight *changed)
{
	const struct level_sight *old = &ed->run.run.sight[ed->at];
	struct book_draft *next = &ed->slot[0];
	if (level_carries_on(changed->kind) &&
	    level_counted_from(&ed->run.run, ed->at + 1) == ed->run.run.count && next->used &&
	    strcmp(next->kind, "BS") == 0 && strcmp(next->station, old->station) == 0)
		strcpy(next->station, changed->station);
}

/* The field that is likely at fault: the one to be typed again. */
static enum work_text field_of(const struct editor *ed, unsigned warnings)
{
	const unsigned of_station = 1u << LEVEL_WARN_NAME | 1u << LEVEL_WARN_ALIKE |
	                            1u << LEVEL_WARN_DRY | 1u << LEVEL_WARN_NUMBER,
	               of_distance = 1u << LEVEL_WARN_SIGHT | 1u << LEVEL_WARN_IMBALANCE |
	                             1u << LEVEL_WARN_INTERVAL | 1u << LEVEL_WARN_NEAR,
	               of_none = 1u << LEVEL_WARN_TIME_BACK | 1u << LEVEL_WARN_TIME_AHEAD |
	                         1u << LEVEL_WARN_SEALS;
	if (warnings & of_station)
		return WORK_STATION;
	if (warnings & of_distance)
		return WORK_DISTANCE;
	if (warnings & 1u << LEVEL_WARN_TAPE)
		return WORK_METHOD;
	/* Times are under Ctrl-V: what is typed next must not replace a reading that nobody doubts.
	 */
	if (!(warnings & ~of_none))
		return WORK_REMARK;
	return ed->slot[ed->target != TARGET_NEW].wires ? WORK_UPPER : WORK_READING;
}

/* Asks in the message line, with a field to be typed again; Enter, + and Ctrl-B book it as it is.
 */
static void ask_once(struct editor *ed, enum work_text field, const char *words)
{
	entry_set_focus(ed->entry, field);
	ed->asking = true;
	editor_refuse(ed, "Enter books this sight, or type it again: %.560s", words);
	ed->message_look = LOOK_ASKS;
}

/* A sight with a warning is booked at the second try, with the warning beside it. */
static bool overrides(struct editor *ed)
{
	char words[600], brief[LEVEL_REMARK_BYTES];
	unsigned warnings = editor_warnings(ed, true, words, sizeof words, brief);
	if (*brief && strcmp(brief, ed->warned) != 0) {
		strcpy(ed->warned, brief);
		ask_once(ed, field_of(ed, warnings), words);
		return false;
	}
	strcpy(ed->draft_note.overridden, brief);
	ed->warned[0] = '\0';
	return true;
}

/* The digests of the photographs; what keeps one from having any is asked about once. */
static bool takes_photos(struct editor *ed)
{
	struct book_note *note = &ed->draft_note;
	char said[BOOK_PHOTOS_SAID_BYTES] = "";
	if (*note->photo && !*note->photo_digest)
		book_photo_digests(ed->book, note->photo, note->photo_digest, said);
	if (*said && strcmp(said, ed->photos_asked) != 0) {
		strcpy(ed->photos_asked, said);
		ask_once(ed, WORK_REMARK, said);
		return false;
	}
	return true;
}

static void say_sealed(struct editor *ed)
{
	size_t used = strlen(ed->message);
	char witness[REPORT_WITNESS_BYTES];
	snprintf(ed->message + used, sizeof ed->message - used,
	         "; the figures of the allowance are sealed from now on; %s",
	         report_witness(ed->book, witness));
}

void editor_book(struct editor *ed)
{
	struct level_sight sight;
	struct fault why = {0};
	enum target target = ed->target;
	size_t at = ed->at;
	bool sealed;
	const char *wanted;
	char reading[LEVEL_LENGTH_BYTES];

	if (target == TARGET_CHANGE && !level_counted(&ed->run.run.sight[ed->at])) {
		editor_refuse(ed, "a struck sight stays as it is: F9 takes the last strike back");
		return;
	}
	if (target == TARGET_CHANGE && !editor_touched(ed)) {
		editor_aim(ed, TARGET_NEW, 0);
		editor_say(ed, "nothing was changed");
		return;
	}
	if (!read_form(ed, &sight) || !takes_photos(ed) || !overrides(ed))
		return;
	/* A changed sight keeps what was wanted when it was booked. */
	wanted = target != TARGET_CHANGE && work_sets_out(&ed->work.sight[at]) ? ed->wanted : "";
	editor_say(ed, "booking ...");
	editor_paint(ed);
	if (!write_sight(ed, &sight, wanted, &why)) {
		editor_refused(ed, &why);
		return;
	}
	ed->emptied.draft.used = false;
	ed->number_asked[0] = '\0';
	level_format_length(reading, sight.reading, &ed->settings.style, false);
	editor_say(ed, "%s: %s %s on %s%s%s", target == TARGET_CHANGE ? "changed" : "booked",
	           level_kind_name(sight.kind),
	           *ed->draft_note.reading && sight.set_count < 2 && !*ed->draft_note.scaled
	               ? ed->draft_note.reading
	               : reading,
	           sight.station, *wanted ? ", set out at " : "", wanted);
	if (target == TARGET_NEW) {
		ed->slot[0].used = false;
		ed->series = ed->series && sight.kind == LEVEL_IS;
	} else if (target == TARGET_CHANGE)
		follow_name(ed, &sight);
	sealed = ed->terms.sealed;
	editor_reload(ed);
	if (ed->leaving)
		return;
	if (!sealed && ed->terms.sealed)
		say_sealed(ed);
	if (target == TARGET_INSERT && gap_behind(ed, at)) {
		if (level_carries_on(sight.kind))
			editor_say(
			    ed,
			    "booked: %s on %s; the next BS stands elsewhere: book on until there, "
			    "or Esc, and give that BS its mark",
			    level_kind_name(sight.kind), sight.station);
		editor_aim(ed, TARGET_INSERT, at + 1);
	}
}

/* Whether the form may be turned away from: a change under way must not get lost. */
bool editor_may_turn(struct editor *ed)
{
	if (ed->target == TARGET_NEW || !editor_touched(ed))
		return true;
	editor_refuse(ed, "this %s is not booked yet: + books it, Esc drops it",
	              ed->target == TARGET_CHANGE ? "change" : "sight");
	return false;
}

/* From the FS to an IS, from there to a series of them, from there back to the FS. Whether a text
 * of the form changed. */
static bool choose_is(struct editor *ed)
{
	bool is = strcmp(editor_slot(ed)->kind, "IS") == 0;
	entry_set_focus(ed->entry, WORK_STATION);
	if (is && !ed->series) {
		ed->series = true;
		editor_say(ed, "a series: each next sight is an IS until F6 makes it the FS");
		return false;
	}
	ed->series = false;
	entry_choose(ed->entry, WORK_SIGHT, is ? "FS" : "IS");
	return true;
}

bool editor_insert(struct editor *ed)
{
	const struct level_run *run = &ed->run.run;
	size_t at;
	if (!editor_may_turn(ed))
		return false;
	if (ed->target == TARGET_NEW) {
		enum level_kind likely;
		char station[LEVEL_STATION_BYTES];
		level_suggest(run, run->count, &likely, station);
		if (likely == LEVEL_BS) {
			editor_refuse(
			    ed, "%s",
			    run->count == 0
			        ? "read the BS of this setup first; then F6 makes the next an IS"
			        : "the FS before ended its setup (F9 takes it back); read the BS "
			          "of "
			          "the next, then F6 makes an IS");
			return false;
		}
		return choose_is(ed);
	}
	if (ed->target == TARGET_INSERT) {
		editor_say(ed, "type the forgotten sight; Esc turns back");
		return false;
	}
	/* An FS comes last in its setup: what was forgotten stood before it, unless the line has a
	 * gap behind it. */
	at = ed->at;
	if (run->sight[at].kind != LEVEL_FS || !level_counted(&run->sight[at]) ||
	    gap_behind(ed, at))
		at++;
	editor_aim(ed, TARGET_INSERT, at);
	editor_say(ed, "type the forgotten sight; Esc turns back");
	return false;
}

bool editor_again(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	const struct level_run *run = &ed->run.run;
	size_t at = ed->target == TARGET_NEW ? run->count : ed->at, first;
	if (ed->target == TARGET_CHANGE) {
		editor_refuse(ed, "a second standing is typed as new: Esc goes to the new sight");
		return false;
	}
	first = level_may_repeat(run, at);
	if (first == run->count) {
		editor_refuse(ed, "a second standing follows a setup that has its FS");
		return false;
	}
	slot->again = !slot->again;
	entry_choose(ed->entry, WORK_SIGHT, "BS");
	entry_choose(ed->entry, WORK_STATION,
	             slot->again ? run->sight[first].station
	                         : run->sight[level_counted_before(run, at)].station);
	entry_set_focus(ed->entry, slot->wires ? WORK_UPPER : WORK_READING);
	return true;
}

void editor_grade(struct editor *ed, const char *grade)
{
	struct fault why = {0};
	if (!book_run_set_grade(ed->book, ed->run.info.id, grade, &why)) {
		editor_refused(ed, &why);
		return;
	}
	editor_say(ed, *grade ? "the ground of this run is held against that grade"
	                      : "the design grade is ended");
	editor_reload(ed);
}

static void say_struck(struct editor *ed, size_t at)
{
	editor_say(ed, "struck; it stays on the page, and F9 takes it back");
	editor_reload(ed);
	if (ed->leaving || level_page_line(&ed->page)->broken_row == SIZE_MAX)
		return;
	editor_aim(ed, TARGET_CHANGE, at);
	editor_say(ed,
	           "struck; the line now has a gap here: F6 fills it, F9 takes the strike back");
}

void editor_strike(struct editor *ed, bool setup)
{
	struct fault why = {0};
	char reason[LEVEL_REMARK_BYTES], message[sizeof why.text] = "", title[200];
	size_t at = ed->at;
	if (!editor_may_turn(ed))
		return;
	if (ed->target != TARGET_CHANGE) {
		editor_refuse(ed, "go up to a booked sight first, then %s strikes %s",
		              setup ? "F8" : "F7", setup ? "its whole setup" : "it");
		return;
	}
	if (!book_may_strike(ed->book, &ed->run, at, setup, &why)) {
		editor_refused(ed, &why);
		return;
	}
	snprintf(title, sizeof title, "Strike %s%s on %s", setup ? "the setup of " : "",
	         level_kind_name(ed->run.run.sight[at].kind), ed->run.run.sight[at].station);
	while (ask_reason(title,
	                  ed->terms.sealed ? "Why it is struck: the figures are sealed, and every "
	                                     "statement shows it."
	                                   : "Why it is struck, or nothing; it stays legible.",
	                  reason, message)) {
		if (book_strike(ed->book, &ed->run, at, setup, reason, &why)) {
			say_struck(ed, at);
			return;
		}
		if (why.kind != FAULT_INPUT) {
			editor_refused(ed, &why);
			return;
		}
		snprintf(message, sizeof message, "%s", why.text);
	}
}

void editor_wires(struct editor *ed)
{
	struct book_draft *slot = editor_slot(ed);
	entry_read(ed->entry, slot);
	slot->wires = !slot->wires;
	if (ed->target == TARGET_NEW)
		slot->used = slot->used || *slot->reading || *slot->upper;
	if (entry_is_number((enum work_text)slot->focus))
		slot->focus = slot->wires ? WORK_UPPER : WORK_READING;
	editor_reopen(ed);
	if (!ed->entry)
		return;
	ed->draft_unsaved = ed->draft_unsaved || slot->used;
	ed->unsaved_since = term_milliseconds();
	editor_say(ed, slot->wires ? "three wires: the mean is booked, the distance follows"
	                           : "one reading");
}
