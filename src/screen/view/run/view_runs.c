/* The list of runs: open, find, new, rename, kind, close, reopen. */
#include <stdlib.h>
#include <string.h>

#include "rodbook/report/report.h"
#include "screen/editor.h"
#include "screen/view/views.h"

#define LINE_BYTES 480

struct run_list {
	struct book_run_info *runs;
	size_t count;
	struct list_line *lines;
	char (*texts)[LINE_BYTES];
};

static void free_list(struct run_list *list)
{
	free(list->runs);
	free(list->lines);
	free(list->texts);
	*list = (struct run_list){0};
}

/* How the run stands, in a few words. */
static void state_of(const struct work_run *run, char *text, size_t size)
{
	const struct level_closing *c = &run->closing;
	char missed[LEVEL_LENGTH_BYTES];
	if (c->setups && !c->page_holds) {
		snprintf(text, size, "LINE BROKEN");
		return;
	}
	if (level_counted_from(&run->book.run, 0) == run->book.run.count) {
		snprintf(text, size, run->book.info.closed ? "set aside, empty" : "empty");
		return;
	}
	if (run->book.run.kind == LEVEL_OPEN || !c->has_misclosure) {
		snprintf(text, size, run->book.run.kind == LEVEL_OPEN ? "open" : "not closed yet");
		return;
	}
	if (run->book.run.kind == LEVEL_CROSSING) {
		if (c->finding.none)
			report_no_answer(c, text, size);
		else
			snprintf(text, size, "%s%s", level_answer_short(c->finding.answer),
			         c->finding.narrow ? ", narrowly" : "");
		return;
	}
	level_format_length(missed, c->judged, &run->settings.style, true);
	snprintf(text, size, "%s %.40s",
	         /* CLOSED stands before it, and says the rest */
	         c->closes == LEVEL_YES  ? run->book.info.closed ? "misclosure" : "closes"
	         : c->closes == LEVEL_NO ? "DOES NOT CLOSE"
	                                 : "not judged",
	         missed);
}

static bool read_list(struct book *book, struct run_list *list, struct fault *why)
{
	*list = (struct run_list){0};
	if (!book_runs(book, &list->runs, &list->count, why))
		return false; /* and the count is 0 */
	list->lines = calloc(list->count + 1, sizeof *list->lines);
	list->texts = calloc(list->count + 1, sizeof *list->texts);
	if (!list->lines || !list->texts)
		return fault_memory(why);
	for (size_t i = 0; i < list->count; i++) {
		struct work_run run;
		char state[80] = "cannot be read", sights[20] = "";
		if (work_run_load_listed(book, &list->runs[i], &run, why)) {
			state_of(&run, state, sizeof state);
			list->runs[i].sights = run.book.info.sights;
			snprintf(sights, sizeof sights, "%4zu %s", run.book.info.sights,
			         run.book.info.sights == 1 ? "sight" : "sights");
			work_run_free(&run);
		}
		snprintf(list->texts[i], LINE_BYTES, "%-8s %-11s  %s%s",
		         level_run_kind_name(list->runs[i].kind), sights,
		         list->runs[i].closed ? "CLOSED; " : "", state);
		list->lines[i] = (struct list_line){
		    list->runs[i].name, list->texts[i],
		    list->runs[i].closed
		        ? "This run is closed. Press s to make a second copy of the book."
		        : NULL};
	}
	return true;
}

/* Asks for a kind; *kind is where the bar begins. */
static bool ask_kind(const char *title, enum level_run_kind *kind)
{
	static const struct list_line kinds[] = {
	    {"loop", "ends on its start mark", NULL},
	    {"link", "ends on another mark of known elevation", NULL},
	    {"open", "closes on nothing: no check exists", NULL},
	    {"crossing", "ends on the same level surface as its start, such as a lake", NULL},
	};
	size_t at = *kind;
	if (list_choose(title, kinds, 4, &at, "", " Up Down choose  Enter accept  Esc turn back",
	                "") != KEY_ENTER)
		return false;
	*kind = (enum level_run_kind)at;
	return true;
}

