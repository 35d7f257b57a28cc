/* The directory of a trial, its files, and the program started in it. */
#include "trial.h"

#include <errno.h>
#include <fcntl.h>
#include <dirent.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static struct {
	char dir[64], program[PATH_MAX], preload[PATH_MAX + 16];
	int out, err;
	struct trial_bytes said[2];
} here = {.out = -1, .err = -1};

struct trial_bytes trial_read(const char *path)
{
	struct trial_bytes bytes = {0};
	struct stat info;
	int fd = open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return bytes;
	bytes.there = true;
	if (fstat(fd, &info) != 0 || !(bytes.at = malloc((size_t)info.st_size + 1)))
		trial_stop("%s: %s", path, strerror(errno));
	while (bytes.size < (size_t)info.st_size) {
		ssize_t got = read(fd, bytes.at + bytes.size, (size_t)info.st_size - bytes.size);
		if (got <= 0)
			break;
		bytes.size += (size_t)got;
	}
	bytes.at[bytes.size] = '\0';
	close(fd);
	return bytes;
}

void trial_write(const char *path, const void *bytes, size_t size)
{
	const char *at = bytes;
	int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
	if (fd < 0)
		trial_stop("%s: %s", path, strerror(errno));
	while (size > 0) {
		ssize_t done = write(fd, at, size);
		if (done < 0)
			trial_stop("%s: %s", path, strerror(errno));
		at += done;
		size -= (size_t)done;
	}
	close(fd);
}

void trial_split(const char *line, char *room, size_t size, char *words[TRIAL_WORDS])
{
	size_t count = 0;
	char *at = room;
	if ((size_t)snprintf(room, size, "%s", line) >= size)
		trial_stop("too long: %s", line);
	while (*(at += strspn(at, " "))) {
		char end = *at == '\'' ? '\'' : ' ';
		at += end == '\'';
		if (count == TRIAL_WORDS - 1)
			trial_stop("too many words: %s", line);
		words[count++] = at;
		at += strcspn(at, end == '\'' ? "'" : " ");
		if (*at)
			*at++ = '\0';
	}
	words[count] = NULL;
}

static void leave(void)
{
	DIR *dir = chdir(here.dir) == 0 ? opendir(".") : NULL;
	struct dirent *entry;
	while (dir && (entry = readdir(dir)))
		if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
			unlink(entry->d_name);
	if (dir)
		closedir(dir);
	rmdir(here.dir);
}

const char *trial_enter(void)
{
	const char *program = getenv("RODBOOK");
	char resolved[PATH_MAX];
	snprintf(here.dir, sizeof here.dir, "/dev/shm/rodbook-trial.XXXXXX");
	if (!mkdtemp(here.dir)) {
		snprintf(here.dir, sizeof here.dir, "/tmp/rodbook-trial.XXXXXX");
		if (!mkdtemp(here.dir))
			trial_stop("no directory: %s", strerror(errno));
	}
	if (!program || !realpath(program, resolved))
		trial_stop("RODBOOK names no program");
	trial_use_program(resolved);
	if (chdir(here.dir) != 0)
		trial_stop("%s: %s", here.dir, strerror(errno));
	atexit(leave);
	/* What was said is kept outside of the directory, so that nothing but books is in it. */
	here.out = memfd_create("out", MFD_CLOEXEC);
	here.err = memfd_create("err", MFD_CLOEXEC);
	if (here.out < 0 || here.err < 0)
		trial_stop("no memory for what is said");
	setenv("LC_ALL", "C.UTF-8", 1);
	setenv("TZ", "UTC0", 1);
	setenv("TERM", "xterm-256color", 1);
	/* Fewer calls for memory from the system, which take most of a short program's time. */
	setenv("MALLOC_TOP_PAD_", "4194304", 1);
	setenv("MALLOC_TRIM_THRESHOLD_", "67108864", 1);
	setenv("RODBOOK_CLOCK", "2026-05-04T09:30:00+02:00", 1);
	return here.dir;
}

const char *trial_program(void)
{
	return here.program;
}

void trial_use_program(const char *path)
{
	if (path != here.program)
		snprintf(here.program, sizeof here.program, "%s", path);
}

void trial_preload(const char *path)
{
	here.preload[0] = '\0';
	if (path)
		snprintf(here.preload, sizeof here.preload, "LD_PRELOAD=%s", path);
}

void trial_redirect(void)
{
	dup2(here.out, STDOUT_FILENO);
	dup2(here.err, STDERR_FILENO);
	if (here.preload[0])
		putenv(here.preload);
}

static void empty(int fd)
{
	if (ftruncate(fd, 0) != 0 || lseek(fd, 0, SEEK_SET) != 0)
		trial_stop("what is said: %s", strerror(errno));
}

void trial_silence(void)
{
	empty(here.out);
	empty(here.err);
}

pid_t trial_start(char *const *words)
{
	pid_t child;
	trial_silence();
	child = fork();
	if (child < 0)
		trial_stop("no process: %s", strerror(errno));
	if (child == 0) {
		trial_redirect();
		execv(here.program, words);
		_exit(127);
	}
	return child;
}

static struct trial_bytes take(int fd, struct trial_bytes *old)
{
	off_t size = lseek(fd, 0, SEEK_END);
	free(old->at);
	old->at = malloc((size_t)size + 1);
	if (!old->at || pread(fd, old->at, (size_t)size, 0) != size)
		trial_stop("what was said cannot be read");
	old->size = (size_t)size;
	old->at[size] = '\0';
	old->there = true;
	return *old;
}

void trial_said(int status, struct trial_said *said)
{
	said->status = status;
	said->out = take(here.out, &here.said[0]);
	said->err = take(here.err, &here.said[1]);
}

void trial_run(char *const *words, struct trial_said *said)
{
	int status;
	pid_t child = trial_start(words);
	while (waitpid(child, &status, 0) < 0)
		if (errno != EINTR)
			trial_stop("no program to wait for");
	trial_said(status, said);
}
