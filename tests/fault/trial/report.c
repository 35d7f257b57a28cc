/* Short and long forms, samples, and the line that each trial ends in. */
#include "trial.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LOSSES_IN_FULL 40

bool trial_long(void)
{
	const char *form = getenv("RODBOOK_TRIALS");
	return form && strcmp(form, "long") == 0;
}

uint64_t trial_chance(uint64_t *state)
{
	*state ^= *state >> 12;
	*state ^= *state << 25;
	*state ^= *state >> 27;
	return *state * UINT64_C(2685821657736338717);
}

uint64_t trial_seed(const char *what)
{
	const char *given = getenv("RODBOOK_SEED");
	uint64_t seed = given ? strtoull(given, NULL, 10) : 1;
	seed = seed ? seed : 1;
	fprintf(stderr, "%s: RODBOOK_SEED=%llu\n", what, (unsigned long long)seed);
	return seed * UINT64_C(0x9e3779b97f4a7c15) | 1;
}

void trial_loss(struct trial_count *count, const char *format, ...)
{
	va_list args;
	count->losses++;
	if (count->losses > LOSSES_IN_FULL)
		return;
	va_start(args, format);
	vfprintf(stderr, format, args);
	va_end(args);
	fputc('\n', stderr);
}

void trial_progress(const char *line, const struct trial_count *count, size_t counts)
{
	long tries = 0, losses = 0;
	for (size_t i = 0; i < counts; i++) {
		tries += count[i].tries;
		losses += count[i].losses;
	}
	if (trial_long())
		fprintf(stderr, "%ld tries, %ld lost or falsified, behind: %.60s\n", tries, losses,
		        line);
}

bool trial_report(const char *name, const struct trial_count *count, const char *words)
{
	printf("%s\t%ld\t%ld\t%s\n", name, count->tries, count->losses, words);
	fflush(stdout);
	return count->tries > 0 && count->losses == 0;
}

void trial_stop(const char *format, ...)
{
	va_list args;
	va_start(args, format);
	vfprintf(stderr, format, args);
	va_end(args);
	fputc('\n', stderr);
	exit(2);
}
