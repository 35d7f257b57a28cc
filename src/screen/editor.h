/* The editor's state, and what its files do with it.
 *
 * One direction: key -> form -> draft sight -> run + draft -> level_reduce() -> page -> panes. No
 * pane keeps a figure of its own. */
#ifndef SCREEN_EDITOR_H
#define SCREEN_EDITOR_H

#include "rodbook/report/report.h"
#include "screen/entry.h"
#include "screen/look.h"
#include "screen/screen.h"

struct action;

enum target {
	TARGET_NEW,    /* a new sight at the end */
	TARGET_CHANGE, /* the booked sight at `at` */
	TARGET_INSERT, /* a new sight at `at`, before the end */
};

struct editor {
	struct book *book;
	struct book_settings settings;
	struct book_mark *marks;
	size_t mark_count;

	struct book_run run; /* as it is booked */
	struct book_terms terms;
	struct level_run work; /* the same with the draft in it, and a row for the new sight */
	size_t work_room;
	/* filled: rows of the run that are in work, from the first on. altered: the rows, two at
	 * most, that the draft made differ. inserted: the row of work that was inserted; those of
	 * the run stand one later from there on. SIZE_MAX: none altered, none inserted. */
	size_t filled, altered[2], inserted;
	struct level_page page; /* of work, as far as page.count; the rest is to be reduced */
	struct level_closing closing;

	struct entry *entry;
	enum target target;
	size_t at;                   /* the draft's index in work */
	struct book_draft slot[2];   /* texts: 0 the new sight, 1 a change or an insertion */
	struct book_note draft_note; /* the form's texts, as a note */
	bool draft_on_disk, draft_unsaved;
	long long unsaved_since; /* term_milliseconds() of the first change not saved */

	struct book_rod *rods;
	size_t rod_count;
	struct book_water *waters; /* read in this run */
	size_t water_count;
	struct work_tested tested;
	struct work_times times;
	struct book_draft
	    far; /* what the FS of a crossing from that mark was, without its reading */
	bool has_far;
	char last_instrument[LEVEL_NAME_BYTES]; /* of any run */
	char chosen_level[LEVEL_NAME_BYTES];    /* in this session, for the sights to come */
	bool has_chosen_level;
	/* The draft's station, as it was known before; found: what other runs found for the station
	 * asked for last. */
	struct work_compared compared;
	char asked[LEVEL_STATION_BYTES];
	struct {
		bool found;
		size_t at;
		enum target target;
		char station[LEVEL_STATION_BYTES], name[LEVEL_STATION_BYTES];
	} alike; /* what that station of the draft there looks like, once its name is whole */
	bool has_found;
	struct work_determination found;
	char named[LEVEL_STATION_BYTES];           /* the form's station before it is typed over */
	char was_read[BOOK_TYPED_BYTES];           /* its reading, likewise */
	char wanted[BOOK_TYPED_BYTES];             /* elevation to set out; empty: none */
	char warned[LEVEL_REMARK_BYTES];           /* warnings that the next booking overrides */
	char photos_asked[BOOK_PHOTOS_SAID_BYTES]; /* what was asked about the photographs */
	bool asking;                               /* Enter books what is doubtful */
	bool big;                                  /* big figures in place of the page */
	bool folded;                               /* struck rows are left out of the page */
	bool series;                               /* each next sight is an IS, until an FS */
	char number_asked[LEVEL_STATION_BYTES];    /* at the station: a name, or the reading */
	bool came_down; /* to the new sight by Down: one more is no choice of a station */
	struct {
		struct book_draft draft; /* used: there is one */
		enum target target;
	} emptied;  /* what was half typed in this run, and emptied or dropped */
	size_t top; /* first row of the page shown */
	char message[640];
	enum look message_look;
	bool checked; /* the book was looked at for damage */
	bool leaving;
	struct fault trouble; /* why the editor had to end by itself; FAULT_NONE else */
};

/* --- session.c: from the book to the editor and back --- */

/* Reads the run, marks and settings from the book again and shows the new sight; on failure what
 * was shown stays. Nothing of another run goes along. */
