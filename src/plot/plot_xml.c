/* Text in an XML file. */
#include "plot/plot_xml.h"

#include <stdint.h>

#include "rodbook/level/sight.h"

size_t xml_bytes(const char *text, size_t most, size_t *letters)
{
	size_t bytes = 0;
	*letters = 0;
	for (; text && text[bytes]; bytes++)
		if (((unsigned char)text[bytes] & 0xc0) != 0x80 && (*letters)++ == most)
			break;
	return bytes;
}

size_t xml_letters(const char *text)
{
	size_t letters;
	xml_bytes(text, SIZE_MAX, &letters);
	return letters;
}

/* Whether XML takes all of the text. */
static bool is_sound(const char *text)
{
	return level_check_text(text, SIZE_MAX, "text", NULL);
}

void xml_put_bytes(FILE *out, const char *text, size_t bytes)
{
	bool sound = text && is_sound(text);
	for (size_t i = 0; text && i < bytes; i++)
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

void xml_put(FILE *out, const char *text, size_t room)
{
	size_t letters, bytes = xml_bytes(text, room, &letters);
	if (letters > room)
		bytes = xml_bytes(text, room - 3, &letters);
	xml_put_bytes(out, text, bytes);
	if (text && text[bytes])
		fputs("...", out);
}
