/* The places of a C source at which tests/mutate alters something, one small thing each:
 * comparisons, + - * /, && ||, numbers, conditions, what is returned, whole statements.
 *
 *	places SEED FILE...
 *
 * prints one line a place: rank, file, number, line, column, old, new, with tabs.
 *
 *	places alter FILE NUMBER
 *
 * prints the file with that place altered.
 *
 * Only what is computed counts: the bodies of functions, and numbers that have a name. Comments,
 * texts, types, sizes of arrays and static tables are passed over, and calls that give memory back,
 * whose loss only a sanitizer sees. The rank hangs on seed, file and place alone, so that what is
 * altered in one file leaves the choice in others as it was. */
#include <ctype.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum kind { WORD, NUMBER, TEXT, SIGN };

struct token {
	enum kind kind;
	size_t at, length, line, column;
	size_t match; /* the other bracket of a pair, else the token itself */
};

struct source {
	const char *name;
	char *text;
	struct token *token;
	size_t tokens;
	/* What is listed, or which place is to be altered. */
	uint64_t seed;
	size_t places, wanted;
	bool alters;
};

static char *read_file(const char *name)
{
	char *text = malloc(1 << 20);
	FILE *in = fopen(name, "r");
	if (in == NULL || text == NULL) {
		perror(name);
		exit(2);
	}
	text[fread(text, 1, (1 << 20) - 1, in)] = '\0';
	fclose(in);
	return text;
}

static bool is(const struct source *s, size_t i, const char *text)
{
	const struct token *t = &s->token[i];
	return i < s->tokens && t->kind != TEXT && t->length == strlen(text) &&
	       strncmp(s->text + t->at, text, t->length) == 0;
}

/* Among words with a blank before and behind each. */
static bool is_any(const struct source *s, size_t i, const char *words)
{
	char word[64] = "";
	if (i < s->tokens && s->token[i].length + 3 <= sizeof word)
		snprintf(word, sizeof word, " %.*s ", (int)s->token[i].length,
		         s->text + s->token[i].at);
	return word[0] != 0 && strstr(words, word) != NULL;
}

/* How long the quoted text, comment, word, number or sign at `p` is. */
static size_t length_at(const char *p, enum kind *kind)
{
	static const char *const signs[] = {"<<=", ">>=", "...", "->", "++", "--", "<<", ">>",
	                                    "<=",  ">=",  "==",  "!=", "&&", "||", "+=", "-=",
	                                    "*=",  "/=",  "%=",  "&=", "|=", "^="};
	size_t n = 1;
	if (*p == '"' || *p == '\'') {
		*kind = TEXT;
		while (p[n] != *p && p[n] != '\0')
			n += p[n] == '\\' ? 2 : 1;
		return n + 1;
	}
	if (isdigit((unsigned char)*p) || (*p == '.' && isdigit((unsigned char)p[1]))) {
		*kind = NUMBER;
		while (isalnum((unsigned char)p[n]) || p[n] == '.' ||
		       ((p[n] == '-' || p[n] == '+') && (p[n - 1] == 'e' || p[n - 1] == 'E')))
			n++;
		return n;
	}
	if (isalpha((unsigned char)*p) || *p == '_') {
		*kind = WORD;
		while (isalnum((unsigned char)p[n]) || p[n] == '_')
			n++;
		return n;
	}
	*kind = SIGN;
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strncmp(p, signs[i], strlen(signs[i])) == 0)
			return strlen(signs[i]);
	return 1;
}

/* "#define NAME NUMBER" is looked at; any other line of the preprocessor is not. */
static bool names_number(const char *p)
{
	if (strncmp(p, "#define ", 8) != 0)
		return false;
	for (p += 8; isalnum((unsigned char)*p) || *p == '_'; p++)
		;
	p += strspn(p, " \t(-");
	return isdigit((unsigned char)*p);
}

static void split(struct source *s)
{
	size_t line = 1, start = 0, at = 0, open[200], depth = 0;
	s->token = calloc(strlen(s->text) + 1, sizeof *s->token);
	if (s->token == NULL)
		exit(2);
	while (s->text[at] != '\0') {
		const char *p = s->text + at;
		struct token *t = &s->token[s->tokens];
		size_t skip = 0;
		if (*p == '\n') {
			line++;
			start = ++at;
			continue;
		}
		if (isspace((unsigned char)*p))
			skip = 1;
		else if (strncmp(p, "/*", 2) == 0)
			skip = (size_t)(strstr(p, "*/") - p) + 2;
		else if (strncmp(p, "//", 2) == 0 || (*p == '#' && !names_number(p)))
			skip = strcspn(p, "\n");
		for (size_t i = 0; i < skip; i++)
			if (p[i] == '\n') {
				line++;
				start = at + i + 1;
			}
		at += skip;
		if (skip > 0)
			continue;
		*t = (struct token){
		    .at = at, .line = line, .column = at - start + 1, .match = s->tokens};
		t->length = length_at(p, &t->kind);
		if (t->kind == SIGN && strchr("([{", *p) != NULL && depth < 200)
			open[depth++] = s->tokens;
		if (t->kind == SIGN && strchr(")]}", *p) != NULL && depth > 0) {
			t->match = open[--depth];
			s->token[t->match].match = s->tokens;
		}
		at += t->length;
		s->tokens++;
	}
}