bool editor_load(struct editor *ed, int64_t run, struct fault *why);
void editor_unload(struct editor *ed);
/* Finds the booked row that a half-typed change or insertion is about; false where it is gone, or
 * struck and to be changed. */
bool editor_find_target(const struct editor *ed, const struct book_draft *draft, size_t *at);
/* Saves what is half typed, if it is not saved yet; false where it could not be. */
bool editor_save_draft(struct editor *ed);
/* Ends the editor for a reason that its caller is told. */
void editor_fail(struct editor *ed, const char *why);

/* --- editor.c --- */

/* Does what a key or a letter of the help page stands for, where that is allowed. */
void editor_act(struct editor *ed, const struct action *action);

/* --- working.c: the working run --- */

/* Fills it with the booked sights, room for the draft, and a last row for the new sight; false
 * where memory is short. What changed since it was filled last is all that is copied, and the page
 * stands as far as nothing changed. */
bool working_fill(struct editor *ed);
/* Puts the draft into it; a turning point that it renames has two sights. */
void working_put(struct editor *ed, const struct level_sight *draft);
/* Gives a sight what is known of its station: elevation and water. */
void editor_find_known(const struct editor *ed, struct level_sight *sight);

/* Whether two values are alike in every byte. Where only what stands between their members differs
 * they count as different: then something is worked out again that need not be. */
bool editor_same_bytes(const void *a, const void *b, size_t size);

/* --- draft.c: the form and the draft sight --- */

/* Puts the form on a target; `at` is an index in the booked run. */
void editor_aim(struct editor *ed, enum target target, size_t at);
/* Shows the texts of the target anew. */
void editor_reopen(struct editor *ed);
/* Shows a half-typed form again; a number in it goes on where it was left. */
void editor_restore(struct editor *ed, const struct book_draft *draft);
/* After the form's texts changed: the draft sight, the page and the closing. */
void editor_update(struct editor *ed);
/* The same after a text was typed or chosen: it is a draft from then on, to be saved. */
void editor_changed(struct editor *ed);
/* The texts of the target. */
struct book_draft *editor_slot(struct editor *ed);
/* Whether the change under way differs from what is booked. */
bool editor_touched(const struct editor *ed);
/* The texts beside row i of work; all empty for the new sight's row. */
struct book_kept editor_note(const struct editor *ed, size_t i);
/* Index in the booked run of row i of work; run.count where it is not booked. */
size_t editor_booked(const struct editor *ed, size_t i);
/* The instrument of the sights to come. */
void editor_instrument(struct editor *ed, const char *name);
/* Looks once for the name that a new station looks like. */
void editor_find_alike(struct editor *ed);
/* Warnings about the draft as bits, in words, and in short as they are booked; both "" where there
 * are none. whole: it is to be booked so; else what a text that is being typed may still become is
 * not doubted. */
unsigned editor_warnings(const struct editor *ed, bool whole, char *words, size_t size,
                         char brief[LEVEL_REMARK_BYTES]);
/* The form's texts as a sight; note has them, also where they are refused. */
bool editor_read(const struct editor *ed, const struct book_draft *draft, struct level_sight *sight,
                 struct book_note *note, struct fault *why);
/* The rod of the sight that is typed. */
void editor_rod(struct editor *ed, const char *name);
/* --- message.c --- */