/* A crossing is begun from a plan, where there is one to choose. */
static void offer_plan(struct book *book, int64_t run)
{
	struct book_plan *plans;
	struct fault why = {0};
	char picked[LEVEL_NAME_BYTES];
	size_t count;
	if (!book_plans(book, &plans, &count, &why))
		return;
	free(plans);
	/* Esc begins it without one; it can be chosen later. */
	if (count && view_plans(book, "", picked))
		book_run_set_plan(book, run, picked, &why);
}

static int64_t new_run(struct book *book, const char *proposed, char *message, size_t size)
{
	struct question name = {"Name", "A short name, such as the place and the day.", "",
	                        LEVEL_NAME_CHARS, "name"};
	enum level_run_kind kind = LEVEL_LOOP;
	struct fault why = {0};
	int64_t id;

	snprintf(name.text, sizeof name.text, "%s", proposed ? proposed : "");
	message[0] = '\0';
	for (;;) {
		if (!ask("A new run", &name, 1, NULL, message) ||
		    !ask_kind("The kind of the new run", &kind)) {
			message[0] = '\0';
			return 0;
		}
		if (book_run_add(book, name.text, kind, &id, &why)) {
			if (kind == LEVEL_CROSSING)
				offer_plan(book, id);
			return id;
		}
		snprintf(message, size, "%s", why.text);
	}
}

