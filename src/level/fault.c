#include "rodbook/level/fault.h"

#include <stdarg.h>
#include <stdio.h>

#include "rodbook/level/sight.h"

bool fault_say(struct fault *why, enum fault_kind kind, const char *format, ...)
{
	if (why) {
		/* A message may quote a file, or itself: it is written aside. */
		char raw[sizeof why->text];
		va_list list;
		why->kind = kind;
		why->field = NULL;
		va_start(list, format);
		vsnprintf(raw, sizeof raw, format, list);
		va_end(list);
		level_show_text(why->text, sizeof why->text, raw, false);
	}
	return false;
}

bool fault_memory(struct fault *why)
{
	return fault_say(why, FAULT_FILE, "out of memory");
}

bool fault_at(struct fault *why, const char *field)
{
	if (why)
		why->field = field;
	return false;
}
