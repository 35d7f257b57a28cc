/* Changes between epochs for people: what each epoch is, a table, and what follows in sentences. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/adjust/adjust.h"
#include "report/lines.h"
#include "text/columns.h"
#include "text/wrap.h"

#define COLUMNS 78

/* One later epoch beside the first. */
struct pair {
	const struct work_epochs *epochs;
	const struct level_changes *changes;
	size_t later;
	struct level_style style;
};

static struct level_style style_of(const struct work_epochs *e, const struct level_changes *changes)
{
	struct level_style style = lines_finer(&e->net[0].settings.style);
	for (size_t i = 0; i < changes->count; i++)
		if (changes->change[i].has_limit && adjust_shows(changes->change[i].limit))
			style = lines_telling(changes->change[i].change,
			                      level_from_meters(changes->change[i].limit), &style);
	return style;
}

static const char *mark_name(const struct pair *p, const struct level_twice *mark)
{
	return p->epochs->net[0].mark[mark->first].name;
}

/* Writes the next of several names: "A, B and C", or "A, B and 5 more". */
static void put_name(FILE *out, const char *name, size_t i, size_t count)
{
	size_t shown = count > ADJUST_NAMED_MOST ? ADJUST_NAMED_MOST : count;
	if (i > shown)
		return;
	if (i == shown)
		fprintf(out, " and %zu more", count - shown);
	else
		fprintf(out, "%s%s",
		        i == 0                             ? ""
		        : i + 1 == shown && shown == count ? " and "
		                                           : ", ",
		        name);
}

static void put_meters(FILE *out, double meters, const struct level_style *style)
{
	char text[LEVEL_LENGTH_BYTES];
	fputs(adjust_shows(meters)
	          ? level_format_length(text, level_from_meters(meters), style, false)
	          : "beyond all lengths",
	      out);
}

static void put_epoch(FILE *out, const struct work_epochs *e, size_t epoch)
{
	const struct work_net *net = &e->net[epoch];
	fprintf(out, "%s epoch: ", work_epoch_name(epoch));
	if (*net->first_day)
		fputs(net->first_day, out);
	if (strcmp(net->first_day, net->last_day) != 0)
		fprintf(out, " to %s", net->last_day);
	fprintf(out, "%s%zu %s: ", *net->first_day ? ", " : "", net->runs,
	        net->runs == 1 ? "run" : "runs");
	for (size_t i = 0; i < net->runs; i++)
		put_name(out, work_net_run(net, i), i, net->runs);
	fputc('\n', out);
}

/* What holds for all epochs. */
static void put_head(FILE *out, const struct work_epochs *e)
{
	const struct work_net *first = &e->net[0];
	const char *no_distance = "";
	size_t corrected = 0, lines = 0;
	fprintf(out, "changes of marks between %zu epochs, in %s\n", e->epochs,
	        level_unit_words(first->settings.style.unit));
	for (size_t i = 0; i < e->epochs; i++) {
		put_epoch(out, e, i);
		lines += e->net[i].net.lines;
		for (size_t l = 0; l < e->net[i].net.lines; l++)
			corrected += e->net[i].piece[l].corrected;
		if (first->fallback && !*no_distance)
			no_distance = e->net[i].no_distance;
	}
	adjust_weights(out, first->by, no_distance);
	adjust_corrections(out, corrected, lines);
	for (size_t i = 0; i < e->epochs; i++)
		adjust_names(out, "runs closed and later opened again (the page of each says why):",
		             e->net[i].again, e->net[i].reopened);
}

/* The marks that hold all epochs alike. */
static void put_held(FILE *out, const struct work_epochs *e)
{
	const struct level_changes *any = &e->compared[1].changes;
	const struct pair p = {e, any, 1, e->net[0].settings.style};
	const char *both = e->epochs == 2 ? "both" : "all";
	bool one = any->held_count == 1;
	fprintf(out, "Held in %s epochs%s at its known elevation: ", both, one ? "" : ", each");
	for (size_t i = 0; i < any->held_count; i++) {
		char text[LEVEL_LENGTH_BYTES], with[LEVEL_LENGTH_BYTES + LEVEL_STATION_BYTES + 8];
		const struct level_twice *mark = &any->held[i].mark;
		snprintf(with, sizeof with, "%s %s", mark_name(&p, mark),
		         level_format_length(text, e->net[0].mark[mark->first].elevation, &p.style,
		                             false));
		put_name(out, with, i, any->held_count);
	}
	fprintf(out, ". %s u is left out, since it is the same in %s.\n", one ? "Its" : "Their",
	        both);
	if (e->aside_count == 0)
		return;
	fputs("Known and not held, since a run set it aside: ", out);
	for (size_t i = 0; i < e->aside_count; i++)
		put_name(out, e->net[0].mark[e->aside[i]].name, i, e->aside_count);
	fputs(".\n", out);
}

