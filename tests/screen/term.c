#include "term.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

/* A program tells a lone Escape from the start of a sequence by a pause, of about 100 ms. */
#define ESCAPE_PAUSE_MS 250

int64_t term_now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

void term_put(struct term *t, const char *bytes, size_t size)
{
	if (t->unsent_size + size > t->unsent_room) {
		t->unsent_room = (t->unsent_size + size) * 2;
		t->unsent = realloc(t->unsent, t->unsent_room);
		if (t->unsent == NULL)
			abort();
	}
	memcpy(t->unsent + t->unsent_size, bytes, size);
	t->unsent_size += size;
}

static void answer(const char *bytes, size_t size, void *user)
{
	term_put(user, bytes, size);
}

static int property(VTermProp prop, VTermValue *value, void *user)
{
	struct term *t = user;
	if (prop == VTERM_PROP_CURSORVISIBLE)
		t->cursor_hidden = !value->boolean;
	return 1;
}

static const VTermScreenCallbacks callbacks = {.settermprop = property};

static void new_screen(struct term *t, int rows, int cols)
{
	if (t->vt != NULL)
		vterm_free(t->vt);
	t->rows = rows;
	t->cols = cols;
	t->cursor_hidden = false;
	t->unsent_size = 0;
	t->vt = vterm_new(rows, cols);
	vterm_set_utf8(t->vt, 1);
	vterm_output_set_callback(t->vt, answer, t);
	t->screen = vterm_obtain_screen(t->vt);
	vterm_screen_set_callbacks(t->screen, &callbacks, t);
	vterm_screen_enable_altscreen(t->screen, 1);
	vterm_screen_reset(t->screen, 1);
}

static void become(char **argv, int slave, const char *stderr_path)
{
	static const int signals[] = {SIGHUP, SIGINT, SIGQUIT, SIGPIPE, SIGTERM, SIGTSTP};
	int err = open(stderr_path, O_WRONLY | O_CREAT | O_TRUNC, 0600);

	/* Whatever started the player may have had some ignored. */
	for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
		signal(signals[i], SIG_DFL);
	setsid();
	ioctl(slave, TIOCSCTTY, 0);
	dup2(slave, STDIN_FILENO);
	dup2(slave, STDOUT_FILENO);
	dup2(err, STDERR_FILENO);
	/* The slave and the error file, and nothing else of the player's, are open twice. */
	if (slave > STDERR_FILENO)
		close(slave);
	if (err > STDERR_FILENO)
		close(err);
	execv(argv[0], argv);
	fprintf(stderr, "%s: %s\n", argv[0], strerror(errno));
	_exit(127);
}

static int close_on_exec(int fd)
{
	fcntl(fd, F_SETFD, FD_CLOEXEC);
	return fd;
}

bool term_start(struct term *t, char **argv, int rows, int cols, const char *stderr_path)
{
	struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)cols};

	term_close(t);
	if (openpty(&t->master, &t->slave, NULL, NULL, &size) != 0)
		return false;
	close_on_exec(t->master);
	close_on_exec(t->slave);
	fcntl(t->master, F_SETFL, O_NONBLOCK);
	new_screen(t, rows, cols);
	t->changed_at = term_now_ms();
	t->after_escape = false;
	t->pid = fork();
	if (t->pid < 0)
		return false;
	if (t->pid == 0)
		become(argv, t->slave, stderr_path);
	t->running = true;
	return true;
}

/* False at the end of what can be read now. */
static bool read_some(struct term *t)
{
	char buffer[16384];
	ssize_t size = read(t->master, buffer, sizeof buffer);
	if (size <= 0)
		return size < 0 && errno == EINTR;
	vterm_input_write(t->vt, buffer, (size_t)size);
	t->changed_at = term_now_ms();
	return true;
}

static void send_some(struct term *t)
{
	if (t->unsent_size == 0 || t->master < 0)
		return;
	ssize_t size = write(t->master, t->unsent, t->unsent_size);
	if (size <= 0)
		return;
	t->unsent_size -= (size_t)size;
	memmove(t->unsent, t->unsent + size, t->unsent_size);
}

