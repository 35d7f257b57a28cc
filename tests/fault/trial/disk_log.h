/* What a program does to the files of its working directory, one record after the other. */
#ifndef TRIAL_DISK_LOG_H
#define TRIAL_DISK_LOG_H

#include <stdint.h>

/* Names the file that the records are added to. */
#define TRIAL_DISK_LOG "RODBOOK_TRIAL_LOG"

enum disk_kind {
	DISK_CREATE,   /* name, inode */
	DISK_WRITE,    /* inode, at, size, and so many bytes behind the record, and padding */
	DISK_TRUNCATE, /* inode, at: the new size */
	DISK_SYNC,     /* inode */
	DISK_SYNC_DIR,
	DISK_RENAME, /* name to other, inode */
	DISK_LINK,   /* name, also as other, inode */
	DISK_UNLINK, /* name */
	DISK_SAID,   /* something was written to standard output or error */
};

#define DISK_PADDING(size) ((size_t)(-(size)&7))

struct disk_record {
	int64_t kind, inode, at, size;
	char name[64], other[64];
};

#endif
