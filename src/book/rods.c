/* Rods, and what is known of their errors. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/observed.h"

/* A number, or 0 where there is none. */
static bool number(const char *text, double most, const char *what, double *value,
                   struct fault *why)
{
	char *end = NULL;
	*value = 0;
	if (!*text)
		return true;
	if (text[strspn(text, "0123456789.+-")] == '\0')
		*value = strtod(text, &end);
	return (end && end != text && !*end && fabs(*value) <= most) ||
	       fault_say(why, FAULT_INPUT, "%s is a number from -%g to %g, not \"%.20s\"", what,
	                 most, most, text);
}

/* A length with its unit, or 0 where there is none. */
static bool length(const char *text, const char *what, level_nm *value, struct fault *why)
{
	*value = 0;
	if (!*text)
		return true;
	if (level_is_bare(text) && strcmp(text, "0") != 0)
		return fault_say(why, FAULT_INPUT, "%s needs its unit, as in 0.3 mm", what);
	return level_parse_length(text, LEVEL_M, value, why);
}

struct figures {
	level_nm zero, longest;
	double scale, expansion, reference;
};

static bool read_figures(const struct book_rod *rod, struct figures *out, struct fault *why)
{
	if (!length(rod->zero, "the zero of a rod", &out->zero, why))
		return fault_at(why, "zero");
	if (!length(rod->longest, "the length of a rod", &out->longest, why))
		return fault_at(why, "length");
	if (!number(rod->scale, 10000, "the scale of a rod in ppm", &out->scale, why))
		return fault_at(why, "scale");
	if (!number(rod->expansion, 1000, "the expansion of a rod in ppm/K", &out->expansion, why))
		return fault_at(why, "expansion");
	if (!number(rod->reference, 100, "the reference temperature", &out->reference, why))
		return fault_at(why, "reference");
	if (out->zero > LEVEL_NM_PER_M || out->zero < -LEVEL_NM_PER_M) {
		fault_say(why, FAULT_INPUT, "the zero of a rod is within 1 m");
		return fault_at(why, "zero");
	}
	if (!*rod->expansion == !*rod->reference)
		return true;
	fault_say(why, FAULT_INPUT, "expansion and reference temperature of a rod come together");
	return fault_at(why, *rod->expansion ? "reference" : "expansion");
}

static bool is_sound(const struct book_rod *rod, struct fault *why)
{
	struct figures ignored;
	const struct {
		const char *text, *what, *field;
		size_t most;
	} texts[] = {{rod->zero, "zero", "zero", BOOK_TYPED_CHARS},
	             {rod->scale, "scale", "scale", 20},
	             {rod->expansion, "expansion", "expansion", 20},
	             {rod->reference, "temperature", "reference", 20},
	             {rod->longest, "length", "length", BOOK_TYPED_CHARS},
	             {rod->remark, "remark", "remark", LEVEL_REMARK_CHARS}};
	if (!level_check_name(rod->name, "rod", why))
		return fault_at(why, "name");
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		if (!level_check_text(texts[i].text, texts[i].most, texts[i].what, why))
			return fault_at(why, texts[i].field);
	return read_figures(rod, &ignored, why);
}

static bool read_rod(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_rod *rod = item;
	rod->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, rod->name, sizeof rod->name);
	sql_text(statement, 2, rod->zero, sizeof rod->zero);
	sql_text(statement, 3, rod->scale, sizeof rod->scale);
	sql_text(statement, 4, rod->expansion, sizeof rod->expansion);
	sql_text(statement, 5, rod->reference, sizeof rod->reference);
	sql_text(statement, 6, rod->longest, sizeof rod->longest);
	sql_text(statement, 7, rod->remark, sizeof rod->remark);
	return is_sound(rod, why) || book_spoiled(book, why);
}

#define COLUMNS "id, name, zero, scale, expansion, reference, longest, remark"

bool book_rods(struct book *book, struct book_rod **list, size_t *count, struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT " COLUMNS " FROM rod WHERE struck IS NULL ORDER BY id",
	                          ""),
	                sizeof **list, read_rod, (void **)list, count, why);
}

bool rod_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_rod ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM rod WHERE id=?1", "i", id),
	                 read_rod, &ignored, why);
}

bool book_rod_set(struct book *book, const struct book_rod *rod, struct fault *why)
{
	if (!is_sound(rod, why) || !txn_begin(book, why))
		return false;
	return txn_end(
	    book,
	    named_retire(book, "rod", rod->name, why) &&
	        sql_run(book, why,
	                "INSERT INTO rod(name, zero, scale, expansion, reference, longest, remark, "
	                "time) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
	                "tttttttt", rod->name, rod->zero, rod->scale, rod->expansion,
	                rod->reference, rod->longest, rod->remark, book->now) &&
	        journal_enter_numbered(book, "rod", 0, "rod", sqlite3_last_insert_rowid(book->db),
	                               NULL, 0, why),
	    why);
}

level_nm book_rod_length(const struct book_rod *list, size_t count, const char *name,
                         level_nm fallback)
{
	struct figures f = {0};
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].name, name) == 0 && read_figures(&list[i], &f, NULL) &&
		    f.longest > 0)
			return f.longest;
	return fallback;
}

double book_rod_error(const struct book_rod *list, size_t count, const char *name, level_nm reading,
                      bool has_celsius, double celsius)
{
	struct figures f = {0};
	struct level_rod rod;
	size_t i = 0;
	while (i < count && strcmp(list[i].name, name) != 0)
		i++;
	if (i == count || !read_figures(&list[i], &f, NULL))
		return 0;
	rod = (struct level_rod){level_to_meters(f.zero), f.scale, f.expansion, f.reference};
	return level_rod_error(&rod, reading, has_celsius ? celsius : NAN);
}
