/* Runs of another book, with all that belongs to them. */
#include "rodbook/work/copy.h"

#include <stdlib.h>
#include <string.h>

#include "work/tables.h"

/* The texts of a column, in the order of strcmp(). */
struct texts {
	const char **text;
	size_t count;
};

static int by_text(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static bool list_texts(struct texts *out, const struct book_table *table, const char *column,
                       struct fault *why)
{
	size_t c = book_table_column(table, column);
	out->text = malloc((table->rows + 1) * sizeof *out->text);
	if (!out->text)
		return fault_memory(why);
	for (size_t r = 0; c < table->columns && r < table->rows; r++)
		if (table->cell[r * table->columns + c])
			out->text[out->count++] = table->cell[r * table->columns + c];
	qsort(out->text, out->count, sizeof *out->text, by_text);
	return true;
}

static bool has_text(const struct texts *list, const char *text)
{
	return text && list->text &&
	       bsearch(&text, list->text, list->count, sizeof *list->text, by_text) != NULL;
}

/* Which rows of a table go along with the runs chosen: what their rows name. */
struct chosen {
	struct texts runs, plans, stations, instruments, rods;
	bool marks_only;
	bool settings; /* and what they name: a tolerance set of the book's own */
};

static void free_chosen(struct chosen *chosen)
{
	free(chosen->runs.text);
	free(chosen->plans.text);
	free(chosen->stations.text);
	free(chosen->instruments.text);
	free(chosen->rods.text);
}

static bool goes_along(const struct chosen *chosen, const struct book_table *table, size_t row)
{
	const char *name = book_table_cell(table, row, "name");
	const char *run = book_table_cell(table, row, "run");
	if (run)
		return has_text(&chosen->runs, run);
	if (strcmp(table->name, "setting") == 0)
		return chosen->settings;
	if (book_table_cell(table, row, "struck"))
		return false;
	if (strcmp(table->name, "mark") == 0)
		return chosen->marks_only || has_text(&chosen->stations, name);
	if (strcmp(table->name, "instrument") == 0)
		return has_text(&chosen->instruments, name);
	if (strcmp(table->name, "rod") == 0)
		return has_text(&chosen->rods, name);
	if (strcmp(table->name, "pegtest") == 0 || strcmp(table->name, "fieldtest") == 0)
		return has_text(&chosen->instruments, book_table_cell(table, row, "instrument"));
	if (strcmp(table->name, "plan") == 0)
		return has_text(&chosen->plans, name);
	if (strcmp(table->name, "tolerance") == 0)
		return chosen->settings;
	return false;
}

static bool keep(struct book_table *table, const struct chosen *chosen, const char *const *names,
                 size_t count, struct fault *why)
{
	bool *kept = calloc(table->rows + 1, sizeof *kept);
	if (!kept)
		return fault_memory(why);
	for (size_t r = 0; r < table->rows; r++) {
		const char *name = book_table_cell(table, r, "name");
		if (strcmp(table->name, "run") != 0)
			kept[r] = goes_along(chosen, table, r);
		for (size_t i = 0; strcmp(table->name, "run") == 0 && i < count; i++)
			kept[r] = kept[r] || (name && strcmp(name, names[i]) == 0);
	}
	book_table_keep(table, kept);
	free(kept);
	return true;
}

static struct book_table *table_named(struct book_table *tables, size_t count, const char *name)
{
	size_t i = 0;
	while (i + 1 < count && strcmp(tables[i].name, name) != 0)
		i++;
	return &tables[i];
}

static bool check_names(const struct book_table *runs, const char *const *names, size_t count,
                        struct fault *why)
{
	struct texts known = {0};
	bool ok = list_texts(&known, runs, "name", why);
	for (size_t i = 0; ok && i < count; i++)
		ok = has_text(&known, names[i]) ||
		     fault_say(why, FAULT_INPUT, "the other book has no run %.160s", names[i]);
	free(known.text);
	return ok;
}

/* The runs first, then their sights, then what these name. */
static bool choose(struct book_table *tables, size_t all, const char *const *names, size_t count,
                   bool settings, struct fault *why)
{
	struct book_table *runs = table_named(tables, all, "run");
	struct book_table *sights = table_named(tables, all, "sight");
	struct chosen chosen = {.marks_only = count == 0, .settings = settings};
	bool ok = check_names(runs, names, count, why) && keep(runs, &chosen, names, count, why) &&
	          list_texts(&chosen.runs, runs, "id", why) &&
	          list_texts(&chosen.plans, runs, "plan", why) &&
	          keep(sights, &chosen, names, count, why) &&
	          list_texts(&chosen.stations, sights, "station", why) &&
	          list_texts(&chosen.instruments, sights, "instrument", why) &&
	          list_texts(&chosen.rods, sights, "rod", why);
	for (size_t i = 0; ok && i < all; i++)
		if (&tables[i] != runs && &tables[i] != sights)
			ok = keep(&tables[i], &chosen, names, count, why);
	free_chosen(&chosen);
	return ok;
}

bool work_copy_runs(struct book *book, struct book *other, const char *path,
                    const char *const *names, size_t count, struct work_taken *counts,
                    struct fault *why)
{
	struct book_table tables[BOOK_TABLES_MOST] = {0};
	size_t all = book_table_count(), read;
	bool ok = work_read_tables(other, tables, &read, why) &&
	          choose(tables, all, names, count, false, why) &&
	          work_take_tables(book, tables, all, path, counts, why);
	work_free_tables(tables, read);
	return ok;
}

bool work_read_run_tables(struct book *book, const char *run,
                          struct book_table tables[BOOK_TABLES_MOST], size_t *count,
                          struct fault *why)
{
	return work_read_tables(book, tables, count, why) &&
	       choose(tables, *count, &run, 1, true, why);
}
