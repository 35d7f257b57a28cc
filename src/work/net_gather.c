/* The runs of a net, each as the chain of places that it stands on. */
#include "work/net_chains.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/offset.h"
#include "rodbook/level/time.h"

static size_t hash(const char *text)
{
	/* FNV-1a (Fowler, Noll and Vo). */
	uint64_t h = UINT64_C(14695981039346656037);
	for (; *text; text++)
		h = (h ^ (unsigned char)*text) * UINT64_C(1099511628211);
	return (size_t)h;
}

static bool grow(struct work_net *net)
{
	size_t room = net->station_room ? 2 * net->station_room : 256;
	struct net_station *more = realloc(net->station, room * sizeof *more);
	size_t *bucket = more ? malloc(2 * room * sizeof *bucket) : NULL;
	if (more)
		net->station = more;
	if (!bucket)
		return false;
	free(net->bucket);
	net->bucket = bucket;
	net->buckets = 2 * room;
	net->station_room = room;
	for (size_t i = 0; i < net->buckets; i++)
		bucket[i] = SIZE_MAX;
	for (size_t i = 0; i < net->stations; i++) {
		size_t at = hash(net->station[i].label) % net->buckets;
		net->station[i].next = bucket[at];
		bucket[at] = i;
	}
	return true;
}

/* The station that a sight stands on; SIZE_MAX where memory is short. */
static size_t station_of(struct work_net *net, const struct level_sight *sight, const char *run)
{
	struct net_station fresh = {.known = sight->has_known && !sight->aside,
	                            .elevation = sight->known,
	                            .own = !sight->has_known && level_is_passing(sight->station),
	                            .aside = sight->aside,
	                            .mark = SIZE_MAX};
	size_t at;
	snprintf(fresh.label, sizeof fresh.label, "%s%s%s", sight->station, fresh.own ? " of " : "",
	         fresh.own ? run : "");
	if (net->stations == net->station_room && !grow(net))
		return SIZE_MAX;
	at = hash(fresh.label) % net->buckets;
	for (size_t i = net->bucket[at]; i != SIZE_MAX; i = net->station[i].next)
		if (net->station[i].own == fresh.own &&
		    strcmp(net->station[i].label, fresh.label) == 0) {
			net->station[i].aside |= fresh.aside;
			return i;
		}
	fresh.next = net->bucket[at];
	net->station[net->stations] = fresh;
	net->bucket[at] = net->stations;
	return net->stations++;
}

static bool add_stop(struct work_net *net, struct net_chain *chain, const struct level_sight *sight,
                     const struct level_row *row, const struct level_terms *terms)
{
	struct stop *stop = &chain->stop[chain->count++];
	*stop = (struct stop){.station = station_of(net, sight, chain->run)};
	if (stop->station == SIZE_MAX)
		return false;
	net->station[stop->station].uses++;
	if (!level_carries_on(sight->kind))
		return true;
	stop->rise = row->sums.bs - row->sums.fs + row->sums.offsets;
	stop->offset_variance = row->sums.offset_variance;
	stop->reading_variance = row->sums.drop.reading_variance - row->sums.offset_variance;
	stop->length = row->sums.bs_length + row->sums.fs_length;
	stop->raised = row->sums.drop.drop - level_known_error(&row->sums.drop, terms);
	stop->unknown = row->sums.unknown_distances;
	stop->setups = row->sums.setups;
	return true;
}

/* A run is complete where its line is whole and no setup stands open. */
static bool is_complete(const struct level_page *page)
{
	const struct level_line *line = level_page_line(page);
	return line->end_row != SIZE_MAX && line->broken_row == SIZE_MAX &&
	       line->bs_row == SIZE_MAX;
}

/* Of an ISO time its day, which is what it begins with. */
static void take_day(struct work_net *net, const char *time)
{
	size_t size = sizeof net->first_day - 1;
	if (!level_is_time(time))
		return;
	if (!*net->first_day || level_day_number(time) < level_day_number(net->first_day))
		memcpy(net->first_day, time, size);
	if (!*net->last_day || level_day_number(time) > level_day_number(net->last_day))
		memcpy(net->last_day, time, size);
}