/* The mark at which a loop turns back that is leveled out and back. */
static void set_turn(struct book *book, const struct book_run_info *info, char *message,
                     size_t size)
{
	struct question mark = {"Turning mark",
	                        "For a loop that comes back over other turning points: the "
	                        "mark where it turns. Empty: none.",
	                        "", LEVEL_STATION_CHARS, "mark"};
	struct fault why = {0};
	snprintf(mark.text, sizeof mark.text, "%s", info->turn);
	message[0] = '\0';
	while (ask("A double run", &mark, 1, NULL, message)) {
		if (book_run_set_turn(book, info->id, mark.text, &why)) {
			if (*mark.text)
				snprintf(message, size, "%s goes out to %.160s and back",
				         info->name, mark.text);
			else
				snprintf(message, size, "%s turns at no mark", info->name);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

static void rename_run(struct book *book, const struct book_run_info *info, char *message,
                       size_t size)
{
	struct question name = {"Name", "The run's new name; the journal keeps the old one.", "",
	                        LEVEL_NAME_CHARS, "name"};
	struct fault why = {0};
	snprintf(name.text, sizeof name.text, "%s", info->name);
	message[0] = '\0';
	while (ask("Rename a run", &name, 1, NULL, message)) {
		if (book_run_rename(book, info->id, name.text, &why)) {
			snprintf(message, size, "%s is now %.160s", info->name, name.text);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

static void set_kind(struct book *book, const struct book_run_info *info, char *message,
                     size_t size)
{
	enum level_run_kind kind = info->kind;
	struct fault why = {0};
	if (!ask_kind("The kind of the run", &kind) || kind == info->kind)
		return;
	if (book_run_set_kind(book, info->id, kind, &why))
		snprintf(message, size, "%s is now a%s %s", info->name,
		         kind == LEVEL_OPEN ? "n" : "", level_run_kind_name(kind));
	else
		snprintf(message, size, "%s", why.text);
}

static void reopen_run(struct book *book, const struct book_run_info *info, char *message,
                       size_t size)
{
	struct question reason = {"Reason", "Why it is opened again: every paper shows it.", "",
	                          LEVEL_REMARK_CHARS, "reason"};
	struct fault why = {0};
	message[0] = '\0';
	while (ask("Reopen a closed run", &reason, 1, NULL, message)) {
		if (book_run_reopen(book, info->id, reason.text, &why)) {
			snprintf(message, size, "%s is open again", info->name);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

static void close_run(struct book *book, const struct book_run_info *info, char *message,
                      size_t size)
{
	struct book_run run;
	struct fault why = {0};
	char witness[REPORT_WITNESS_BYTES];
	bool closed;
	if (!book_load(book, info->id, &run, &why)) {
		snprintf(message, size, "%s", why.text);
		return;
	}
	closed = book_run_close(book, &run, "", &why);
	/* A run that no length judges is closed for a reason. */
	if (!closed && why.field && strcmp(why.field, "reason") == 0) {
		char reason[LEVEL_REMARK_BYTES];
		if (!ask_reason("Close a run", "Why it is closed so: its papers show it.", reason,
		                why.text)) {
			book_run_free(&run);
			message[0] = '\0';
			return;
		}
		closed = book_run_close(book, &run, reason, &why);
	}
	if (closed)
		snprintf(message, size,
		         "%s is closed: nothing in it can be changed until c reopens it; %s",
		         info->name, report_witness(book, witness));
	else
		snprintf(message, size, "%s", why.text);
	book_run_free(&run);
}

static const char bar[] =
    " Enter open /find n new h head k kind c close a adjust w net o out\n"
    "  Enter          opens the run\n"
    "  /              finds a station or a word of a remark in all runs\n"
    "  n              begins a new one\n"
    "  r              gives it another name\n"
    "  h              writes the head of its page: party, weather, instrument\n"
    "  k              makes it a loop, a link, an open run or a crossing\n"
    "  t              names the mark at which a double run turns back\n"
    "  c              closes the run, or opens a closed one again; sets a run\n"
    "                 aside in which nothing is booked\n"
    "  a              adjusts the run: its misclosure is spread\n"
    "  w              adjusts all runs as a net\n"
    "  o              shows its papers, and writes them out\n"
    "  s              makes a second copy of the book\n"
    "  Esc            turns back";

int64_t view_runs(struct book *book, int64_t current, const char *name, int64_t *sight)
{
	struct run_list list;
	char message[640] = "";
	size_t at = 0;
	bool first = name != NULL;

	*sight = 0;
	for (;;) {
		struct fault why = {0};
		int64_t id = 0;
		int key;
		/* Even a list that cannot be read is shown, with the reason. */
		if (!read_list(book, &list, &why) || why.kind != FAULT_NONE)
			snprintf(message, sizeof message, "%s", why.text);
		for (size_t i = 0; i < list.count && current; i++)
			if (list.runs[i].id == current)
				at = i;
		current = 0;
		if (list.count == 0 && !*message)
			snprintf(message, sizeof message,
			         "this book has no runs yet: n begins one");
		/* A run that was asked for by name and is not there yet is proposed at once. */
		key = first && *name ? 'n'
		                     : list_choose("The runs of this book", list.lines, list.count,
		                                   &at, "nrhktcawso/d", bar, message);
		message[0] = '\0';
		if (key == 'n')
			id = new_run(book, first ? name : "", message, sizeof message);
		else if (key == KEY_ENTER && list.count)
			id = list.runs[at].id;
		else if (key == '/')
			id = view_find(book, sight);
		else if (key == 's')
			view_copy(book, message, sizeof message);
		else if (key == 'r' && list.count)
			rename_run(book, &list.runs[at], message, sizeof message);
		else if (key == 'h' && list.count)
			view_head(book, &list.runs[at], message, sizeof message);
		else if (key == 'k' && list.count)
			set_kind(book, &list.runs[at], message, sizeof message);
		else if (key == 't' && list.count)
			set_turn(book, &list.runs[at], message, sizeof message);
		else if (key == 'a' && list.count)
			view_adjust(book, list.runs[at].name, message, sizeof message);
		else if (key == 'o' && list.count)
			view_papers(book, &list.runs[at], message, sizeof message);
		else if (key == 'w' && list.count)
			view_adjust(book, NULL, message, sizeof message);
		else if (key == 'd' && list.count)
			snprintf(message, sizeof message, "nothing is erased; %s",
			         list.runs[at].sights == 0
			             ? "c sets a run aside in which nothing is booked"
			             : "strike what is wrong in it by F8, setup by setup");
		else if (key == 'c' && list.count && list.runs[at].closed)
			reopen_run(book, &list.runs[at], message, sizeof message);
		else if (key == 'c' && list.count)
			close_run(book, &list.runs[at], message, sizeof message);
		free_list(&list);
		if (id || key == TERM_KEY_ESCAPE)
			return id;
		first = false;
	}
}
