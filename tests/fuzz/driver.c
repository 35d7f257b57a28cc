/* What drives a fuzzer: libFuzzer, or a loop of our own with a fixed seed.
 *
 *	fuzz_NAME            the short form; RODBOOK_TRIALS=long: 10^6 tries, or =NUMBER
 *	fuzz_NAME FILE...    plays saved inputs again
 *
 * Prints one line, "name TAB tries TAB lost or falsified TAB words". What broke a law is saved as
 * fuzz-NAME-NUMBER in the directory FUZZ_SAVE, if that is set. */
#include <fcntl.h>
#include <inttypes.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"

#define SEED UINT64_C(20260504)
#define SAID_MOST 5
#define SAVED_MOST 100
#define KINDS 64
#define KIND_BYTES 100

/* One per process, as libFuzzer calls plain functions. */
static struct {
	long tries, accepted, failed, saved;
	const uint8_t *input;
	size_t size;
	bool fails, void_try, ends_here; /* the present input */
	char kind[KINDS][KIND_BYTES];
	long times[KINDS];
} state;

static void save(void)
{
	const char *dir = getenv("FUZZ_SAVE");
	char path[600];
	FILE *file;
	if (!dir || state.saved++ >= SAVED_MOST)
		return;
	snprintf(path, sizeof path, "%s/fuzz-%s-%ld", dir, fuzz_target.name, state.saved);
	file = fopen(path, "wb");
	if (!file)
		return;
	fwrite(state.input, 1, state.size, file);
	fclose(file);
	fprintf(stderr, "saved as %s\n", path);
}

/* Failures whose words begin alike, numbers apart, are of one kind: some of each are said and
 * saved. */
static size_t kind_of(const char *words)
{
	char kind[KIND_BYTES];
	size_t used = 0, i = 0;
	for (; *words && used < KIND_BYTES - 1; words++)
		if (*words < '0' || *words > '9')
			kind[used++] = *words;
	kind[used] = '\0';
	while (i < KINDS - 1 && state.times[i] && strcmp(state.kind[i], kind) != 0)
		i++;
	strcpy(state.kind[i], kind);
	return i;
}

void fuzz_fail(const char *format, ...)
{
	char words[4000];
	va_list list;
	size_t kind;
	va_start(list, format);
	vsnprintf(words, sizeof words, format, list);
	va_end(list);
	kind = kind_of(words);
	if (state.times[kind]++ < SAID_MOST) {
		fprintf(stderr, "%s: %s\n", fuzz_target.name, words);
		if (!state.fails)
			save();
	}
	state.fails = true;
}

void fuzz_void(void)
{
	state.void_try = true;
}

void fuzz_end_here(void)
{
	state.ends_here = true;
}

static void one(const uint8_t *input, size_t size)
{
	char *text;
	size_t length = size > 2 ? strnlen((const char *)input + 2, size - 2) : 0;
	state.input = input;
	state.size = size;
	state.fails = state.void_try = state.ends_here = false;
	text = malloc(length + 1);
	if (!text)
		abort();
	if (length)
		memcpy(text, input + 2, length);
	text[length] = '\0';
	state.accepted += fuzz_target.one(text, size >= 2 ? input[0] | (unsigned)input[1] << 8 : 0);
	state.tries += !state.void_try;
	state.failed += state.fails;
	free(text);
}

static void finish(void)
{
	static bool done;
	if (done)
		return;
	done = true;
	if (fuzz_target.end)
		fuzz_target.end();
	for (size_t i = 0; i < KINDS && state.times[i]; i++)
		fprintf(stderr, "%s: %ld times: %s\n", fuzz_target.name, state.times[i],
		        state.kind[i]);
	printf("%s\t%ld\t%ld\t%s (%.1f %% accepted)\n", fuzz_target.name, state.tries, state.failed,
	       fuzz_target.words,
	       100.0 * (double)state.accepted / (double)(state.tries + !state.tries));
	fflush(stdout);
}

#ifdef FUZZ_LIBFUZZER

int LLVMFuzzerInitialize(int *argc, char ***argv);
int LLVMFuzzerTestOneInput(const uint8_t *input, size_t size);
size_t LLVMFuzzerCustomMutator(uint8_t *input, size_t size, size_t room, unsigned seed);
size_t LLVMFuzzerMutate(uint8_t *input, size_t size, size_t room);

static void at_exit(void)
{
	finish();
	if (state.failed)
		_exit(1);
}

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
	(void)argc;
	(void)argv;
	if (fuzz_target.begin && !fuzz_target.begin()) {
		fprintf(stderr, "%s cannot begin\n", fuzz_target.name);
		_exit(2);
	}
	atexit(at_exit);
	return 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t size)
{
	if (size <= (fuzz_target.most ? fuzz_target.most : 200) + 2)
		one(input, size);
	return 0;
}