/*
 * What the program wrote last is on its way through the kernel when its end is seen: with the
 * slave closed, reading fails only once all of it has come.
 */
static void drain(struct term *t)
{
	int64_t deadline = term_now_ms() + 1000;
	if (t->slave >= 0)
		close(t->slave);
	t->slave = -1;
	while (t->master >= 0 && term_now_ms() < deadline) {
		struct pollfd fd = {.fd = t->master, .events = POLLIN};
		poll(&fd, 1, 20);
		if (!read_some(t) && errno != EAGAIN)
			break;
	}
}

static void reap(struct term *t)
{
	if (t->running && waitpid(t->pid, &t->status, WNOHANG) == t->pid) {
		t->running = false;
		drain(t);
	}
}

void term_serve(struct term *t, int wait_ms)
{
	struct pollfd fd = {.fd = t->master, .events = POLLIN};

	if (t->unsent_size > 0)
		fd.events |= POLLOUT;
	if (!t->running) {
		poll(NULL, 0, wait_ms);
		return;
	}
	if (poll(&fd, 1, wait_ms) > 0 && fd.revents & POLLIN)
		while (read_some(t))
			continue;
	send_some(t);
	reap(t);
}

static bool all_read(const struct term *t)
{
	int waiting = 0;
	if (t->unsent_size > 0)
		return false;
	return t->slave < 0 || ioctl(t->slave, FIONREAD, &waiting) != 0 || waiting == 0;
}

bool term_flush(struct term *t)
{
	int64_t deadline = term_now_ms() + TERM_PATIENCE_MS;
	term_serve(t, 0);
	/* What was sent takes the kernel a moment to show as waiting. */
	term_serve(t, 5);
	while (t->running && !all_read(t)) {
		if (term_now_ms() > deadline)
			return false;
		term_serve(t, 2);
	}
	t->changed_at = term_now_ms();
	return true;
}

bool term_quiet(const struct term *t, int quiet_ms)
{
	return !t->running || (all_read(t) && term_now_ms() - t->changed_at >= quiet_ms);
}

/* Until then the kernel echoes keys and turns carriage returns into newlines. */
static bool takes_single_keys(const struct term *t)
{
	struct termios modes;
	return t->slave < 0 || tcgetattr(t->slave, &modes) != 0 || !(modes.c_lflag & ICANON);
}

void term_ready_for_key(struct term *t)
{
	int64_t deadline = term_now_ms() + TERM_PATIENCE_MS;
	while (t->running && !takes_single_keys(t) && term_now_ms() < deadline)
		term_serve(t, 2);
	if (!t->after_escape)
		return;
	t->after_escape = false;
	term_flush(t);
	deadline = term_now_ms() + ESCAPE_PAUSE_MS;
	while (t->running && term_now_ms() < deadline)
		term_serve(t, 10);
}

void term_resize(struct term *t, int rows, int cols)
{
	struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)cols};
	term_serve(t, 0);
	t->rows = rows;
	t->cols = cols;
	vterm_set_size(t->vt, rows, cols);
	ioctl(t->master, TIOCSWINSZ, &size);
	t->changed_at = term_now_ms();
}

bool term_wait_end(struct term *t)
{
	int64_t deadline = term_now_ms() + TERM_PATIENCE_MS;
	while (t->running && term_now_ms() < deadline)
		term_serve(t, 10);
	return !t->running;
}

void term_hang_up(struct term *t)
{
	if (t->slave >= 0)
		close(t->slave);
	close(t->master);
	t->slave = t->master = -1;
	t->unsent_size = 0;
}

void term_close(struct term *t)
{
	if (t->running) {
		kill(t->pid, SIGKILL);
		waitpid(t->pid, &t->status, 0);
	}
	t->running = false;
	if (t->pid > 0)
		term_hang_up(t);
	t->pid = 0;
	if (t->vt != NULL)
		vterm_free(t->vt);
	t->vt = NULL;
	free(t->unsent);
	t->unsent = NULL;
	t->unsent_size = t->unsent_room = 0;
}