static bool table(FILE *out, const struct pair *p)
{
	const char *const head[] = {"mark",
	                            "first",
	                            work_epoch_name(p->later),
	                            "change",
	                            p->changes->factor > 0 ? "sd" : "",
	                            p->changes->factor > 0 ? "95 % limit" : "",
	                            ""};
	struct columns columns = {.columns = 7};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < p->changes->count; i++) {
		const struct level_change *c = &p->changes->change[i];
		char text[5][LEVEL_LENGTH_BYTES] = {""};
		const char *cells[] = {mark_name(p, &c->mark),
		                       text[0],
		                       text[1],
		                       text[2],
		                       text[3],
		                       text[4],
		                       c->significant == LEVEL_UNKNOWN ? "no limit"
		                       : c->significant == LEVEL_YES   ? "significant"
		                                                       : "not significant"};
		level_format_length(text[0], c->before, &p->style, false);
		level_format_length(text[1], c->after, &p->style, false);
		level_format_length(text[2], c->change, &p->style, true);
		if (c->has_sd && adjust_shows(c->limit)) {
			level_format_length(text[3], level_from_meters(c->sd), &p->style, false);
			level_format_length(text[4], level_from_meters(c->limit), &p->style, false);
		}
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lrrrrrl");
	columns_free(&columns);
	return ok;
}

/* By what the limits go. */
static void put_sd(FILE *out, const struct pair *p)
{
	const struct work_net *net = &p->epochs->net[0];
	struct level_style finer = lines_finer(&net->settings.style);
	char text[ADJUST_WORDS_BYTES];
	int first = net->result.freedom, later = p->epochs->net[p->later].result.freedom;
	if (net->net.sigma > 0)
		fprintf(out, "The standard deviation is stated, %s: the limit is %.2f sd.\n",
		        adjust_sd_stated(text, net->net.sigma, net->by, &finer),
		        p->changes->factor);
	else if (p->changes->has_variance)
		fprintf(out,
		        "The standard deviation of both epochs together is %s, with %d + %d "
		        "degrees of freedom: the limit is %.2f sd.\n",
		        adjust_sd(text, sqrt(p->changes->variance), net->by, &finer), first, later,
		        p->changes->factor);
	else
		fputs("Neither epoch has a degree of freedom, and no standard deviation is stated: "
		      "there is no limit, and whether a mark has changed is not known.\n",
		      out);
}

/* The held marks that no other one stands against. */
static void put_untied(FILE *out, const struct pair *p)
{
	size_t untied = 0, named = 0;
	for (size_t i = 0; i < p->changes->held_count; i++)
		untied += p->changes->held[i].untied;
	if (p->changes->held_count == 1) {
		fputs("One mark alone is held: nothing tests whether it has moved.\n", out);
		return;
	}
	for (size_t i = 0; i < p->changes->held_count; i++)
		if (p->changes->held[i].untied)
			put_name(out, mark_name(p, &p->changes->held[i].mark), named++, untied);
	if (untied)
		fprintf(out,
		        " %s not joined to another held mark in both epochs: nothing tests whether "
		        "%s moved.\n",
		        untied == 1 ? "is" : "are", untied == 1 ? "it has" : "they have");
}

/* Those that have moved as seen from the mark that holds their part. */
static void put_against(FILE *out, const struct pair *p)
{
	size_t moved = 0, named = 0;
	for (size_t i = 0; i < p->changes->held_count; i++)
		moved += p->changes->held[i].moved == LEVEL_YES;
	for (size_t i = 0; i < p->changes->held_count; i++) {
		const struct level_held *held = &p->changes->held[i];
		char text[LEVEL_LENGTH_BYTES];
		struct level_style style;
		if (held->moved != LEVEL_YES || named++ >= ADJUST_NAMED_MOST)
			continue;
		style = adjust_shows(held->limit)
		            ? lines_telling(held->change, level_from_meters(held->limit), &p->style)
		            : p->style;
		fprintf(out, "Seen from %s, %s has changed by %s, limit ",
		        mark_name(p, &p->changes->held[held->from].mark), mark_name(p, &held->mark),
		        level_format_length(text, held->change, &style, true));
		put_meters(out, held->limit, &style);
		fputs(".\n", out);
	}
	if (moved > ADJUST_NAMED_MOST)
		fprintf(out, "So have %zu more.\n", moved - ADJUST_NAMED_MOST);
}

/* Which of the held marks has moved. */
static void put_explaining(FILE *out, const struct pair *p)
{
	size_t named = 0, last = 0;
	if (p->changes->explaining == 0) {
		fputs("No one of them alone explains it: more than one has moved, or a run "
		      "misses.\n",
		      out);
		return;
	}
	for (size_t i = 0; i < p->changes->held_count; i++)
		if (p->changes->held[i].explains) {
			last = i;
			if (p->changes->explaining > 1)
				put_name(out, mark_name(p, &p->changes->held[i].mark), named++,
				         p->changes->explaining);
		}
	if (p->changes->explaining == 1)
		fprintf(out,
		        "Without %s the others hold: it has moved against them, or a run that "
		        "meets it misses. For changes without it, hold the others alone.\n",
		        mark_name(p, &p->changes->held[last].mark));
	else if (p->changes->tested == 1)
		fputs(": which of the two has moved cannot be told. Three held marks could "
		      "tell.\n",
		      out);
	else
		fputs(": any one of these alone explains it, and which has moved cannot be told.\n",
		      out);
}

