#include "mesh/syntax/zip_entry.h"

#include "base/file/refuse_file.h"
#include "mesh/syntax/unpack_deflate.h"

#include <algorithm>
#include <cstdint>
#include <cstring>

namespace leastwall {
namespace {

[[noreturn]] void refuse(const MappedFile& file, std::string_view what) {
  refuse_file(file.path(), what, "the archive is damaged: export or copy it again");
}

/// Little-endian number of `n` bytes; the archive must hold them.
std::uint64_t number(const MappedFile& file, std::uint64_t at, int n) {
  if (at > file.size() || file.size() - at < static_cast<std::uint64_t>(n))
    refuse(file, "zip archive ends too early");
  std::uint64_t value = 0;
  std::memcpy(&value, file.data() + at, static_cast<std::size_t>(n));
  return value;
}

std::uint64_t end_record(const MappedFile& file) {
  constexpr std::uint64_t kRecord = 22, kLongestComment = 0xffff;
  if (file.size() < kRecord)
    refuse(file, "zip archive without a directory");
  const std::uint64_t last = file.size() - kRecord;
  for (std::uint64_t at = last;; --at) {
    if (number(file, at, 4) == 0x06054b50)
      return at;
    if (at == 0 || last - at >= kLongestComment)
      refuse(file, "zip archive without a directory");
  }
}

bool same_name(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
  const auto plain = [](std::string_view s) { return s.substr(s.starts_with('/') ? 1 : 0); };
  a = plain(a);
  b = plain(b);
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(),
                                            [&](char x, char y) { return lower(x) == lower(y); });
}

void inflate_whole(const MappedFile& file, std::string_view packed,
                   const std::function<void(std::string_view)>& take) {
  switch (unpack_deflate(packed, take)) {
  case Unpacked::whole:
    return;
  case Unpacked::ends_early:
    refuse(file, "zip entry ends too early");
  case Unpacked::damaged:
    refuse(file, "zip entry is damaged");
  }
}

struct Entry {
  std::uint64_t method, checksum, packed, size, header;
};

void unpack(const MappedFile& file, const Entry& entry,
            const std::function<void(std::string_view)>& take) {
  if (number(file, entry.header, 4) != 0x04034b50)
    refuse(file, "zip entry without its header");
  const std::uint64_t data =
      entry.header + 30 + number(file, entry.header + 26, 2) + number(file, entry.header + 28, 2);
  if (data > file.size() || file.size() - data < entry.packed)
    refuse(file, "zip archive ends too early");
  const std::string_view packed =
      file.text().substr(static_cast<std::size_t>(data), static_cast<std::size_t>(entry.packed));
  std::uint64_t size = 0;
  std::uint32_t checksum = 0;
  const auto checked = [&](std::string_view piece) {
    size += piece.size();
    if (size > entry.size)
      refuse(file, "zip entry is longer than it says");
    checksum = crc32_of(checksum, piece);
    take(piece);
  };
  if (entry.method == 0)
    checked(packed);
  else if (entry.method == 8)
    inflate_whole(file, packed, checked);
  else
    refuse(file, "zip entry is packed in a way that is not read here");
  if (size != entry.size || checksum != entry.checksum)
    refuse(file, "zip entry does not match its checksum");
}

} // namespace

bool read_zip_entry(const MappedFile& file, std::string_view name,
                    const std::function<void(std::string_view)>& take) {
  const std::uint64_t end = end_record(file);
  const std::uint64_t count = number(file, end + 10, 2);
  std::uint64_t at = number(file, end + 16, 4);
  if (count == 0xffff || at == 0xffffffff)
    refuse_file(file.path(), "is a 64-bit zip archive, which is not read here",
                "export the mesh as binary STL or PLY");
  for (std::uint64_t i = 0; i < count; ++i) {
    if (number(file, at, 4) != 0x02014b50)
      refuse(file, "zip directory is damaged");
    const std::uint64_t length = number(file, at + 28, 2);
    number(file, at + 46, 0);
    if (file.size() - at - 46 < length)
      refuse(file, "zip archive ends too early");
    const std::string_view found =
        file.text().substr(static_cast<std::size_t>(at + 46), static_cast<std::size_t>(length));
    if (same_name(found, name)) {
      if ((number(file, at + 8, 2) & 1) != 0)
        refuse_file(file.path(), "is encrypted", "export it without a password");
      unpack(file,
             {number(file, at + 10, 2), number(file, at + 16, 4), number(file, at + 20, 4),
              number(file, at + 24, 4), number(file, at + 42, 4)},
             take);
      return true;
    }
    at += 46 + length + number(file, at + 30, 2) + number(file, at + 32, 2);
  }
  return false;
}

} // namespace leastwall
