#include "geometry/refuse_file.h"

#include "base/errors.h"

namespace leastwall {

std::string one_line(std::string_view text, std::size_t most) {
  std::string line(text.substr(0, most));
  for (char& c : line)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      c = '?';
  if (text.size() > most)
    line += "...";
  return line;
}

void refuse_file(const std::filesystem::path& file, std::string_view what, std::string_view todo) {
  throw InputError(one_line(file.native(), 4096) + ": " + one_line(what) + "; " + one_line(todo));
}

} // namespace leastwall
