/* The running editor on a screen of its own, and what it showed as booked. */
#ifndef TRIAL_SCENE_EDITOR_H
#define TRIAL_SCENE_EDITOR_H

#include "screen/term.h"
#include "trial.h"

#define EDITOR_SIGHTS 40

/* What was typed, one sight after the other. */
struct editor_play {
	struct term term;
	char booked[EDITOR_SIGHTS][24]; /* "FS 1.234 on A": each that the screen showed as booked */
	int count;
};

/* Starts the program on the run `work` of the book, with words before it where there are any. */
void editor_start(struct editor_play *play, char *const *before);
/* Waits so long for the screen, and notes what it says. */
void editor_look(struct editor_play *play, int wait_ms);
void editor_close(struct editor_play *play);
/* What it said on standard error; to be freed. */
char *editor_said(void);
/* Every sight that was shown as booked is in the book, which can be proved. `sights`: how many
 * sights of the run count; may be NULL. */
bool editor_judge(const struct editor_play *play, int *sights, char *words, size_t size);

#endif
