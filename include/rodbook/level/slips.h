/* The slip that explains a misclosure: entries of which one likely slip would bring a run within
 * its allowable, so that the observer knows where to read again first. A hint, never a correction.
 *
 * Tried is what one wrong entry may do, each reading that carries the line for itself, an offset
 * too (an IS carries nothing, so it cannot be to blame). With s = +1 for a BS or an offset and -1
 * for an FS, a reading that
 * is b instead of the booked a shifts the misclosure w by s (b - a), and leaves w + s (b - a).
 * Nothing else changes: not the distances, except where they follow from a wire that changes, and
 * then the length, the allowable and what is taken off for curvature and refraction go along.
 *
 * Which slips there are, which of them are common, and how they are weighed against each other is
 * common practice, no source. */
#ifndef RODBOOK_LEVEL_SLIPS_H
#define RODBOOK_LEVEL_SLIPS_H

#include "rodbook/level/page.h"

/* The older ones commonest first, newer ones behind; how common each is, its weight says. A value
 * that stands twice is a rare chance, so where one does it is suspect. */
enum level_slip_kind {
	LEVEL_SLIP_WHOLE, /* a whole meter, foot, tenth or inch off */
	LEVEL_SLIP_TWICE, /* the value of the sight before it: what it should be is not known */
	LEVEL_SLIP_TRANSPOSED, /* two neighboring digits: ab for ba is 9 (a - b) units off */
	LEVEL_SLIP_MISREAD,    /* one digit for one that looks like it: 3 8, 6 9, 1 7, 5 6 */
	LEVEL_SLIP_EXCHANGED,  /* BS and FS of a setup: w is off by 2 (BS - FS) */
	LEVEL_SLIP_WIRE,   /* a stadia wire for another one; the half interval is the distance, less
	                      the stadia constant, / (2 x stadia multiplier) */
	LEVEL_SLIP_UNIT,   /* inches for tenths of a foot and the like */
	LEVEL_SLIP_SIGN,   /* read overhead it is below zero: w is off by 2 b */
	LEVEL_SLIP_ACROSS, /* the digits on the two sides of the point: a.b for b.a is 9 (a - b)
	                      tenths off */
	LEVEL_SLIP_SHIFTED, /* the point itself, one place off: a tenth of the value, or ten times
	                       it */
	LEVEL_SLIP_EARLIER, /* the reading of a struck sight that this one replaced was right */
	LEVEL_SLIPS
};

/* Which part of a sight; with the wires in the order of level_typed.wire. */
enum level_slip_part {
	LEVEL_PART_UPPER,
	LEVEL_PART_MIDDLE,
	LEVEL_PART_LOWER,
	LEVEL_PART_ALL, /* the reading, all wires, or all readings of a set */
	LEVEL_PART_SET, /* one reading of a set */
};

/* What the rod was read in, where it was another unit than the one booked. */
enum level_read_in {
	LEVEL_READ_AS_BOOKED,
	LEVEL_READ_INCHES, /* behind the foot, booked as tenths */
	LEVEL_READ_TENTHS, /* of a foot, booked as inches */
	LEVEL_READ_METERS,
	LEVEL_READ_CENTIMETERS,
};

struct level_slip {
	enum level_slip_kind kind;
	enum level_slip_part part;
	int reading;  /* LEVEL_PART_SET: which one, from 1, struck ones counted too */
	size_t at;    /* index of the sight; the BS, where BS and FS are exchanged */
	size_t other; /* the FS exchanged with it, or the sight with the same value; else at */
	level_nm booked, likely; /* of that part; where exchanged, BS and FS as booked */
	bool has_likely;         /* false: it stands twice, and likely and leaves say nothing */
	/* With the likely value the wires, the readings of the set or the standings of the setup
	 * agree at least four times better; or the observer booked it before. */
	bool agrees;
	bool every;    /* in every wire, or every reading of the set, the same slip */
	char from, to; /* LEVEL_SLIP_MISREAD: the digits, booked and likely */
	enum level_read_in read_in;
	level_nm leaves; /* the judged misclosure that would remain, within the allowable */
	double score;    /* above 0, at most 2 */
};

/* Best first. Begins as all zeros, and is freed with level_slips_free().
 *
 * Where the judged misclosure is no larger than three standard deviations of the run's readings
 * together, many small errors explain it as well as one slip, and no reading need be to blame
 * (common practice, no source). Of the readings only, BS and FS of completed setups, and offsets:
 * root of the sum of squares of each one's u, over n^2 where its setup stands n times. u is that of
 * level_reading_u() by the method of reading; where the distance is missing, its fixed part. The
 * spread of a set does not count: a slip in it would widen it, and so excuse itself. Tilt, air and
 * known elevations are no small errors of reading. */
struct level_slips {
	size_t count, room;
	struct level_slip *slip;
	level_nm readings_allow; /* those three; 0 where no slip is looked for */
	bool small_errors;       /* and the misclosure is no larger */
};

/* A sight's texts as they were typed, "" or NULL where there is none. */
struct level_typed {
	enum level_unit unit; /* of bare numbers in them */
	const char *reading;  /* or a set; not looked at where there are wires */
	const char *wire[3];  /* upper, middle, lower */
	bool distance;        /* was typed, so it does not follow from the wires */
	size_t replaces;      /* 1 + index of the struck sight that this one replaces; 0: none */
};

/* What is known beside the sights. */
struct level_slip_given {
	const struct level_typed *typed; /* one for each sight of the run */
	level_nm rod_length;
	int64_t stadia_multiplier;
	level_nm stadia_constant;
};

/* Finds the entries, at most one slip for each sight (its best) and one for each setup whose BS and
 * FS may be exchanged, by score: weight x exp(-2 (leaves / allowable)^2), as though the allowable
 * were two standard deviations of honest reading; ties in the order of the run. The weight is that
 * of the kind, at most 1; twice that where wires, the readings of a set or an earlier booking speak
 * for it too; half of it where the same slip was made in every wire or every reading of a set.
 *
 * A likely reading must be possible: on the rod, the same way up but for a wrong sign, wires in
 * their order and their half intervals in better agreement than before, a reading of a set nearer
 * to the others than before; with its point shifted, written with no more decimals than the finest
 * reading of the run.
 *
 * Finds none, and no small errors, where the run closes, is not judged (an open run, an unknown
 * end, no allowable), or is a crossing, whose misclosure is what it is made to show. `closing`
 * is that of the run, by `terms`. False only where memory is short. */
bool level_slips_find(const struct level_run *run, const struct level_closing *closing,
                      const struct level_terms *terms, const struct level_slip_given *given,
                      struct level_slips *out);
void level_slips_free(struct level_slips *slips);

/* "whole", "twice", "transposed", "misread", "exchanged", "wire", "unit", "sign", "across",
 * "shifted", "earlier". */
const char *level_slip_name(enum level_slip_kind kind);

#endif
