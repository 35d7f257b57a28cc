/* From chains to the lines of a net: each run is broken where it stands on a known mark, or on one
 * that is stood on more than once. */
#include "work/net_chains.h"

#include <stdlib.h>
#include <string.h>

void net_tell(const struct work_net_wish *wish, double fraction)
{
	if (wish->progress)
		wish->progress(wish->context, fraction);
}

/* Whether a run that passes there is broken. Stations of one name are one mark, but for TP and a
 * number. */
static bool breaks(const struct work_net *net, const struct net_station *station)
{
	return station->known || ((station->uses > 1 || net->every) && !station->own);
}

static bool make_marks(struct work_net *net)
{
	net->mark = calloc(net->stations + 1, sizeof *net->mark);
	net->place = calloc(net->stations + 1, sizeof *net->place);
	if (!net->mark || !net->place)
		return false;
	for (size_t i = 0; i < net->stations; i++) {
		struct net_station *station = &net->station[i];
		if (!station->ends && !breaks(net, station))
			continue;
		station->mark = net->net.marks;
		net->place[net->net.marks] = (struct net_place){station->own, station->aside};
		net->mark[net->net.marks++] =
		    (struct level_net_mark){station->label, station->known, station->elevation};
	}
	return true;
}

/* Whether a run is broken at its stop number i. */
static bool breaks_at(const struct work_net *net, const struct net_chain *chain, size_t i)
{
	return i == 0 || i + 1 == chain->count ||
	       breaks(net, &net->station[chain->stop[i].station]);
}

static void add_piece(struct work_net *net, const struct net_chain *chain, const struct stop *from,
                      const struct stop *to)
{
	size_t i = net->net.lines++;
	struct net_piece *piece = &net->piece[i];
	struct level_net_line *line = &net->line[i];
	*piece =
	    (struct net_piece){.run = chain->run,
	                       .corrected = to->unknown == from->unknown,
	                       .length = to->length - from->length,
	                       .setups = to->setups - from->setups,
	                       .reading_variance = to->reading_variance - from->reading_variance,
	                       .offset_variance = to->offset_variance - from->offset_variance};
	net->offsets = net->offsets || piece->offset_variance > 0;
	*line = (struct level_net_line){.from = net->station[from->station].mark,
	                                .to = net->station[to->station].mark,
	                                .rise = to->rise - from->rise};
	if (piece->corrected)
		line->rise += level_from_meters(to->raised - from->raised);
	else if (!*net->no_distance)
		strcpy(net->no_distance, chain->run);
}

static bool make_lines(struct work_net *net)
{
	size_t most = 0;
	for (size_t i = 0; i < net->runs; i++)
		most += net->chain[i].count;
	net->line = calloc(most + 1, sizeof *net->line);
	net->piece = calloc(most + 1, sizeof *net->piece);
	if (!net->line || !net->piece)
		return false;
	for (size_t c = 0; c < net->runs; c++) {
		const struct net_chain *chain = &net->chain[c];
		for (size_t from = 0, i = 1; i < chain->count; i++)
			if (breaks_at(net, chain, i)) {
				add_piece(net, chain, &chain->stop[from], &chain->stop[i]);
				from = i;
			}
	}
	return true;
}

/* A line between known marks is a section of its run. The net holds both marks, so its residuals
 * alone would put the miss down to scatter. */
static void judge_known(struct work_net *net)
{
	const struct level_rule rule = {&net->settings.tolerance, net->settings.setup_figure};
	for (size_t i = 0; i < net->net.lines; i++) {
		struct net_piece *piece = &net->piece[i];
		const struct level_net_mark *from = &net->mark[net->line[i].from],
		                            *to = &net->mark[net->line[i].to];
		bool provisional;
		if (!from->fixed || !to->fixed)
			continue;
		if (piece->setups == 0)
			piece->allowable = level_offsets_allowable(piece->offset_variance);
		else if (!level_section_allowable(&rule, piece->corrected, piece->length,
		                                  piece->setups, &provisional, &piece->allowable))
			continue;
		piece->miss = net->line[i].rise - (to->elevation - from->elevation);
		piece->misses = llabs(piece->miss) > piece->allowable;
		net->misses += piece->misses;
	}
}

