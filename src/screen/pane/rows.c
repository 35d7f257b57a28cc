#include "screen/pane/rows.h"

#include <stdlib.h>

bool rows_open(struct rows *rows, size_t count)
{
	rows->line = calloc(count + 1, sizeof *rows->line);
	rows->name = calloc(count + 1, sizeof *rows->name);
	rows->text = calloc(count + 1, sizeof *rows->text);
	for (size_t i = 0; rows->line && rows->name && rows->text && i < count; i++)
		rows->line[i] = (struct list_line){rows->name[i], rows->text[i], NULL};
	return rows->line && rows->name && rows->text;
}

void rows_close(struct rows *rows)
{
	free(rows->line);
	free(rows->name);
	free(rows->text);
	*rows = (struct rows){0};
}
