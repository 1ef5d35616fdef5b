/* Counts what a process does to the files of one folder, and at the n-th of them kills it, tears a write, or fails as a full
   or broken disk does. Loaded with LD_PRELOAD. With a record file it writes down every operation instead, so that a power cut
   can be played back from it. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

enum { OFF, KILLED, TORN, FULL, FULL_ONCE, BROKEN_ONCE, FULL_ON_SYNC };

static int mode = OFF, record = -1;
static long at, count, struck;
static char folder[4096];

#define REAL(name) ({ static __typeof__(&name) found; if (!found) found = (__typeof__(&name))dlsym(RTLD_NEXT, #name); found; })

void fault_arm(int new_mode, long new_at, const char *new_folder, int new_record) {
    mode = new_mode, at = new_at, count = struck = 0, record = new_record;
    snprintf(folder, sizeof folder, "%s", new_folder);
}

void fault_disarm(void) { mode = OFF; }

long fault_count(void) { return count; }
long fault_struck(void) { return struck; }

static int ours(const char *path) { return folder[0] && !strncmp(path, folder, strlen(folder)) && !strstr(path, "-shm"); }

static int path_of(int fd, char *path, size_t size) {
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t length = readlink(link, path, size - 1);
    if (length < 0) return 0;
    path[length] = 0;
    return ours(path);
}

static void put(const void *data, size_t size) {
    if (size && REAL(write)(record, data, size) != (ssize_t)size) abort();
}

static void note(char what, const char *path, const char *other, long offset, const void *data, size_t size) {
    if (record < 0) return;
    char head[9000];
    int length = snprintf(head, sizeof head, "%c\t%s\t%s\t%ld\t%zu\n", what, path, other, offset, size);
    put(head, (size_t)length);
    put(data, size);
}

void fault_note(const char *text) { note('!', text, "", 0, "", 0); }

/* 0: go on; 1: fail with errno set; 2: this is the write to tear */
static int due(int is_write, int is_sync) {
    if (mode == OFF) return 0;
    count++;
    if (count < at || !at) return 0;
    if (count > at && mode != FULL) return 0;
    switch (mode) {
    case KILLED: kill(getpid(), SIGKILL); for (;;) pause();
    case TORN: return 2;
    case BROKEN_ONCE: struck++; errno = EIO; return 1;
    case FULL: case FULL_ONCE: if (!is_write) return 0; struck++; errno = ENOSPC; return 1;
    case FULL_ON_SYNC: if (!is_sync) return 0; struck++; errno = ENOSPC; return 1;
    }
    return 0;
}

static void die(void) { kill(getpid(), SIGKILL); for (;;) pause(); }

static ssize_t write_at(int fd, const void *data, size_t size, off_t offset, int positioned) {
    char path[4096];
    if (mode == OFF && record < 0) goto through;
    if (!path_of(fd, path, sizeof path)) goto through;
    int fault = due(1, 0);
    if (fault == 1) return -1;
    if (fault == 2) size /= 2;
    if (record >= 0) note('w', path, "", positioned ? (long)offset : (long)lseek(fd, 0, SEEK_CUR), data, size);
    if (fault == 2) {
        if (positioned) REAL(pwrite64)(fd, data, size, offset); else REAL(write)(fd, data, size);
        die();
    }
through:
    return positioned ? REAL(pwrite64)(fd, data, size, offset) : REAL(write)(fd, data, size);
}

ssize_t write(int fd, const void *data, size_t size) { return write_at(fd, data, size, 0, 0); }
ssize_t pwrite(int fd, const void *data, size_t size, off_t offset) { return write_at(fd, data, size, offset, 1); }
ssize_t pwrite64(int fd, const void *data, size_t size, off64_t offset) { return write_at(fd, data, size, offset, 1); }

/* A copy within the kernel would go past the counting: the caller falls back to reading and writing. */
ssize_t sendfile(int out, int in, off_t *offset, size_t size) { (void)out, (void)in, (void)offset, (void)size; errno = ENOSYS; return -1; }
ssize_t sendfile64(int out, int in, off64_t *offset, size_t size) { (void)out, (void)in, (void)offset, (void)size; errno = ENOTSOCK; return -1; }

#define ON_FILE(declaration, kind, is_write, is_sync, value, call)              \
    declaration {                                                              \
        char path[4096];                                                       \
        if ((mode != OFF || record >= 0) && path_of(fd, path, sizeof path)) {  \
            int fault = due(is_write, is_sync);                                \
            if (fault == 1) return -1;                                         \
            note(kind, path, "", value, "", 0);                                \
            if (fault == 2) { call; die(); }                                   \
        }                                                                      \
        return call;                                                           \
    }

ON_FILE(int fsync(int fd), 's', 0, 1, 0, REAL(fsync)(fd))
ON_FILE(int fdatasync(int fd), 's', 0, 1, 0, REAL(fdatasync)(fd))
ON_FILE(int ftruncate(int fd, off_t size), 't', 0, 0, (long)size, REAL(ftruncate)(fd, size))
ON_FILE(int ftruncate64(int fd, off64_t size), 't', 0, 0, (long)size, REAL(ftruncate64)(fd, size))

#define ON_PATH(declaration, path, kind, other, call)                          \
    declaration {                                                              \
        if ((mode != OFF || record >= 0) && ours(path)) {                      \
            int fault = due(0, 0);                                             \
            if (fault == 1) return -1;                                         \
            note(kind, path, other, 0, "", 0);                                 \
            if (fault == 2) { call; die(); }                                   \
        }                                                                      \
        return call;                                                           \
    }

ON_PATH(int unlink(const char *path), path, 'u', "", REAL(unlink)(path))
ON_PATH(int rename(const char *from, const char *to), to, 'r', from, REAL(rename)(from, to))

static int opened(const char *path, int flags, mode_t rights) {
    int creates = (flags & O_CREAT) && access(path, F_OK) != 0 && errno == ENOENT;
    int counted = (mode != OFF || record >= 0) && ours(path) && (creates || (flags & O_TRUNC));
    if (counted) {
        int fault = due(creates, 0);
        if (fault == 1) return -1;
        if (fault == 2) { REAL(open)(path, flags, rights); die(); }
    }
    int fd = REAL(open)(path, flags, rights);
    if (counted && fd >= 0) note(creates ? 'c' : 't', path, "", 0, "", 0);
    return fd;
}

static mode_t rights_in(int flags, va_list list) { return (flags & (O_CREAT | O_TMPFILE)) ? va_arg(list, mode_t) : 0; }

int open(const char *path, int flags, ...) {
    va_list list;
    va_start(list, flags);
    mode_t rights = rights_in(flags, list);
    va_end(list);
    return opened(path, flags, rights);
}

int open64(const char *path, int flags, ...) {
    va_list list;
    va_start(list, flags);
    mode_t rights = rights_in(flags, list);
    va_end(list);
    return opened(path, flags | O_LARGEFILE, rights);
}
