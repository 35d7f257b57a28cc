/* The digest of a journal, as it is published and read again. */
#include "book/journal/digest.h"
#include "books.h"
#include "rodbook/book/journal.h"
#include "suite.h"

#define DIGITS "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"
#define CAPITAL "0123456789ABCDEF0123456789ABCDEF0123456789ABCDEF0123456789ABCDEF"
#define PARTED "0123 4567 89ab cdef 0123456789abcdef 0123456789abcdef 0123456789ab cdef"

START_TEST(test_parsed)
{
	static const struct {
		const char *text;
		int64_t seq; /* 0: refused */
	} cases[] = {
	    {DIGITS "@1", 1},
	    {DIGITS "@4711", 4711},
	    {CAPITAL "@12", 12},
	    {PARTED "@12", 12},
	    {PARTED " @12", 12},
	    {" " DIGITS "@12", 12},
	    {DIGITS "@0", 0},
	    {DIGITS, 0},
	    {DIGITS "@", 0},
	    {DIGITS "@-1", 0},
	    {DIGITS "@ 1", 0},
	    {DIGITS "@1x", 0},
	    {DIGITS "0@1", 0},
	    {"123" DIGITS "@1", 0},
	    {"@1", 0},
	    {"", 0},
	    {"0123456789abcdef@1", 0},
	    {"g" DIGITS "@1", 0},
	    {DIGITS "@1 ", 0},
	    /* one digit short, and one that is none */
	    {"0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcde@1", 0},
	    {"0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdeg@1", 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_witness got;
		struct fault why = {0};
		char text[BOOK_WITNESS_BYTES], wanted[BOOK_WITNESS_BYTES];
		bool ok = book_witness_parse(cases[i].text, &got, &why);
		ck_assert_msg(ok == (cases[i].seq > 0), "%s", cases[i].text);
		ck_assert_int_eq(why.kind, ok ? FAULT_NONE : FAULT_INPUT);
		if (!ok)
			continue;
		ck_assert_str_eq(got.digest, DIGITS);
		ck_assert_int_eq(got.seq, cases[i].seq);
		snprintf(wanted, sizeof wanted, "%s@%d", DIGITS, (int)cases[i].seq);
		ck_assert_str_eq(book_witness_text(text, &got), wanted);
	}
}
END_TEST

/* rodbook.5: the digest before (64 zeros at first) and a line end, then each column of the entry as
 * its length, a colon, the bytes and a line end; a NULL as a dash and a line end. */
START_TEST(test_first_entry)
{
	static const char entry[] = "1:1\n1:1\n25:2026-05-04T09:30:00+02:00\n3:set\n-\n7:setting\n"
	                            "4:unit\n-\n28:{\"name\":\"unit\",\"value\":\"ft\"}\n-\n";
	struct shelf s;
	struct book_witness got;
	struct digest digest;
	char hex[DIGEST_BYTES], zeros[DIGEST_BYTES] = "";
	shelf_open(&s, LEVEL_FT);
	memset(zeros, '0', DIGEST_BYTES - 1);
	digest_begin(&digest);
	digest_add(&digest, zeros, strlen(zeros));
	digest_add(&digest, "\n", 1);
	digest_add(&digest, entry, strlen(entry));
	digest_end(&digest, hex);
	ck_assert(book_witness(s.book, &got, &s.why));
	ck_assert_int_eq(got.seq, 1);
	ck_assert_str_eq(got.digest, hex);
	/* before any entry it is zeros */
	ck_assert(book_witness_at(s.book, 0, &got, &s.why));
	ck_assert_int_eq(got.seq, 0);
	ck_assert_str_eq(got.digest, zeros);
	shelf_close(&s);
}
END_TEST

/* A later state holds the digests of the earlier ones; the proof gives the same as the witness. */
START_TEST(test_chained)
{
	struct shelf s;
	struct book_witness first, second, got;
	struct book_verified verified;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_witness(s.book, &first, &s.why));
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	ck_assert(book_witness(s.book, &second, &s.why));
	ck_assert(first.seq == 1 && second.seq == 2);
	ck_assert_str_ne(first.digest, second.digest);
	ck_assert(book_witness_at(s.book, 1, &got, &s.why));
	ck_assert_str_eq(got.digest, first.digest);
	ck_assert(book_witness_at(s.book, 99, &got, &s.why));
	ck_assert_int_eq(got.seq, 2);
	ck_assert_str_eq(got.digest, second.digest);
	ck_assert(book_verify(s.book, 1, &verified, &s.why));
	ck_assert_str_eq(verified.digest, second.digest);
	ck_assert_str_eq(verified.digest_at, first.digest);
	ck_assert(book_verify(s.book, 3, &verified, &s.why));
	ck_assert_str_eq(verified.digest_at, "");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("witness", test_parsed, test_first_entry, test_chained);
}
