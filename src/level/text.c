/* Names and texts that are safe to show. */
#include "rodbook/sight.h"

#include <string.h>

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

/* Characters that draw nothing of their own, or turn the direction of the text. */
static bool invisible(uint32_t value)
{
	static const uint32_t ranges[][2] = {
	    {0x00ad, 0x00ad},   {0x0300, 0x036f},    {0x0483, 0x0489}, {0x0591, 0x05bd},
	    {0x0610, 0x061a},   {0x061c, 0x061c},    {0x064b, 0x065f}, {0x115f, 0x1160},
	    {0x180b, 0x180e},   {0x1ab0, 0x1aff},    {0x1dc0, 0x1dff}, {0x200b, 0x200f},
	    {0x2028, 0x202e},   {0x2060, 0x206f},    {0x20d0, 0x20ff}, {0xe000, 0xf8ff},
	    {0xfe00, 0xfe0f},   {0xfe20, 0xfe2f},    {0xfeff, 0xfeff}, {0xfff0, 0xffff},
	    {0x1f3fb, 0x1f3ff}, {0xe0000, 0x10ffff},
	};
	for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
		if (value >= ranges[i][0] && value <= ranges[i][1])
			return true;
	return false;
}

bool level_check_text(const char *text, size_t chars, const char *what, struct fault *why)
{
	const unsigned char *at = (const unsigned char *)text;
	size_t size, count = 0;
	for (; *at; at += size, count++) {
		uint32_t value = decode(at, &size);
		if (value == 0)
			return fault_say(why, FAULT_INPUT, "the %s is not UTF-8 text", what);
		if (value < 0x20 || (value >= 0x7f && value < 0xa0) || invisible(value))
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
