#include "app/os/available_memory.h"

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <fstream>
#include <string>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

/// The number a file begins with; absent for "max" and for a file that is not there.
std::optional<std::uint64_t> number_in(const fs::path& file) {
  std::ifstream in(file);
  std::string word;
  std::uint64_t value = 0;
  if (!(in >> word) ||
      std::from_chars(word.data(), word.data() + word.size(), value).ec != std::errc{})
    return std::nullopt;
  return value;
}

/// The number after `key` in a file of "key number" lines.
std::optional<std::uint64_t> number_after(const fs::path& file, const std::string& key) {
  std::ifstream in(file);
  std::string word, number;
  while (in >> word >> number) {
    std::uint64_t value = 0;
    if (word == key &&
        std::from_chars(number.data(), number.data() + number.size(), value).ec == std::errc{})
      return value;
    std::getline(in, number);
  }
  return std::nullopt;
}

void lower(std::optional<std::uint64_t>& least, std::optional<std::uint64_t> value) {
  if (value)
    least = least ? std::min(*least, *value) : *value;
}

/// What one control group leaves.
std::optional<std::uint64_t> left_in(const fs::path& group, const char* limit, const char* used) {
  const auto most = number_in(group / limit), now = number_in(group / used);
  if (!most || !now)
    return std::nullopt;
  const std::uint64_t kept_files = number_after(group / "memory.stat", "inactive_file").value_or(0);
  const std::uint64_t needed = *now - std::min(*now, kept_files);
  return *most - std::min(*most, needed);
}

/// The group at `path` under `root` and every group above it: each may have a limit.
void lower_by_groups(std::optional<std::uint64_t>& least, const fs::path& root, fs::path path,
                     const char* limit, const char* used) {
  for (path = path.relative_path();; path = path.parent_path()) {
    lower(least, left_in(root / path, limit, used));
    if (path.empty())
      return;
  }
}

} // namespace

std::optional<std::uint64_t> available_memory_bytes() {
  std::optional<std::uint64_t> least;
  if (const auto kib = number_after("/proc/meminfo", "MemAvailable:"))
    least = *kib * 1024;
  // "0::/group" is version 2; "4:memory:/group" the memory controller of version 1.
  std::ifstream groups("/proc/self/cgroup");
  for (std::string line; std::getline(groups, line);) {
    const std::size_t first = line.find(':'), second = line.find(':', first + 1);
    if (second == line.npos)
      continue;
    const std::string controllers = line.substr(first + 1, second - first - 1);
    const std::string path = line.substr(second + 1);
    if (controllers.empty())
      lower_by_groups(least, "/sys/fs/cgroup", path, "memory.max", "memory.current");
    else if (controllers == "memory")
      lower_by_groups(least, "/sys/fs/cgroup/memory", path, "memory.limit_in_bytes",
                      "memory.usage_in_bytes");
  }
  return least;
}

} // namespace leastwall
