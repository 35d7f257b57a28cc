/* The page shared with preload_memory.c, from the side of the trial. */
#ifndef TRIAL_MEMORY_H
#define TRIAL_MEMORY_H

#include "page.h"
#include "trial.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

static inline struct trial_page *memory_page(void)
{
	static const struct trial_page none;
	struct trial_page *page;
	char path[300];
	int fd;
	if (!getcwd(path, sizeof path - 10))
		trial_stop("no working directory");
	snprintf(path + strlen(path), 10, "/.page");
	trial_write(path, &none, sizeof none);
	fd = open(path, O_RDWR | O_CLOEXEC);
	page = fd < 0 ? MAP_FAILED
	              : mmap(NULL, sizeof *page, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
	if (page == MAP_FAILED)
		trial_stop("no page to share");
	close(fd);
	setenv(TRIAL_PAGE, path, 1);
	return page;
}

struct memory_stay {
	int ask, answer;
	pid_t program;
};

static inline int memory_answer(const struct memory_stay *stay, const char *line)
{
	int status;
	if (read(stay->answer, &status, sizeof status) != sizeof status)
		trial_stop("%s: the program does not stay", line);
	return status;
}

/* Starts the program of a scene, which stays there and waits to be asked for copies. */
static inline struct memory_stay memory_begin(const struct trial_set *set, struct trial_page *page,
                                              enum trial_stay where)
{
	struct memory_stay stay;
	int ask[2], answer[2];
	page->count = page->opened = page->fail_from = page->fail_to = 0;
	page->stay = where;
	if (pipe(ask) != 0 || pipe(answer) != 0 || dup2(ask[0], STAY_ASK) < 0 ||
	    dup2(answer[1], STAY_ANSWER) < 0)
		trial_stop("no pipes");
	close(ask[0]);
	close(answer[1]);
	fcntl(ask[1], F_SETFD, FD_CLOEXEC);
	fcntl(answer[0], F_SETFD, FD_CLOEXEC);
	trial_reset(set);
	trial_preload(PRELOAD_MEMORY);
	stay.program = trial_start(set->words);
	close(STAY_ASK);
	close(STAY_ANSWER);
	stay.ask = ask[1];
	stay.answer = answer[0];
	memory_answer(&stay, set->scene->line);
	return stay;
}

/* Runs one copy to its end. The book must be as it was when the program was started. */
static inline void memory_copy(const struct trial_set *set, const struct memory_stay *stay,
                               struct trial_said *said)
{
	trial_silence();
	if (write(stay->ask, "", 1) != 1)
		trial_stop("%s: the program did not stay", set->scene->line);
	trial_said(memory_answer(stay, set->scene->line), said);
}

static inline void memory_end(const struct memory_stay *stay)
{
	int status;
	close(stay->ask);
	close(stay->answer);
	waitpid(stay->program, &status, 0);
}

#endif
