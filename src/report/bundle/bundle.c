#include "rodbook/report/bundle.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "report/bundle/readme.h"
#include "report/picture/picture.h"
#include "rodbook/book/folder.h"
#include "rodbook/book/photos.h"
#include "rodbook/book/second.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

extern const char rodbook_redo[];

struct bundle {
	struct book *book;
	struct book_folder folder;
	struct work_run run; /* whose files are being written */
	const char *name;    /* of that run */
	const char *text;    /* to be written as it is */
	int photo;           /* open for reading */
	FILE *readme;
};

static bool write_statement(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return report_statement(out, b->book, &b->run, REPORT_STATEMENT_TEXT, why);
}

static bool write_statement_csv(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return report_statement(out, b->book, &b->run, REPORT_STATEMENT_CSV, why);
}

static bool write_statement_html(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return report_html(out, b->book, &b->run, REPORT_PAPER_STATEMENT, why);
}

static bool write_page_html(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return report_html(out, b->book, &b->run, REPORT_PAPER_PAGE, why);
}

static bool write_page_csv(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return report_page(out, &b->run, true, why);
}

static bool write_run_csv(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	return csv_export(out, b->book, &b->run, why);
}

static bool write_text(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	(void)why;
	fputs(b->text, out);
	return true;
}

static bool write_photo(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	char bytes[16384];
	ssize_t got;
	while ((got = read(b->photo, bytes, sizeof bytes)) > 0)
		if (fwrite(bytes, 1, (size_t)got, out) != (size_t)got)
			return fault_say(why, FAULT_FILE, "a photograph cannot be written");
	return got == 0 || fault_say(why, FAULT_FILE, "a photograph cannot be read");
}

/* The files of a run, in the order in which they are listed. */
static const struct {
	const char *before, *behind;
	book_folder_writer *write;
	const char *holds;
} papers[] = {
    {"statement-", ".html", write_statement_html, "question, answer, all workings: for a browser"},
    {"statement-", ".txt", write_statement, "the same as text"},
    {"statement-", ".csv", write_statement_csv, "every number of the workings, for redo.awk"},
    {"page-", ".html", write_page_html, "the page of the field book: for a browser"},
    {"page-", ".csv", write_page_csv, "its rows as a table"},
    {"run-", ".csv", write_run_csv, "what was booked, as rodbook import takes it"},
};

static bool add(struct bundle *b, const char *before, const char *text, const char *behind,
                book_folder_writer *write, const char *holds, struct fault *why)
{
	char name[256];
	book_folder_name(&b->folder, before, text, behind, name);
	if (!book_folder_add(&b->folder, name, write, b, why))
		return false;
	readme_file(b->readme, name, holds);
	return true;
}

/* A drawing, where there is something to draw. */
static bool add_picture(struct bundle *b, struct fault *why)
{
	bool crossing = b->run.book.run.kind == LEVEL_CROSSING, ok = true;
	char *svg;
	if (!picture_of_run(b->book, &b->run, &svg, why))
		return false;
	b->text = svg;
	if (svg)
		ok = add(b, crossing ? "longsight-" : "profile-", b->name, ".svg", write_text,
		         "a drawing of it", why);
	free(svg);
	return ok;
}

static bool has_digest(const struct book_folder *folder, const char *hex)
{
	for (size_t i = 0; i < folder->count; i++)
		if (strcmp(folder->file[i].hex, hex) == 0)
			return true;
	return false;
}

/* A book from elsewhere may name any file of this machine. One is taken that is what was booked;
 * and where that is not known, one whose name stays in this folder or the book's. */
static bool is_wanted(const struct bundle *b, const char *name, const char *hex)
{
	char digests[BOOK_DIGESTS_BYTES], said[BOOK_PHOTOS_SAID_BYTES];
	if (!*hex)
		return *name != '/' && *name != '.' && !strstr(name, "/.");
	book_photo_digests(b->book, name, digests, said);
	return strcmp(digests, hex) == 0;
}

