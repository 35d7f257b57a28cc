#include "rodbook/work/sight.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/limit.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/set.h"
#include "rodbook/level/time.h"
#include "rodbook/work/wires.h"
#include "work/typed.h"

bool work_reader_open(struct book *book, struct work_reader *out, struct fault *why)
{
	*out = (struct work_reader){0};
	if (book_settings(book, &out->settings, why) &&
	    book_instruments(book, &out->instruments, &out->instrument_count, why) &&
	    book_rods(book, &out->rods, &out->rod_count, why))
		return true;
	work_reader_free(out);
	return false;
}

void work_reader_free(struct work_reader *reader)
{
	free(reader->instruments);
	free(reader->rods);
	*reader = (struct work_reader){0};
}

static const char *text_of(const char *typed)
{
	return typed ? typed : "";
}

static bool refuse(struct fault *why, enum work_text text, const char *words)
{
	fault_say(why, FAULT_INPUT, "%s", words);
	return fault_at(why, work_text_name(text));
}

static bool has_instrument(const struct work_reader *reader, const char *name)
{
	bool known = !*name || reader->leaves_names;
	for (size_t i = 0; !known && i < reader->instrument_count; i++)
		known = strcmp(reader->instruments[i].name, name) == 0;
	return known;
}

static bool has_rod(const struct work_reader *reader, const char *name)
{
	bool known = !*name || reader->leaves_names;
	for (size_t i = 0; !known && i < reader->rod_count; i++)
		known = strcmp(reader->rods[i].name, name) == 0;
	return known;
}

/* A bare distance keeps its unit where that is not the one of the readings. */
static bool take_distance_unit(const struct work_reader *reader, const struct work_typed *typed,
                               struct book_note *note)
{
	const char *named = text_of(typed->text[WORK_DISTANCE_UNIT]);
	enum level_unit unit =
	    *text_of(typed->text[WORK_UNIT]) ? note->unit : reader->settings.style.distance;
	if (*named && !level_unit_find(named, &unit))
		return false;
	strcpy(note->distance_unit,
	       unit == note->unit || !level_is_bare(note->distance) ? "" : level_unit_name(unit));
	return true;
}

static bool read_choices(const struct work_reader *reader, const struct work_typed *typed,
                         struct level_sight *sight, struct book_note *note, struct fault *why)
{
	const char *method = text_of(typed->text[WORK_METHOD]);
	const char *unit = text_of(typed->text[WORK_UNIT]);
	const char *again = text_of(typed->text[WORK_AGAIN]);
	const char *declared = text_of(typed->text[WORK_DECLARED]);
	if (!level_kind_find(text_of(typed->text[WORK_SIGHT]), &sight->kind))
		return refuse(why, WORK_SIGHT, "a sight is BS, IS or FS, or OFF for an offset");
	if (sight->kind == LEVEL_OFF)
		sight->method = *note->ends ? LEVEL_TUBE : LEVEL_TAPE;
	if ((*method && !level_any_method_find(method, &sight->method)) ||
	    !level_method_suits(sight->kind, sight->method))
		return refuse(why, WORK_METHOD,
		              sight->kind == LEVEL_OFF
		                  ? "an offset is measured by tape, ruler or tube"
		                  : "a method is rod, tape or target");
	if (*unit && !level_unit_find(unit, &note->unit))
		return refuse(why, WORK_UNIT, "a unit is m, ft, ftin or in");
	if (*note->time && !level_is_typed_time(note->time))
		return refuse(why, WORK_TIME, "a time is written " BOOK_TIME_FORMS);
	sight->declared = strcmp(declared, "declared") == 0;
	if (*declared && !sight->declared)
		return refuse(why, WORK_DECLARED, "declared, or nothing");
	if (!take_distance_unit(reader, typed, note))
		return refuse(why, WORK_DISTANCE_UNIT, "a unit is m, ft, ftin or in");
	sight->again = strcmp(again, "again") == 0;
	if (*again && !sight->again)
		return refuse(why, WORK_AGAIN, "again, or nothing");
	if (!has_instrument(reader, note->instrument))
		return refuse(why, WORK_INSTRUMENT,
		              "the book has no instrument of that name: give it with rodbook "
		              "instrument");
	if (!has_rod(reader, note->rod))
		return refuse(why, WORK_ROD,
		              "the book has no rod of that name: give it with rodbook rod");
	return true;
}

/* A reading may be typed with its limit behind it. */
static bool part_limit(struct level_sight *sight, struct book_note *note, struct fault *why)
{
	struct level_limited parts;
	if (!level_split_limit(note->reading, &parts, why))
		return fault_at(why, work_text_name(WORK_READING));
	if (*parts.limit && *note->limit)
		return refuse(why, WORK_LIMIT,
		              "the limit stands beside the reading already: give it once");
	strcpy(note->reading, parts.reading);
	if (*parts.limit)
		strcpy(note->limit, parts.limit);
	sight->declared = sight->declared || parts.declared;
	return true;
}

/* A reading that nobody wrote is what its scaling makes, and so is a limit. What is wrong with the
 * scaling is said where it is read. */
