#include "app/os/rollback_registry.h"

#include <algorithm>
#include <atomic>
#include <climits>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <unistd.h>

namespace leastwall {
namespace {

enum class Kind : int { none, claimed, temporary, folder, placed, exchanged };

/// Plain memory of the program: a signal handler may read it.
struct Slot {
  std::atomic<Kind> kind{Kind::none};
  char path[PATH_MAX];
  char target[PATH_MAX];
};
static_assert(std::atomic<Kind>::is_always_lock_free, "read from a signal handler");

constexpr int kSlots = 40;
Slot slots[kSlots];

/// False when the name is too long to be kept.
bool copy_name(char (&to)[PATH_MAX], const char* from) {
  const std::size_t n = std::strlen(from);
  if (n >= PATH_MAX)
    return false;
  std::copy_n(from, n + 1, to);
  return true;
}

UnfinishedSlot remember(const char* path, Kind kind) {
  for (int i = 0; i < kSlots; ++i) {
    Kind none = Kind::none;
    if (!slots[i].kind.compare_exchange_strong(none, Kind::claimed))
      continue;
    if (!copy_name(slots[i].path, path)) {
      slots[i].kind = Kind::none;
      return -1;
    }
    slots[i].kind = kind;
    return i;
  }
  return -1;
}

} // namespace

UnfinishedSlot remember_temporary(const char* temporary) noexcept {
  return remember(temporary, Kind::temporary);
}

UnfinishedSlot remember_folder(const char* folder) noexcept {
  return remember(folder, Kind::folder);
}

void remember_placed(UnfinishedSlot slot, const char* target, bool exchanged) noexcept {
  if (slot >= 0 && copy_name(slots[slot].target, target))
    slots[slot].kind = exchanged ? Kind::exchanged : Kind::placed;
}

void forget_unfinished(UnfinishedSlot slot) noexcept {
  if (slot >= 0)
    slots[slot].kind = Kind::none;
}

void undo_unfinished() noexcept {
  for (Slot& slot : slots) {
    const Kind kind = slot.kind;
    if (kind == Kind::placed)
      ::unlink(slot.target);
    if (kind == Kind::exchanged)
      ::renameat2(AT_FDCWD, slot.path, AT_FDCWD, slot.target, RENAME_EXCHANGE);
    if (kind == Kind::temporary || kind == Kind::exchanged)
      ::unlink(slot.path);
  }
  for (int i = kSlots - 1; i >= 0; --i) // the innermost was made last
    if (slots[i].kind == Kind::folder)
      ::rmdir(slots[i].path);
}

} // namespace leastwall
