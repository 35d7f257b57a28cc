/* Mutation that knows words, numbers and lines, so that a good share is still accepted. */
#include <stdio.h>
#include <string.h>

#include "fuzz.h"

uint64_t fuzz_next(uint64_t *chance)
{
	/* xorshift64* (Vigna 2016, ACM Trans. Math. Softw. 42, 30) */
	*chance ^= *chance >> 12;
	*chance ^= *chance << 25;
	*chance ^= *chance >> 27;
	return *chance * UINT64_C(2685821657736338717);
}

size_t fuzz_below(uint64_t *chance, size_t most)
{
	return most ? (size_t)((fuzz_next(chance) >> 11) % most) : 0;
}

void fuzz_number(uint64_t *chance, char *out, size_t room)
{
	static const char *const odd[] = {"0",
	                                  "00",
	                                  "1",
	                                  "-1",
	                                  "0.0",
	                                  ".5",
	                                  "5.",
	                                  "+2",
	                                  "1e3",
	                                  "1e-9",
	                                  "1e999",
	                                  "nan",
	                                  "inf",
	                                  "0x10",
	                                  "1,5",
	                                  "1,000",
	                                  "9223372036854775807",
	                                  "-9223372036854775808",
	                                  "18446744073709551616",
	                                  "0.000000001",
	                                  "0.0000000001",
	                                  "99999999999999999999999999999999999999999",
	                                  "1 1/2",
	                                  "3/0",
	                                  "63/64",
	                                  "2147483648",
	                                  "100000000",
	                                  "1.2.3"};
	static const unsigned scales[] = {2, 10, 60, 100, 1000, 6000, 100000, 1000000000};
	unsigned scale = scales[fuzz_below(chance, 8)];
	unsigned whole = (unsigned)fuzz_below(chance, scale), part = (unsigned)fuzz_next(chance);
	int digits = (int)fuzz_below(chance, 10);
	const char *sign = fuzz_below(chance, 12) == 0 ? "-" : "";
	switch (fuzz_below(chance, 8)) {
	case 0:
		snprintf(out, room, "%s", odd[fuzz_below(chance, sizeof odd / sizeof *odd)]);
		return;
	case 1:
		snprintf(out, room, "%s%u", sign, whole);
		return;
	case 2:
		snprintf(out, room, "%s%u %u/%u", sign, whole, part % 64, 1U << (part >> 8) % 7);
		return;
	default:
		snprintf(out, room, "%s%u.%0*u", sign, whole % 100, digits % 5,
		         part % (digits % 5 == 0 ? 10 : 1000));
	}
}

static bool in_number(char c)
{
	return (c >= '0' && c <= '9') || c == '.' || c == '-';
}

/* A place to alter: seldom in the first of several lines, which names the columns. */
static size_t place(uint64_t *chance, const char *input, size_t size)
{
	const char *end = memchr(input + 2, '\n', size - 2);
	size_t first = end ? (size_t)(end - input) + 1 : size;
	if (first >= size || fuzz_below(chance, 12) == 0)
		return 2 + fuzz_below(chance, size - 2);
	return first + fuzz_below(chance, size - first);
}

/* Puts `more` in place of `gone` bytes at `at`. */
static size_t splice(char *input, size_t size, size_t room, size_t at, size_t gone,
                     const char *more, size_t count)
{
	if (size - gone + count > room)
		return size;
	memmove(input + at + count, input + at + gone, size - at - gone);
	memcpy(input + at, more, count);
	return size - gone + count;
}

/* Another number for one that is there. */
static size_t other_number(uint64_t *chance, char *input, size_t size, size_t room)
{
	char number[64];
	size_t at = place(chance, input, size), gone = 0;
	while (at < size && !in_number(input[at]))
		at++;
	while (at > 2 && in_number(input[at - 1]))
		at--;
	while (at + gone < size && in_number(input[at + gone]))
		gone++;
	if (gone == 0)
		return size;
	fuzz_number(chance, number, sizeof number);
	return splice(input, size, room, at, gone, number, strlen(number));
}

/* Another digit for one that is there: the number keeps its shape. */
static size_t other_digit(uint64_t *chance, char *input, size_t size)
{
	size_t at = place(chance, input, size);
	while (at < size && (input[at] < '0' || input[at] > '9'))
		at++;
	if (at < size)
		input[at] = (char)('0' + fuzz_below(chance, 10));
	return size;
}

static size_t line_start(const char *input, size_t size, size_t at)
{
	(void)size;
	while (at > 2 && input[at - 1] != '\n')
		at--;
	return at;
}

static size_t line_size(const char *input, size_t size, size_t at)
{
	const char *end = memchr(input + at, '\n', size - at);
	return end ? (size_t)(end - input) + 1 - at : size - at;
}

static bool splits(char c)
{
	return c && strchr(",\t|\n\r", c);
}

/* The cell that begins behind the separator before `at`, and how many stand before it in its line.
 */
static size_t cell_start(const char *input, size_t at, size_t *column)
{
	size_t from;
	while (at > 2 && !splits(input[at - 1]))
		at--;
	*column = 0;
	for (from = at; from > 2 && input[from - 1] != '\n'; from--)
		*column += splits(input[from - 1]);
	return at;
}

static size_t cell_size(const char *input, size_t size, size_t at)
{
	size_t end = at;
	while (end < size && !splits(input[end]))
		end++;
	return end - at;
}

