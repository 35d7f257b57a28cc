/* A fuzzer: a function that takes an input and says whether a law held.
 *
 * Each target_NAME.c defines `fuzz_target`. With clang it is driven by libFuzzer (driver.c under
 * FUZZ_LIBFUZZER), with any other compiler by a small loop of our own. An input is two bytes of
 * options, such as a unit, and a text without a NUL. */
#ifndef FUZZ_FUZZ_H
#define FUZZ_FUZZ_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define FUZZ_INPUT_MOST 16000

struct fuzz_target {
	const char *name;
	const char *words;             /* what was tried, in plain English */
	const char *const *seeds;      /* texts to begin with, NULL behind the last */
	const char *const *dictionary; /* words to put in, NULL behind the last */
	size_t most;                   /* bytes of a text; 0: 200 */
	long tries;                    /* of the short form */
	bool (*begin)(void);           /* NULL: nothing to do */
	/* Whether the input was accepted. The text is a heap copy of exactly its size. */
	bool (*one)(const char *text, unsigned options);
	void (*end)(void);
	/* Another text to begin with, made of a number; NULL: only `seeds`. */
	void (*make)(uint64_t *chance, char *text, size_t room);
	/* Alters a text in place to another one that is likely to be accepted; false where it found
	 * nothing to alter. NULL: fuzz_mutate() alone. */
	bool (*alter)(uint64_t *chance, char *text, size_t room);
};
extern const struct fuzz_target fuzz_target;

/* Counts the present input as one that broke a law, says how, and saves it. */
void fuzz_fail(const char *format, ...) __attribute__((format(printf, 1, 2)));
/* The same where the law does not hold; returns it. */
#define FUZZ_LAW(holds, ...) ((holds) || (fuzz_fail(__VA_ARGS__), false))
/* The present input asked for nothing: it does not count as a try. */
void fuzz_void(void);
/* The present input leads nowhere: it is not altered further, even where it was accepted. */
void fuzz_end_here(void);

/* --- mutate.c --- */

uint64_t fuzz_next(uint64_t *chance);
/* 0 <= result < most */
size_t fuzz_below(uint64_t *chance, size_t most);
/* A number as people write it, or as nobody should. */
void fuzz_number(uint64_t *chance, char *out, size_t room);
/* Changes an input in place by a few steps that keep words and numbers whole; its new size. */
size_t fuzz_mutate(const struct fuzz_target *target, uint64_t *chance, char *input, size_t size,
                   size_t room);
bool fuzz_put(char *text, size_t room, char *at, size_t gone, const char *more);
/* Gives one of the names that books here are made with another one, wherever it stands. */
void fuzz_rename(uint64_t *chance, char *text, size_t room);
/* A seed as an input; its size. */
size_t fuzz_seed(const struct fuzz_target *target, uint64_t *chance, char *input, size_t room);

#endif
