#include "text/cells.h"

#include <stdbool.h>

#include "text/wide.h"

static bool is_wide(uint32_t value)
{
	size_t low = 0, high = sizeof wide / sizeof *wide;
	while (low < high) {
		size_t middle = (low + high) / 2;
		if (value > wide[middle][1])
			low = middle + 1;
		else if (value < wide[middle][0])
			high = middle;
		else
			return true;
	}
	return false;
}

size_t cells_first(const char *text, int *cells)
{
	const unsigned char *at = (const unsigned char *)text;
	uint32_t value = *at < 0xe0 ? *at & 0x1fu : *at < 0xf0 ? *at & 0xfu : *at & 7u;
	size_t size = *at ? 1 : 0;
	*cells = size ? 1 : 0;
	if (*at < 0x80)
		return size;
	for (; (at[size] & 0xc0) == 0x80; size++)
		value = value << 6 | (at[size] & 0x3fu);
	*cells = is_wide(value) ? 2 : 1;
	return size;
}

int cells_of(const char *text)
{
	int sum = 0, cells;
	while (*text) {
		text += cells_first(text, &cells);
		sum += cells;
	}
	return sum;
}

void cells_put(FILE *out, const char *text, int width)
{
	int rest = width - cells_of(text);
	fprintf(out, "%s%*s", text, rest > 0 ? rest : 0, "");
}