static bool take_chain(struct work_net *net, const struct book_run *run,
                       const struct level_page *page, const struct level_terms *terms,
                       struct fault *why)
{
	const struct level_line *line = level_page_line(page);
	struct net_chain *chain = &net->chain[net->runs++];
	bool ok;
	strcpy(chain->run, run->info.name);
	chain->stop = calloc((size_t)level_page_sums(page)->setups +
	                         (size_t)level_page_sums(page)->offset_count + 1,
	                     sizeof *chain->stop);
	ok = chain->stop && add_stop(net, chain, &run->run.sight[line->start_row],
	                             &page->row[line->start_row], terms);
	for (size_t i = line->start_row + 1; ok && i <= line->end_row; i++)
		if (level_carries(&run->run, page, i))
			ok = add_stop(net, chain, &run->run.sight[i], &page->row[i], terms);
	if (!ok)
		return fault_memory(why);
	for (size_t i = line->start_row; i <= line->end_row; i++)
		if (level_counted(&run->run.sight[i]))
			take_day(net, run->note[i].time);
	net->station[chain->stop[0].station].ends = true;
	net->station[chain->stop[chain->count - 1].station].ends = true;
	return true;
}

static bool take_run(struct book *book, const struct book_run_info *info, bool named,
                     struct work_net *net, struct fault *why)
{
	struct book_run run;
	struct book_terms terms;
	struct level_page page = {0};
	struct fault words = {0};
	bool ok;
	if (!book_load(book, info->id, &run, &words)) {
		if (named || words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		strcpy(net->left[net->left_out++], info->name);
		return true;
	}
	ok = book_run_terms(book, &run, &terms, why);
	if (ok && !level_reduce(&run.run, 0, &terms.terms, &page))
		ok = fault_memory(why);
	if (ok && is_complete(&page))
		ok = take_chain(net, &run, &page, &terms.terms, why);
	else if (ok && named)
		ok = fault_say(why, FAULT_INPUT,
		               "run %.160s is not complete: its line is broken, or a setup lacks "
		               "its FS",
		               info->name);
	else if (ok)
		strcpy(net->left[net->left_out++], info->name);
	if (ok && is_complete(&page) && info->reopened)
		strcpy(net->again[net->reopened++], info->name);
	level_page_free(&page);
	book_run_free(&run);
	return ok;
}

/* The runs that are asked for; *named: by their names. */
static bool choose(struct book *book, const struct work_net_wish *wish, struct book_run_info **runs,
                   size_t *count, struct fault *why)
{
	size_t kept = 0;
	if (wish->count == 0) {
		if (!book_runs(book, runs, count, why))
			return false;
		for (size_t i = 0; i < *count; i++)
			if ((*runs)[i].kind != LEVEL_CROSSING)
				(*runs)[kept++] = (*runs)[i];
		*count = kept;
		return true;
	}
	*runs = calloc(wish->count, sizeof **runs);
	*count = wish->count;
	if (!*runs)
		return fault_memory(why);
	for (size_t i = 0; i < wish->count; i++) {
		if (!book_run_find(book, wish->runs[i], &(*runs)[i], why))
			return false;
		if ((*runs)[i].kind == LEVEL_CROSSING)
			return fault_say(
			    why, FAULT_INPUT,
			    "run %.160s is a crossing: what it shows is a drop, and no "
			    "height difference",
			    wish->runs[i]);
		for (size_t j = 0; j < i; j++)
			if ((*runs)[j].id == (*runs)[i].id)
				return fault_say(why, FAULT_INPUT, "run %.160s is named twice",
				                 wish->runs[i]);
	}
	return true;
}

bool net_take_runs(struct book *book, const struct work_net_wish *wish, struct work_net *net,
                   struct fault *why)
{
	struct book_run_info *runs = NULL;
	size_t count = 0;
	bool ok = choose(book, wish, &runs, &count, why);
	if (ok) {
		net->chain = calloc(count + 1, sizeof *net->chain);
		net->left = calloc(count + 1, sizeof *net->left);
		net->again = calloc(count + 1, sizeof *net->again);
		ok = net->chain && net->left && net->again;
		if (!ok)
			fault_memory(why);
	}
	for (size_t i = 0; ok && i < count; i++) {
		ok = take_run(book, &runs[i], wish->count > 0, net, why);
		net_tell(wish, 0.6 * (double)(i + 1) / (double)count);
	}
	free(runs);
	if (ok && net->runs == 0)
		ok = fault_say(why, FAULT_INPUT,
		               "no run of this book is complete, crossings apart: there is no net");
	return ok;
}
