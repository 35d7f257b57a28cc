#include "report/html/written.h"

#include <stdlib.h>

char *written(FILE *out, char **text, bool ok, struct fault *why)
{
	/* What memory was short for is not always told by fclose(): then there is no text. */
	if (!out || fclose(out) != 0 || !*text)
		ok = fault_memory(why);
	if (ok)
		return *text;
	free(*text);
	return NULL;
}
