#include "rodbook/fault.h"

#include <stdarg.h>
#include <stdio.h>

bool fault_say(struct fault *why, enum fault_kind kind, const char *format, ...)
{
	if (why) {
		va_list list;
		why->kind = kind;
		va_start(list, format);
		vsnprintf(why->text, sizeof why->text, format, list);
		va_end(list);
	}
	return false;
}
