/* What `rodbook help` prints, beside the usage that each command has itself. */
#ifndef COMMAND_HELP_H
#define COMMAND_HELP_H

/* The words of the trade. */
void help_words(void);
/* What a command does, and an example of it; nothing of a name that is no command. */
void help_does(const char *name);
void help_example(const char *name);

#endif
