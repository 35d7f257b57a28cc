/* Loaded before the C library: writes down what is done to the files of the working directory. */
#define _GNU_SOURCE
#include "disk_log.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <unistd.h>

static int log_fd = -1;
static char here[PATH_MAX];
static ino_t here_inode;

__attribute__((constructor)) static void begin(void)
{
	const char *path = getenv(TRIAL_DISK_LOG);
	struct stat info;
	if (!path || !getcwd(here, sizeof here) || stat(here, &info) != 0)
		return;
	here_inode = info.st_ino;
	log_fd = open(path, O_WRONLY | O_APPEND | O_CLOEXEC);
}

static void enter(struct disk_record *record, const void *bytes)
{
	static const char zeros[8];
	struct iovec parts[3] = {{record, sizeof *record},
	                         {(void *)bytes, (size_t)record->size},
	                         {(void *)zeros, DISK_PADDING(record->size)}};
	int saved = errno;
	if (log_fd >= 0)
		syscall(SYS_writev, log_fd, parts, bytes ? 3 : 1);
	errno = saved;
}

/* The name of a file in the working directory; NULL of any other file. */
static const char *name_of(const char *path)
{
	const char *slash = path ? strrchr(path, '/') : NULL;
	size_t size = strlen(here);
	if (!slash || (slash == path + 1 && *path == '.'))
		return slash ? slash + 1 : path;
	return (size_t)(slash - path) == size && strncmp(path, here, size) == 0 ? slash + 1 : NULL;
}

static void two(enum disk_kind kind, const char *from, const char *to)
{
	struct disk_record record = {.kind = kind};
	const char *name = name_of(from), *other = name_of(to);
	struct stat info;
	if (!name)
		return;
	snprintf(record.name, sizeof record.name, "%s", name);
	snprintf(record.other, sizeof record.other, "%s", other ? other : "");
	if (to && stat(to, &info) == 0)
		record.inode = (int64_t)info.st_ino;
	enter(&record, NULL);
}

/* Whether the descriptor is a file whose doings are written down. */
static bool is_file(int fd, struct stat *info)
{
	return log_fd >= 0 && fd > 2 && fstat(fd, info) == 0 && S_ISREG(info->st_mode);
}

static int open_any(int dir, const char *path, int flags, mode_t mode)
{
	struct stat info;
	bool was = fstatat(dir, path, &info, AT_SYMLINK_NOFOLLOW) == 0;
	int fd = (int)syscall(SYS_openat, dir, path, flags, mode);
	if (fd >= 0 && log_fd >= 0 && name_of(path) && fstat(fd, &info) == 0 &&
	    S_ISREG(info.st_mode)) {
		struct disk_record record = {.inode = (int64_t)info.st_ino};
		snprintf(record.name, sizeof record.name, "%s", name_of(path));
		record.kind = was ? DISK_TRUNCATE : DISK_CREATE;
		if (!was || flags & O_TRUNC)
			enter(&record, NULL);
	}
	return fd;
}

static mode_t mode_of(int flags, va_list args)
{
	return flags & (O_CREAT | O_TMPFILE) ? va_arg(args, mode_t) : 0;
}

int open(const char *path, int flags, ...)
{
	va_list args;
	mode_t mode;
	va_start(args, flags);
	mode = mode_of(flags, args);
	va_end(args);
	return open_any(AT_FDCWD, path, flags, mode);
}

int openat(int dir, const char *path, int flags, ...)
{
	va_list args;
	mode_t mode;
	va_start(args, flags);
	mode = mode_of(flags, args);
	va_end(args);
	return open_any(dir, path, flags, mode);
}

int open64(const char *path, int flags, ...) __attribute__((alias("open")));
int openat64(int dir, const char *path, int flags, ...) __attribute__((alias("openat")));

int creat(const char *path, mode_t mode)
{
	return open_any(AT_FDCWD, path, O_CREAT | O_WRONLY | O_TRUNC, mode);
}

static void wrote(int fd, const void *bytes, ssize_t size, off_t at)
{
	struct disk_record record = {.kind = DISK_WRITE, .at = at, .size = size};
	struct stat info;
	if (size <= 0 || !is_file(fd, &info))
		return;
	record.inode = (int64_t)info.st_ino;
	enter(&record, bytes);
}

ssize_t write(int fd, const void *bytes, size_t size)
{
	off_t at = lseek(fd, 0, SEEK_CUR);
	ssize_t done = syscall(SYS_write, fd, bytes, size);
	if (fd == 1 || fd == 2)
		enter(&(struct disk_record){.kind = DISK_SAID}, NULL);
	else
		wrote(fd, bytes, done, at);
	return done;
}

ssize_t pwrite(int fd, const void *bytes, size_t size, off_t at)
{
	ssize_t done = syscall(SYS_pwrite64, fd, bytes, size, at);
	wrote(fd, bytes, done, at);
	return done;
}

ssize_t pwrite64(int fd, const void *bytes, size_t size, off_t at) __attribute__((alias("pwrite")));

int ftruncate(int fd, off_t size)
{
	struct disk_record record = {.kind = DISK_TRUNCATE, .at = size};
	struct stat info;
	int code = (int)syscall(SYS_ftruncate, fd, size);
	if (code == 0 && is_file(fd, &info)) {
		record.inode = (int64_t)info.st_ino;
		enter(&record, NULL);
	}
	return code;
}

int ftruncate64(int fd, off_t size) __attribute__((alias("ftruncate")));

static int sync_any(long call, int fd)
{
	struct disk_record record = {.kind = DISK_SYNC};
	struct stat info;
	int code = (int)syscall(call, fd);
	if (code != 0 || fstat(fd, &info) != 0)
		return code;
	record.inode = (int64_t)info.st_ino;
	if (info.st_ino == here_inode)
		record.kind = DISK_SYNC_DIR;
	if (S_ISREG(info.st_mode) || record.kind == DISK_SYNC_DIR)
		enter(&record, NULL);
	return code;
}

int fsync(int fd)
{
	return sync_any(SYS_fsync, fd);
}

int fdatasync(int fd)
{
	return sync_any(SYS_fdatasync, fd);
}

int rename(const char *from, const char *to)
{
	int code = (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
	if (code == 0)
		two(DISK_RENAME, from, to);
	return code;
}

int renameat2(int from_dir, const char *from, int to_dir, const char *to, unsigned flags)
{
	int code = (int)syscall(SYS_renameat2, from_dir, from, to_dir, to, flags);
	if (code == 0)
		two(DISK_RENAME, from, to);
	return code;
}

int link(const char *from, const char *to)
{
	int code = (int)syscall(SYS_linkat, AT_FDCWD, from, AT_FDCWD, to, 0);
	if (code == 0)
		two(DISK_LINK, from, to);
	return code;
}

int unlink(const char *path)
{
	int code = (int)syscall(SYS_unlinkat, AT_FDCWD, path, 0);
	if (code == 0)
		two(DISK_UNLINK, path, NULL);
	return code;
}
