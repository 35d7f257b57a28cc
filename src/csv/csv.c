#include "csv/csv.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define FILE_LIMIT (64L << 20)

/* What a spreadsheet would run as a formula, or what looks as if it had been made safe already. A
 * number stays one. */
static bool is_risky(const char *text)
{
	char *end;
	if (*text == '\'')
		return text[1] && strchr("=+-@\t\r'", text[1]);
	if (!*text || !strchr("=+-@\t\r", *text))
		return false;
	strtod(text, &end);
	return *end || text[strspn(text, "0123456789+-.e")] != '\0';
}

static void write_field(FILE *out, const char *text)
{
	bool risky = is_risky(text);
	if (risky && !strpbrk(text, ",\"\r\n") && text[strlen(text) - 1] != ' ') {
		fprintf(out, "'%s", text);
		return;
	}
	if (!risky && !strpbrk(text, ",\"\r\n") && *text != ' ' &&
	    (!*text || text[strlen(text) - 1] != ' ')) {
		fputs(text, out);
		return;
	}
	fputs(risky ? "\"'" : "\"", out);
	for (; *text; text++) {
		if (*text == '"')
			fputc('"', out);
		fputc(*text, out);
	}
	fputc('"', out);
}

void csv_write(FILE *out, const char *const *fields, size_t count, const char *line_end)
{
	for (size_t i = 0; i < count; i++) {
		if (i)
			fputc(',', out);
		write_field(out, fields[i]);
	}
	fputs(line_end, out);
}

static void close_file(FILE *file)
{
	if (file != stdin)
		fclose(file);
}

bool csv_open(struct csv_reader *reader, const char *path, struct fault *why)
{
	struct stat info;
	bool standard = strcmp(path, "-") == 0;
	FILE *file = standard ? stdin : fopen(path, "rb");
	size_t size = 0;

	*reader = (struct csv_reader){.path = path, .line = 1};
	if (!file)
		return fault_say(why, FAULT_FILE, "%.300s: %s", path, strerror(errno));
	if (fstat(fileno(file), &info) != 0 || S_ISDIR(info.st_mode) || info.st_size > FILE_LIMIT) {
		close_file(file);
		return fault_say(why, FAULT_FILE, "%.300s is %s: give a CSV file", path,
		                 S_ISDIR(info.st_mode) ? "a directory" : "larger than 64 MiB");
	}
	reader->text = malloc((size_t)FILE_LIMIT + 1);
	if (reader->text)
		size = fread(reader->text, 1, (size_t)FILE_LIMIT, file);
	/* A pipe's size shows only here: a part must not pass for the whole. */
	if (reader->text && size == (size_t)FILE_LIMIT && fgetc(file) != EOF) {
		close_file(file);
		csv_close(reader);
		return fault_say(why, FAULT_FILE, "%.300s is larger than 64 MiB", path);
	}
	if (!reader->text || ferror(file)) {
		fault_say(why, FAULT_FILE, "%.300s: cannot be read", path);
		close_file(file);
		csv_close(reader);
		return false;
	}
	close_file(file);
	reader->text[size] = '\0';
	reader->at = reader->text;
	if (strlen(reader->text) != size) {
		csv_close(reader);
		return fault_say(why, FAULT_FILE, "%.300s is no text: give a CSV file", path);
	}
	if (strncmp(reader->at, "\xef\xbb\xbf", 3) == 0)
		reader->at += 3;
	return true;
}

void csv_close(struct csv_reader *reader)
{
	free(reader->text);
	reader->text = reader->at = NULL;
}

/* Ends the field at `at`; returns whether another field follows on the record. */
static bool end_field(struct csv_reader *reader, char *at, char *end)
{
	bool more = *at == ',';
	if (*at == '\r' && at[1] == '\n')
		at++;
	if (*at == '\n' || *at == '\r')
		reader->line++;
	reader->at = *at ? at + 1 : at;
	*end = '\0';
	return more;
}

/* Reads a field in quotes; its text is unquoted in place. */
static bool quoted(struct csv_reader *reader, char **field, bool *more, struct fault *why)
{
	char *from = reader->at + 1, *to = reader->at;
	int line = reader->line;
	*field = to;
	for (;; from++) {
		if (!*from)
			return fault_say(why, FAULT_INPUT,
			                 "%.300s:%d: a quote is opened and not closed",
			                 reader->path, line);
		if (*from == '"' && from[1] == '"')
			from++;
		else if (*from == '"')
			break;
		if (*from == '\n')
			reader->line++;
		*to++ = *from;
	}
	from++;
	if (*from && !strchr(",\r\n", *from))
		return fault_say(
		    why, FAULT_INPUT,
		    "%.300s:%d: text behind a closing quote: double the quotes inside a "
		    "field",
		    reader->path, reader->line);
	*more = end_field(reader, from, to);
	return true;
}

static bool plain(struct csv_reader *reader, char **field, bool *more)
{
	char *end = reader->at + strcspn(reader->at, ",\r\n");
	*field = reader->at;
	*more = end_field(reader, end, end);
	return true;
}

bool csv_read(struct csv_reader *reader, struct csv_record *record, struct fault *why)
{
	bool more = true;
	while (*reader->at == '\n' || *reader->at == '\r') {
		reader->line += *reader->at == '\n';
		reader->at++;
	}
	record->count = 0;
	record->line = reader->line;
	if (!*reader->at)
		return false;
	while (more) {
		char **field = &record->field[record->count];
		if (record->count == CSV_FIELDS)
			return fault_say(why, FAULT_INPUT, "%.300s:%d: more than %d columns",
			                 reader->path, record->line, CSV_FIELDS);
		if (*reader->at == '"' ? !quoted(reader, field, &more, why)
		                       : !plain(reader, field, &more))
			return false;
		if (**field == '\'' && (*field)[1] && strchr("=+-@\t\r'", (*field)[1]))
			(*field)++;
		record->count++;
	}
	return true;
}
