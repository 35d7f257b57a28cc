/* What the files of the store share: the open book, its statements and its transactions. */
#ifndef BOOK_STORE_H
#define BOOK_STORE_H

#include <sqlite3.h>

#include "rodbook/book/book.h"
#include "rodbook/book/crossing.h"

#define BOOK_APPLICATION_ID 0x726f6462 /* "rodb" */
#define BOOK_VERSION 8
/* The figure that names the rule a crossing was sealed under. */
#define BOOK_RULE "rule"

/* SQL texts made of members.h. */
#define BOOK_MEMBER_TEXTS 5

struct book {
	sqlite3 *db;
	char *path;
	book_clock *clock;
	bool read_only;
	int brought_up;    /* version of the file before it was brought up; 0 */
	int depth;         /* of transactions begun and not ended */
	int holds;         /* of reading in one state, begun and not ended; */
	struct held *held; /* what was read in that state and is asked for again by each run; gone
	                      with it, and with a change */
	bool failed;       /* a change inside the open transaction failed */
	bool checked;      /* book_check() found nothing since it was opened */
	bool reading_back; /* what the open transaction changed: */
	int64_t read_to;   /* up to this entry */
	int64_t action;    /* first journal entry of the open transaction's action; 0 before it */
	char now[BOOK_TIME_BYTES];
	int64_t editor;       /* that it was opened by, whose half-typed forms are kept; 0 */
	int64_t seen_run;     /* a drop of this run was shown before its seal: */
	struct book_k seen;   /* with these figures */
	struct table *tables; /* those that were asked for: file/schema.h */
	char *member_sql[BOOK_MEMBER_TEXTS]; /* those that were asked for: members.h */
	struct book_statement *kept;         /* statements, ready, by the address of their text */
	size_t kept_count, kept_room;
};

/* has_*: it was read. */
struct held {
	bool has_settings, has_figures;
	struct book_settings settings;
	struct book_figures figures; /* of the settings */
	/* The terms that were found last, of these figures and instruments; 0: none yet. */
	struct level_terms terms;
	struct book_figures of;
	int instruments;
	char instrument[LEVEL_INSTRUMENTS][LEVEL_NAME_BYTES];
};
/* NULL where the book is not held in one state, or memory is short: then nothing is kept. */
struct held *book_held(struct book *book);

extern const char rodbook_schema[];

/* A statement, ready and bound by `types`: i int64_t, t text, e text or NULL where empty, n int64_t
 * or NULL where 0, u the unit's name (int). sql must be a literal, or a text that stays as long as
 * the book is open: statements are kept by its address. NULL and *why on failure. A statement that
 * writes is refused outside of a transaction: it would be kept at once, and alone. End with
 * sql_done(). */
sqlite3_stmt *sql_query(struct book *book, struct fault *why, const char *sql, const char *types,
                        ...);
/* Steps to the next row; false at the end, and on failure, which sets *ok to false. */
bool sql_row(struct book *book, sqlite3_stmt *statement, bool *ok, struct fault *why);
/* Ends a statement: ok, or false where one of its texts could not be read for want of memory, which
 * nothing else tells. */
bool sql_done(struct book *book, sqlite3_stmt *statement, bool ok, struct fault *why);
/* Frees the statements that were kept and what the tables say, when the book is closed. */
void sql_drop_kept(struct book *book);
/* Runs a statement that gives no rows. */
bool sql_run(struct book *book, struct fault *why, const char *sql, const char *types, ...);
/* The one integer of a statement without parameters. */
bool sql_integer(struct book *book, const char *sql, int64_t *value, struct fault *why);
/* Column as text into a fixed buffer, cut to fit; NULL gives "", and so does a want of memory,
 * which sql_done() tells. */
void sql_text(sqlite3_stmt *statement, int column, char *out, size_t size);
bool sql_fault(struct book *book, struct fault *why);
/* Says that the file is damaged; false. */
bool sql_damaged(const struct book *book, struct fault *why);
/* Reads all rows of a statement (NULL: it failed) into a heap array of items of that size. On
 * failure the list is NULL. */