static bool take_scaled(const struct level_sight *sight, struct book_note *note, struct fault *why)
{
	bool left_out = !*note->reading || strcmp(note->reading, LEVEL_SCALED_WORD) == 0;
	struct level_scaling scaling;
	struct level_scaled scaled;
	if (!*note->scaled)
		return strcmp(note->reading, LEVEL_SCALED_WORD) != 0 ||
		       refuse(why, WORK_SCALED, "say what the reading is scaled from");
	if (sight->wires || sight->kind == LEVEL_OFF)
		return true;
	if (!level_parse_scaling(note->scaled, note->unit, &scaling, why) ||
	    !level_scale(&scaling, &scaled, why))
		return fault_at(why, work_text_name(WORK_SCALED));
	if (left_out)
		level_scaled_text(note->reading, scaled.reading, note->unit);
	if (!*note->limit)
		level_scaled_text(note->limit, scaled.limit, note->unit);
	return true;
}

/* An offset is by no instrument and on no rod, whichever are in use; and the ends of a tube make
 * the height where nobody wrote it. */
static void take_offset(struct level_sight *sight, struct book_note *note)
{
	struct level_style style = level_style_default(note->unit);
	level_nm ends[2], read;
	note->instrument[0] = note->rod[0] = '\0';
	sight->wires = *note->upper || *note->middle || *note->lower;
	if (*note->reading || !level_parse_ends(note->ends, note->unit, ends, NULL))
		return;
	level_format_exact(note->reading, ends[0] - ends[1], &style);
	if (strcmp(level_file_unit(note->unit), level_unit_name(note->unit)) != 0)
		sprintf(note->reading + strlen(note->reading), " %s", level_file_unit(note->unit));
	/* Meters are not always whole numbers of nanometers in feet or inches. */
	if (!level_parse_length(note->reading, note->unit, &read, NULL))
		level_scaled_text(note->reading, ends[0] - ends[1], note->unit);
}

bool work_begins_as_name(const char *text)
{
	return isalpha((unsigned char)text[0]) && isalpha((unsigned char)text[1]);
}

bool work_read_sight(const struct work_reader *reader, const struct work_typed *typed,
                     struct level_sight *sight, struct book_note *note, struct fault *why)
{
	struct book_settings with = reader->settings;
	const char *station = text_of(typed->text[WORK_STATION]);
	enum work_text failed;
	bool copied;
	*sight = (struct level_sight){.method = LEVEL_ROD};
	*note = (struct book_note){.unit = reader->settings.style.unit};
	copied = typed_to_note(typed, note, &failed) ||
	         refuse(why, failed, "too long: write a shorter text");
	sight->wires = typed->wires || *note->upper || *note->middle || *note->lower;
	if (!copied || !read_choices(reader, typed, sight, note, why) ||
	    !part_limit(sight, note, why) || !take_scaled(sight, note, why))
		return false;
	if (work_begins_as_name(note->reading))
		return refuse(why, WORK_READING,
		              "this is a name, and a name goes into Station: write what the rod "
		              "shows");
	if (sight->kind == LEVEL_OFF)
		take_offset(sight, note);
	if (!level_check_station(station, sight->kind, why))
		return fault_at(why, work_text_name(WORK_STATION));
	strcpy(sight->station, station);
	/* The rod's own length goes before that of the settings. */
	with.rod_length =
	    book_rod_length(reader->rods, reader->rod_count, note->rod, with.rod_length);
	return book_read_sight(&with, note, sight, why);
}

double work_reading_u(const struct level_terms *terms, const struct level_sight *sight)
{
	struct level_sight one = *sight;
	one.set_count = 0;
	return level_sight_u(terms, &one).u;
}

struct level_warned work_warn(const struct level_run *run, const struct level_page *page, size_t at,
                              const struct book_settings *settings, const struct level_terms *terms,
                              const struct work_compared *compared,
                              const struct work_doubts *doubts)
{
	const struct level_sight *sight = &run->sight[at];
	struct level_warned warned;
	warned = level_warn(run, page, at, &settings->tolerance, work_wires_make(settings, sight),
	                    work_reading_u(terms, sight));
	if (compared->against == WORK_AGAINST_EARLIER)
		warned.set &= ~(1u << LEVEL_WARN_NAME);
	if (!compared->holds)
		warned.set |= 1u << LEVEL_WARN_STATION;
	warned.set |= doubts->set;
	warned.alike = doubts->alike;
	warned.decimals = doubts->decimals;
	warned.dry = doubts->dry;
	/* Where a drop is to be hidden, how odd it is would tell it. */
	if (run->kind == LEVEL_CROSSING && sight->kind == LEVEL_FS && level_counted(sight) &&
	    !settings->blind) {
		const struct level_closing closing =
		    level_close(run, page, terms, &settings->tolerance, settings->setup_figure);
		level_warn_curvature(run, &closing, terms, &warned);
	}
	return warned;
}

