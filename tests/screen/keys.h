/*
 * Keys by name, sent as the terminal would at that moment: an arrow depends on the cursor key
 * mode, a keypad key on the keypad mode, a paste on whether the program asked for brackets.
 */
#ifndef PLAY_KEYS_H
#define PLAY_KEYS_H

#include "term.h"

/*
 * Sends the blank-separated tokens: <Name> is a key, anything else is typed as it stands. Returns
 * NULL, or what is wrong with a token, in words that stay valid until the next call.
 */
const char *keys_send(struct term *t, const char *tokens);

/* Types the text, byte for byte. */
void keys_type(struct term *t, const char *text, size_t size);

#endif
