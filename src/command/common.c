/* What the subcommands share. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "command/command.h"
#include "rodbook/level/time.h"
#include "rodbook/report/report.h"

int command_fail(const struct fault *why)
{
	fprintf(stderr, "rodbook: %s\n", why->text);
	if (why->kind == FAULT_EMPTY)
		return EXIT_NO;
	return why->kind == FAULT_INPUT ? EXIT_USAGE : EXIT_UNUSABLE;
}

struct book *command_open(const char *path, int *status)
{
	struct fault why = {0};
	struct book *book = book_open(path, command_clock, &why);
	if (!book)
		*status = command_fail(&why);
	else if (book_brought_up(book))
		fprintf(stderr, "rodbook: %s\n", report_brought_up(book));
	return book;
}

int command_flush(void)
{
	if (fflush(stdout) == 0 && !ferror(stdout))
		return EXIT_DONE;
	fprintf(stderr, "rodbook: the output could not be written: %s\n", strerror(errno));
	return EXIT_UNUSABLE;
}

void command_clock(char out[BOOK_TIME_BYTES])
{
	const char *given = getenv("RODBOOK_CLOCK");
	time_t now = time(NULL);
	struct tm local;
	char zone[8];
	if (given && strlen(given) < BOOK_TIME_BYTES && level_is_time(given)) {
		strcpy(out, given);
		return;
	}
	localtime_r(&now, &local);
	strftime(zone, sizeof zone, "%z", &local);
	strftime(out, BOOK_TIME_BYTES, "%Y-%m-%dT%H:%M:%S", &local);
	snprintf(out + strlen(out), BOOK_TIME_BYTES - strlen(out), "%.3s:%.2s", zone, zone + 3);
}

struct book *command_load(const char *path, const char *name, struct work_run *run, int *status)
{
	struct fault why = {0};
	struct book *book = command_open(path, status);
	if (!book || work_run_load(book, name, NULL, run, &why))
		return book;
	book_close(book);
	*status = command_fail(&why);
	return NULL;
}

bool command_one_form(int asked, const char *forms, const char *usage)
{
	if (asked <= 1)
		return true;
	command_wrong(usage, "%s", forms);
	return false;
}
