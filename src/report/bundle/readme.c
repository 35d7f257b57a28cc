#include "report/bundle/readme.h"

#include "rodbook/report/report.h"
#include "text/wrap.h"
#include "text/cells.h"

#define README_COLUMNS 78

/* data/bundle.txt */
extern const char rodbook_bundle[];

void readme_begin(FILE *out)
{
	fputs("What was leveled, as it was booked, and how to check it without the program that\n"
	      "wrote this. Begin with a statement: its first page has the question, the answer,\n"
	      "and what to doubt.\n",
	      out);
}

void readme_run(FILE *out, const struct work_run *run)
{
	char verdict[500];
	report_verdict(run, verdict, sizeof verdict);
	fprintf(out, "\nRUN %s\n", run->book.info.name);
	wrap_text(out, verdict, README_COLUMNS);
	fputc('\n', out);
}

void readme_file(FILE *out, const char *name, const char *holds)
{
	fputs("  ", out);
	cells_put(out, name, 32);
	fprintf(out, " %s\n", holds);
}

void readme_missing(FILE *out, const char *name, const char *hex, bool missing)
{
	fprintf(out, "  THE PHOTOGRAPH %s %s%s%s\n", name,
	        missing ? "IS MISSING" : "CANNOT BE READ",
	        *hex ? "; the SHA-256 that was booked is " : "", hex);
}

void readme_other(FILE *out, const char *name, const char *hex)
{
	if (*hex)
		fprintf(out,
		        "  THE PHOTOGRAPH %s IS NOT THE ONE THAT WAS BOOKED, whose SHA-256 is %s\n",
		        name, hex);
	else
		fprintf(out,
		        "  THE PHOTOGRAPH %s IS LEFT OUT: it was booked without a SHA-256,\n"
		        "  and its name leads to another folder\n",
		        name);
}

void readme_book(FILE *out, const struct book_witness *witness)
{
	char text[BOOK_WITNESS_BYTES];
	fprintf(out,
	        "\nTHE BOOK\n\n  %-32s an SQLite file: every entry, every change\n\n"
	        "The digest of its journal with the number of its last entry:\n  %s\n",
	        "book.rodbook", book_witness_text(text, witness));
}

void readme_end(FILE *out)
{
	fputs(rodbook_bundle, out);
}
