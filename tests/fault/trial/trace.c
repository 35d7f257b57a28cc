#include "trace.h"
#include "trial.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <signal.h>
#include <unistd.h>
#include <fcntl.h>
#include <sys/ptrace.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <sys/user.h>
#include <sys/wait.h>

void trace_me(void)
{
	ptrace(PTRACE_TRACEME, 0, NULL, NULL);
}

#if defined __x86_64__

/* The argument that is a path, or 0. */
static unsigned long long path_of(const struct user_regs_struct *regs)
{
	switch (regs->orig_rax) {
	case SYS_open:
	case SYS_stat:
	case SYS_lstat:
	case SYS_access:
		return regs->rdi;
	case SYS_openat:
	case SYS_newfstatat:
	case SYS_faccessat:
	case SYS_faccessat2:
		return regs->rsi;
	default:
		return 0;
	}
}

static bool names(pid_t child, const struct user_regs_struct *regs, const char *book)
{
	char text[257] = "";
	struct iovec mine = {text, sizeof text - 1};
	struct iovec theirs = {(void *)path_of(regs), sizeof text - 1};
	return theirs.iov_base && process_vm_readv(child, &mine, 1, &theirs, 1, 0) > 0 &&
	       strstr(text, book);
}

/* Calls that cannot fail so, or do not return. */
static bool never_fails(const struct user_regs_struct *regs)
{
	return regs->orig_rax == SYS_brk || regs->orig_rax == SYS_exit_group ||
	       regs->orig_rax == SYS_exit || regs->orig_rax == SYS_rt_sigreturn;
}

static bool takes_room(const struct user_regs_struct *regs)
{
	switch (regs->orig_rax) {
	case SYS_pwrite64:
	case SYS_ftruncate:
	case SYS_link:
	case SYS_linkat:
	case SYS_rename:
	case SYS_renameat:
	case SYS_renameat2:
		return true;
	case SYS_write:
		return regs->rdi > 2;
	case SYS_openat:
		return regs->rdx & O_CREAT;
	default:
		return false;
	}
}

static bool opens_or_changes(const struct user_regs_struct *regs)
{
	return takes_room(regs) || regs->orig_rax == SYS_openat || regs->orig_rax == SYS_write ||
	       regs->orig_rax == SYS_close || regs->orig_rax == SYS_unlink ||
	       regs->orig_rax == SYS_fsync || regs->orig_rax == SYS_fdatasync;
}

int trace_follow(pid_t child, const char *book, const struct trace_plan *plan, long *calls)
{
	bool inside = false, counts = false, refused = false;
	int status, signal = 0;
	*calls = 0;
	if (waitpid(child, &status, 0) != child || !WIFSTOPPED(status))
		trial_stop("the program cannot be followed");
	ptrace(PTRACE_SETOPTIONS, child, NULL, (void *)(PTRACE_O_TRACESYSGOOD | PTRACE_O_EXITKILL));
	while (ptrace(PTRACE_SYSCALL, child, NULL, (void *)(long)signal) == 0 || errno != ESRCH) {
		struct user_regs_struct regs;
		signal = 0;
		if (waitpid(child, &status, 0) != child)
			trial_stop("the program is lost: %s", strerror(errno));
		if (!WIFSTOPPED(status))
			return status;
		if (WSTOPSIG(status) != (SIGTRAP | 0x80)) {
			signal = WSTOPSIG(status) == SIGTRAP ? 0 : WSTOPSIG(status);
			continue;
		}
		inside = !inside;
		if (ptrace(PTRACE_GETREGS, child, NULL, &regs) != 0)
			continue;
		if (!inside) {
			if (refused) {
				regs.rax = (unsigned long long)-plan->error;
				ptrace(PTRACE_SETREGS, child, NULL, &regs);
			}
			refused = false;
			continue;
		}
		counts = counts || names(child, &regs, book);
		if (!counts || never_fails(&regs))
			continue;
		if (plan->changes && *calls < TRACE_CALLS)
			plan->changes[*calls] = opens_or_changes(&regs);
		++*calls;
		refused = plan->at && (plan->full ? *calls >= plan->at && takes_room(&regs)
		                                  : *calls == plan->at);
		if (refused && plan->error == TRACE_KILL) {
			kill(child, SIGKILL);
			refused = false;
		} else if (refused) {
			regs.orig_rax = (unsigned long long)-1;
			ptrace(PTRACE_SETREGS, child, NULL, &regs);
		}
	}
	waitpid(child, &status, 0);
	return status;
}

#else

int trace_follow(pid_t child, const char *book, const struct trace_plan *plan, long *calls)
{
	(void)child, (void)book, (void)plan, (void)calls;
	trial_stop("programs are followed on x86-64 only");
}

#endif

bool trace_works(void)
{
#if defined __x86_64__
	int status;
	pid_t child = fork();
	if (child == 0) {
		if (ptrace(PTRACE_TRACEME, 0, NULL, NULL) != 0)
			_exit(1);
		raise(SIGSTOP);
		_exit(0);
	}
	if (child < 0 || waitpid(child, &status, 0) != child)
		return false;
	if (!WIFSTOPPED(status))
		return false;
	kill(child, SIGKILL);
	waitpid(child, &status, 0);
	return true;
#else
	return false;
#endif
}
