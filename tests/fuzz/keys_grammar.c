/* What is typed: mostly what books sights, opens views and answers their questions; now and then
 * what no keyboard sends. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz.h"
#include "keys.h"

static const char *const functions[] = {"\033OP",   "\033OQ",   "\033OR",   "\033OS",
                                        "\033[15~", "\033[17~", "\033[18~", "\033[19~",
                                        "\033[20~", "\033[23~", "\033[24~"};
static const char *const moves[] = {
    "\033[A",  "\033[B", "\033[C",    "\033[D",    "\033OA",  "\033OB",  "\033OC", "\033OD",
    "\033[H",  "\033[F", "\033[1;5H", "\033[1;5F", "\033[5~", "\033[6~", "\033[Z", "\033[2~",
    "\033[3~", "\t",     "\x7f",      "\b",        "\r",      "\n",      "\025"};
static const char *const pad[] = {"\033Op", "\033Oq", "\033Or", "\033Os", "\033Ot", "\033Ou",
                                  "\033Ov", "\033Ow", "\033Ox", "\033Oy", "\033On", "\033Ol",
                                  "\033Ok", "\033Om", "\033Oo", "\033OM"};
static const char *const words[] = {
    "A",
    "PEG",
    "TP1",
    "STONE",
    "loop",
    "crossing",
    "open",
    "link",
    "1.432",
    "0.5",
    "20",
    "400 m",
    "4' 8 3/8\"",
    "57 3/8",
    "1.4; 1.5; x9",
    "2 mm",
    "0.1 mm/m",
    "sun",
    "rod",
    "target",
    "across",
    "L1",
    "long",
    "12.5",
    "0+050",
    "u95",
    "still",
    "k",
    "0.2",
    "because it was read wrong",
    "y",
    "n",
    "a very long name that goes on and on until nothing more of it has room",
    "\xc3\xa4\xc3\xb6",
    "\xe6\xb0\xb4",
    "0",
    "-1",
    "1e9",
    "15 C@1 m",
    "10; 0+000; -0.5 %"};
static const char *const noise[] = {"\xff\xfe\xfa",
                                    "\xc3",
                                    "\xe2\x82",
                                    "\xf0\x9f\x98",
                                    "\xed\xa0\x80",
                                    "\xc0\x80",
                                    "\xe2\x80\xae",
                                    "\xcc\x81",
                                    "\x01\x02\x03",
                                    "\033[M !!",
                                    "\033[M\xff\xff\xff",
                                    "\033[<0;10;10M",
                                    "\033[<64;500;500m",
                                    "\033[I",
                                    "\033[O",
                                    "\033]11;rgb:ffff/ffff/ffff\a",
                                    "\033P1$r0m\033\\",
                                    "\033[?62;1;4c",
                                    "\033[99;99R",
                                    "\033[1;2P",
                                    "\033[200~",
                                    "\033[201~",
                                    "\033O",
                                    "\033[",
                                    "\033[1;",
                                    "\033\033[A",
                                    "\033[99999999999999999999~",
                                    "\033x",
                                    "\033\r",
                                    "\x1c",
                                    "\x1f",
                                    "\x00"};

void chunk_put(struct chunk *chunk, const char *bytes, size_t size)
{
	if (chunk->size + size > chunk->room) {
		chunk->room = 2 * (chunk->size + size);
		chunk->bytes = realloc(chunk->bytes, chunk->room);
		if (!chunk->bytes)
			abort();
	}
	memcpy(chunk->bytes + chunk->size, bytes, size);
	chunk->size += size;
}

static void text(struct chunk *chunk, const char *bytes)
{
	chunk_put(chunk, bytes, strlen(bytes));
}

#define PICK(chance, list) ((list)[fuzz_below(chance, sizeof(list) / sizeof *(list))])

/* A reading and a distance in the fields that are proposed; at times a station before them. */
static void sight(struct chunk *chunk, uint64_t *chance)
{
	char keys[200];
	if (fuzz_below(chance, 8) == 0)
		text(chunk, fuzz_below(chance, 2) ? "PEG\r" : "A\r");
	else if (fuzz_below(chance, 6) == 0)
		/* From the station on, whatever is there. */
		text(chunk, fuzz_below(chance, 2) ? "\033[Z\033[Z\025B\r\025" : "\025C\r\025");
	snprintf(keys, sizeof keys, "%s%u.%03u", fuzz_below(chance, 12) ? "" : "-",
	         (unsigned)fuzz_below(chance, 4), (unsigned)fuzz_below(chance, 1000));
	text(chunk, keys);
	if (fuzz_below(chance, 8) == 0)
		text(chunk, "; 1.5; x1.6");
	if (fuzz_below(chance, 3)) {
		snprintf(keys, sizeof keys, "\r\025%u", 5 + (unsigned)fuzz_below(chance, 60));
		text(chunk, keys);
	}
	/* Warned of once, it is booked at the second time. */
	text(chunk, fuzz_below(chance, 3) ? "\x02\x02" : "\x02");
}

