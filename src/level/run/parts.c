/* What each sight brings into the sums. */
#include "rodbook/level/parts.h"

static struct level_part part_of(const struct level_sight *sight, const struct level_terms *terms,
                                 bool crossing)
{
	int with = sight->instrument;
	double tilt = level_test_counts(terms, with) ? terms->instrument[with].tilt : 0;
	struct level_reach reach = level_reach_of(sight);
	reach.declared = reach.declared && crossing;
	return (struct level_part){
	    .reading = level_to_meters(sight->reading),
	    .distance = reach.distance,
	    .curvature = level_curvature(reach.distance, terms->radius),
	    .refraction = level_refraction(reach.distance, terms->k),
	    .tilt = crossing ? level_light_tilt(terms, with) : tilt,
	    .rod_error = sight->rod_error,
	    .mean = level_reading_u(terms, &reach),
	};
}

static void count_in(struct level_part *part, int setup, int sign)
{
	part->setup = setup;
	part->sign = sign;
	part->weight = 1;
}

/* Every sight of one setup, all standings of it, by their number. */
static void share_out(struct level_part *part, size_t count, int setup, int standings)
{
	for (size_t i = 0; i < count; i++)
		if (part[i].setup == setup)
			part[i].weight = 1.0 / standings;
}

void level_parts(const struct level_run *run, const struct level_page *page,
                 const struct level_terms *terms, struct level_part *part)
{
	size_t bs = run->count, first = run->count;
	int setup = 0;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_row *row = &page->row[i];
		part[i] = part_of(&run->sight[i], terms, run->kind == LEVEL_CROSSING);
		if (!level_counted(&run->sight[i]) || !row->setup)
			continue;
		if (run->sight[i].kind == LEVEL_BS)
			bs = i;
		if (run->sight[i].kind != LEVEL_FS || bs == run->count)
			continue;
		setup += row->line.standings == 1;
		if (row->line.standings == 1)
			first = bs;
		count_in(&part[bs], setup, 1);
		count_in(&part[i], setup, -1);
		if (row->line.standings > 1)
			share_out(part + first, i + 1 - first, setup, row->line.standings);
	}
}
