/* Words and options of a command line. */
#include <ctype.h>
#include <stdarg.h>
#include <string.h>

#include "command/command.h"

void command_wrong(const char *usage, const char *what, ...)
{
	size_t first = strcspn(usage, "\n"), name = strcspn(usage, " ");
	va_list args;
	fputs("rodbook: ", stderr);
	va_start(args, what);
	vfprintf(stderr, what, args);
	va_end(args);
	fprintf(stderr, "\nusage: rodbook %.*s%s\n", (int)first, usage, usage[first] ? " ..." : "");
	if (usage[first])
		fprintf(stderr, "all of it, with an example: rodbook help %.*s\n", (int)name,
		        usage);
}

static bool bad(const char *usage, const char *what, const char *word)
{
	char shown[200];
	command_wrong(usage, "%s%s%s", what, word ? " " : "",
	              level_show_text(shown, sizeof shown, word ? word : "", false));
	return false;
}

static bool is_option(const char *word)
{
	return word[0] == '-' && word[1] && !isdigit((unsigned char)word[1]) && word[1] != '.';
}

/* Takes the option at argv[*i]; the value may be the next word. */
static bool take_option(int argc, char **argv, int *i, const struct option_word *options,
                        const char *usage)
{
	const char *word = argv[*i];
	size_t size = strcspn(word, "=");
	for (; options && options->name; options++) {
		if (strlen(options->name) != size || strncmp(options->name, word, size) != 0)
			continue;
		if (options->given)
			*options->given = true;
		if (!options->value && !options->many)
			return word[size] == '\0' ||
			       bad(usage, "no value is wanted by", options->name);
		if (word[size] != '=' && *i + 1 == argc)
			return bad(usage, "a value is wanted by", options->name);
		word = word[size] == '=' ? word + size + 1 : argv[++*i];
		if (options->value)
			*options->value = word;
		else if (options->many->count == sizeof options->many->value / sizeof word)
			return bad(usage, "too often:", options->name);
		else
			options->many->value[options->many->count++] = word;
		return true;
	}
	return bad(usage, "unknown option", word);
}

bool command_words(int argc, char **argv, const struct option_word *options, int least, int most,
                   struct words *out, const char *usage)
{
	bool all_words = false;
	out->count = 0;
	if (argc == 1 && strcmp(argv[0], "--help") == 0) {
		printf("usage: rodbook %s\n", usage);
		return false;
	}
	for (int i = 0; i < argc; i++) {
		if (!all_words && strcmp(argv[i], "--") == 0) {
			all_words = true;
		} else if (!all_words && is_option(argv[i])) {
			if (!take_option(argc, argv, &i, options, usage))
				return false;
		} else if (out->count == most) {
			return bad(usage, "one word too many:", argv[i]);
		} else {
			out->word[out->count++] = argv[i];
		}
	}
	return out->count >= least || bad(usage, "something is missing", NULL);
}
