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
		uint32_t value = decode(at, &size);
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
		                 strcmp(what, "run") == 0    ? "north-shore"
		                 : strcmp(what, "mark") == 0 ? "BM1"
		                                             : "TP1");
	if (*text == ' ' || text[strlen(text) - 1] == ' ')
		return fault_say(why, FAULT_INPUT, "the %s name begins or ends with a blank", what);
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
