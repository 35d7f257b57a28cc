/* A disk as it may be after the power was cut: what was synced is there; what was not is there, or
 * is not, or is there in part, in any order. */
#ifndef TRIAL_DISK_H
#define TRIAL_DISK_H

#include "disk_log.h"
#include "trial.h"

#define DISK_FILES 16
#define DISK_PENDING 2000

/* A file by its inode: what is on disk, and the records that may be. */
struct disk_file {
	int64_t inode;
	struct trial_bytes durable;
	size_t pending[DISK_PENDING], count;
};

struct disk_name {
	char name[64];
	size_t file;
};

struct disk {
	struct disk_record **record; /* the log */
	size_t records;
	struct trial_bytes log;
	struct disk_file file[DISK_FILES];
	size_t files;
	struct disk_name name[DISK_FILES];                 /* those that are on disk */
	size_t names, pending[DISK_PENDING], count;        /* changes of names that may be */
	bool ignore_journal_syncs, ignore_directory_syncs; /* controls: a disk that lies */
	char name_of[DISK_FILES][64];                      /* that each file was made by */
};

/* Reads the log. The book, if there is one, is on disk already. */
void disk_read(struct disk *disk, const char *log, const struct trial_bytes *book,
               int64_t book_inode);
void disk_free(struct disk *disk);
/* Takes the next record. */
void disk_take(struct disk *disk, size_t record);
/* Makes the files that one cut may leave, in the working directory: at random, or with all that was
 * not synced kept or dropped. */
enum disk_choice { DISK_KEEP, DISK_DROP, DISK_HALF, DISK_FEW, DISK_MOST, DISK_CHOICES };
void disk_cut(const struct disk *disk, enum disk_choice choice, uint64_t *state);

#endif