/* An offset has a variance and no length: its line is as uncertain as one that is longer by that
 * variance over the one of a km, or of a setup. That is the stated one; else what the readings of
 * all lines make it, by their methods. */
static bool add_offsets(struct work_net *net, double sigma, struct fault *why)
{
	double readings = 0, measures = 0, unit = sigma * sigma;
	for (size_t i = 0; i < net->net.lines; i++) {
		readings += net->piece[i].reading_variance;
		measures += net->line[i].measure;
	}
	if (unit <= 0 && measures > 0)
		unit = readings / measures;
	for (size_t i = 0; i < net->net.lines; i++) {
		struct level_net_line *line = &net->line[i];
		if (net->piece[i].offset_variance > 0 && unit > 0)
			line->measure += net->piece[i].offset_variance / unit;
		if (line->measure <= 0)
			return fault_say(why, FAULT_INPUT,
			                 "between %.160s and %.160s there is nothing but an offset "
			                 "without an uncertainty: state --sd, or give it its own",
			                 net->mark[line->from].name, net->mark[line->to].name);
	}
	return true;
}

static bool weigh(struct work_net *net, const enum level_by *by, double sigma, struct fault *why)
{
	if (by && *by == LEVEL_BY_DISTANCE && *net->no_distance)
		return fault_say(
		    why, FAULT_INPUT,
		    "a distance of run %.160s is not known: add it, or weigh by setups",
		    net->no_distance);
	net->by = by ? *by : *net->no_distance ? LEVEL_BY_SETUPS : LEVEL_BY_DISTANCE;
	net->fallback = !by && *net->no_distance;
	for (size_t i = 0; i < net->net.lines; i++)
		net->line[i].measure = net->by == LEVEL_BY_SETUPS
		                           ? net->piece[i].setups
		                           : level_to_meters(net->piece[i].length) / 1000;
	return !net->offsets || add_offsets(net, sigma, why);
}

/* The solver's part of the whole. */
static void tell_rest(void *context, double fraction)
{
	net_tell(context, 0.6 + 0.4 * fraction);
}

bool work_net_gather(struct book *book, const struct work_net_wish *wish, struct work_net *out,
                     struct fault *why)
{
	*out = (struct work_net){.every = wish->every};
	if (!book_settings(book, &out->settings, why) || !net_take_runs(book, wish, out, why))
		return false;
	return (make_marks(out) && make_lines(out)) || fault_memory(why);
}

bool work_net_adjust(struct work_net *net, const struct work_net_wish *wish, struct fault *why)
{
	struct work_net_wish rest = *wish;
	net->net.mark = net->mark;
	net->net.line = net->line;
	net->net.sigma = wish->sigma;
	return weigh(net, wish->by, wish->sigma, why) &&
	       level_net_adjust(&net->net, tell_rest, &rest, &net->result, why);
}

bool work_net_load(struct book *book, const struct work_net_wish *wish, struct work_net *out,
                   struct fault *why)
{
	if (!work_net_gather(book, wish, out, why))
		return false;
	judge_known(out);
	return work_net_adjust(out, wish, why);
}

const char *work_net_run(const struct work_net *net, size_t run)
{
	return net->chain[run].run;
}

void work_net_free(struct work_net *net)
{
	for (size_t i = 0; net->chain && i < net->runs; i++)
		free(net->chain[i].stop);
	free(net->chain);
	free(net->station);
	free(net->bucket);
	free(net->left);
	free(net->again);
	free(net->piece);
	free(net->place);
	free(net->mark);
	free(net->line);
	level_net_free(&net->result);
	*net = (struct work_net){0};
}