typedef bool read_item(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why);
bool sql_list(struct book *book, sqlite3_stmt *statement, size_t size, read_item *read, void **list,
              size_t *count, struct fault *why);
/* The same for the first row alone, into *item; *found: whether there is one. */
bool sql_one(struct book *book, sqlite3_stmt *statement, read_item *read, void *item, bool *found,
             struct fault *why);
/* The same where the row must be there. */
bool row_reads(struct book *book, sqlite3_stmt *statement, read_item *read, void *item,
               struct fault *why);
/* Makes room in a heap array for element number `count`: the array, which may have moved; NULL
 * where memory is short, and then it is as it was. */
void *store_grow(void *array, size_t count, size_t *room, size_t size, struct fault *why);

/* Reads each row that the open change entered in the journal as everybody will read it. What cannot
 * be read is refused (FAULT_INPUT): it must not be kept. */
bool read_back(struct book *book, struct fault *why);
/* The function that reads one row of a journaled table, found by its number; NULL for settings,
 * which have none. */
bool (*row_reader(const char *table))(struct book *, int64_t, struct fault *);
/* Those functions. */
bool mark_reads(struct book *book, int64_t id, struct fault *why);
bool run_reads(struct book *book, int64_t id, struct fault *why);
bool sight_reads(struct book *book, int64_t id, struct fault *why);
bool instrument_reads(struct book *book, int64_t id, struct fault *why);
bool tolerance_reads(struct book *book, int64_t id, struct fault *why);
bool pegtest_reads(struct book *book, int64_t id, struct fault *why);
bool rod_reads(struct book *book, int64_t id, struct fault *why);
bool fieldtest_reads(struct book *book, int64_t id, struct fault *why);
bool water_reads(struct book *book, int64_t id, struct fault *why);
bool air_reads(struct book *book, int64_t id, struct fault *why);
bool gauge_reads(struct book *book, int64_t id, struct fault *why);
bool setout_reads(struct book *book, int64_t id, struct fault *why);
/* Completes a time of observation as it was typed, "" for now, and gives the time of booking, ""
 * where both are one; within a transaction. FAULT_INPUT at "time". */
bool observed_at(const struct book *book, char time[BOOK_TIME_BYTES], char booked[BOOK_TIME_BYTES],
                 struct fault *why);
bool head_reads(struct book *book, int64_t id, struct fault *why);
bool plan_reads(struct book *book, int64_t id, struct fault *why);
bool seal_reads(struct book *book, int64_t id, struct fault *why);
bool aside_reads(struct book *book, int64_t id, struct fault *why);
bool closing_reads(struct book *book, int64_t id, struct fault *why);
bool result_reads(struct book *book, int64_t id, struct fault *why);

/* Refuses a book that may only be read. */
bool check_writable(const struct book *book, struct fault *why);
/* Begins a change (nested ones join the outer), and ends it: false where it could not be kept. What
 * it changed is read back before it is kept (read_back.c). */
bool txn_begin(struct book *book, struct fault *why);
bool txn_end(struct book *book, bool ok, struct fault *why);
/* Refuses where no change is open: SQLite ends one by itself when memory or room is short. */
bool txn_is_open(struct book *book, struct fault *why);

/* The journaled tables, by number from 0 on, those that others refer to first; NULL beyond the
 * last. */
const char *journal_table(size_t i);
/* A row as JSON, for the journal; free with sqlite3_free. NULL where there is no such row. */
char *journal_row(struct book *book, const char *table, const char *row, struct fault *why);
/* Enters that a row changed from `before` (NULL: it is new) to what it is now. */
bool journal_enter(struct book *book, const char *act, int64_t run, const char *table,
                   const char *row, const char *before, int64_t undoes, struct fault *why);
/* The same for rows with a number. */
char *journal_numbered(struct book *book, const char *table, int64_t id, struct fault *why);
bool journal_enter_numbered(struct book *book, const char *act, int64_t run, const char *table,
                            int64_t id, const char *before, int64_t undoes, struct fault *why);
/* Puts a row back to what `before` says. */
bool journal_restore(struct book *book, const char *table, int64_t id, const char *before,
                     struct fault *why);

