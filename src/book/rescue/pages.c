/* Journal entries from the pages of a damaged file. Each entry holds its row whole, so that they
 * are all that is needed. */
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/rescue/rescue.h"

#define ENTRY_VALUES 10
#define PAYLOAD_LIMIT 4000000
#define LEAF 13 /* a page of rows */

struct file {
	const unsigned char *bytes;
	size_t size, page;
};

static uint32_t big_endian(const unsigned char *at, int bytes)
{
	uint32_t value = 0;
	for (int i = 0; i < bytes; i++)
		value = value << 8 | at[i];
	return value;
}

/* How many bytes a variable-length number takes; 0 where it does not end before `end`. */
static size_t varint(const unsigned char *at, const unsigned char *end, uint64_t *value)
{
	*value = 0;
	for (size_t i = 0; i < 9 && at + i < end; i++) {
		if (i == 8) {
			*value = *value << 8 | at[i];
			return 9;
		}
		*value = *value << 7 | (at[i] & 0x7f);
		if (!(at[i] & 0x80))
			return i + 1;
	}
	return 0;
}

/* The payload of a cell, which may go on on other pages; free it. NULL where it does not fit
 * together. */
static unsigned char *payload_of(const struct file *f, const unsigned char *at,
                                 const unsigned char *end, size_t size)
{
	size_t most = f->page - 35, least = (f->page - 12) * 32 / 255 - 23;
	size_t here = least + (size - least) % (f->page - 4), used;
	unsigned char *out;
	uint32_t next;
	here = size <= most ? size : here <= most ? here : least;
	if (size > PAYLOAD_LIMIT || size > f->size || here > (size_t)(end - at))
		return NULL;
	out = malloc(size + 1);
	if (!out)
		return NULL;
	memcpy(out, at, here);
	at += here;
	next = here < size && end - at >= 4 ? big_endian(at, 4) : 0;
	for (used = here; used < size && next;) {
		size_t part = size - used < f->page - 4 ? size - used : f->page - 4;
		if ((uint64_t)next * f->page > f->size)
			break;
		at = f->bytes + (size_t)(next - 1) * f->page;
		memcpy(out + used, at + 4, part);
		used += part;
		next = big_endian(at, 4);
	}
	if (used == size)
		return out;
	free(out);
	return NULL;
}

static const size_t integer_bytes[] = {0, 1, 2, 3, 4, 6, 8};

static bool bind_value(sqlite3_stmt *put, int column, uint64_t type, const unsigned char **at,
                       const unsigned char *end)
{
	size_t size = type >= 12 ? (size_t)(type - 12) / 2 : type <= 6 ? integer_bytes[type] : 0;
	const unsigned char *value = *at;
	int64_t number;
	if (type == 7 || type == 10 || type == 11 || size > (size_t)(end - value))
		return false;
	*at += size;
	if (type == 0)
		return sqlite3_bind_null(put, column) == SQLITE_OK;
	if (type == 8 || type == 9)
		return sqlite3_bind_int64(put, column, type == 9) == SQLITE_OK;
	if (type >= 12)
		return type % 2 == 1 && sqlite3_bind_text(put, column, (const char *)value,
		                                          (int)size, SQLITE_TRANSIENT) == SQLITE_OK;
	number = value[0] & 0x80 ? -1 : 0;
	for (size_t i = 0; i < size; i++)
		number = (int64_t)((uint64_t)number << 8 | value[i]);
	return sqlite3_bind_int64(put, column, number) == SQLITE_OK;
}

/* A record of ten values as an entry; the first, the row's number, stands outside of it. The
 * journal's own checks, and whether `after` is JSON, tell entries from other rows. */
static void take_record(const unsigned char *record, size_t size, int64_t seq, sqlite3_stmt *put)
{
	const unsigned char *end = record + size, *at = record, *body;
	uint64_t head, type;
	size_t taken = varint(at, end, &head);
	bool ok = taken && head <= size;
	if (!ok)
		return;
	body = record + head;
	at += taken;
	for (int i = 0; ok && i < ENTRY_VALUES; i++) {
		taken = varint(at, record + head, &type);
		ok = taken && bind_value(put, i + 1, type, &body, end);
		at += taken;
	}
	ok = ok && at == record + head && seq > 0 && sqlite3_bind_int64(put, 1, seq) == SQLITE_OK;
	if (ok)
		sqlite3_step(put);
	sqlite3_reset(put);
	sqlite3_clear_bindings(put);
}

static void take_page(const struct file *f, size_t number, sqlite3_stmt *put)
{
	const unsigned char *page = f->bytes + number * f->page, *end = page + f->page;
	const unsigned char *head = number ? page : page + 100;
	size_t cells = big_endian(head + 3, 2);
	if (head[0] != LEAF || cells > f->page / 4)
		return;
	for (size_t i = 0; i < cells; i++) {
		size_t offset = big_endian(head + 8 + 2 * i, 2), taken;
		const unsigned char *at = page + offset;
		unsigned char *payload;
		uint64_t size, row;
		if (offset < 8 || offset >= f->page)
			continue;
		taken = varint(at, end, &size);
		at += taken;
		if (!taken || !(taken = varint(at, end, &row)))
			continue;
		at += taken;
		payload = size < PAYLOAD_LIMIT ? payload_of(f, at, end, (size_t)size) : NULL;
		if (payload)
			take_record(payload, (size_t)size, (int64_t)row, put);
		free(payload);
	}
}

/* The size in the header, or the usual one where that cannot be. */
static size_t page_size(const struct file *f)
{
	size_t size = big_endian(f->bytes + 16, 2);
	return size == 1 ? 65536 : size >= 512 && (size & (size - 1)) == 0 ? size : 4096;
}

static bool found_any(struct replica *r)
{
	int64_t count = 0;
	return sql_integer(&r->book, "SELECT count(*) FROM (SELECT 1 FROM journal LIMIT 1)", &count,
	                   NULL) &&
	       count > 0;
}

static void take_pages(struct file *f, struct replica *r, sqlite3_stmt *put)
{
	f->page = page_size(f);
	for (size_t i = 0; i < f->size / f->page; i++)
		take_page(f, i, put);
	if (f->page != 4096) {
		f->page = 4096;
		for (size_t i = 0; i < f->size / f->page; i++)
			take_page(f, i, put);
	}
	/* The header may be what is damaged. */
	for (f->page = 512; f->page <= 65536 && !found_any(r); f->page *= 2)
		for (size_t i = 0; i < f->size / f->page; i++)
			take_page(f, i, put);
}

bool rescue_pages(const char *file, struct replica *r, struct fault *why)
{
	sqlite3_stmt *put = rescue_put_entry(r, why);
	struct stat info;
	struct file f = {0};
	int fd = open(file, O_RDONLY | O_CLOEXEC);
	void *map = MAP_FAILED;
	if (put && fd >= 0 && fstat(fd, &info) == 0 && info.st_size >= 512)
		map = mmap(NULL, (size_t)info.st_size, PROT_READ, MAP_PRIVATE, fd, 0);
	if (fd >= 0)
		close(fd);
	if (map != MAP_FAILED) {
		f = (struct file){.bytes = map, .size = (size_t)info.st_size};
		take_pages(&f, r, put);
		munmap(map, f.size);
	}
	sqlite3_finalize(put);
	return put != NULL;
}
