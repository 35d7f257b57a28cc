#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "command/command.h"
#include "rodbook/book/journal.h"
#include "rodbook/report/report.h"

static bool read_seq(const char *text, int64_t *seq)
{
	char *end;
	*seq = isdigit((unsigned char)*text) ? strtoll(text, &end, 10) : 0;
	return *seq > 0 && !*end;
}

int command_verify(int argc, char **argv)
{
	const char *at_text = NULL, *against_text = NULL;
	struct book_witness against = {0};
	bool csv = false;
	const struct option_word options[] = {{"--at", &at_text, NULL, NULL},
	                                      {"--against", &against_text, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] = "verify BOOK [--at SEQ | --against DIGEST@SEQ] [--csv]";
	struct words words;
	struct fault why = {0};
	struct book_verified verified;
	struct book *book;
	int64_t at = 0;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 1, 1, &words, usage))
		return EXIT_USAGE;
	if (at_text && !read_seq(at_text, &at)) {
		command_wrong(usage, "--at wants the number of an entry");
		return EXIT_USAGE;
	}
	if (at_text && against_text) {
		command_wrong(usage, "either --at or --against");
		return EXIT_USAGE;
	}
	if (against_text && !book_witness_parse(against_text, &against, &why))
		return command_fail(&why);
	at = against.seq ? against.seq : at;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_verify(book, at, &verified, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	report_verified(stdout, &verified, at, against.digest, csv);
	status = command_flush();
	if (status == EXIT_DONE &&
	    (*verified.difference || (at && !*verified.digest_at) ||
	     (against.seq && strcmp(against.digest, verified.digest_at) != 0)))
		status = EXIT_NO;
	return status;
}