/* Whether a sight can stand in a book: clean texts, a station, lengths in range and the same as
 * their texts say. FAULT_INPUT. */
bool sight_is_sound(const struct level_sight *sight, const struct book_note *note,
                    struct fault *why);
/* Whether the book has the instrument and the rod that a sight names; the unnamed ones are always
 * there. Whether a run, as it stands in the book now, struck sights too, has no more instruments
 * than it can be read with. Both for every sight of a run. FAULT_INPUT. */
bool check_named(struct book *book, const struct book_note *note, struct fault *why);
bool check_instruments(struct book *book, int64_t run, struct fault *why);
bool check_run_named(struct book *book, int64_t run, struct fault *why);
/* Settings by number: whether prediction and allowance are made of it, the one so named
 * (book_setting_count() where there is none), its value into *settings, and the value with its unit
 * where it is a bare length. */
bool setting_is_figure(size_t i);
size_t setting_find(const char *name);
const char *setting_name(size_t i);
const char *setting_default(size_t i);
const char *setting_what(size_t i);
const char *setting_title(size_t i);
const char *setting_group(size_t i);
/* A value as this version writes it: bound is all. */
const char *setting_today(size_t i, const char *value);
/* The same as setting_apply(), with the tolerance sets of a book. */
bool setting_apply_in(struct book *book, struct book_settings *settings, size_t i,
                      const char *value, struct fault *why);
bool setting_apply(struct book_settings *settings, size_t i, const char *value, struct fault *why);
/* The value as it is kept: a bare length with its unit. */
void setting_carry(size_t i, const char *value, const struct level_style *style,
                   char out[BOOK_VALUE_BYTES]);
/* Whether figures are clean, and terms can be made of them. */
bool figures_are_sound(const struct book_figures *figures, struct fault *why);
/* Seals a crossing that has a long sight and no seal yet: late where `before`, the run as it was
 * before the present change, had one already, or is NULL. */
bool seal_if_due(struct book *book, int64_t run, const struct level_run *before, struct fault *why);
/* Whether a run has a sight that could show a drop. */
bool shows_drop(const struct level_run *run, level_nm long_sight);
/* Adds a seal, or an amendment, and enters it in the journal. */
bool seal_insert(struct book *book, int64_t run, const char *act,
                 const struct book_figures *figures, bool late, const char *reason,
                 struct fault *why);
bool is_sealed(struct book *book, int64_t run, bool *sealed, struct fault *why);
/* The open figures with a k: as found where the air was measured, else the one that stands there,
 * with dk as far as it was chosen and else as found. */
bool figures_take_k(const struct book_figures *open, const struct level_k_found *found,
                    struct book_figures *figures, struct fault *why);
/* The radius that they name, m, or its default. */
bool figures_radius(const struct book_figures *figures, double *radius, struct fault *why);
/* Where their k comes from; also as earlier versions wrote it. */
enum level_k_source figures_k_source(const struct book_figures *figures);
/* The figures of terms that are not sealed, from k.open and the air, for the line of a run. */
bool terms_find_figures(struct book_terms *terms, const struct level_run *run, struct fault *why);
/* The air of a run, for its k. */
bool terms_take_airs(struct book *book, int64_t run, struct book_k *k, struct fault *why);
/* What a plan brings into figures; what an instrument brings, with its last peg tests. */
bool figures_take_plan(struct book_figures *merged, const struct book_figures *plan,
                       struct fault *why);
bool figures_take_instrument(struct book *book, struct book_figures *figures,
                             const struct book_instrument *i, struct fault *why);
/* What figures say of thermometers and mast, into an air. */
bool figures_measuring(const struct book_figures *figures, struct level_air_reading *air,
                       struct fault *why);
/* The air that a plan's figures name; refuses what cannot be read, and where `strict` what cannot
 * be. */
bool figures_air(const struct book_figures *figures, bool strict, struct level_air_reading *air,
                 struct fault *why);
