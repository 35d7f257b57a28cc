/* A second copy of the book, where the setting copy_to or the user says. */
#include <string.h>

#include "rodbook/book/second.h"
#include "screen/editor.h"
#include "screen/view/views.h"

static bool copy(struct book *book, const char *where, char *message, size_t size)
{
	char published[BOOK_WITNESS_BYTES];
	struct book_second second;
	struct fault why = {0};
	bool ok = book_second_copy(book, where, &second, &why);
	if (ok)
		snprintf(message, size, "%s %.300s; to publish: %s",
		         second.replaced ? "brought up to date" : "copied to", second.path,
		         book_witness_text(published, &second.witness));
	else
		snprintf(message, size, "%s", why.text);
	return ok;
}

void view_copy(struct book *book, char *message, size_t size)
{
	struct question where = {"Where",
	                         "A folder, such as that of a stick, or a new file name. The "
	                         "setting copy_to makes this one key.",
	                         "", 400, NULL};
	struct book_settings settings;
	struct fault why = {0};
	if (!book_settings(book, &settings, &why)) {
		snprintf(message, size, "%s", why.text);
		return;
	}
	if (*settings.copy_to) {
		copy(book, settings.copy_to, message, size);
		return;
	}
	message[0] = '\0';
	while (ask("A second copy of the book", &where, 1, NULL, message))
		if (copy(book, where.text, message, size))
			return;
	message[0] = '\0';
}