static uint64_t hash(uint64_t h, const char *text, size_t length)
{
	for (size_t i = 0; i < length; i++)
		h = (h ^ (unsigned char)text[i]) * 1099511628211U;
	h = (h ^ (h >> 31)) * 0x94d049bb133111ebU;
	return h ^ (h >> 29);
}

static void say(const char *text, size_t length)
{
	bool blank = false;
	for (size_t i = 0; i < length; i++) {
		if (!isspace((unsigned char)text[i]))
			putchar(text[i]);
		else if (!blank)
			putchar(' ');
		blank = isspace((unsigned char)text[i]);
	}
}

/* One place: tokens `from` to `to`, which become before, themselves, after; or `before` alone. */
static void place(struct source *s, size_t from, size_t to, const char *before, const char *after)
{
	const struct token *t = &s->token[from];
	size_t end = s->token[to].at + s->token[to].length, length = end - t->at;
	const char *old = s->text + t->at;
	if (s->alters) {
		if (s->places++ != s->wanted)
			return;
		printf("%.*s%s%.*s%s%s", (int)t->at, s->text, before, after ? (int)length : 0, old,
		       after ? after : "", s->text + end);
		return;
	}
	printf(
	    "%016llx\t%s\t%zu\t%zu\t%zu\t",
	    (unsigned long long)hash(
	        hash(hash(s->seed + 14695981039346656037U, s->name, strlen(s->name)), old, length),
	        (char *)&s->places, sizeof s->places),
	    s->name, s->places, t->line, t->column);
	s->places++;
	say(old, length);
	printf("\t%s", before);
	if (after != NULL) {
		say(old, length);
		fputs(after, stdout);
	}
	putchar('\n');
}

/* 0 becomes 1, 1 becomes 0; of any other number the last digit that is not 0 goes up, or 9 down. */
static void number(struct source *s, size_t i)
{
	char text[64];
	size_t length = s->token[i].length, last = 0;
	if (length >= sizeof text)
		return;
	memcpy(text, s->text + s->token[i].at, length);
	text[length] = '\0';
	if (text[0] == '0' && (text[1] == 'x' || text[1] == 'X'))
		return;
	for (size_t at = 0; isdigit((unsigned char)text[at]) || text[at] == '.'; at++)
		if (text[at] != '.' && (text[at] != '0' || text[last] == '0' || text[last] == '.'))
			last = at;
	if (strcmp(text, "1") == 0)
		text[0] = '0';
	else
		text[last] = (char)(text[last] == '9' ? '8' : text[last] + 1);
	place(s, i, i, text, NULL);
}

/* Whether the sign at `i` has something to its left that it joins with its right. */
static bool joins(const struct source *s, size_t i)
{
	const struct token *left = &s->token[i - 1];
	return left->kind == NUMBER || is_any(s, i - 1, " ) ] ") ||
	       (left->kind == WORD && !is_any(s, i - 1,
	                                      " return case else sizeof int char double long "
	                                      "unsigned void bool const struct enum "));
}

static void one_token(struct source *s, size_t i)
{
	static const char *const turned[][2] = {
	    {"<", "<="},  {"<=", "<"},  {">", ">="},  {">=", ">"},  {"==", "!="}, {"!=", "=="},
	    {"&&", "||"}, {"||", "&&"}, {"+=", "-="}, {"-=", "+="}, {"*=", "/="}, {"/=", "*="},
	};
	static const char *const joined[][2] = {{"+", "-"}, {"-", "+"}, {"*", "/"}, {"/", "*"}};
	for (size_t k = 0; k < sizeof turned / sizeof *turned; k++)
		if (is(s, i, turned[k][0]))
			place(s, i, i, turned[k][1], NULL);
	for (size_t k = 0; k < sizeof joined / sizeof *joined; k++)
		if (is(s, i, joined[k][0]) && joins(s, i))
			place(s, i, i, joined[k][1], NULL);
	if (is(s, i, "-") && !joins(s, i))
		place(s, i, i, " ", NULL);
	if (is(s, i, "!"))
		place(s, i, i, " ", NULL);
	if (s->token[i].kind == NUMBER && !(is(s, i - 1, "{") && is(s, i + 1, "}")))
		number(s, i);
	if (is_any(s, i, " if while ") && is(s, i + 1, "("))
		place(s, i + 1, s->token[i + 1].match, "(!", ")");
	if (is(s, i - 1, "return") && is(s, i, "true"))
		place(s, i, i, "false", NULL);
	if (is(s, i - 1, "return") && is(s, i, "false"))
		place(s, i, i, "true", NULL);
}

