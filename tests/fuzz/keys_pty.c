/* The program in a pseudo-terminal. What it paints is read and thrown away. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "keys.h"

static int64_t now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static void become(char *const argv[], int slave, const char *errors)
{
	static const int signals[] = {SIGHUP, SIGINT, SIGQUIT, SIGPIPE, SIGTERM, SIGTSTP};
	int err = open(errors, O_WRONLY | O_CREAT | O_APPEND, 0600);
	for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
		signal(signals[i], SIG_DFL);
	setsid();
	ioctl(slave, TIOCSCTTY, 0);
	dup2(slave, STDIN_FILENO);
	dup2(slave, STDOUT_FILENO);
	dup2(err, STDERR_FILENO);
	execv(argv[0], argv);
	_exit(127);
}

static bool takes_single_keys(const struct pty *p)
{
	struct termios modes;
	return tcgetattr(p->slave, &modes) != 0 || !(modes.c_lflag & ICANON);
}

bool pty_start(struct pty *p, char *const argv[], const char *errors)
{
	struct winsize size = {.ws_row = 30, .ws_col = 100};
	if (openpty(&p->master, &p->slave, NULL, NULL, &size) != 0)
		return false;
	fcntl(p->master, F_SETFD, FD_CLOEXEC);
	fcntl(p->slave, F_SETFD, FD_CLOEXEC);
	fcntl(p->master, F_SETFL, O_NONBLOCK);
	p->pid = fork();
	if (p->pid == 0)
		become(argv, p->slave, errors);
	p->running = p->pid > 0;
	/* Until it has set the terminal up, keys would be echoed. */
	for (int64_t end = now_ms() + 20000; p->running && !takes_single_keys(p) && now_ms() < end;)
		pty_wait(p, 5);
	return p->running;
}

/* Reads what there is; notes the end. */
static void serve(struct pty *p, int ms)
{
	char buffer[65536];
	struct pollfd fd = {.fd = p->master, .events = POLLIN};
	if (poll(&fd, 1, ms) > 0)
		while (read(p->master, buffer, sizeof buffer) > 0)
			continue;
	if (p->running && waitpid(p->pid, &p->status, WNOHANG) == p->pid)
		p->running = false;
}

bool pty_wait(struct pty *p, int ms)
{
	int64_t end = now_ms() + ms;
	do {
		int64_t left = end - now_ms();
		serve(p, left > 10 ? 10 : left > 0 ? (int)left : 0);
	} while (p->running && now_ms() < end);
	return !p->running;
}

static int unread(const struct pty *p)
{
	int count = 0;
	return ioctl(p->slave, FIONREAD, &count) == 0 ? count : 0;
}

bool pty_send(struct pty *p, const char *bytes, size_t size, int patience)
{
	size_t sent = 0;
	int64_t progress = now_ms();
	int waiting = 0;
	while (p->running && now_ms() - progress < patience) {
		ssize_t more = 0;
		int count;
		if (sent < size)
			more =
			    write(p->master, bytes + sent, size - sent > 1000 ? 1000 : size - sent);
		if (more > 0)
			sent += (size_t)more;
		serve(p, 1);
		count = unread(p);
		if (sent == size && count == 0)
			return true;
		if (more > 0 || count != waiting)
			progress = now_ms();
		waiting = count;
	}
	return !p->running;
}

void pty_resize(struct pty *p, int rows, int cols)
{
	struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)cols};
	ioctl(p->master, TIOCSWINSZ, &size);
}

bool pty_hang_up(struct pty *p, int ms)
{
	int64_t end = now_ms() + ms;
	close(p->slave);
	close(p->master);
	p->slave = p->master = -1;
	while (p->running && now_ms() < end) {
		poll(NULL, 0, 5);
		if (waitpid(p->pid, &p->status, WNOHANG) == p->pid)
			p->running = false;
	}
	return !p->running;
}

void pty_close(struct pty *p)
{
	if (p->running) {
		kill(p->pid, SIGKILL);
		waitpid(p->pid, &p->status, 0);
	}
	p->running = false;
	if (p->master >= 0) {
		close(p->slave);
		close(p->master);
	}
}