/* What the message line says until the next key; a refusal stands out, and rings. */
void editor_say(struct editor *ed, const char *format, ...) __attribute__((format(printf, 2, 3)));
void editor_refuse(struct editor *ed, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* --- capture.c: a reading typed into the station, a name into the reading --- */

/* Before a key: keeps the station or the reading that typing would replace. */
void capture_begin(struct editor *ed);
/* After a key: moves a text of the station that is a reading to the reading. whole: Enter or + ends
 * it. Whether it did. */
bool capture_reading(struct editor *ed, bool whole);
/* At Enter: asks about a whole number at the station that may be the reading: Enter once more takes
 * it as the name, Down as the reading (offers_take()), + as the reading at once. Whether it asked.
 */
bool capture_asks(struct editor *ed);
/* Whether the station of the new sight is a number that was asked about so. */
bool capture_was_asked(const struct editor *ed);
/* After a key: moves a text of a booked sight's reading that begins as a name to the station; the
 * reading stays. Whether it did. */
bool capture_name(struct editor *ed);
/* After a key: a second point in the upper or middle wire, which has as many decimals as the wires
 * before, begins the next wire. Whether it did; says how else where it cannot. */
bool capture_wire(struct editor *ed);

/* The names offered for a station that is being typed, in a line; "" where there are none. */
void offers_text(const struct editor *ed, char *text, size_t size);
/* Puts the first one into the station, or where nothing is typed the next one that the line may go
 * to; false where there is none. */
bool offers_take(struct editor *ed);

/* --- suggest.c --- */

/* The texts that the form of the target begins with: what is likely to come next. */
void editor_suggest(const struct editor *ed, struct book_draft *draft);

/* The station proposed for a sight of that kind where the form stands; "" where none is. */
void editor_suggest_station(const struct editor *ed, enum level_kind kind,
                            char station[LEVEL_STATION_BYTES]);

/* --- actions.c: what the keys do to the book --- */

void editor_book(struct editor *ed);
/* Shows the book as it now is, with the form on the new sight. */
void editor_reload(struct editor *ed);
/* A refused change: what was typed stays. A book changed from outside is read again. */
void editor_refused(struct editor *ed, const struct fault *why);
/* Whether the new sight was made an IS, or an FS again: a text of the form changed. */
bool editor_insert(struct editor *ed);
/* Makes the new BS one of a second standing between the marks of the setup before it, or not. */
bool editor_again(struct editor *ed);
/* Gives the run a design grade; "" ends it. */
void editor_grade(struct editor *ed, const char *grade);
void editor_strike(struct editor *ed, bool setup);
void editor_wires(struct editor *ed);
/* Whether the form may be turned away from: a change under way must not get lost. */
bool editor_may_turn(struct editor *ed);

/* --- go.c: from row to row --- */

/* Goes up or down so many of the rows shown. */
void editor_move(struct editor *ed, long rows);
/* Whether row i of work is on the page: a struck one is not while these are folded away, but for
 * the one in hand. */
bool editor_shows(const struct editor *ed, size_t i);
/* The row shown that is so many rows shown before `from`, or the first one. */
size_t editor_row_before(const struct editor *ed, size_t from, size_t rows);
/* Puts the form on the booked sight with that id, struck or not, and says so. Not where a change
 * under way would get lost. */
void editor_go(struct editor *ed, int64_t sight, const char *said);

/* --- undo.c --- */

/* Empties what is half typed, else takes back the last change of the run; or brings back what was
 * emptied, dropped or taken back. */
void editor_undo(struct editor *ed, bool redo);
/* Drops the change or insertion under way, and goes to the new sight. */
void editor_escape(struct editor *ed);

/* --- panes --- */

void page_pane(struct editor *ed, int row, int rows, int columns);
/* Station and remark of the row in hand, where the page has no room for them; else "". */
void page_whole(const struct editor *ed, int columns, char *text, size_t size);
/* Reading, HI, elevation, and misclosure, margin or set-out, each several rows tall. */
void big_pane(const struct editor *ed, int row, int rows, int columns);
/* The live pane: seven rows below the form, or a column beside the page. */
#define LIVE_ROWS 7
#define LIVE_COLUMNS 42
void live_pane(struct editor *ed, int row, int column, bool tall);
/* The live pane of a crossing: drop, allowance by line, margin, answer. */
void drop_pane(const struct editor *ed, int row);
/* k, its bound and where they are from, in a few words. */
void drop_k(const struct editor *ed, char *text, size_t size);
/* The lines of an allowance that something enters, by bound or by u, over two rows of the window;
 * no figure is parted from its name. */
#define DROP_ROW_BYTES 640
void drop_allowance(const struct level_allowance *allowance, bool by_all,
                    const struct level_style *style, char text[2][DROP_ROW_BYTES]);
/* What helps most, and what is sealed: the lines below the allowance. */
void drop_answer(const struct editor *ed, bool brief, char *text, size_t size);
void drop_help(const struct editor *ed, char *text, size_t size);
void drop_seal(const struct editor *ed, char *text, size_t size);
/* The rise that two setups on opposite banks make, as soon as their four readings stand; else "".
 */
void reciprocal_text(const struct editor *ed, char *text, size_t size);
/* Where the rod reads when the wanted elevation is marked; "" where none is wanted. */
void set_out_text(const struct editor *ed, char *text, size_t size);
void editor_paint(struct editor *ed);

/* --- views over the whole screen --- */

/* The keys, and what the field in focus is. The action whose letter was typed there, or NULL. */
const struct action *view_help(const struct editor *ed);
/* The text of the help page, which the caller frees; NULL where memory is short. */
char *help_text(void);
/* Makes a second copy of the book; message says what came of it. */
void view_copy(struct book *book, char *message, size_t size);
/* The head of the page of a run, today's or another day's; message says what came of it. */
void view_head(struct book *book, const struct book_run_info *run, char *message, size_t size);
/* Writes a paper of a run, or its CSV, to a new file; message says what came of it. */
void view_papers(struct book *book, const struct book_run_info *info, char *message, size_t size);
/* Picks a run, or makes one: its id, or 0 when the user turned back. name (may be NULL) is
 * proposed for a new run. *sight: the one that was looked for in it, else 0. */
int64_t view_runs(struct book *book, int64_t current, const char *name, int64_t *sight);
/* Looks for a sight in all runs: its run, and *sight; 0 when the user turned back. */
int64_t view_find(struct book *book, int64_t *sight);
/* Stations, with the elevations given and found; a mark may be set aside in the run. */
void view_marks(struct editor *ed);
void view_settings(struct book *book);
/* Everything about the crossing beside its sights, in one list. */
void view_crossing(struct editor *ed);
/* Plans: the name of the one picked is put into `picked`; false when the user turned back. */
bool view_plans(struct book *book, const char *level, char picked[LEVEL_NAME_BYTES]);
void view_waters(struct editor *ed);
void view_airs(struct editor *ed);
void view_gauges(struct editor *ed);
void view_setouts(struct editor *ed);
/* Instruments, the bar on the one named `now`: the name of the one picked (empty: the unnamed
 * level); false when turned back. */
bool view_instruments(struct book *book, const char *now, char picked[LEVEL_NAME_BYTES]);
/* Adjusts a run, or all as a net where run is NULL, shows what that changes, and keeps it if that
 * is chosen; message: what came of it. */
void view_adjust(struct book *book, const char *run, char *message, size_t size);
/* Which single slip would explain the misclosure of a run. The sight of the one chosen, by its id,
 * and in `again` what to read again there; 0 where none was. */
int64_t view_slips(struct book *book, const char *run, char *again, size_t size);
/* What was changed in a run, the newest first. */
void view_journal(struct book *book, const struct book_run_info *run);
/* What is still open in the book before leaving the site. */
void view_leave(struct book *book);
/* Rods: the name of the one picked (empty: one without a name); false when turned back. */
bool view_rods(struct book *book, char picked[LEVEL_NAME_BYTES]);
/* The field tests of an instrument, to begin, go on with and look at. */
void view_fieldtests(struct book *book, const char *instrument);
/* A peg test of an instrument; said: what came of it. Whether it was kept. */
bool view_pegtest(struct book *book, const char *instrument, char *said, size_t size);
/* Its profile, the long sight of a crossing, and how all runs close. */
void view_pictures(struct book *book, const struct book_run_info *run);
/* Asks where the sight of the form stands along a line, and for its photographs; whether something
 * was changed. */
bool view_beside(struct editor *ed);
/* Asks for the elevation to set out. */
void view_set_out(struct editor *ed);
/* The figures of the run's prediction and allowance, to amend once they are sealed. */
void view_figures(struct editor *ed);
/* Seals the figures of the run now; message says so, with the digest to publish, or why not. */
void view_seal(struct editor *ed, char *message, size_t size);

#endif