/* A view by a key, a few keys in it, and back. */
static void view(struct chunk *chunk, uint64_t *chance)
{
	static const char *const letters[] = {"n", "c", "r", "a", "d", "s",
	                                      "e", "k", "x", "p", "t", "+"};
	text(chunk, PICK(chance, functions));
	for (size_t n = fuzz_below(chance, 8); n > 0; n--)
		switch (fuzz_below(chance, 5)) {
		case 0:
			text(chunk, "\033[B");
			break;
		case 1:
			text(chunk, "\r");
			break;
		case 2:
			text(chunk, PICK(chance, letters));
			break;
		case 3:
			text(chunk, PICK(chance, words));
			text(chunk, "\r");
			break;
		default:
			text(chunk, PICK(chance, moves));
		}
	chunk->pause = 20;
	chunk->back = 2 + (int)fuzz_below(chance, 3);
}

static void paste(struct chunk *chunk, uint64_t *chance)
{
	/* A large one is rare: each of its characters is painted. */
	size_t size =
	    fuzz_below(chance, 40) ? fuzz_below(chance, 300) : 60000 + fuzz_below(chance, 9000);
	text(chunk, "\033[200~");
	while (chunk->size < size) {
		text(chunk, PICK(chance, words));
		if (fuzz_below(chance, 4) == 0)
			text(chunk, fuzz_below(chance, 2) ? "\n" : "\t");
		if (fuzz_below(chance, 30) == 0)
			text(chunk, PICK(chance, noise));
	}
	chunk->crippled = fuzz_below(chance, 8) == 0;
	if (!chunk->crippled)
		text(chunk, "\033[201~");
}

static void resize(struct chunk *chunk, uint64_t *chance)
{
	static const int rows[] = {1, 2, 5, 19, 20, 24, 32, 50, 120},
	                 cols[] = {1, 3, 40, 79, 80, 100, 122, 200, 400};
	chunk->rows = fuzz_below(chance, 2) ? 24 : PICK(chance, rows);
	chunk->cols = fuzz_below(chance, 2) ? 90 : PICK(chance, cols);
	chunk->crippled = chunk->rows < 20 || chunk->cols < 80;
	chunk->pause = (int)fuzz_below(chance, 30);
}

static void odd(struct chunk *chunk, uint64_t *chance)
{
	size_t which = fuzz_below(chance, 6);
	if (which == 0) {
		for (size_t n = fuzz_below(chance, 300); n > 0; n--)
			text(chunk, "\033");
	} else if (which == 1) {
		for (size_t n = fuzz_below(chance, 20); n > 0; n--)
			chunk_put(chunk, &(char){(char)fuzz_next(chance)}, 1);
	} else if (which == 2) {
		/* Half of a sequence; the other half comes with what is next, or never. */
		const char *key = PICK(chance, functions);
		chunk_put(chunk, key, 1 + fuzz_below(chance, strlen(key)));
		chunk->pause = (int)fuzz_below(chance, 150);
	} else {
		const char *bytes = PICK(chance, noise);
		chunk_put(chunk, bytes, *bytes ? strlen(bytes) : 1);
	}
}