/* Each photograph once. */
static bool add_photo(struct bundle *b, const char *name, const char *hex, struct fault *why)
{
	const char *slash = strrchr(name, '/');
	bool ok;
	if (*hex && has_digest(&b->folder, hex))
		return true;
	b->photo = book_photo_open(b->book, name);
	if (b->photo < 0) {
		readme_missing(b->readme, name, hex, errno == ENOENT);
		return true;
	}
	if (!is_wanted(b, name, hex)) {
		close(b->photo);
		readme_other(b->readme, name, hex);
		return true;
	}
	ok = add(b, "photo-", slash ? slash + 1 : name, "", write_photo,
	         "a photograph that a sight names", why);
	close(b->photo);
	return ok;
}

static bool add_photos(struct bundle *b, struct fault *why)
{
	char name[LEVEL_REMARK_BYTES], hex[BOOK_HEX_BYTES];
	for (size_t i = 0; i < b->run.book.run.count; i++) {
		const struct book_kept *note = &b->run.book.note[i];
		for (size_t n = 0; book_photo_at(note->photo, note->photo_digest, n, name, hex);
		     n++)
			if (!add_photo(b, name, hex, why))
				return false;
	}
	return true;
}

static bool add_run(struct bundle *b, const char *name, struct fault *why)
{
	bool ok = work_run_load(b->book, name, NULL, &b->run, why);
	if (!ok)
		return false;
	b->name = b->run.book.info.name;
	readme_run(b->readme, &b->run);
	for (size_t i = 0; ok && i < sizeof papers / sizeof *papers; i++)
		ok = add(b, papers[i].before, b->name, papers[i].behind, papers[i].write,
		         papers[i].holds, why);
	ok = ok && add_picture(b, why) && add_photos(b, why);
	work_run_free(&b->run);
	return ok;
}

static bool add_book(struct bundle *b, struct fault *why)
{
	char path[BOOK_PATH_BYTES];
	struct book_second second;
	if (snprintf(path, sizeof path, "%s/book.rodbook", b->folder.partial) >= BOOK_PATH_BYTES)
		return fault_say(why, FAULT_FILE, "%.300s is too long", b->folder.path);
	if (!book_second_copy(b->book, path, &second, why) ||
	    !book_folder_take(&b->folder, "book.rodbook", why))
		return false;
	readme_book(b->readme, &second.witness);
	return true;
}

static bool write_sums(FILE *out, void *context, struct fault *why)
{
	const struct bundle *b = context;
	(void)why;
	for (size_t i = 0; i < b->folder.count; i++)
		fprintf(out, "%s  %s\n", b->folder.file[i].hex, b->folder.file[i].name);
	return true;
}

static bool fill(struct bundle *b, const char *const *runs, size_t count, struct fault *why)
{
	char *readme = NULL;
	size_t size;
	bool ok = true;
	b->readme = open_memstream(&readme, &size);
	if (!b->readme)
		return fault_memory(why);
	readme_begin(b->readme);
	for (size_t i = 0; ok && i < count; i++)
		ok = add_run(b, runs[i], why);
	ok = ok && add_book(b, why);
	readme_end(b->readme);
	if (fclose(b->readme) != 0)
		ok = fault_memory(why);
	b->text = rodbook_redo;
	ok = ok && book_folder_add(&b->folder, "redo.awk", write_text, b, why);
	b->text = readme;
	ok = ok && book_folder_add(&b->folder, "README.txt", write_text, b, why) &&
	     book_folder_add(&b->folder, "SHA256SUMS", write_sums, b, why);
	free(readme);
	return ok;
}

bool report_bundle(struct book *book, const char *const *runs, size_t count, const char *path,
                   struct fault *why)
{
	struct bundle bundle = {.book = book};
	bool ok;
	/* All files are of one state of the book. */
	if (!book_hold(book, why))
		return false;
	ok = book_folder_begin(path, &bundle.folder, why);
	if (ok && !fill(&bundle, runs, count, why)) {
		book_folder_drop(&bundle.folder);
		ok = false;
	}
	book_release(book);
	return ok && book_folder_end(&bundle.folder, why);
}
