/* SHA-256 against the examples that NIST published with FIPS 180-4 (from memory). */
#include <stdlib.h>
#include <string.h>

#include "book/journal/digest.h"
#include "suite.h"

static const char *digest_of(const char *text, size_t count, size_t step)
{
	static char hex[DIGEST_BYTES];
	struct digest digest;
	digest_begin(&digest);
	for (size_t at = 0; at < count; at += step)
		digest_add(&digest, text + at, count - at < step ? count - at : step);
	digest_end(&digest, hex);
	return hex;
}

START_TEST(test_published)
{
	static const struct {
		const char *text, *hex;
	} cases[] = {
	    {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
	    {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
	    {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
	     "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
	    {"abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmno"
	     "p"
	     "qrlmnopqrsmnopqrstnopqrstu",
	     "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		for (size_t step = 1; step < 130; step += 9)
			ck_assert_str_eq(digest_of(cases[i].text, strlen(cases[i].text), step),
			                 cases[i].hex);
}
END_TEST

START_TEST(test_million)
{
	char *text = malloc(1000000);
	ck_assert_ptr_nonnull(text);
	memset(text, 'a', 1000000);
	ck_assert_str_eq(digest_of(text, 1000000, 999),
	                 "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
	free(text);
}
END_TEST

/* Lengths about the ends of blocks, where the padding may take another one: 55 to 64 and 119 to 128
 * times the letter a. Figures by sha256sum of GNU coreutils. */
START_TEST(test_padding)
{
	static const struct {
		size_t count;
		const char *hex;
	} cases[] = {
	    {55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318"},
	    {56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a"},
	    {57, "f13b2d724659eb3bf47f2dd6af1accc87b81f09f59f2b75e5c0bed6589dfe8c6"},
	    {63, "7d3e74a05d7db15bce4ad9ec0658ea98e3f06eeecf16b4c6fff2da457ddc2f34"},
	    {64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb"},
	    {65, "635361c48bb9eab14198e76ea8ab7f1a41685d6ad62aa9146d301d4f17eb0ae0"},
	    {119, "31eba51c313a5c08226adf18d4a359cfdfd8d2e816b13f4af952f7ea6584dcfb"},
	    {120, "2f3d335432c70b580af0e8e1b3674a7c020d683aa5f73aaaedfdc55af904c21c"},
	    {128, "6836cf13bac400e9105071cd6af47084dfacad4e5e302c94bfed24e013afb73e"},
	};
	char text[200];
	memset(text, 'a', sizeof text);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		ck_assert_str_eq(digest_of(text, cases[i].count, 200), cases[i].hex);
}
END_TEST

int main(void)
{
	return RUN_TESTS("digest", test_published, test_million, test_padding);
}
