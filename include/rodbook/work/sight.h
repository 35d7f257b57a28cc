/* From the texts of a sight, wherever they were typed, to a booked sight: one path for the form,
 * the command and CSV. */
#ifndef RODBOOK_WORK_SIGHT_H
#define RODBOOK_WORK_SIGHT_H

#include "rodbook/book/crossing.h"
#include "rodbook/book/photos.h"
#include "rodbook/level/warnings.h"
#include "rodbook/work/compare.h"
#include "rodbook/work/doubts.h"
#include "rodbook/work/run.h"

/* The texts of a sight. Half-typed forms in books keep the first nine by number, so new ones stand
 * at the end. */
enum work_text {
	WORK_SIGHT, /* BS, IS, FS or OFF */
	WORK_STATION,
	WORK_READING, /* or a set; empty when read by wires, or their mean; of an offset the height,
	                 empty where its ends are given */
	WORK_UPPER,
	WORK_MIDDLE,
	WORK_LOWER,
	WORK_DISTANCE,
	WORK_METHOD, /* rod, tape or target; empty: rod. Of an offset tape, ruler or tube; empty:
	                tape, or tube where its ends are given */
	WORK_REMARK,
	WORK_TIME, /* as level_is_time() takes it; empty: not known, or now */
	WORK_UNIT, /* of bare numbers: m, ft, ftin or in; empty: the book's */
	WORK_INSTRUMENT,
	WORK_ROD,
	WORK_AGAIN, /* "again": a BS of another standing */
	WORK_ALONG,
	WORK_PHOTO,
	WORK_DISTANCE_BY,   /* tape, wires, map or step */
	WORK_DISTANCE_UNIT, /* of a bare distance: m, ft, ftin or in; empty: WORK_UNIT where that is
	                       given, else the book's unit of distances */
	WORK_LIMIT,         /* how far off this reading may be; empty: as its method says */
	WORK_U,             /* its standard uncertainty, likewise */
	WORK_DECLARED,      /* "declared": a declared line has its uncertainty already */
	WORK_PHOTO_DIGEST,  /* SHA-256 of each photograph */
	WORK_SCALED,        /* what the reading was scaled from in a photograph */
	WORK_ENDS,          /* "FROM; TO": what a tube showed at both ends of an offset */
	WORK_BOOKED,        /* when it was typed; empty: when it was observed, or now */
	WORK_TEXTS
};

/* The name of a text: its column in CSV, and what a fault says of it. */
const char *work_text_name(enum work_text text);
/* The text so named; WORK_TEXTS where none is, or name is NULL. */
enum work_text work_text_named(const char *name);
/* Where a note, and a half-typed form, keep that text; NULL where they keep something else of it.
 * *size, unless size is NULL: its bytes. */
const char *work_note_text(const struct book_kept *note, enum work_text text);
char *work_draft_text(struct book_draft *draft, enum work_text text, size_t *size);

/* A sight as it was typed. A text that nobody typed is NULL or "". */
struct work_typed {
	const char *text[WORK_TEXTS];
	bool wires;       /* read by wires, also while none is typed */
	const char *from; /* of an offset: the mark that it goes from, which work_book_sight()
	                     holds against where the line stands; NULL: from there */
};

/* The texts of a booked sight in a half-typed form whose units are given by a style; those that are
 * lengths are carried to them. */
void work_draft_of(const struct level_sight *sight, const struct book_kept *note,
                   const struct level_style *style, struct book_draft *draft);
/* Carries the lengths of a half-typed form to the units of another style. A distance is bare in its
 * own unit, which the book puts behind it while it is kept. */
void work_draft_carry(struct book_draft *draft, const struct level_style *style);
/* Whether the texts of two half-typed forms differ, those of the way of reading that b has. */
bool work_drafts_differ(const struct book_draft *a, const struct book_draft *b);
/* The texts of a half-typed form as a typed sight. They live in the form and in parted. */
struct work_parted {
	char length[BOOK_TYPED_BYTES], way[12]; /* of the distance, whose text holds both */
	char limit[BOOK_TYPED_BYTES], u[BOOK_TYPED_BYTES];
};
struct work_typed work_draft_typed(const struct book_draft *draft, struct work_parted *parted);
/* Gives a changed sight, in the unit given, what a form does not hold and the booked one has: its
 * own u, both ends of a tube, the digests of the same photographs, and the limit of a reading by
 * wires. They live in note and in parted. */
void work_typed_keep(struct work_typed *typed, const struct level_sight *sight,
                     const struct book_kept *note, enum level_unit unit,
                     struct work_parted *parted);

/* What texts are read with. */
struct work_reader {
	struct book_settings settings;
	struct book_instrument *instruments;
	size_t instrument_count;
	struct book_rod *rods;
	size_t rod_count;
	bool leaves_names; /* to the book, which asks for instrument and rod when it books */
};
bool work_reader_open(struct book *book, struct work_reader *out, struct fault *why);
void work_reader_free(struct work_reader *reader);

/* Whether a text begins no reading but a name, typed one field too far: with two letters. */
bool work_begins_as_name(const char *text);
/* Reads and checks the texts; note has them all, also of what is refused, as far as they have room.
 * FAULT_INPUT names in why->field the text at fault, as work_text_name() does. */
bool work_read_sight(const struct work_reader *reader, const struct work_typed *typed,
                     struct level_sight *sight, struct book_note *note, struct fault *why);

/* Gives a sight the elevation of its station, where that is one of these marks. */
void work_find_known(const struct book_mark *marks, size_t count, struct level_sight *sight);

/* Gives a sight that is not booked yet what the booked ones of its run have: the number of its
 * instrument in the run, 0 (the unnamed one) where there is no room for another, and what its rod
 * reads too high by, m. */
void work_find_equipment(struct book_run *run, const struct book_rod *rods, size_t rod_count,
                         const struct book_note *note, struct level_sight *sight);

/* Warnings about sight `at` of a run that is reduced in page, by the run's settings and terms.
 * compared: by work_compare(); a station that this run found before is no used name. doubts: by
 * work_doubt(), which has to outlive what is given. */
struct level_warned work_warn(const struct level_run *run, const struct level_page *page, size_t at,
                              const struct book_settings *settings, const struct level_terms *terms,
                              const struct work_compared *compared,
                              const struct work_doubts *doubts);

/* Standard uncertainty of one reading by the sight's method, or of an offset, m. */
double work_reading_u(const struct level_terms *terms, const struct level_sight *sight);

/* Whether a sight sealed the figures of its run's allowance. */
enum work_seal { WORK_NO_SEAL, WORK_SEALED, WORK_SEAL_NOT_KNOWN };

/* What came of booking a sight. */
struct work_booked {
	struct level_sight sight;
	struct level_warned warned; /* it was booked against these */
	struct work_doubts doubts;  /* of which warned has the name */
	struct work_compared compared;
	double reading_u; /* of one reading by its method, m */
	int setup;        /* that it stands in */
	enum work_seal seal;
	char photos[BOOK_PHOTOS_SAID_BYTES]; /* of photographs without a digest, or empty */
	struct book_settings settings;       /* by which it was read */
};
/* Books a sight at the end of the run so named, observed now or at its time. What it is warned of
 * stands beside it. */
bool work_book_sight(struct book *book, const char *run, const struct work_typed *typed,
                     struct work_booked *out, struct fault *why);

#endif
