/* What is still open before leaving the site, on paper. */
#include "csv/csv.h"
#include "report/page/leave_words.h"

static void csv_item(FILE *out, const struct work_leave_item *item, const char *what)
{
	char rank[12], cure[LEAVE_WORDS_BYTES];
	const char *fields[] = {rank, item->run, item->blocks ? "yes" : "no", what,
	                        leave_cure(item, cure)};
	snprintf(rank, sizeof rank, "%d", (int)item->rank);
	csv_write(out, fields, sizeof fields / sizeof *fields, "\n");
}

static void text_item(FILE *out, const struct work_leave_item *item, const char *what)
{
	char cure[LEAVE_WORDS_BYTES];
	fprintf(out, "%s  %s: %s\n          %s\n", item->blocks ? "BLOCKS" : "advice", item->run,
	        what, leave_cure(item, cure));
}

static void put_list(FILE *out, const struct work_leave *list, bool csv, size_t blocking)
{
	if (csv)
		fputs("rank,run,blocks,what,do\n", out);
	for (size_t i = 0; i < list->count; i++) {
		char what[LEAVE_WORDS_BYTES];
		leave_what(list, &list->item[i], what);
		if (csv)
			csv_item(out, &list->item[i], what);
		else
			text_item(out, &list->item[i], what);
	}
	if (csv)
		return;
	if (!list->count)
		fprintf(out, "nothing is open\n");
	else if (blocking)
		fprintf(out, "%zu of %zu must be done before leaving\n", blocking, list->count);
	else
		fprintf(out, "nothing must be done before leaving; %zu could be\n", list->count);
}

bool report_leave(FILE *out, struct book *book, const char *const *names, size_t count, bool csv,
                  bool *blocks, struct fault *why)
{
	struct work_leave list;
	size_t blocking = 0;
	bool ok = work_leave(book, names, count, &list, why);
	for (size_t i = 0; ok && i < list.count; i++)
		blocking += list.item[i].blocks;
	if (ok)
		put_list(out, &list, csv, blocking);
	*blocks = blocking > 0;
	work_leave_free(&list);
	return ok;
}
