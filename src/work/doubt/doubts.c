#include "rodbook/work/doubts.h"

#include <ctype.h>
#include <string.h>

#include "rodbook/work/times.h"

static unsigned time_doubts(const struct book *book, const struct book_run *run, size_t at,
                            const char *typed)
{
	char time[BOOK_TIME_BYTES], now[BOOK_TIME_BYTES];
	const char *before = "";
	for (size_t i = at; i-- > 0 && !*before;)
		if (level_counted(&run->run.sight[i]))
			before = run->note[i].time;
	return book_complete_time(book, typed, time, now, NULL)
	           ? work_time_warnings(before, time, now)
	           : 0;
}

/* Whether a tired eye takes two characters for the same. */
static bool looks_same(char a, char b)
{
	static const char *const rounds = "0Oo", *const strokes = "1Il";
	return tolower((unsigned char)a) == tolower((unsigned char)b) ||
	       (a && b && strchr(rounds, a) && strchr(rounds, b)) ||
	       (a && b && strchr(strokes, a) && strchr(strokes, b));
}

/* The next character of a name that the eye does not pass over; '\0' at its end. zeros: it passes
 * over those before a number. *number: whether it stands behind a digit. */
static char next_seen(const char **at, bool zeros, bool *number)
{
	for (; **at; (*at)++) {
		char c = **at;
		bool digit = isdigit((unsigned char)c) != 0;
		/* The number zero itself stays. */
		if (strchr(" .-_/", c) ||
		    (zeros && c == '0' && !*number && isdigit((unsigned char)(*at)[1])))
			continue;
		*number = digit;
		(*at)++;
		return c;
	}
	return '\0';
}

static bool looks_alike(const char *a, const char *b, bool zeros)
{
	bool number_a = false, number_b = false;
	char x, y;
	do {
		x = next_seen(&a, zeros, &number_a);
		y = next_seen(&b, zeros, &number_b);
	} while (looks_same(x, y) && x);
	return looks_same(x, y);
}

bool work_is_alike(const char *a, const char *b)
{
	/* TP01 is TP1 to the one, and TPO1 to the other. */
	return strcmp(a, b) != 0 && (looks_alike(a, b, true) || looks_alike(a, b, false));
}

static void hold_name(const char *name, const char *other, bool *known, char *alike)
{
	*known = *known || strcmp(name, other) == 0;
	if (!*alike && work_is_alike(name, other))
		strcpy(alike, other);
}

void work_find_alike(const struct book_run *run, size_t at, bool changes,
                     const struct book_mark *marks, size_t count, const char *station,
                     char alike[LEVEL_STATION_BYTES])
{
	bool known = false;
	alike[0] = '\0';
	for (size_t i = 0; i < count && !known; i++)
		hold_name(station, marks[i].name, &known, alike);
	for (size_t i = 0; i < run->run.count && !known; i++)
		if (level_counted(&run->run.sight[i]) && !(changes && i == at))
			hold_name(station, run->run.sight[i].station, &known, alike);
	if (known)
		*alike = '\0';
}

/* Not of feet with inches or of inches, whose fractions say how finely they were read. */
static bool lacks_decimals(const struct book_run *run, size_t at, const struct level_sight *sight,
                           const struct book_note *note, int *usual)
{
	int own = level_decimals(note->reading), seen = 0;
	*usual = 10;
	if (own < 0 || sight->wires || sight->kind == LEVEL_OFF || note->unit > LEVEL_FT)
		return false;
	for (size_t i = at; i-- > 0 && seen < WORK_DECIMALS_BEFORE;) {
		const struct level_sight *before = &run->run.sight[i];
		int decimals = level_decimals(run->note[i].reading);
		if (!level_counted(before) || before->kind == LEVEL_OFF || before->wires ||
		    before->method != sight->method || run->note[i].unit != note->unit)
			continue;
		if (decimals <= own)
			return false;
		*usual = decimals < *usual ? decimals : *usual;
		seen++;
	}
	return seen == WORK_DECIMALS_BEFORE;
}

static bool is_sighted(const struct book_run *run, size_t but, const char *station)
{
	for (size_t i = 0; i < run->run.count; i++)
		if (i != but && level_counted(&run->run.sight[i]) &&
		    strcmp(run->run.sight[i].station, station) == 0)
			return true;
	return false;
}

/* A station whose water was read and that no sight has, where there is none at this one. */
static bool find_dry(const struct book_run *run, size_t but, const struct book_water *list,
                     size_t count, const char *station, char dry[LEVEL_STATION_BYTES])
{
	for (size_t i = 0; i < count; i++) {
		if (*list[i].struck)
			continue;
		if (strcmp(list[i].station, station) == 0)
			return false;
		if (!*dry && !is_sighted(run, but, list[i].station))
			strcpy(dry, list[i].station);
	}
	return *dry != '\0';
}

static bool is_number(const char *name)
{
	return *name && name[strspn(name, "0123456789.,")] == '\0';
}

/* A bare number where no mark of the book and no other station of the run has such a name. */
static bool is_odd_number(const struct book_run *run, size_t but, const struct book_mark *marks,
                          size_t mark_count, const char *station)
{
	size_t others = 0;
	if (!is_number(station))
		return false;
	for (size_t i = 0; i < mark_count; i++)
		if (is_number(marks[i].name))
			return false;
	for (size_t i = 0; i < run->run.count; i++) {
		if (i == but)
			continue;
		if (is_number(run->run.sight[i].station))
			return false;
		others++;
	}
	return others > 0;
}

struct work_doubts work_doubt(const struct book *book, const struct book_run *run, size_t at,
                              bool changes, const struct book_mark *marks, size_t mark_count,
                              const struct book_water *waters, size_t water_count,
                              const char *alike, const struct level_sight *sight,
                              const struct book_note *note)
{
	struct work_doubts out = {.set = time_doubts(book, run, at, note->time)};
	if (alike)
		strcpy(out.alike, alike);
	else
		work_find_alike(run, at, changes, marks, mark_count, sight->station, out.alike);
	if (*out.alike)
		out.set |= 1u << LEVEL_WARN_ALIKE;
	if (is_odd_number(run, changes ? at : SIZE_MAX, marks, mark_count, sight->station))
		out.set |= 1u << LEVEL_WARN_NUMBER;
	if (lacks_decimals(run, at, sight, note, &out.decimals))
		out.set |= 1u << LEVEL_WARN_DECIMALS;
	if (run->run.kind == LEVEL_CROSSING && sight->kind == LEVEL_BS &&
	    find_dry(run, changes ? at : SIZE_MAX, waters, water_count, sight->station, out.dry))
		out.set |= 1u << LEVEL_WARN_DRY;
	return out;
}

bool work_doubt_seal(const struct level_run *run, size_t at, const struct book_terms *terms,
                     level_nm long_sight, const struct book_water *waters, size_t water_count)
{
	size_t first = level_counted_from(run, 0);
	for (size_t i = 0; i < water_count; i++)
		if (!*waters[i].struck)
			return false;
	return run->kind == LEVEL_CROSSING && !terms->sealed &&
	       terms->k_source == LEVEL_K_DEFAULT && run->sight[at].distance >= long_sight &&
	       first < run->count && !run->sight[first].has_known;
}
