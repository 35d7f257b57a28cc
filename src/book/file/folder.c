#include "rodbook/book/folder.h"

#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/file/rename_fresh.h"
#include "book/journal/digest.h"

static bool cannot(const char *path, struct fault *why)
{
	return fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", path, strerror(errno));
}

bool book_folder_begin(const char *path, struct book_folder *out, struct fault *why)
{
	size_t size = strlen(path);
	struct stat there;
	*out = (struct book_folder){0};
	while (size > 1 && path[size - 1] == '/')
		size--;
	if (snprintf(out->path, sizeof out->path, "%.*s", (int)size, path) >= BOOK_PATH_BYTES ||
	    snprintf(out->partial, sizeof out->partial, "%.*s.%ld.part", (int)size, path,
	             (long)getpid()) >= BOOK_PATH_BYTES) {
		errno = ENAMETOOLONG;
		return cannot(path, why);
	}
	if (lstat(out->path, &there) == 0)
		return fault_say(why, FAULT_FILE,
		                 "%.300s exists already: give the new folder another name",
		                 out->path);
	return mkdir(out->partial, 0777) == 0 || cannot(out->path, why);
}

static bool path_of(const struct book_folder *folder, const char *name, char path[BOOK_PATH_BYTES],
                    struct fault *why)
{
	if (snprintf(path, BOOK_PATH_BYTES, "%s/%s", folder->partial, name) < BOOK_PATH_BYTES)
		return true;
	errno = ENAMETOOLONG;
	return cannot(folder->path, why);
}

static bool digest_of(const char *path, char hex[BOOK_HEX_BYTES])
{
	struct digest digest;
	unsigned char bytes[16384];
	ssize_t got = -1;
	int fd = open(path, O_RDONLY | O_CLOEXEC);
	digest_begin(&digest);
	while (fd >= 0 && (got = read(fd, bytes, sizeof bytes)) > 0)
		digest_add(&digest, bytes, (size_t)got);
	if (fd >= 0)
		close(fd);
	digest_end(&digest, hex);
	return got == 0;
}

bool book_folder_take(struct book_folder *folder, const char *name, struct fault *why)
{
	char path[BOOK_PATH_BYTES];
	struct book_folder_file *file;
	if (!path_of(folder, name, path, why))
		return false;
	if (folder->count == folder->room) {
		size_t room = folder->room ? 2 * folder->room : 16;
		file = realloc(folder->file, room * sizeof *file);
		if (!file) {
			/* A file that is not in the list would be left behind when the folder is
			 * dropped. */
			unlink(path);
			return fault_memory(why);
		}
		folder->file = file;
		folder->room = room;
	}
	file = &folder->file[folder->count];
	snprintf(file->name, sizeof file->name, "%s", name);
	folder->count++;
	return digest_of(path, file->hex) || cannot(path, why);
}

bool book_folder_add(struct book_folder *folder, const char *name, book_folder_writer *write,
                     void *context, struct fault *why)
{
	char path[BOOK_PATH_BYTES];
	FILE *out;
	int fd;
	bool ok;
	if (!path_of(folder, name, path, why))
		return false;
	fd = open(path, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
	out = fd >= 0 ? fdopen(fd, "wb") : NULL;
	if (!out) {
		cannot(path, why);
		if (fd >= 0) {
			close(fd);
			unlink(path);
		}
		return false;
	}
	ok = write(out, context, why);
	if (ok && (fflush(out) != 0 || ferror(out) || fsync(fd) != 0))
		ok = cannot(path, why);
	fclose(out);
	if (ok)
		return book_folder_take(folder, name, why);
	unlink(path);
	return false;
}

static bool is_taken(const struct book_folder *folder, const char *name)
{
	for (size_t i = 0; i < folder->count; i++)
		if (strcasecmp(folder->file[i].name, name) == 0)
			return true;
	return false;
}

void book_folder_name(const struct book_folder *folder, const char *before, const char *text,
                      const char *behind, char out[256])
{
	char name[101];
	snprintf(name, sizeof name, "%.100s", text);
	for (char *at = name; *at; at++)
		if (!isascii(*at) || !(isalnum((unsigned char)*at) || strchr("._-", *at)))
			*at = '_';
	snprintf(out, 256, "%.60s%s%.20s", before, name, behind);
	for (int i = 2; is_taken(folder, out); i++)
		snprintf(out, 256, "%.60s%s-%d%.20s", before, name, i, behind);
}

void book_folder_drop(struct book_folder *folder)
{
	char path[BOOK_PATH_BYTES];
	struct fault none;
	for (size_t i = 0; i < folder->count; i++)
		if (path_of(folder, folder->file[i].name, path, &none))
			unlink(path);
	rmdir(folder->partial);
	free(folder->file);
	*folder = (struct book_folder){0};
}

bool book_folder_end(struct book_folder *folder, struct fault *why)
{
	char inside[BOOK_PATH_BYTES];
	bool ok;
	/* Its names are on disk before it is at its place. */
	if (path_of(folder, "", inside, why))
		book_file_sync_folder(inside);
	ok = rename_fresh(folder->partial, folder->path);
	/* Not every file system knows that; a folder that holds something is never replaced. */
	if (!ok && (errno == EINVAL || errno == ENOSYS))
		ok = rename(folder->partial, folder->path) == 0;
	if (!ok) {
		cannot(folder->path, why);
		book_folder_drop(folder);
		return false;
	}
	book_file_sync_folder(folder->path);
	free(folder->file);
	*folder = (struct book_folder){0};
	return true;
}
