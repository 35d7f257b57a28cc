/* A program of somebody else: it reduces a run with the installed library, and has functions of its
 * own that are named like ones inside of it.
 *
 * The run is a leveling exercise without its last setups: Universiti Sains Malaysia, School of
 * Civil Engineering (civil.eng.usm.my). Start 29.230; 1.717 / 1.432 / 1.716, 2.918 / 2.272 / 0.953:
 * 29.230 + 1.717 - 1.716 + 2.918 - 0.953 = 31.196. */
#include <stdio.h>
#include <string.h>

#include <rodbook/level/page.h>
#include <rodbook/level/warnings.h>

int upgrade(void);
int upgrade(void)
{
	return 1;
}

int txn_begin(void);
int txn_begin(void)
{
	return 2;
}

int sql_run(void);
int sql_run(void)
{
	return 4;
}

static struct level_sight sight(enum level_kind kind, const char *station, level_nm mm)
{
	struct level_sight out = {.kind = kind, .reading = mm * 1000000};
	snprintf(out.station, sizeof out.station, "%s", station);
	return out;
}

int main(void)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", 1717),   sight(LEVEL_IS, "P1", 1432), sight(LEVEL_FS, "TP1", 1716),
	    sight(LEVEL_BS, "TP1", 2918), sight(LEVEL_IS, "P2", 2272), sight(LEVEL_FS, "TP2", 953),
	};
	struct level_run run = {.kind = LEVEL_OPEN, .sight = sights, .count = 6};
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS};
	struct level_style style = {.unit = LEVEL_M, .decimals = 3};
	struct level_page page = {0};
	char text[LEVEL_LENGTH_BYTES];
	sights[0].has_known = true;
	sights[0].known = INT64_C(29230000000);
	if (!level_reduce(&run, 0, &terms, &page))
		return 1;
	level_format_length(text, page.row[5].elevation, &style, false);
	printf("%s stands at %s\n", sights[5].station, text);
	level_page_free(&page);
	return strcmp(text, "31.196") != 0 || upgrade() + txn_begin() + sql_run() != 7;
}
