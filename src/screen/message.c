/* The message line. */
#include <stdarg.h>
#include <stdio.h>

#include "screen/editor.h"

static void say(struct editor *ed, enum look look, const char *format, va_list list)
{
	vsnprintf(ed->message, sizeof ed->message, format, list);
	ed->message_look = look;
}

void editor_say(struct editor *ed, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	say(ed, LOOK_STRONG, format, list);
	va_end(list);
}

void editor_refuse(struct editor *ed, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	say(ed, LOOK_BAD, format, list);
	va_end(list);
	if (ed->settings.bell)
		beep();
}