/* What must be set right before sights can be booked again: a view that is open, a window that is
 * too small, a paste that has no end. */
static bool set_right(struct chunk *chunk, uint64_t *chance)
{
	if (chunk->back > 0) {
		chunk->back--;
		text(chunk, "\033");
		chunk->pause = 130;
		return true;
	}
	if (chunk->crippled && fuzz_below(chance, 3) == 0) {
		chunk->crippled = false;
		text(chunk, "\033[201~");
		chunk->rows = 24;
		chunk->cols = 90;
		chunk->pause = 20;
		return true;
	}
	return false;
}

/* Booking moves the cursor to the reading, of a new sight or of one that lacks it; from there the
 * fields are known. What was left in another field is booked or refused, and the next one heals it.
 */
void chunk_sight(struct chunk *chunk, uint64_t *chance, const struct stand *stand)
{
	char keys[500], station[200];
	bool again = fuzz_below(chance, 12) == 0;
	bool off = *stand->station && !stand->in_setup && fuzz_below(chance, 8) == 0;
	char distance[8] = "";
	chunk->size = 0;
	chunk->pause = chunk->rows = chunk->cols = 0;
	if (set_right(chunk, chance))
		return;
	if (stand->stuck) {
		text(chunk, fuzz_below(chance, 3) ? "\033[201~" : "\033[201~\033[15~");
		chunk->back = fuzz_below(chance, 2) ? 2 : 0;
	}
	if (*stand->station && !stand->in_setup && !off)
		snprintf(station, sizeof station, "%s", stand->station);
	else if (!*stand->station || again)
		strcpy(station, "PEG");
	else
		snprintf(station, sizeof station, "P%u", (unsigned)fuzz_below(chance, 1000));
	if (!off)
		snprintf(distance, sizeof distance, "%u", 10 + (unsigned)fuzz_below(chance, 30));
	snprintf(keys, sizeof keys, "\002\002\025%u.%03u\r\025%s\033[Z\033[Z\025%s\033[Z%c\002\002",
	         (unsigned)fuzz_below(chance, 4), (unsigned)fuzz_below(chance, 1000), distance,
	         station,
	         off                          ? 'o'
	         : !stand->in_setup           ? 'b'
	         : fuzz_below(chance, 8) == 0 ? 'i'
	                                      : 'f');
	text(chunk, keys);
	chunk->pause = 15;
}

void chunk_next(struct chunk *chunk, uint64_t *chance)
{
	size_t which = 40 + fuzz_below(chance, 60);
	chunk->size = 0;
	chunk->pause = chunk->rows = chunk->cols = 0;
	if (set_right(chunk, chance))
		return;
	/* Whatever it opens is left before a sight is booked again. */
	chunk->back = 1;
	if (which < 48) {
		sight(chunk, chance);
	} else if (which < 60) {
		view(chunk, chance);
	} else if (which < 64) {
		text(chunk, "\033");
		chunk->pause = 130;
	} else if (which < 74) {
		for (size_t n = 1 + fuzz_below(chance, 4); n > 0; n--)
			text(chunk, PICK(chance, moves));
	} else if (which < 77) {
		text(chunk, PICK(chance, words));
	} else if (which < 80) {
		/* Not Ctrl-C and Ctrl-Q as often as the others: they leave. */
		char c = (char)(1 + fuzz_below(chance, 31));
		if ((c != 3 && c != 17) || fuzz_below(chance, 4) == 0)
			chunk_put(chunk, &c, 1);
	} else if (which < 84) {
		for (size_t n = fuzz_below(chance, 6); n > 0; n--)
			text(chunk, PICK(chance, pad));
	} else if (which < 90) {
		resize(chunk, chance);
	} else if (which < 94) {
		paste(chunk, chance);
	} else {
		odd(chunk, chance);
	}
}