/* That the known elevations are not those that were leveled. Where a mark has moved they cannot be,
 * and that is said already. */
static void put_misfit(FILE *out, const struct pair *p)
{
	if (p->changes->agrees != LEVEL_YES || p->changes->fits != LEVEL_NO)
		return;
	fprintf(out,
	        "The known elevations of the held marks do not fit what was leveled, at 95 %%. %s"
	        "Where the epochs have other lines, part of the misfit is in the changes. Hold one "
	        "mark alone to be free of it.\n",
	        p->epochs->net[0].net.sigma > 0 ? "" : "The limits are wider for it. ");
}

static void put_trial(FILE *out, const struct pair *p)
{
	const struct level_changes *c = p->changes;
	put_untied(out, p);
	if (c->tested == 0)
		return;
	if (c->agrees == LEVEL_UNKNOWN) {
		fputs("Free, held on one mark, neither epoch has a degree of freedom, and no "
		      "standard deviation is stated: whether the held marks hold among "
		      "themselves is not known.\n",
		      out);
		return;
	}
	if (c->agrees == LEVEL_YES) {
		fprintf(out,
		        "The held marks hold among themselves: free, held on one of them, no other "
		        "has changed beyond its limit, %.2f sd.\n",
		        c->free_factor);
		return;
	}
	fputs("The held marks DO NOT HOLD among themselves.\n", out);
	put_against(out, p);
	put_explaining(out, p);
}

/* Which marks have changed beyond their limits. */
static void put_changed(FILE *out, const struct pair *p)
{
	size_t changed = 0, named = 0;
	for (size_t i = 0; i < p->changes->count; i++)
		changed += p->changes->change[i].significant == LEVEL_YES;
	if (p->changes->factor > 0 && p->changes->count && changed == 0)
		fputs("No mark has changed significantly.\n", out);
	if (changed == 0)
		return;
	fputs("Changed significantly: ", out);
	for (size_t i = 0; i < p->changes->count; i++) {
		const struct level_change *c = &p->changes->change[i];
		char text[LEVEL_LENGTH_BYTES], with[LEVEL_LENGTH_BYTES + LEVEL_STATION_BYTES + 8];
		if (c->significant != LEVEL_YES)
			continue;
		snprintf(with, sizeof with, "%s by %s", mark_name(p, &c->mark),
		         level_format_length(text, c->change, &p->style, true));
		put_name(out, with, named++, changed);
	}
	fputs(".\n", out);
}

static void put_alone(FILE *out, const struct pair *p)
{
	const struct work_later_epoch *compared = &p->epochs->compared[p->later];
	for (int e = 0; e < 2; e++) {
		const struct work_net *net = &p->epochs->net[e ? p->later : 0];
		if (compared->alone_count[e] == 0)
			continue;
		fprintf(out, "Not in the %s epoch: ", work_epoch_name(e ? 0 : p->later));
		for (size_t i = 0; i < compared->alone_count[e]; i++)
			put_name(out, net->mark[compared->alone[e][i]].name, i,
			         compared->alone_count[e]);
		fputs(".\n", out);
	}
}

/* The sentences below a table, broken to lines. */
static bool sentences(FILE *out, const struct pair *p)
{
	char *text = NULL;
	size_t size = 0;
	FILE *words = open_memstream(&text, &size);
	bool ok = words != NULL;
	if (ok) {
		if (p->later == 1)
			put_held(words, p->epochs);
		put_trial(words, p);
		put_misfit(words, p);
		put_sd(words, p);
		put_changed(words, p);
		put_alone(words, p);
		ok = !ferror(words);
		ok = fclose(words) == 0 && ok && text;
	}
	if (ok)
		wrap_text(out, text, COLUMNS);
	free(text);
	return ok;
}

static bool put_pair(FILE *out, const struct work_epochs *e, size_t later)
{
	const struct pair p = {e, &e->compared[later].changes, later,
	                       style_of(e, &e->compared[later].changes)};
	fputc('\n', out);
	if (e->epochs > 2)
		fprintf(out, "from the first to the %s epoch\n\n", work_epoch_name(later));
	if (p.changes->count == 0)
		fputs("no mark is in both epochs but those that are held\n", out);
	else if (!table(out, &p))
		return false;
	fputc('\n', out);
	return sentences(out, &p);
}

bool changes_text(FILE *out, const struct work_epochs *epochs, struct fault *why)
{
	put_head(out, epochs);
	for (size_t i = 1; i < epochs->epochs; i++)
		if (!put_pair(out, epochs, i))
			return fault_memory(why);
	return true;
}
