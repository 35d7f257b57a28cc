#include "rodbook/report/finds.h"

#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "text/columns.h"

static const char *setup_of(const struct work_found *found, char text[12])
{
	text[0] = '\0';
	if (found->setup)
		snprintf(text, 12, "%d", found->setup);
	return text;
}

static const char *state_words(enum work_state state)
{
	return state == WORK_COUNTS ? "" : state == WORK_CHANGED ? "changed" : "struck";
}

/* Where line number i of a table begins whose lines are that many bytes in. */
static void find_lines(const char *table, long before, size_t count, long *row)
{
	for (size_t i = 0; i < count; i++) {
		const char *end = strchr(table, '\n');
		before += end + 1 - table;
		table = end + 1;
		row[i] = before;
	}
}

static void left_out(FILE *out, const struct work_finds *finds)
{
	if (finds->unreadable)
		fprintf(out, "runs that cannot be read are left out: %zu\n", finds->unreadable);
}

bool report_finds_text(FILE *out, const struct work_finds *finds, long *row, struct fault *why)
{
	static const char *const head[] = {"run", "setup", "sight", "station", "remark"};
	struct columns columns = {.columns = 5};
	char *table = NULL;
	size_t size;
	FILE *lines = open_memstream(&table, &size);
	bool ok = lines != NULL;
	columns_add(&columns, head);
	for (size_t i = 0; i < finds->count; i++) {
		const struct work_found *f = &finds->find[i];
		char setup[12], remark[LEVEL_REMARK_BYTES + 12];
		const char *cells[] = {f->run, setup_of(f, setup), level_kind_name(f->kind),
		                       f->station, remark};
		snprintf(remark, sizeof remark, "%s%s%s", state_words(f->state),
		         f->state != WORK_COUNTS && *f->remark ? ": " : "", f->remark);
		columns_add(&columns, cells);
	}
	ok = ok && columns_put(lines, &columns, "lrlll");
	columns_free(&columns);
	if (lines && fclose(lines) != 0)
		ok = false;
	if (ok && row)
		find_lines(table, ftell(out), finds->count, row);
	if (ok)
		fputs(table, out);
	free(table);
	if (finds->left)
		fprintf(out, "and %zu more\n", finds->left);
	left_out(out, finds);
	return ok || fault_memory(why);
}

static void put_csv(FILE *out, const struct work_finds *finds)
{
	fputs("run,row,setup,sight,station,remark,state\n", out);
	for (size_t i = 0; i < finds->count; i++) {
		const struct work_found *f = &finds->find[i];
		char row[24], setup[12];
		const char *fields[] = {f->run,
		                        row,
		                        setup_of(f, setup),
		                        level_kind_name(f->kind),
		                        f->station,
		                        f->remark,
		                        f->state == WORK_COUNTS ? "counts" : state_words(f->state)};
		snprintf(row, sizeof row, "%zu", f->row + 1);
		csv_write(out, fields, 7, "\n");
	}
}

bool report_finds(FILE *out, struct book *book, const char *text, bool csv, size_t *found,
                  size_t *unreadable, struct fault *why)
{
	struct work_finds finds;
	bool ok = work_find(book, text, SIZE_MAX, &finds, why);
	*found = finds.count;
	*unreadable = finds.unreadable;
	if (ok && csv)
		put_csv(out, &finds);
	else if (ok && finds.count)
		ok = report_finds_text(out, &finds, NULL, why);
	if (ok && !csv && !finds.count) {
		fprintf(out, "no station and no remark holds \"%s\"\n", text);
		left_out(out, &finds);
	}
	work_finds_free(&finds);
	return ok;
}
