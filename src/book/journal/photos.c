#include "rodbook/book/photos.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/journal/digest.h"
#include "book/store.h"
#include "rodbook/book/files.h"

/* A FIFO must not hold the program up: it is opened without waiting, and refused. */
static int open_photo(const struct book *book, const char *name)
{
	char beside[BOOK_PATH_BYTES];
	const char *slash = strrchr(book->path, '/');
	int fd = open(name, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
	if (fd >= 0 || errno != ENOENT || !slash || *name == '/')
		return fd;
	if (snprintf(beside, sizeof beside, "%.*s/%s", (int)(slash - book->path), book->path,
	             name) >= (int)sizeof beside)
		return -1;
	return open(beside, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
}

int book_photo_open(const struct book *book, const char *name)
{
	struct stat info;
	int fd = open_photo(book, name);
	if (fd < 0 || (fstat(fd, &info) == 0 && S_ISREG(info.st_mode) &&
	               info.st_size <= BOOK_PHOTO_BYTES_MOST))
		return fd;
	close(fd);
	errno = EINVAL;
	return -1;
}

static const char *take(int fd, char hex[DIGEST_BYTES])
{
	struct digest digest;
	struct stat info;
	unsigned char bytes[16384];
	int64_t sum = 0;
	ssize_t got;
	if (fstat(fd, &info) != 0 || !S_ISREG(info.st_mode))
		return "is no plain file";
	digest_begin(&digest);
	while ((got = read(fd, bytes, sizeof bytes)) > 0) {
		sum += got;
		if (sum > BOOK_PHOTO_BYTES_MOST)
			return "is over 200 MB";
		digest_add(&digest, bytes, (size_t)got);
	}
	if (got < 0)
		return "cannot be read";
	digest_end(&digest, hex);
	return NULL;
}

/* NULL, or why there is no digest. */
static const char *digest_of(const struct book *book, const char *name, char hex[DIGEST_BYTES])
{
	const char *cannot;
	int fd = open_photo(book, name);
	if (fd < 0)
		return errno == ENOENT ? "is missing" : "cannot be read";
	cannot = take(fd, hex);
	close(fd);
	return cannot;
}

static void say(char said[BOOK_PHOTOS_SAID_BYTES], const char *name, const char *words)
{
	size_t used = strlen(said);
	snprintf(said + used, BOOK_PHOTOS_SAID_BYTES - used, "%sthe photograph %.120s %s",
	         used ? "; " : "", name, words);
}

void book_photo_digests(const struct book *book, const char *names,
                        char digests[BOOK_DIGESTS_BYTES], char said[BOOK_PHOTOS_SAID_BYTES])
{
	char text[LEVEL_REMARK_BYTES], hex[DIGEST_BYTES], *rest = text, *name;
	const char *cannot;
	bool any = false;
	digests[0] = said[0] = '\0';
	if (!*names)
		return;
	if (!digest_of(book, names, hex)) {
		strcpy(digests, hex);
		return;
	}
	snprintf(text, sizeof text, "%s", names);
	while ((name = strtok_r(rest, " ", &rest))) {
		size_t used = strlen(digests);
		cannot = used + DIGEST_BYTES + 1 > BOOK_DIGESTS_BYTES - 6
		             ? "is one too many for a digest"
		             : digest_of(book, name, hex);
		if (cannot)
			say(said, name, cannot);
		any = any || !cannot;
		if (used + 2 < BOOK_DIGESTS_BYTES - 6)
			snprintf(digests + used, BOOK_DIGESTS_BYTES - used, "%s%s", used ? " " : "",
			         cannot ? "-" : hex);
	}
	if (!any)
		digests[0] = '\0';
}

/* The i-th word of a text; false behind the last. */
static bool word_at(const char *text, size_t i, char *out, size_t size)
{
	for (;; i--) {
		size_t length;
		text += strspn(text, " ");
		length = strcspn(text, " ");
		if (!length)
			return false;
		if (i == 0) {
			snprintf(out, size, "%.*s", (int)length, text);
			return true;
		}
		text += length;
	}
}

bool book_photo_at(const char *names, const char *digests, size_t i, char name[LEVEL_REMARK_BYTES],
                   char *hex)
{
	char second[LEVEL_REMARK_BYTES];
	/* One digest of several words: they are one name. */
	bool whole = *digests && !strchr(digests, ' ') && word_at(names, 1, second, sizeof second);
	*hex = '\0';
	if (whole) {
		snprintf(name, LEVEL_REMARK_BYTES, "%s", names);
		snprintf(hex, DIGEST_BYTES, "%s", digests);
		return i == 0;
	}
	if (!word_at(names, i, name, LEVEL_REMARK_BYTES))
		return false;
	if (word_at(digests, i, hex, DIGEST_BYTES) && strcmp(hex, "-") == 0)
		*hex = '\0';
	return true;
}
