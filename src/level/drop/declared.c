/* Declared allowances as they are typed. */
#include <string.h>

#include "rodbook/level/drop/allowance.h"

static bool refuse(const char *text, struct fault *why)
{
	return fault_say(why, FAULT_INPUT,
	                 "\"%.60s\" declares no allowance: write 2 mm, or named ones such as "
	                 "plumbing=1 mm; compensator=0.01 mm/m (at most %d)",
	                 text, LEVEL_DECLARED_MOST);
}

/* Names become names of lines in files: letters, digits and _ only. */
static bool take_name(const char *text, size_t size, char name[24])
{
	static const char allowed[] =
	    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_";
	while (size && *text == ' ') {
		text++;
		size--;
	}
	while (size && text[size - 1] == ' ')
		size--;
	if (size == 0 || size > 23 || strspn(text, allowed) < size)
		return false;
	memcpy(name, text, size);
	name[size] = '\0';
	/* Books of earlier versions may have declared a name that became a line later. */
	for (int i = 0; i <= LEVEL_LINE_KNOWN; i++)
		if (strcmp(name, level_allowance_name((enum level_allowance_line)i)) == 0)
			return false;
	return strcmp(name, "bound") != 0 && strcmp(name, "u95") != 0;
}

static bool take_one(const char *text, size_t size, enum level_unit unit, bool alone,
                     struct level_declared *out)
{
	char length[64];
	level_nm value;
	const char *number;
	const char *equals = memchr(text, '=', size);
	*out = (struct level_declared){0};
	if (equals) {
		if (!take_name(text, (size_t)(equals - text), out->name))
			return false;
		size -= (size_t)(equals + 1 - text);
		text = equals + 1;
	}
	if (size >= sizeof length)
		return false;
	memcpy(length, text, size);
	length[size] = '\0';
	number = length + strspn(length, " ");
	/* Slopes have a unit of their own, which no length has. */
	if (equals && level_parse_slope(number, &out->slope, NULL))
		return true;
	/* In a list a bare number would change its meaning with the book's unit. */
	if ((!alone || equals) && level_is_bare(length) && strcmp(length, "0") != 0)
		return false;
	if (!level_parse_length(length, unit, &value, NULL) || value < 0)
		return false;
	out->bound = level_to_meters(value);
	return true;
}

bool level_parse_declared(const char *text, enum level_unit bare,
                          struct level_declared out[LEVEL_DECLARED_MOST], struct fault *why)
{
	const char *at = text;
	memset(out, 0, LEVEL_DECLARED_MOST * sizeof *out);
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++) {
		size_t size = strcspn(at, ";");
		if (!take_one(at, size, bare, i == 0 && at[size] == '\0', &out[i]))
			return refuse(text, why);
		for (int j = 0; j < i; j++)
			if (*out[i].name && strcmp(out[i].name, out[j].name) == 0)
				return fault_say(why, FAULT_INPUT, "%s is declared twice",
				                 out[i].name);
		if (at[size] == '\0')
			return true;
		at += size + 1;
	}
	return refuse(text, why);
}
