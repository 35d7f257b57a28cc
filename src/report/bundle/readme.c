#include "report/bundle/readme.h"

#include "rodbook/report/report.h"
#include "text/wrap.h"

#define README_COLUMNS 78

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
	report_verdict(&run->book.run, &run->closing, &run->settings.style, verdict,
	               sizeof verdict);
	fprintf(out, "\nRUN %s\n", run->book.info.name);
	wrap_text(out, verdict, README_COLUMNS);
	fputc('\n', out);
}

void readme_file(FILE *out, const char *name, const char *holds)
{
	fprintf(out, "  %-32s %s\n", name, holds);
}

void readme_missing(FILE *out, const char *name, const char *hex)
{
	fprintf(out, "  THE PHOTOGRAPH %s IS MISSING%s%s\n", name,
	        *hex ? "; the SHA-256 that was booked is " : "", hex);
}

void readme_other(FILE *out, const char *name, const char *hex)
{
	fprintf(out, "  THE PHOTOGRAPH %s IS NOT THE ONE THAT WAS BOOKED, whose SHA-256 is %s\n",
	        name, hex);
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
	fputs("\nIS IT WHAT WAS SENT?\n\n"
	      "  sha256sum -c SHA256SUMS\n\n"
	      "This says whether a file was changed since. It does not say who wrote it: hold the\n"
	      "digest above against one that was published, or given away, before.\n"
	      "\nDOES THE ANSWER FOLLOW FROM THE READINGS?\n\n"
	      "  awk -F, -f redo.awk statement-RUN.csv\n\n"
	      "redo.awk knows nothing but the readings and figures in that CSV. It reckons each "
	      "sum,\n"
	      "the allowance and the answer again. It prints how many numbers it checked, and how\n"
	      "many differ. For a calculator statement-RUN.txt writes out each sum with its "
	      "formula.\n"
	      "\nWAS ANYTHING LEFT OUT?\n\n"
	      "The statement lists what was struck, when and why, and what was changed after the\n"
	      "figures were sealed. Every change stands in the book, in its order:\n\n"
	      "  sqlite3 book.rodbook \"SELECT * FROM journal\"\n"
	      "\nWHAT NO FILE SHOWS\n\n"
	      "Whether the rod was read as it was written down. The first page of the statement "
	      "says\n"
	      "what could make the answer wrong, and what tells it. Measure it again.\n",
	      out);
}
