#include <stdlib.h>
#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"
#include "text/cells.h"

static const char usage[] =
    "rod BOOK [NAME [--zero L] [--scale PPM] [--expansion PPM/K --reference C] [--length L]\n"
    "  [--remark TEXT]]";

static bool list(struct book *book, struct fault *why)
{
	struct book_rod *rods;
	size_t count;
	if (!book_rods(book, &rods, &count, why))
		return false;
	if (count == 0)
		printf("no rods by name: they are taken as true\n");
	for (size_t i = 0; i < count; i++) {
		const struct book_rod *r = &rods[i];
		cells_put(stdout, r->name, 16);
		if (*r->zero)
			printf("  reads %s too high", r->zero);
		if (*r->scale)
			printf("  units %s ppm too long", r->scale);
		if (*r->expansion)
			printf("  %s ppm/K from %s C", r->expansion, r->reference);
		if (*r->longest)
			printf("  %s long", r->longest);
		printf("%s%s\n", *r->remark ? "  " : "", r->remark);
	}
	free(rods);
	return true;
}

int command_rod(int argc, char **argv)
{
	const char *zero = "", *scale = "", *expansion = "", *reference = "", *longest = "",
	           *remark = "";
	const struct option_word options[] = {{"--zero", &zero, NULL, NULL},
	                                      {"--scale", &scale, NULL, NULL},
	                                      {"--expansion", &expansion, NULL, NULL},
	                                      {"--reference", &reference, NULL, NULL},
	                                      {"--length", &longest, NULL, NULL},
	                                      {"--remark", &remark, NULL, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_rod rod = {0};
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 1, 2, &words, usage))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (words.count == 1) {
		ok = list(book, &why);
	} else if (strlen(words.word[1]) >= sizeof rod.name || strlen(zero) >= sizeof rod.zero ||
	           strlen(scale) >= sizeof rod.scale || strlen(expansion) >= sizeof rod.expansion ||
	           strlen(reference) >= sizeof rod.reference ||
	           strlen(longest) >= sizeof rod.longest || strlen(remark) >= sizeof rod.remark) {
		ok = fault_say(&why, FAULT_INPUT, "a text is too long");
	} else {
		strcpy(rod.name, words.word[1]);
		strcpy(rod.zero, zero);
		strcpy(rod.scale, scale);
		strcpy(rod.expansion, expansion);
		strcpy(rod.reference, reference);
		strcpy(rod.longest, longest);
		strcpy(rod.remark, remark);
		ok = book_rod_set(book, &rod, &why);
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