static bool opens_block(const struct source *s, size_t i)
{
	size_t round = s->token[i - 1].match;
	return is_any(s, i - 1, " ; { } else do : ") ||
	       (is(s, i - 1, ")") && is_any(s, round - 1, " if while for switch "));
}

/* A word behind which one names something, or two words side by side. */
static bool declares(const struct source *s, size_t i)
{
	if (is_any(s, i,
	           " const struct enum union int char double float long short unsigned signed void "
	           "bool size_t static "))
		return true;
	if (s->token[i].kind != WORD || is_any(s, i, " return case goto else sizeof "))
		return false;
	return s->token[i + 1].kind == WORD ||
	       (is(s, i + 1, "*") && s->token[i + 2].kind == WORD && is_any(s, i + 3, " = ; , [ "));
}

static size_t end_of_statement(const struct source *s, size_t i)
{
	while (i < s->tokens && !is(s, i, ";"))
		i = (s->token[i].match > i ? s->token[i].match : i) + 1;
	return i;
}

/* A call, or what gives something a value. */
static void drop(struct source *s, size_t i)
{
	const struct token *t = &s->token[i];
	bool frees = t->length >= 4 && strncmp(s->text + t->at + t->length - 4, "free", 4) == 0;
	if ((t->kind != WORD && !is_any(s, i, " * ++ -- ")) ||
	    is_any(s, i,
	           " if else for while do switch case default return break continue goto va_end "))
		return;
	if (!frees && !is(s, i + 1, ":"))
		place(s, i, end_of_statement(s, i) - 1, "", NULL);
}

/* The tokens between the braces of a function. */
static void body(struct source *s, size_t from, size_t to)
{
	bool starts = true, in_case = false, declared = false, active = true;
	int depth = 0, at = 0;
	for (size_t i = from; i < to; i++) {
		bool header = is(s, i - 1, "(") && is(s, i - 2, "for");
		if (starts && is(s, i, "static")) {
			i = end_of_statement(s, i);
			continue;
		}
		if (starts || header) {
			declared = declares(s, i);
			at = depth;
			active = !declared;
			if (starts && !declared)
				drop(s, i);
		}
		starts = false;
		in_case = in_case || is_any(s, i, " case default ");
		if (active)
			one_token(s, i);
		if (is(s, i, "{") && opens_block(s, i)) {
			starts = true;
		} else if (is_any(s, i, " ( [ { ")) {
			depth++;
		} else if (is(s, i, "}") && opens_block(s, s->token[i].match)) {
			starts = true;
		} else if (is_any(s, i, " ) ] } ")) {
			depth--;
			starts = is(s, i, ")") && depth == 0 &&
			         is_any(s, s->token[i].match - 1, " if while for switch ");
		} else if (is(s, i, ";")) {
			declared = false;
			active = true;
			starts = depth == 0;
		} else if (is(s, i, ":") && in_case) {
			in_case = false;
			starts = true;
		} else if (is_any(s, i, " else do ")) {
			starts = true;
		} else if (declared && depth == at && is_any(s, i, " = , ")) {
			active = is(s, i, "=");
		}
	}
}

/* Functions, and what stands between them: numbers behind #define or =, not in a table. */
static void whole(struct source *s)
{
	bool valued = false;
	for (size_t i = 0; i < s->tokens; i++) {
		if (is(s, i, "{")) {
			if (i > 0 && is(s, i - 1, ")"))
				body(s, i + 1, s->token[i].match);
			i = s->token[i].match;
			valued = false;
		} else if (is(s, i, "#")) {
			i += 2;
			while (s->token[i + 1].line == s->token[i].line) {
				i++;
				if (s->token[i].kind == NUMBER)
					number(s, i);
			}
		} else if (is_any(s, i, " = ; ")) {
			valued = is(s, i, "=");
		} else if (valued && s->token[i].kind == NUMBER) {
			number(s, i);
		}
	}
}

int main(int argc, char **argv)
{
	bool alters = argc == 4 && strcmp(argv[1], "alter") == 0;
	if (argc < 3) {
		fputs("usage: places SEED FILE... | places alter FILE NUMBER\n", stderr);
		return 2;
	}
	for (int i = 2; i < (alters ? 3 : argc); i++) {
		struct source s = {.name = argv[i], .text = read_file(argv[i]), .alters = alters};
		if (alters)
			s.wanted = strtoul(argv[3], NULL, 10);
		else
			s.seed = strtoull(argv[1], NULL, 10);
		split(&s);
		whole(&s);
		free(s.token);
		free(s.text);
	}
	return 0;
}
