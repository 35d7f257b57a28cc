/* The journal: every change of the book, in order, and the proof that it led to what the tables
 * hold. */
#ifndef RODBOOK_BOOK_JOURNAL_H
#define RODBOOK_BOOK_JOURNAL_H

#include "rodbook/book/book.h"

/* --- reading it --- */

/* One column that an entry changed; NULL is a value too, and of a new row `before` is NULL. */
struct book_change {
	const char *column, *before, *after;
};

#define BOOK_CHANGES_MOST 40
#define BOOK_WHAT_BYTES 256

/* One entry: one row that changed. The texts live until the taker returns; they are clean, as
 * level_check_text() wants them, but for TAB and LF in the values. */
struct book_entry {
	int64_t seq, action; /* entries of one action share the seq of its first */
	int64_t undoes;      /* the action that it takes back, or 0 */
	const char *undone;  /* the act of that one, or "" */
	const char *time, *act;
	const char *run;            /* name of its run as it is now, or "" */
	const char *table, *row;    /* row: its number, of a setting its name */
	char what[BOOK_WHAT_BYTES]; /* the row as a user knows it: "FS on TP3", "mark STONE" */
	bool is_new;
	bool replaces; /* a new sight in place of a struck one, or an amendment: its changes are
	                  against that one, or the seal before */
	size_t count;
	struct book_change change[BOOK_CHANGES_MOST];
};

struct book_journal_order {
	int64_t run;       /* 0: the whole journal */
	bool newest_first; /* by actions; inside one action in order */
	bool in_place;     /* rows that replace another one are compared with it */
	int64_t most;      /* at most so many actions, the newest; 0: all */
};

/* Hands each entry to `take`, until that returns false. */
typedef bool book_entry_taker(const struct book_entry *entry, void *context);
bool book_journal(struct book *book, const struct book_journal_order *order, book_entry_taker *take,
                  void *context, struct fault *why);

/* --- proving it --- */

#define BOOK_DIGEST_BYTES 65 /* 64 lower-case hexadecimal digits and a NUL */
#define BOOK_DIFFERENCE_BYTES 1000

struct book_verified {
	char difference[BOOK_DIFFERENCE_BYTES]; /* the first one found; "": there is none */
	int64_t entries, last;                  /* how many; seq of the last */
	int64_t backward;                       /* how often time runs backwards ... */
	int64_t backward_at;                    /* ... and the first entry before its time */
	size_t rows, runs, sights;              /* journaled rows; runs; sights, struck ones too */
	size_t gaps;                            /* runs whose line has a gap */
	/* SHA-256 over all entries, each chained to those before it (rodbook.5), and over those up
	 * to the seq asked for; "" where there is no such entry. */
	char digest[BOOK_DIGEST_BYTES], digest_at[BOOK_DIGEST_BYTES];
};

/* Proves that the journal yields exactly the present tables; that every sum and elevation is what
 * the readings make; and that SQLite finds the file whole. at: a seq to give the digest of, or 0.
 * False, with FAULT_FILE, where the book cannot be used or holds what rodbook would not have
 * written; a difference between journal and tables is in *out. */
bool book_verify(struct book *book, int64_t at, struct book_verified *out, struct fault *why);
/* Proves what the papers of a run hang on, by its number: that the run's rows, and those of marks,
 * settings, instruments, rods, tests, tolerance sets and plans, are what the entries about them
 * make of them, by the same rules; and works out the digest of the whole journal, whose entries
 * have the numbers 1 to the last. Nothing is said of other runs, of results that are kept, and of
 * the file: book_verify() proves these too. In *out are difference, entries, last, rows (those
 * proven) and digest. False with a fault as above. */
bool book_verify_run(struct book *book, int64_t run, struct book_verified *out, struct fault *why);

/* A digest and the entry that it goes up to, as it is published: DIGEST@SEQ, 64 hexadecimal digits,
 * an at sign and a number. */
struct book_witness {
	char digest[BOOK_DIGEST_BYTES];
	int64_t seq;
};
#define BOOK_WITNESS_BYTES (BOOK_DIGEST_BYTES + 24)

/* The digest of all entries; seq 0 where there is none. It is worked out, not proven: book_verify()
 * proves. */
bool book_witness(struct book *book, struct book_witness *out, struct fault *why);
/* The digest of the entries up to a seq. */
bool book_witness_at(struct book *book, int64_t seq, struct book_witness *out, struct fault *why);
/* Reads DIGEST@SEQ; blanks within it, and capital digits, are taken. FAULT_INPUT. */
bool book_witness_parse(const char *text, struct book_witness *out, struct fault *why);
char *book_witness_text(char text[BOOK_WITNESS_BYTES], const struct book_witness *witness);

#endif
