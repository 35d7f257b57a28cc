/* The elevation to set out: the editor shows where the rod reads when its mark stands right. */
#include <string.h>

#include "screen/editor.h"
#include "screen/view/views.h"

void view_set_out(struct editor *ed)
{
	struct question question = {
	    "Elevation",
	    "The elevation to mark; empty to set out no more.\n"
	    "  From then on the line above the form says where the rod reads when\n"
	    "  its foot stands at that elevation, and by how much to move it.",
	    "", 40, "elevation"};
	char message[640] = "";
	level_nm value;
	struct fault why = {0};
	strcpy(question.text, ed->wanted);
	while (ask("Set out an elevation", &question, 1, NULL, message)) {
		if (!*question.text ||
		    level_parse_length(question.text, ed->settings.style.unit, &value, &why)) {
			strcpy(ed->wanted, question.text);
			break;
		}
		snprintf(message, sizeof message, "%s", why.text);
	}
	clearok(stdscr, TRUE);
	ed->message[0] = '\0';
}
