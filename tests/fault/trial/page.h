/* One page of memory that a trial shares with the program it disturbs. */
#ifndef TRIAL_PAGE_H
#define TRIAL_PAGE_H

#include <stdint.h>

/* Names the file that is mapped. */
#define TRIAL_PAGE "RODBOOK_TRIAL_PAGE"

struct trial_page {
	volatile int64_t count;     /* allocations so far */
	volatile int64_t opened;    /* how many there were when the book was open; 0: unknown */
	volatile int64_t fail_from; /* the first that fails; 0: none does */
	volatile int64_t fail_to;   /* the last that fails */
	volatile int64_t stay;      /* enum trial_stay: where the program stays, and sends copies */
};

/* A program that stays at one place forks a copy of itself each time it is asked: it need not be
 * loaded, nor open the book, anew for each try. */
enum trial_stay { STAY_NOWHERE, STAY_AT_START, STAY_OPENED };
#define STAY_ASK 198    /* descriptor from which a byte a copy is read */
#define STAY_ANSWER 199 /* descriptor to which the int of waitpid() is written; first a zero */

#endif
