#include "disk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The unit that a disk writes whole, or not at all. */
#define SECTOR 512

static size_t file_of(struct disk *disk, int64_t inode)
{
	size_t i = 0;
	/* A number may be used again by a later file: the last one counts. */
	for (i = disk->files; i-- > 0;)
		if (disk->file[i].inode == inode)
			return i;
	return SIZE_MAX;
}

static size_t add_file(struct disk *disk, int64_t inode, const char *name)
{
	struct disk_file *file = &disk->file[disk->files];
	if (disk->files == DISK_FILES)
		trial_stop("too many files");
	*file = (struct disk_file){.inode = inode, .durable = {.there = true}};
	snprintf(disk->name_of[disk->files], sizeof disk->name_of[0], "%s", name);
	return disk->files++;
}

void disk_read(struct disk *disk, const char *log, const struct trial_bytes *book,
               int64_t book_inode)
{
	size_t at = 0;
	disk->log = trial_read(log);
	disk->record = calloc(disk->log.size / sizeof *disk->record[0] + 1, sizeof *disk->record);
	while (disk->record && at + sizeof *disk->record[0] <= disk->log.size) {
		struct disk_record *record = (void *)(disk->log.at + at);
		disk->record[disk->records++] = record;
		at += sizeof *record + (size_t)record->size + DISK_PADDING(record->size);
	}
	if (book->there) {
		struct disk_file *file = &disk->file[add_file(disk, book_inode, TRIAL_BOOK)];
		file->durable.at = malloc(book->size);
		memcpy(file->durable.at, book->at, book->size);
		file->durable.size = book->size;
		snprintf(disk->name[0].name, sizeof disk->name[0].name, TRIAL_BOOK);
		disk->names = 1;
	}
}

void disk_free(struct disk *disk)
{
	for (size_t i = 0; i < disk->files; i++)
		free(disk->file[i].durable.at);
	free(disk->record);
	free(disk->log.at);
}

static void resize(struct trial_bytes *bytes, size_t size)
{
	unsigned char *at = realloc(bytes->at, size + 1);
	if (!at)
		trial_stop("no memory for a disk");
	if (size > bytes->size)
		memset(at + bytes->size, 0, size - bytes->size);
	bytes->at = at;
	bytes->size = size;
}

/* Applies a record to the bytes of its file; of a write the sectors that `kept` says. */
static void apply(struct trial_bytes *bytes, const struct disk_record *record, uint64_t kept)
{
	const unsigned char *data = (const unsigned char *)(record + 1);
	int64_t end;
	if (record->kind == DISK_TRUNCATE) {
		resize(bytes, (size_t)record->at);
		return;
	}
	for (int64_t at = record->at; at < record->at + record->size; at = end) {
		end = (at / SECTOR + 1) * SECTOR;
		if (end > record->at + record->size)
			end = record->at + record->size;
		if (!(kept >> (at / SECTOR % 64) & 1))
			continue;
		if ((size_t)end > bytes->size)
			resize(bytes, (size_t)end);
		memcpy(bytes->at + at, data + (at - record->at), (size_t)(end - at));
	}
}

static size_t find_name(const struct disk_name *names, size_t count, const char *name)
{
	size_t i = 0;
	while (i < count && strcmp(names[i].name, name) != 0)
		i++;
	return i;
}

static void bind_name(struct disk_name *names, size_t *count, const char *name, size_t file)
{
	size_t at = find_name(names, *count, name);
	if (at == DISK_FILES)
		trial_stop("too many names");
	snprintf(names[at].name, sizeof names[at].name, "%s", name);
	names[at].file = file;
	*count += at == *count;
}

static void drop_name(struct disk_name *names, size_t *count, const char *name)
{
	size_t at = find_name(names, *count, name);
	if (at < *count)
		names[at] = names[--*count];
}

