/* Names and texts that are safe to show. */
#include "rodbook/level/sight.h"

#include <stdio.h>
#include <string.h>

#include "level/zero_width.h"

/* Decodes one UTF-8 character; 0 where the bytes are not good UTF-8. */
static uint32_t decode(const unsigned char *at, size_t *size)
{
	static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
	uint32_t value = *at;
	*size = value < 0x80       ? 1
	        : value >> 5 == 6  ? 2
	        : value >> 4 == 14 ? 3
	        : value >> 3 == 30 ? 4
	                           : 0;
	if (*size == 1)
		return value;
	if (*size == 0)
		return 0;
	value &= 0x7fu >> *size;
	for (size_t i = 1; i < *size; i++) {
		if (at[i] >> 6 != 2)
			return 0;
		value = value << 6 | (at[i] & 0x3fu);
	}
	if (value < least[*size] || value > 0x10ffff || (value >= 0xd800 && value <= 0xdfff))
		return 0;
	return value;
}

static bool invisible(uint32_t value)
{
	size_t low = 0, high = sizeof zero_width / sizeof *zero_width;
	while (low < high) {
		size_t middle = (low + high) / 2;
		if (value > zero_width[middle][1])
			low = middle + 1;
		else if (value < zero_width[middle][0])
			high = middle;
		else
			return true;
	}
	return false;
}

static bool unseen(uint32_t value)
{
	return value < 0x20 || (value >= 0x7f && value < 0xa0) || invisible(value);
}

bool level_check_text(const char *text, size_t chars, const char *what, struct fault *why)
{
	const unsigned char *at = (const unsigned char *)text;
	size_t size, count = 0;
	for (; *at; at += size, count++) {
		uint32_t value;
		size = 1;
		/* Most are plain. */
		if (*at >= 0x20 && *at < 0x7f)
			continue;
		value = decode(at, &size);
		if (value == 0)
			return fault_say(why, FAULT_INPUT, "the %s is not UTF-8 text", what);
		if (unseen(value))
			return fault_say(why, FAULT_INPUT,
			                 "the %s holds a control or invisible character (U+%04X): "
			                 "write letters, digits and signs",
			                 what, (unsigned)value);
	}
	if (count > chars)
		return fault_say(why, FAULT_INPUT,
		                 "the %s has %zu characters: at most %zu are kept", what, count,
		                 chars);
	return true;
}

const char *level_show_text(char *out, size_t size, const char *text, bool lines)
{
	const unsigned char *at = (const unsigned char *)text;
	size_t used = 0, taken;
	for (; *at; at += taken) {
		uint32_t value = decode(at, &taken);
		char piece[16];
		size_t length;
		if (value == 0) {
			taken = 1;
			length = (size_t)snprintf(piece, sizeof piece, "<%02X>", (unsigned)*at);
		} else if (unseen(value) && !(lines && (value == '\t' || value == '\n'))) {
			length = (size_t)snprintf(piece, sizeof piece, "<U+%04X>", (unsigned)value);
		} else {
			length = taken;
			memcpy(piece, at, taken);
		}
		if (used + length >= size)
			break;
		memcpy(out + used, piece, length);
		used += length;
	}
	out[used] = '\0';
	return out;
}

bool level_check_name(const char *text, const char *what, struct fault *why)
{
	char name[40];
	if (text[strspn(text, " ")] == '\0')
		return fault_say(why, FAULT_INPUT, "the %s has no name: write one, such as %s",
		                 what,
		                 strcmp(what, "run") == 0             ? "north-shore"
		                 : strcmp(what, "mark") == 0          ? "BM1"
		                 : strcmp(what, "plan") == 0          ? "two-shores"
		                 : strcmp(what, "instrument") == 0    ? "L1"
		                 : strcmp(what, "rod") == 0           ? "R1"
		                 : strcmp(what, "tolerance set") == 0 ? "county"
		                                                      : "TP1");
	if (*text == ' ' || text[strlen(text) - 1] == ' ')
		return fault_say(why, FAULT_INPUT, "the %s name begins or ends with a blank", what);
	if (level_check_text(text, LEVEL_STATION_CHARS, what, NULL))
		return true;
	snprintf(name, sizeof name, "%s name", what);
	return level_check_text(text, LEVEL_STATION_CHARS, name, why);
}

void level_trim(char *text)
{
	size_t size, blanks = strspn(text, " ");
	memmove(text, text + blanks, strlen(text + blanks) + 1);
	size = strlen(text);
	while (size && text[size - 1] == ' ')
		text[--size] = '\0';
}

/* The small letter of a capital one. */
static uint32_t small(uint32_t c)
{
	if ((c >= 'A' && c <= 'Z') || (c >= 0xc0 && c <= 0xde && c != 0xd7) ||
	    (c >= 0x391 && c <= 0x3ab) || (c >= 0x410 && c <= 0x42f))
		return c + 0x20;
	if (c >= 0x400 && c <= 0x40f)
		return c + 0x50;
	if (c >= 0x388 && c <= 0x38a)
		return c + 0x25;
	/* Capital and small letter by turns. */
	if ((c >= 0x100 && c <= 0x12f) || (c >= 0x132 && c <= 0x137) || (c >= 0x14a && c <= 0x177))
		return c | 1;
	if ((c >= 0x139 && c <= 0x148) || (c >= 0x179 && c <= 0x17e))
		return c + (c & 1);
	switch (c) {
	case 0xb5: /* micro */
		return 0x3bc;
	case 0x17f: /* long s */
		return 's';
	case 0x178: /* Y with two dots */
		return 0xff;
	case 0x386: /* Greek with an accent */
		return 0x3ac;
	case 0x38c:
		return 0x3cc;
	case 0x38e:
	case 0x38f:
		return c + 0x3f;
	case 0x3c2: /* sigma at the end of a word */
		return 0x3c3;
	default:
		return c;
	}
}

static bool begins_with(const unsigned char *text, const unsigned char *part)
{
	size_t a, b;
	for (; *part; text += a, part += b) {
		uint32_t x = decode(text, &a), y = decode(part, &b);
		/* What is no UTF-8 is held byte by byte. */
		if (x == 0 || y == 0) {
			a = b = 1;
			x = *text;
			y = *part;
		}
		if (!*text || small(x) != small(y))
			return false;
	}
	return true;
}

bool level_holds_text(const char *text, const char *part)
{
	const unsigned char *at = (const unsigned char *)text;
	const unsigned char *wanted = (const unsigned char *)part;
	for (; *at; at++)
		if (begins_with(at, wanted))
			return true;
	return !*part;
}