size_t LLVMFuzzerCustomMutator(uint8_t *input, size_t size, size_t room, unsigned seed)
{
	uint64_t chance = (seed + UINT64_C(1)) * UINT64_C(0x9e3779b97f4a7c15) | 1;
	size_t most = (fuzz_target.most ? fuzz_target.most : 200) + 2;
	size_t which = fuzz_below(&chance, 16);
	if (room > most)
		room = most;
	if (size < 3 || which < 6)
		size = fuzz_seed(&fuzz_target, &chance, (char *)input, room);
	if (which < 2)
		return LLVMFuzzerMutate(input, size, room);
	return fuzz_mutate(&fuzz_target, &chance, (char *)input, size, room);
}

#else

#define HANGS_AFTER 60 /* s */
#define SAID_EACH 100000

/* A crash, or a try that takes too long: the input is saved, and the line says so. */
static void at_signal(int signal)
{
	const char *dir = getenv("FUZZ_SAVE");
	char text[700];
	int file;
	if (dir) {
		snprintf(text, sizeof text, "%s/fuzz-%s-signal-%d", dir, fuzz_target.name, signal);
		file = open(text, O_WRONLY | O_CREAT | O_TRUNC, 0600);
		if (file >= 0 && write(file, state.input, state.size) == (ssize_t)state.size)
			close(file);
	}
	snprintf(text, sizeof text, "%s\t%ld\t%ld\t%s: it was ended by signal %d\n",
	         fuzz_target.name, state.tries, state.failed + 1, fuzz_target.words, signal);
	if (write(STDOUT_FILENO, text, strlen(text)) < 0)
		_exit(3);
	_exit(1);
}

static void watch(void)
{
	signal(SIGALRM, at_signal);
	signal(SIGABRT, at_signal);
#ifndef __SANITIZE_ADDRESS__
	/* Sanitizers have more to say about these. */
	signal(SIGSEGV, at_signal);
	signal(SIGBUS, at_signal);
	signal(SIGFPE, at_signal);
	signal(SIGILL, at_signal);
#endif
}

static long tries_asked(void)
{
	const char *form = getenv("RODBOOK_TRIALS");
	if (!form || strcmp(form, "short") == 0)
		return fuzz_target.tries;
	return strcmp(form, "long") == 0 ? 1000000 : strtol(form, NULL, 10);
}

static int play(int argc, char **argv)
{
	static uint8_t input[FUZZ_INPUT_MOST + 2];
	for (int i = 1; i < argc; i++) {
		FILE *file = fopen(argv[i], "rb");
		if (!file) {
			perror(argv[i]);
			return 2;
		}
		one(input, fread(input, 1, sizeof input, file));
		fclose(file);
	}
	return 0;
}

/* Inputs that were accepted are mutated further, and only these are kept. */
enum { KEPT = 64 };
struct kept {
	uint8_t input[KEPT][FUZZ_INPUT_MOST + 2];
	size_t size[KEPT];
};

static void next(struct kept *kept, uint64_t *chance)
{
	static uint8_t input[FUZZ_INPUT_MOST + 2];
	long accepted = state.accepted;
	size_t from = fuzz_below(chance, KEPT), size;
	size_t room = (fuzz_target.most ? fuzz_target.most : 200) + 2;
	if (kept->size[from] && fuzz_below(chance, 3)) {
		size = kept->size[from];
		memcpy(input, kept->input[from], size);
	} else {
		size = fuzz_seed(&fuzz_target, chance, (char *)input, room);
	}
	if (fuzz_below(chance, 8))
		size = fuzz_mutate(&fuzz_target, chance, (char *)input, size, room);
	one(input, size);
	if (state.accepted > accepted && !state.ends_here) {
		from = fuzz_below(chance, KEPT);
		memcpy(kept->input[from], input, size);
		kept->size[from] = size;
	}
}

int main(int argc, char **argv)
{
	static struct kept kept;
	uint64_t chance = SEED;
	if (fuzz_target.begin && !fuzz_target.begin()) {
		fprintf(stderr, "%s cannot begin\n", fuzz_target.name);
		return 2;
	}
	watch();
	if (argc > 1 && play(argc, argv) != 0)
		return 2;
	if (argc == 1) {
		long asked = tries_asked();
		fprintf(stderr, "%s: seed %" PRIu64 "\n", fuzz_target.name, SEED);
		for (long i = 0; state.tries < asked && i < 20 * asked; i++) {
			if (i % 64 == 0)
				alarm(HANGS_AFTER);
			next(&kept, &chance);
			if (state.tries % SAID_EACH == 0 && !state.void_try)
				fprintf(stderr, "%s: %ld tries, %ld lost, %ld accepted\n",
				        fuzz_target.name, state.tries, state.failed,
				        state.accepted);
		}
	}
	alarm(0);
	finish();
	return state.failed ? 1 : 0;
}

#endif
