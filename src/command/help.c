#include "command/help.h"

#include <stdio.h>
#include <string.h>

/* data/commands.txt and data/words.txt */
extern const char rodbook_commands[];
extern const char rodbook_words[];

/* The line of a command, behind its name and bar; NULL where there is none. */
static const char *line_of(const char *name)
{
	size_t size = strlen(name);
	for (const char *at = rodbook_commands; *at; at = strchr(at, '\n') + 1)
		if (strncmp(at, name, size) == 0 && at[size] == '|')
			return at + size + 1;
	return NULL;
}

void help_words(void)
{
	fputs(rodbook_words, stdout);
}

void help_does(const char *name)
{
	const char *does = line_of(name);
	if (does)
		printf("%.*s\n\n", (int)strcspn(does, "|"), does);
}

void help_example(const char *name)
{
	const char *does = line_of(name);
	const char *example = does ? strchr(does, '|') + 1 : "";
	if (does)
		printf("\nfor example\n  %.*s\n", (int)strcspn(example, "\n"), example);
}
