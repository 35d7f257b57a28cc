#include "paper/drawings.h"

#include <string.h>

void drawing_plan(const struct paper_plan *plan, double from, double to, int columns, int rows,
                  char *grid)
{
	(void)plan;
	(void)from;
	(void)to;
	memset(grid, 0, (size_t)rows * ((size_t)columns + 1));
}

void drawing_drops(FILE *out, const struct crossings *crossings, bool svg)
{
	(void)out;
	(void)crossings;
	(void)svg;
}
