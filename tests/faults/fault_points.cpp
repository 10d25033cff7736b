// Makes one system call or allocation of a program fail: a library to be loaded before all others
// (LD_PRELOAD, see ld.so(8)). Armed from the first line of main() to its last. By environment:
//   LEASTWALL_FAULT        what fails: allocate, open (for reading), read, map, create (open for
//                          writing, temporary names, folders), write, sync, rename
//   LEASTWALL_FAULT_AT     which call of that kind, counted from 1; 0 or none: none
//   LEASTWALL_FAULT_STAYS  1: all later calls fail too, as on a disk that stays full
//   LEASTWALL_FAULT_HOW    error (default) or short: read and write transfer half and no error
//   LEASTWALL_FAULT_OVER   allocations below so many bytes never fail and are not counted
//   LEASTWALL_FAULT_IN     name of the program that is meant (default: leastwall)
//   LEASTWALL_FAULT_COUNT  file that receives, when main() ends, how many calls there were: a line
//                          "kind number" for each kind, and "large" for allocations from 64 KiB
#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);
}

namespace {

enum Kind { kAllocate, kOpen, kRead, kMap, kCreate, kWrite, kSync, kRename, kLarge, kNothing };
constexpr const char* kWords[] = {"allocate", "open", "read",   "map",  "create",
                                  "write",    "sync", "rename", "large"};

std::atomic<bool> armed{false};
std::atomic<unsigned long> seen[kNothing];
Kind meant = kNothing;
unsigned long at = 0, over = 0;
bool stays = false, halves = false;
const char* count_file = nullptr;

/// Counts one call of this kind; true when it is to fail.
bool strikes(Kind kind) {
  if (!armed.load(std::memory_order_relaxed))
    return false;
  const unsigned long number = ++seen[kind];
  return kind == meant && at != 0 && (number == at || (stays && number > at));
}

bool strikes_allocation(std::size_t size) {
  if (size >= 65536 && armed.load(std::memory_order_relaxed))
    ++seen[kLarge];
  return size >= over && strikes(kAllocate);
}

template <class F> F next(const char* name) {
  return reinterpret_cast<F>(::dlsym(RTLD_NEXT, name));
}

unsigned long number_of(const char* name) {
  const char* text = ::getenv(name);
  return text == nullptr ? 0 : ::strtoul(text, nullptr, 10);
}

void arm() {
  const char* what = ::getenv("LEASTWALL_FAULT");
  const char* in = ::getenv("LEASTWALL_FAULT_IN");
  if (::strcmp(program_invocation_short_name, in != nullptr ? in : "leastwall") != 0)
    return;
  for (int k = 0; k < kNothing; ++k)
    if (what != nullptr && ::strcmp(what, kWords[k]) == 0)
      meant = static_cast<Kind>(k);
  at = number_of("LEASTWALL_FAULT_AT");
  over = number_of("LEASTWALL_FAULT_OVER");
  stays = number_of("LEASTWALL_FAULT_STAYS") != 0;
  const char* how = ::getenv("LEASTWALL_FAULT_HOW");
  halves = how != nullptr && ::strcmp(how, "short") == 0;
  count_file = ::getenv("LEASTWALL_FAULT_COUNT");
  armed = true;
}

void disarm() {
  if (!armed.exchange(false) || count_file == nullptr)
    return;
  const int file = ::open(count_file, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (file < 0)
    ::_exit(125);
  for (int kind = 0; kind < kNothing; ++kind)
    ::dprintf(file, "%s %lu\n", kWords[kind], seen[kind].load());
  ::close(file);
}

using Main = int (*)(int, char**, char**);
Main real_main = nullptr;

int armed_main(int argc, char** argv, char** environment) {
  arm();
  const int status = real_main(argc, argv, environment);
  disarm();
  return status;
}

int fail(int error) {
  errno = error;
  return -1;
}

} // namespace

// Declared with the attributes that the C library's headers give them.
extern "C" {

int __libc_start_main(Main main, int argc, char** argv, void (*init)(), void (*fini)(),
                      void (*loader_fini)(), void* stack_end) {
  using Start = int (*)(Main, int, char**, void (*)(), void (*)(), void (*)(), void*);
  real_main = main;
  return next<Start>("__libc_start_main")(armed_main, argc, argv, init, fini, loader_fini,
                                          stack_end);
}

void* malloc(std::size_t size) noexcept {
  if (strikes_allocation(size)) {
    errno = ENOMEM;
    return nullptr;
  }
  return __libc_malloc(size);
}
void* calloc(std::size_t count, std::size_t size) noexcept {
  if (strikes_allocation(count * size)) {
    errno = ENOMEM;
    return nullptr;
  }
  return __libc_calloc(count, size);
}
void* realloc(void* old, std::size_t size) noexcept {
  if (size > 0 && strikes_allocation(size)) {
    errno = ENOMEM;
    return nullptr;
  }
  return __libc_realloc(old, size);
}
void* memalign(std::size_t alignment, std::size_t size) noexcept {
  if (strikes_allocation(size)) {
    errno = ENOMEM;
    return nullptr;
  }
  return __libc_memalign(alignment, size);
}
void* aligned_alloc(std::size_t alignment, std::size_t size) noexcept {
  return memalign(alignment, size);
}
int posix_memalign(void** result, std::size_t alignment, std::size_t size) noexcept {
  void* got = memalign(alignment, size);
  if (got == nullptr)
    return ENOMEM;
  *result = got;
  return 0;
}

int open(const char* path, int flags, ...) {
  mode_t mode = 0;
  if ((flags & (O_CREAT | O_TMPFILE)) != 0) {
    std::va_list more;
    va_start(more, flags);
    mode = va_arg(more, mode_t);
    va_end(more);
  }
  const bool reading = (flags & O_ACCMODE) == O_RDONLY;
  if (strikes(reading ? kOpen : kCreate))
    return fail(reading ? EIO : ENOSPC);
  return next<int (*)(const char*, int, ...)>("open")(path, flags, mode);
}
int open64(const char* path, int flags, ...) {
  mode_t mode = 0;
  if ((flags & (O_CREAT | O_TMPFILE)) != 0) {
    std::va_list more;
    va_start(more, flags);
    mode = va_arg(more, mode_t);
    va_end(more);
  }
  return open(path, flags, mode);
}
FILE* fopen(const char* path, const char* mode) {
  const bool reading = mode[0] == 'r' && ::strchr(mode, '+') == nullptr;
  if (strikes(reading ? kOpen : kCreate)) {
    errno = reading ? EIO : ENOSPC;
    return nullptr;
  }
  return next<FILE* (*)(const char*, const char*)>("fopen")(path, mode);
}
FILE* fopen64(const char* path, const char* mode) {
  return fopen(path, mode);
}
int mkostemps(char* pattern, int suffix, int flags) {
  if (strikes(kCreate))
    return fail(ENOSPC);
  return next<int (*)(char*, int, int)>("mkostemps")(pattern, suffix, flags);
}
int mkdir(const char* path, mode_t mode) noexcept {
  if (strikes(kCreate))
    return fail(ENOSPC);
  return next<int (*)(const char*, mode_t)>("mkdir")(path, mode);
}

ssize_t read(int file, void* to, std::size_t size) {
  if (strikes(kRead)) {
    if (!halves)
      return fail(EIO);
    size = size > 1 ? size / 2 : size;
  }
  return next<ssize_t (*)(int, void*, std::size_t)>("read")(file, to, size);
}
ssize_t pread(int file, void* to, std::size_t size, off_t from) {
  if (strikes(kRead)) {
    if (!halves)
      return fail(EIO);
    size = size > 1 ? size / 2 : size;
  }
  return next<ssize_t (*)(int, void*, std::size_t, off_t)>("pread")(file, to, size, from);
}
ssize_t write(int file, const void* from, std::size_t size) {
  if (file != STDERR_FILENO && strikes(kWrite)) {
    if (!halves)
      return fail(ENOSPC);
    size = size > 1 ? size / 2 : size;
  }
  return next<ssize_t (*)(int, const void*, std::size_t)>("write")(file, from, size);
}
std::size_t fread(void* to, std::size_t size, std::size_t count, FILE* file) {
  if (strikes(kRead)) {
    if (!halves) {
      errno = EIO;
      return 0;
    }
    count /= 2;
  }
  return next<std::size_t (*)(void*, std::size_t, std::size_t, FILE*)>("fread")(to, size, count,
                                                                                file);
}
std::size_t fwrite(const void* from, std::size_t size, std::size_t count, FILE* file) {
  if (file != stderr && strikes(kWrite)) {
    errno = ENOSPC;
    return 0;
  }
  return next<std::size_t (*)(const void*, std::size_t, std::size_t, FILE*)>("fwrite")(from, size,
                                                                                       count, file);
}
void* mmap(void* where, std::size_t size, int protection, int flags, int file,
           off_t offset) noexcept {
  if (file >= 0 && strikes(kMap)) {
    errno = ENOMEM;
    return MAP_FAILED;
  }
  return next<void* (*)(void*, std::size_t, int, int, int, off_t)>("mmap")(where, size, protection,
                                                                           flags, file, offset);
}
int fsync(int file) {
  if (strikes(kSync))
    return fail(EIO);
  return next<int (*)(int)>("fsync")(file);
}
int rename(const char* from, const char* to) noexcept {
  if (strikes(kRename))
    return fail(EIO);
  return next<int (*)(const char*, const char*)>("rename")(from, to);
}
int renameat2(int from_folder, const char* from, int to_folder, const char* to,
              unsigned flags) noexcept {
  if (strikes(kRename))
    return fail(EIO);
  return next<int (*)(int, const char*, int, const char*, unsigned)>("renameat2")(
      from_folder, from, to_folder, to, flags);
}
}
