#include "mesh/syntax/mesh_text.h"

#include "base/file/refuse_file.h"

#include <fmt/format.h>

namespace leastwall {

std::string_view mesh_text(const MappedFile& file, std::string_view format) {
  std::string_view text = file.text();
  if (text.starts_with("\xef\xbb\xbf"))
    text.remove_prefix(3);
  // Of the characters that such a file begins with, UTF-16 makes one byte of two a zero.
  const bool wide = text.starts_with("\xff\xfe") || text.starts_with("\xfe\xff") ||
                    text.substr(0, 2).find('\0') != text.npos;
  if (wide)
    refuse_file(file.path(), fmt::format("is {} text in UTF-16", format), "save it as plain text");
  return text;
}

bool may_lack_digits(std::string_view text, std::uint64_t last, std::uint64_t most) {
  return !text.empty() && text.back() >= '0' && text.back() <= '9' && last > 0 && last <= most / 10;
}

} // namespace leastwall