void work_find_known(const struct book_mark *marks, size_t count, struct level_sight *sight)
{
	sight->has_known = sight->surface = false;
	for (size_t i = 0; i < count; i++)
		if (strcmp(marks[i].name, sight->station) == 0) {
			sight->has_known = true;
			sight->known = marks[i].elevation;
			sight->known_u = marks[i].u;
			sight->surface = marks[i].surface;
		}
}

void work_find_equipment(struct book_run *run, const struct book_rod *rods, size_t rod_count,
                         const struct book_note *note, struct level_sight *sight)
{
	int index = book_run_instrument(run, note->instrument);
	sight->instrument = index < 0 ? 0 : index;
	if (sight->method == LEVEL_ROD)
		sight->rod_error = book_rod_error(rods, rod_count, note->rod, sight->reading,
		                                  run->has_celsius, run->celsius);
}

/* What is to be said of the sight at the end of the run, before it is booked. */
static bool warn(struct book *book, struct work_run *run, const struct work_reader *reader,
                 const struct book_note *note, struct work_booked *out, struct fault *why)
{
	const struct level_rule rule = {&run->settings.tolerance, run->settings.setup_figure};
	struct level_run with = run->book.run;
	struct level_page page = {0};
	struct work_determination other;
	struct book_mark *marks;
	struct book_water *waters;
	size_t count, water_count;
	bool ok, has;
	if (!book_marks(book, &marks, &count, why))
		return false;
	work_find_known(marks, count, &out->sight);
	if (!book_waters(book, run->book.info.id, &waters, &water_count, why)) {
		free(marks);
		return false;
	}
	book_water_mean(waters, water_count, &out->sight);
	with.sight = malloc((with.count + 1) * sizeof *with.sight);
	if (!with.sight) {
		free(waters);
		free(marks);
		return fault_memory(why);
	}
	if (with.count)
		memcpy(with.sight, run->book.run.sight, with.count * sizeof *with.sight);
	with.sight[with.count] = out->sight;
	work_find_known(marks, count, &with.sight[with.count]);
	work_find_equipment(&run->book, reader->rods, reader->rod_count, note,
	                    &with.sight[with.count++]);
	ok = (level_reduce(&with, 0, &run->terms.terms, &page) || fault_memory(why)) &&
	     work_determined(book, &run->book, out->sight.station, &other, &has, why);
	if (ok) {
		out->compared = work_compare(&with, &page, &run->terms.terms, &rule, with.count - 1,
		                             has ? &other : NULL);
		out->doubts = work_doubt(book, &run->book, run->book.run.count, false, marks, count,
		                         waters, water_count, NULL, &out->sight, note);
		out->warned = work_warn(&with, &page, with.count - 1, &run->settings,
		                        &run->terms.terms, &out->compared, &out->doubts);
		if (work_doubt_seal(&with, with.count - 1, &run->terms, run->settings.long_sight,
		                    waters, water_count))
			out->warned.set |= 1u << LEVEL_WARN_SEALS;
		out->setup = page.row[with.count - 1].setup;
		out->reading_u = work_reading_u(&run->terms.terms, &out->sight);
	}
	level_page_free(&page);
	free(with.sight);
	free(waters);
	free(marks);
	return ok;
}

/* It is booked, whatever can be said of it. */
static enum work_seal seal_of(struct book *book, const struct work_run *before)
{
	struct book_seal *seals;
	size_t count;
	if (before->terms.sealed)
		return WORK_NO_SEAL;
	if (!book_seals(book, before->book.info.id, &seals, &count, NULL))
		return WORK_SEAL_NOT_KNOWN;
	free(seals);
	return count ? WORK_SEALED : WORK_NO_SEAL;
}

/* Whether the line stands on that mark. Where it stands on none, the sight's place says why. */
static bool goes_from(const struct level_run *run, const char *from, struct fault *why)
{
	size_t last = level_counted_before(run, run->count);
	if (!from || last == run->count || !level_carries_on(run->sight[last].kind) ||
	    strcmp(run->sight[last].station, from) == 0)
		return true;
	return fault_say(why, FAULT_INPUT,
	                 "the line stands on %.160s: an offset goes on from there, not from %.160s",
	                 run->sight[last].station, from);
}

bool work_book_sight(struct book *book, const char *name, const struct work_typed *typed,
                     struct work_booked *out, struct fault *why)
{
	struct work_reader reader = {.leaves_names = true};
	struct work_run run;
	struct book_note note;
	bool ok;
	*out = (struct work_booked){0};
	if (!work_run_load(book, name, NULL, &run, why))
		return false;
	out->settings = reader.settings = run.settings;
	ok = goes_from(&run.book.run, typed->from, why) &&
	     book_rods(book, &reader.rods, &reader.rod_count, why) &&
	     work_read_sight(&reader, typed, &out->sight, &note, why) &&
	     warn(book, &run, &reader, &note, out, why);
	if (ok) {
		level_warned_names(&out->warned, note.overridden);
		book_photo_digests(book, note.photo, note.photo_digest, out->photos);
		ok = book_add(book, &run.book, run.book.run.count, &out->sight, &note, why);
	}
	if (ok)
		out->seal = seal_of(book, &run);
	work_run_free(&run);
	free(reader.rods);
	return ok;
}