/* The `at` of these records is the number of the file that the name leads to. */
static void apply_name(struct disk_name *names, size_t *count, const struct disk_record *record)
{
	if (record->kind == DISK_CREATE)
		bind_name(names, count, record->name, (size_t)record->at);
	else if (record->kind != DISK_UNLINK && record->at >= 0)
		bind_name(names, count, record->other, (size_t)record->at);
	if (record->kind == DISK_RENAME || record->kind == DISK_UNLINK)
		drop_name(names, count, record->name);
}

static bool is_journal(const struct disk *disk, size_t file)
{
	size_t size = strlen(disk->name_of[file]);
	return size > 8 && strcmp(disk->name_of[file] + size - 8, "-journal") == 0;
}

void disk_take(struct disk *disk, size_t record)
{
	struct disk_record *r = disk->record[record];
	size_t file = file_of(disk, r->inode);
	switch ((enum disk_kind)r->kind) {
	case DISK_CREATE:
		r->at = (int64_t)add_file(disk, r->inode, r->name);
		disk->pending[disk->count++] = record;
		break;
	case DISK_RENAME:
	case DISK_LINK:
		r->at = file == SIZE_MAX ? -1 : (int64_t)file;
		disk->pending[disk->count++] = record;
		break;
	case DISK_UNLINK:
		disk->pending[disk->count++] = record;
		break;
	case DISK_WRITE:
	case DISK_TRUNCATE:
		if (file == SIZE_MAX)
			break;
		if (disk->file[file].count == DISK_PENDING)
			trial_stop("too many writes without a sync");
		disk->file[file].pending[disk->file[file].count++] = record;
		break;
	case DISK_SYNC:
		if (file == SIZE_MAX || (disk->ignore_journal_syncs && is_journal(disk, file)))
			break;
		for (size_t i = 0; i < disk->file[file].count; i++)
			apply(&disk->file[file].durable, disk->record[disk->file[file].pending[i]],
			      UINT64_MAX);
		disk->file[file].count = 0;
		break;
	case DISK_SYNC_DIR:
		for (size_t i = 0; i < disk->count && !disk->ignore_directory_syncs; i++)
			apply_name(disk->name, &disk->names, disk->record[disk->pending[i]]);
		if (!disk->ignore_directory_syncs)
			disk->count = 0;
		break;
	case DISK_SAID:
		break;
	}
}

/* Which sectors of a write are kept; of anything else, all or none. */
static uint64_t kept(enum disk_choice choice, bool torn, uint64_t *state)
{
	uint64_t chance = trial_chance(state);
	bool keep = choice == DISK_HALF  ? chance >> 62 >= 2
	            : choice == DISK_FEW ? chance >> 60 == 0
	                                 : chance >> 60 != 0;
	if (choice == DISK_KEEP || choice == DISK_DROP)
		return choice == DISK_KEEP ? UINT64_MAX : 0;
	if (torn && (chance & 7) == 0)
		return trial_chance(state);
	return keep ? UINT64_MAX : 0;
}

void disk_cut(const struct disk *disk, enum disk_choice choice, uint64_t *state)
{
	struct disk_name names[DISK_FILES];
	size_t count = disk->names;
	memcpy(names, disk->name, sizeof names);
	for (size_t i = 0; i < disk->count; i++)
		if (kept(choice, false, state))
			apply_name(names, &count, disk->record[disk->pending[i]]);
	unlink(TRIAL_BOOK);
	unlink(TRIAL_BOOK "-journal");
	for (size_t i = 0; i < count; i++) {
		const struct disk_file *file = &disk->file[names[i].file];
		struct trial_bytes bytes = {0};
		resize(&bytes, file->durable.size);
		if (file->durable.size)
			memcpy(bytes.at, file->durable.at, file->durable.size);
		for (size_t j = 0; j < file->count; j++) {
			const struct disk_record *record = disk->record[file->pending[j]];
			uint64_t some = kept(choice, record->kind == DISK_WRITE, state);
			if (some)
				apply(&bytes, record, some);
		}
		trial_write(names[i].name, bytes.at, bytes.size);
		free(bytes.at);
	}
}
