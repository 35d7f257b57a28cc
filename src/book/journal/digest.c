/* SHA-256 as FIPS 180-4 has it; names and sections below are those of the standard. */
#include "book/journal/digest.h"

#include <string.h>

/* The first 32 bits of the fractional parts of the cube roots of the first 64 primes (4.2.2). */
static const uint32_t k[64] = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

void digest_begin(struct digest *digest)
{
	/* The same of the square roots of the first 8 (5.3.3). */
	static const uint32_t initial[8] = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
	                                    0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
	memcpy(digest->state, initial, sizeof initial);
	digest->bytes = 0;
}

static uint32_t rotr(uint32_t x, int n)
{
	return x >> n | x << (32 - n);
}

/* One step of 6.2.2, 3. What the standard hands on from letter to letter stays in its place here:
 * the caller turns the letters. */
static inline void step(uint32_t a, uint32_t b, uint32_t c, uint32_t *d, uint32_t e, uint32_t f,
                        uint32_t g, uint32_t *h, uint32_t kw)
{
	uint32_t t1 = *h + (rotr(e, 6) ^ rotr(e, 11) ^ rotr(e, 25)) + ((e & f) ^ (~e & g)) + kw;
	*d += t1;
	*h = t1 + (rotr(a, 2) ^ rotr(a, 13) ^ rotr(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
}

/* One block (6.2.2). */
static void take_block(uint32_t state[8], const unsigned char block[64])
{
	uint32_t w[64];
	uint32_t a = state[0], b = state[1], c = state[2], d = state[3];
	uint32_t e = state[4], f = state[5], g = state[6], h = state[7];
	for (int t = 0; t < 16; t++)
		w[t] = (uint32_t)block[4 * t] << 24 | (uint32_t)block[4 * t + 1] << 16 |
		       (uint32_t)block[4 * t + 2] << 8 | block[4 * t + 3];
	for (int t = 16; t < 64; t++) {
		uint32_t x = w[t - 15], y = w[t - 2];
		w[t] = (rotr(y, 17) ^ rotr(y, 19) ^ y >> 10) + w[t - 7] +
		       (rotr(x, 7) ^ rotr(x, 18) ^ x >> 3) + w[t - 16];
	}
	for (int t = 0; t < 64; t += 8) {
		step(a, b, c, &d, e, f, g, &h, k[t] + w[t]);
		step(h, a, b, &c, d, e, f, &g, k[t + 1] + w[t + 1]);
		step(g, h, a, &b, c, d, e, &f, k[t + 2] + w[t + 2]);
		step(f, g, h, &a, b, c, d, &e, k[t + 3] + w[t + 3]);
		step(e, f, g, &h, a, b, c, &d, k[t + 4] + w[t + 4]);
		step(d, e, f, &g, h, a, b, &c, k[t + 5] + w[t + 5]);
		step(c, d, e, &f, g, h, a, &b, k[t + 6] + w[t + 6]);
		step(b, c, d, &e, f, g, h, &a, k[t + 7] + w[t + 7]);
	}
	state[0] += a;
	state[1] += b;
	state[2] += c;
	state[3] += d;
	state[4] += e;
	state[5] += f;
	state[6] += g;
	state[7] += h;
}

void digest_add(struct digest *digest, const void *bytes, size_t count)
{
	const unsigned char *from = bytes;
	while (count > 0) {
		size_t at = digest->bytes % 64, part = 64 - at < count ? 64 - at : count;
		memcpy(digest->block + at, from, part);
		digest->bytes += part;
		from += part;
		count -= part;
		if (digest->bytes % 64 == 0)
			take_block(digest->state, digest->block);
	}
}

void digest_end(struct digest *digest, char hex[DIGEST_BYTES])
{
	static const unsigned char zeros[64];
	uint64_t bits = digest->bytes * 8;
	unsigned char length[8];
	/* A 1 bit, zeros, and the length in bits (5.1.1). */
	digest_add(digest, "\x80", 1);
	digest_add(digest, zeros, (120 - digest->bytes % 64) % 64);
	for (int i = 0; i < 8; i++)
		length[i] = (unsigned char)(bits >> (56 - 8 * i));
	digest_add(digest, length, sizeof length);
	for (int i = 0; i < 64; i++)
		hex[i] = "0123456789abcdef"[digest->state[i / 8] >> (28 - 4 * (i % 8)) & 15];
	hex[64] = '\0';
}
