#include "rodbook/work/heads.h"

#include <stdlib.h>
#include <string.h>

#include "work/held.h"

/* The pages that a text may come from. */
enum source { OWN_BEFORE, OTHERS_THAT_DAY, OTHERS_BEFORE, SOURCES };

static bool gives(enum source source, enum book_head_text text)
{
	switch (source) {
	case OWN_BEFORE:
		return text != BOOK_HEAD_WEATHER;
	case OTHERS_THAT_DAY:
		return text != BOOK_HEAD_PURPOSE;
	default:
		return text == BOOK_HEAD_PARTY || text == BOOK_HEAD_INSTRUMENT ||
		       text == BOOK_HEAD_RODS || text == BOOK_HEAD_DATUM;
	}
}

static bool is_from(const struct book_head *head, enum source source, int64_t run, const char *day)
{
	int order = strcmp(head->day, day);
	return (head->run == run) == (source == OWN_BEFORE) &&
	       (source == OTHERS_THAT_DAY ? order == 0 : order < 0);
}

struct work_head work_head_of(const struct book_head *list, size_t count, int64_t run,
                              const char *day)
{
	struct work_head out = {0};
	const struct book_head *last[SOURCES] = {NULL};
	memcpy(out.day, day, strnlen(day, BOOK_DAY_BYTES - 1));
	for (size_t i = 0; i < count; i++) {
		if (list[i].run == run && strcmp(list[i].day, day) == 0) {
			out.stands = true;
			memcpy(out.text, list[i].text, sizeof out.text);
			return out;
		}
		for (int s = 0; s < SOURCES; s++)
			if (is_from(&list[i], (enum source)s, run, day))
				last[s] = &list[i];
	}
	for (int s = 0; s < SOURCES; s++)
		for (int t = 0; last[s] && t < BOOK_HEAD_TEXTS; t++)
			if (!*out.text[t] && gives((enum source)s, (enum book_head_text)t)) {
				strcpy(out.text[t], last[s]->text[t]);
				out.carried[t] = *out.text[t] != '\0';
			}
	return out;
}

bool work_head(struct book *book, int64_t run, const char *day, struct work_head *out,
               struct fault *why)
{
	struct book_head *list;
	size_t count;
	if (!book_heads_standing(book, &list, &count, why))
		return false;
	*out = work_head_of(list, count, run, day);
	free(list);
	return true;
}

bool work_head_says(const struct work_head *head)
{
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		if (*head->text[t])
			return true;
	return false;
}

bool work_head_set(struct book *book, int64_t run, const struct work_head *head, struct fault *why)
{
	struct book_head booked = {0};
	memcpy(booked.day, head->day, sizeof booked.day);
	memcpy(booked.text, head->text, sizeof booked.text);
	return book_head_set(book, run, &booked, why);
}

/* Adds the day, in its place, unless it is there. */
static bool add_day(struct work_run *run, const char *day, struct fault *why)
{
	struct work_head *more;
	size_t at = run->head_count;
	for (size_t i = 0; i < run->head_count; i++)
		if (strcmp(run->heads[i].day, day) == 0)
			return true;
	more = realloc(run->heads, (run->head_count + 1) * sizeof *more);
	if (!more)
		return fault_memory(why);
	run->heads = more;
	for (; at > 0 && strcmp(more[at - 1].day, day) > 0; at--)
		more[at] = more[at - 1];
	more[at] = (struct work_head){0};
	strcpy(more[at].day, day);
	run->head_count++;
	return true;
}

/* The days on which it was read, and those that have a head. */
static bool add_days(struct work_run *run, const struct book_head *list, size_t count,
                     struct fault *why)
{
	char day[BOOK_DAY_BYTES] = "";
	bool ok = true;
	for (size_t i = 0; ok && i < run->book.run.count; i++) {
		const char *time = run->book.note[i].time;
		if (!level_counted(&run->book.run.sight[i]) || strlen(time) < BOOK_DAY_BYTES - 1 ||
		    strncmp(time, day, BOOK_DAY_BYTES - 1) == 0)
			continue;
		memcpy(day, time, BOOK_DAY_BYTES - 1);
		ok = add_day(run, day, why);
	}
	for (size_t i = 0; ok && i < count; i++)
		if (list[i].run == run->book.info.id)
			ok = add_day(run, list[i].day, why);
	return ok;
}

bool heads_take(struct book *book, struct work_run *run, struct fault *why)
{
	struct book_head *list;
	size_t count, kept = 0;
	bool ok;
	if (!book_heads_standing(book, &list, &count, why))
		return false;
	/* Most books have none. */
	ok = count == 0 || add_days(run, list, count, why);
	for (size_t i = 0; ok && i < run->head_count; i++) {
		struct work_head head =
		    work_head_of(list, count, run->book.info.id, run->heads[i].day);
		if (work_head_says(&head))
			run->heads[kept++] = head;
	}
	run->head_count = ok ? kept : 0;
	free(list);
	return ok;
}
