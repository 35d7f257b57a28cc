/* What the proof of a book found. */
#include <inttypes.h>
#include <string.h>

#include "report/quantities.h"
#include "rodbook/book/journal.h"

/* In eight groups, as it is written down on paper. */
static void put_digest(FILE *out, int64_t seq, const char *digest)
{
	fprintf(out, "digest of the entries 1 to %" PRId64 ":\n ", seq);
	for (int i = 0; i < 64; i += 8)
		fprintf(out, " %.8s", digest + i);
	fputc('\n', out);
}

static void csv_verified(FILE *out, const struct book_verified *v, int64_t at, const char *against)
{
	quantity_header(out);
	quantity_text(out, "verified", *v->difference ? "no" : "yes");
	quantity_text(out, "difference", v->difference);
	quantity_count(out, "entries", v->entries);
	quantity_count(out, "last_seq", v->last);
	quantity_count(out, "time_backwards", v->backward);
	quantity_text(out, "digest", v->digest);
	if (!at)
		return;
	quantity_count(out, "at", at);
	quantity_text(out, "digest_at", v->digest_at);
	if (*against)
		quantity_text(out, "against", strcmp(against, v->digest_at) == 0 ? "yes" : "no");
}

static void put_at(FILE *out, const struct book_verified *v, int64_t at)
{
	if (*v->digest_at)
		put_digest(out, at, v->digest_at);
	else
		fprintf(out,
		        "the journal ends at entry %" PRId64 ": there is no entry %" PRId64
		        "; if somebody wrote down a digest of it, entries were taken away\n",
		        v->last, at);
}

static void put_against(FILE *out, const struct book_verified *v, int64_t at, const char *against)
{
	if (!*v->digest_at)
		put_at(out, v, at);
	else if (strcmp(against, v->digest_at) == 0)
		fprintf(out,
		        "the entries 1 to %" PRId64
		        " are those that the digest was taken of; %" PRId64 " came since\n",
		        at, v->last - at);
	else
		fprintf(out,
		        "NOT THOSE: the entries 1 to %" PRId64
		        " are others than those that the digest was taken of\n",
		        at);
}

static void put_followed(FILE *out, const struct book_verified *v)
{
	if (v->runs == 1 && v->sights == 1)
		fputs("readings are as typed; sums and elevations follow from them: 1 run with 1 "
		      "sight\n",
		      out);
	else if (v->runs == 1)
		fprintf(out,
		        "readings are as typed; sums and elevations follow from them: 1 run with "
		        "%zu sights\n",
		        v->sights);
	else if (v->sights == 1)
		fprintf(out,
		        "readings are as typed; sums and elevations follow from them: %zu runs "
		        "with 1 sight\n",
		        v->runs);
	else
		fprintf(out,
		        "readings are as typed; sums and elevations follow from them: %zu runs "
		        "with %zu sights\n",
		        v->runs, v->sights);
}

static void put_remarks(FILE *out, const struct book_verified *v)
{
	if (v->gaps == 1)
		fputs("remark: 1 run has a line with a gap, which has no page check\n", out);
	else if (v->gaps)
		fprintf(out, "remark: %zu runs have a line with a gap, which has no page check\n",
		        v->gaps);
	if (v->backward == 1)
		fprintf(out,
		        "remark: time runs backwards at entry %" PRId64
		        ": the clock was set back, or a time is invented\n",
		        v->backward_at);
	else if (v->backward)
		fprintf(out,
		        "remark: time runs backwards %" PRId64 " times, at entry %" PRId64
		        " first: the clock was set back, or a time is invented\n",
		        v->backward, v->backward_at);
}

void report_verified(FILE *out, const struct book_verified *v, int64_t at, const char *against,
                     bool csv)
{
	struct book_witness witness = {.seq = v->last};
	char text[BOOK_WITNESS_BYTES];
	if (csv) {
		csv_verified(out, v, at, against);
		return;
	}
	/* What was asked is answered first: bad news must not stand behind "verified". */
	if (*against)
		put_against(out, v, at, against);
	if (*v->difference) {
		fprintf(out, "NOT VERIFIED: %s\n", v->difference);
		return;
	}
	fprintf(out,
	        "verified: the journal's %" PRId64 " entries yield exactly the %zu rows of the "
	        "tables\n",
	        v->entries, v->rows);
	put_followed(out, v);
	put_remarks(out, v);
	fprintf(out, "last entry: %" PRId64 "\n", v->last);
	put_digest(out, v->last, v->digest);
	strcpy(witness.digest, v->digest);
	fprintf(out, "to publish: %s\n", book_witness_text(text, &witness));
	if (at && !*against)
		put_at(out, v, at);
	fprintf(out, "A consistent forger is not seen from inside the file: keep the digest on "
	             "paper.\n");
}

const char *report_witness(struct book *book, char text[REPORT_WITNESS_BYTES])
{
	struct book_witness witness;
	char published[BOOK_WITNESS_BYTES];
	/* What was closed or sealed is so, whatever can be said of it. */
	snprintf(text, REPORT_WITNESS_BYTES,
	         "the digest could not be worked out: rodbook verify prints it");
	if (book_witness(book, &witness, NULL))
		snprintf(text, REPORT_WITNESS_BYTES, "to publish: %s",
		         book_witness_text(published, &witness));
	return text;
}

const char *report_foot(struct book *book, char text[REPORT_FOOT_BYTES])
{
	char witness[REPORT_WITNESS_BYTES];
	snprintf(text, REPORT_FOOT_BYTES, "written by rodbook " RODBOOK_VERSION "; %s",
	         report_witness(book, witness));
	return text;
}