/* A cell of the same column of another line. */
static size_t other_cell(uint64_t *chance, char *input, size_t size, size_t room)
{
	char cell[200];
	size_t here, there, count, column, other;
	here = cell_start(input, place(chance, input, size), &column);
	for (int i = 0; i < 30; i++) {
		there = cell_start(input, place(chance, input, size), &other);
		count = cell_size(input, size, there);
		if (other != column || there == here || count > sizeof cell)
			continue;
		memcpy(cell, input + there, count);
		return splice(input, size, room, here, cell_size(input, size, here), cell, count);
	}
	return size;
}

/* Doubles a line, takes one away, or brings it elsewhere. */
static size_t lines(uint64_t *chance, char *input, size_t size, size_t room)
{
	char line[2000];
	size_t at = line_start(input, size, place(chance, input, size));
	size_t count = line_size(input, size, at), to;
	if (count > sizeof line)
		return size;
	memcpy(line, input + at, count);
	if (fuzz_below(chance, 3))
		size = splice(input, size, room, at, count, "", 0);
	if (size <= 2 || fuzz_below(chance, 3) == 0)
		return size;
	to = line_start(input, size, place(chance, input, size));
	return splice(input, size, room, to, 0, line, count);
}

static size_t step(const struct fuzz_target *target, uint64_t *chance, char *input, size_t size,
                   size_t room)
{
	static const char letters[] = "0123456789.,/'\" -+;=@:%x\t\n\r\x01\x7f\xc2\xff\xe2\x80";
	size_t words = 0, at, gone;
	char c;
	while (target->dictionary && target->dictionary[words])
		words++;
	if (size <= 2)
		return fuzz_seed(target, chance, input, room);
	at = place(chance, input, size);
	switch (fuzz_below(chance, 18)) {
	case 12:
	case 13:
	case 14:
		return other_digit(chance, input, size);
	case 15:
	case 16:
	case 17:
		return other_cell(chance, input, size, room);
	case 0:
		input[fuzz_below(chance, 2)] = (char)fuzz_next(chance);
		return size;
	case 1:
	case 2:
	case 3:
	case 4:
		return other_number(chance, input, size, room);
	case 5:
	case 6:
		if (words) {
			const char *word = target->dictionary[fuzz_below(chance, words)];
			gone = fuzz_below(chance, 3) ? 0 : fuzz_below(chance, size - at);
			return splice(input, size, room, at, gone > 12 ? 12 : gone, word,
			              strlen(word));
		}
		return size;
	case 7:
		gone = 1 + fuzz_below(chance, 4);
		return splice(input, size, room, at, gone > size - at ? size - at : gone, "", 0);
	case 8:
		c = letters[fuzz_below(chance, sizeof letters - 1)];
		return splice(input, size, room, at, fuzz_below(chance, 2), &c, 1);
	case 9:
		input[at] = (char)(input[at] ^ (1 << fuzz_below(chance, 8)));
		return size;
	default:
		return lines(chance, input, size, room);
	}
}

/* The target's own way, which keeps what must agree in agreement. */
static size_t altered(const struct fuzz_target *target, uint64_t *chance, char *input, size_t size,
                      size_t room)
{
	char text[FUZZ_INPUT_MOST + 2];
	size_t length = size > 2 ? size - 2 : 0;
	memcpy(text, input + 2, length);
	text[length] = '\0';
	if (!target->alter(chance, text, room - 2))
		return size;
	length = strlen(text);
	memcpy(input + 2, text, length);
	return length + 2;
}

size_t fuzz_mutate(const struct fuzz_target *target, uint64_t *chance, char *input, size_t size,
                   size_t room)
{
	size_t steps = fuzz_below(chance, 2) ? 1 : 2 + fuzz_below(chance, 2);
	for (; steps > 0; steps--)
		size = target->alter && size > 2 && fuzz_below(chance, 3) == 0
		           ? altered(target, chance, input, size, room)
		           : step(target, chance, input, size, room);
	return size;
}

/* Puts `more` in place of `gone` bytes, where there is room. */
bool fuzz_put(char *text, size_t room, char *at, size_t gone, const char *more)
{
	size_t count = strlen(more), behind = strlen(at + gone);
	if ((size_t)(at - text) + count + behind >= room)
		return false;
	memmove(at + count, at + gone, behind + 1);
	memcpy(at, more, count);
	return true;
}

void fuzz_rename(uint64_t *chance, char *text, size_t room)
{
	static const char *const names[] = {"TP1",  "TP2", "PEG", "FAR", "STONE",
	                                    "SPOT", "T0",  "T1",  "T2",  "loop"};
	static const char *const others[] = {"TP1", "TP9", "PEG", "X 1", "B.M. 7", "\xc3\xa4", "7"};
	const char *name = names[fuzz_below(chance, sizeof names / sizeof *names)];
	const char *other = others[fuzz_below(chance, sizeof others / sizeof *others)];
	for (char *at = text; (at = strstr(at, name)); at += strlen(other))
		if (!fuzz_put(text, room, at, strlen(name), other))
			return;
}

size_t fuzz_seed(const struct fuzz_target *target, uint64_t *chance, char *input, size_t room)
{
	char text[FUZZ_INPUT_MOST] = "";
	size_t count = 0, size;
	while (target->seeds && target->seeds[count])
		count++;
	if (target->make && (count == 0 || fuzz_below(chance, 2)))
		target->make(chance, text, sizeof text);
	else if (count)
		snprintf(text, sizeof text, "%s", target->seeds[fuzz_below(chance, count)]);
	size = strlen(text);
	if (room < 2)
		return 0;
	if (size > room - 2)
		size = room - 2;
	input[0] = (char)fuzz_next(chance);
	input[1] = (char)fuzz_next(chance);
	memcpy(input + 2, text, size);
	return size + 2;
}
