/* Text in an XML file. */
#include "plot/plot_xml.h"

#include <stdint.h>
#include <string.h>

#include "rodbook/level/sight.h"

size_t xml_letters(const char *text)
{
	size_t letters = 0;
	for (; text && *text; text++)
		letters += ((unsigned char)*text & 0xc0) != 0x80;
	return letters;
}

/* Of the letters from ' ' on, in hundredths of an em: the widest of common fonts without serifs,
 * and two more (measured in a browser). */
static const unsigned char widths[] = {
    37, 42,  50, 86, 68, 108, 80, 30, 42, 42, 66, 86, 39, 40,  39, 48, 67, 67,  67,
    67, 67,  67, 67, 67, 67,  67, 42, 42, 86, 86, 86, 58, 103, 72, 72, 74, 79,  66,
    61, 80,  78, 45, 48, 72,  60, 89, 78, 82, 66, 82, 73, 71,  66, 76, 72, 102, 72,
    66, 72,  48, 48, 48, 86,  66, 66, 64, 66, 58, 66, 64, 40,  66, 66, 32, 36,  62,
    32, 100, 66, 64, 66, 66,  45, 56, 42, 66, 62, 86, 62, 62,  57, 66, 48, 66,  86};

/* The width of the character that begins with this byte of UTF-8. */
static double width_of(const char *at)
{
	unsigned char byte = (unsigned char)*at;
	if ((byte & 0xc0) == 0x80)
		return 0;
	if (byte < ' ' || byte == 0x7f)
		return 0.67;
	if (byte < 0x80)
		return widths[byte - ' '] / 100.0;
	/* Two letters in one (U+01C4 and its like), then signs as wide as two. */
	if (byte == 0xc7 || byte == 0xe2)
		return byte == 0xc7 ? 1.45 : 1.76;
	return byte < 0xe0 ? 1.12 : 1.3;
}

double xml_width(const char *text)
{
	double width = 0;
	for (; text && *text; text++)
		width += width_of(text);
	return width;
}

size_t xml_fit(const char *text, double width)
{
	size_t bytes = 0;
	for (; text && text[bytes]; bytes++) {
		width -= width_of(text + bytes);
		if (width < 0)
			break;
	}
	return bytes;
}

size_t xml_break(const char *text, double width, const char **next)
{
	size_t bytes = xml_fit(text, width);
	if (bytes == 0)
		for (bytes = 1; ((unsigned char)text[bytes] & 0xc0) == 0x80;)
			bytes++;
	for (size_t at = bytes; text[bytes] && at > 0; at--)
		if (text[at] == ' ') {
			bytes = at;
			break;
		}
	*next = text + bytes + strspn(text + bytes, " ");
	return bytes;
}

/* Whether XML takes all of the text. */
static bool is_sound(const char *text)
{
	return level_check_text(text, SIZE_MAX, "text", NULL);
}

void xml_put_bytes(FILE *out, const char *text, size_t bytes)
{
	bool sound = text && is_sound(text);
	for (size_t i = 0; text && text[i] && i < bytes; i++)
		if (text[i] == '&')
			fputs("&amp;", out);
		else if (text[i] == '<')
			fputs("&lt;", out);
		else if (text[i] == '>')
			fputs("&gt;", out);
		else if (text[i] == '"')
			fputs("&quot;", out);
		else
			fputc(sound || (text[i] >= ' ' && text[i] <= '~') ? text[i] : '?', out);
}

void xml_put(FILE *out, const char *text)
{
	xml_put_bytes(out, text, SIZE_MAX);
}

void xml_put_within(FILE *out, const char *text, double width)
{
	bool fits = xml_width(text) <= width;
	xml_put_bytes(out, text, fits ? SIZE_MAX : xml_fit(text, width - xml_width("...")));
	if (!fits)
		fputs("...", out);
}
