/* Text in an XML file: escaped, and cut by letters, not by bytes. Text may be NULL, for none. */
#ifndef PLOT_PLOT_XML_H
#define PLOT_PLOT_XML_H

#include <stddef.h>
#include <stdio.h>

/* How many UTF-8 characters the text has. */
size_t xml_letters(const char *text);
/* How many bytes so many letters take at most; letters: that many, or one more where the text goes
 * on. */
size_t xml_bytes(const char *text, size_t most, size_t *letters);
/* Writes the first so many bytes. A text with control characters, or that is no UTF-8, which XML
 * would refuse, is written with '?' for all its bytes that are not printable ASCII. */
void xml_put_bytes(FILE *out, const char *text, size_t bytes);
/* Writes as many letters as there is room for, 3 at least, the last as "..." where more are left.
 */
void xml_put(FILE *out, const char *text, size_t room);

#endif