/* Whether the figures of all instruments fit into a seal, beside what else it has. FAULT_INPUT. */
bool instruments_have_room(struct book *book, struct fault *why);
/* The reason that books keep where a booking is taken back. */
#define TAKEN_BACK "undone"
/* Strikes a row of a table whose rows are struck, and journals it. */
bool row_strike(struct book *book, const char *act, const char *table, int64_t run, int64_t id,
                const char *reason, int64_t undoes, struct fault *why);
/* Strikes the row of a table that goes by this name, if there is one, and journals it: another
 * takes its place. */
bool named_retire(struct book *book, const char *table, const char *name, struct fault *why);
/* The name of this machine, clean; returns host. */
#define EDITOR_HOST_BYTES 128
const char *editor_host(char host[EDITOR_HOST_BYTES]);
/* Refuses a place where a file is, or what SQLite would take for the journal of one there. */
bool book_place_is_free(const char *path, struct fault *why);
/* Makes the empty tables of a book in a file that is not there, or empty. */
bool create_tables(const char *path, struct fault *why);
/* A path as SQLite takes it to the letter: neither as a URI nor as one of its own names, such as
 * :memory:. NULL where memory is short; free() it. */
char *file_literally(const char *path);
/* The schema of a version, 1 to BOOK_VERSION; NULL for any other. */
const char *schema_of(int64_t version);
/* Brings a book of an older version up to this one. */
bool upgrade(struct book *book, int64_t version, struct fault *why);
/* Whether a length is what its text says. */
bool text_says(const char *text, enum level_unit unit, level_nm kept);
bool mark_in_range(level_nm elevation, level_nm u);
/* Whether a text of a table, live or struck, is one that a book may hold: good UTF-8 without
 * control or invisible characters, but for TAB and LF where a column holds lines. FAULT_INPUT. */
bool cell_is_clean(const char *column, const char *text, struct fault *why);
/* Whether every result that is kept can be read, its figures too. */
bool results_are_sound(struct book *book, struct fault *why);
/* Turns a FAULT_INPUT about what was read from the book into a FAULT_SPOILED; false. While
 * a change is read back the fault is the change's, and stays a FAULT_INPUT. */
bool book_spoiled(struct book *book, struct fault *why);
/* Refuses a reading of a test that is longer than the rod of the settings. */
/* Reads what an offset says beside its height, and refuses what it cannot have. */
bool read_offset(const struct book_note *note, struct level_sight *sight, struct fault *why);
/* Whether the height is what both ends of its tube make. */
bool ends_are_true(const struct level_sight *sight, const struct book_note *note,
                   struct fault *why);
/* What only an offset has, and what it has not; of any sight. */
bool offset_is_sound(const struct level_sight *sight, const struct book_note *note,
                     struct fault *why);
/* Whether reading and limit are what the text of a scaled reading makes; FAULT_INPUT at
 * "scaled". */
bool scaled_is_true(const struct level_sight *sight, const struct book_note *note,
                    struct fault *why);
bool check_on_rod(level_nm reading, const struct book_settings *settings, struct fault *why);
/* What is known of a run by its number. */
bool run_head(struct book *book, int64_t run, struct book_run_info *out, struct fault *why);
/* The last journal entry that a run hangs on: its own, or of a mark or setting. */
bool last_change(struct book *book, int64_t run, int64_t *seq, struct fault *why);
/* Refuses (FAULT_INPUT) what would change a closed run. */
bool check_open(struct book *book, int64_t run, struct fault *why);
/* Refuses when that is no longer where it was when the run was read, the run has no room, or it is
 * closed. */
bool check_fresh(struct book *book, const struct book_run *run, struct fault *why);

/* --- run/asides.c, run/frozen.c --- */

/* Says of each sight of a loaded run whether its mark is set aside. */
bool take_asides(struct book *book, struct book_run *run, struct fault *why);
/* Gives the sights of a closed run the known elevations that it was closed with, and notes which
 * marks are not that any more. */
bool take_frozen(struct book *book, struct book_run *run, struct fault *why);
/* The known elevations of a loaded run as a closing keeps them; sqlite3_free() it. */
char *frozen_text(const struct book_run *run, struct fault *why);
bool frozen_is_sound(const char *text, struct fault *why);

#endif
