/* SHA-256 (FIPS 180-4), for the journal's digest. */
#ifndef BOOK_JOURNAL_DIGEST_H
#define BOOK_JOURNAL_DIGEST_H

#include <stddef.h>
#include <stdint.h>

#define DIGEST_BYTES 65 /* 64 lower-case hexadecimal digits and a NUL */

struct digest {
	uint32_t state[8];
	uint64_t bytes; /* taken so far */
	unsigned char block[64];
};

void digest_begin(struct digest *digest);
void digest_add(struct digest *digest, const void *bytes, size_t count);
void digest_end(struct digest *digest, char hex[DIGEST_BYTES]);

#endif
