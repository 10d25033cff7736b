#include "job/job_error.h"

namespace leastwall {

std::string shown(std::string_view text, std::size_t most) {
  std::string out(text.substr(0, most));
  if (text.size() > most) {
    const auto inside_character = [&] {
      return (static_cast<unsigned char>(text[out.size()]) & 0xC0) == 0x80;
    };
    while (!out.empty() && inside_character())
      out.pop_back();
    out += "...";
  }
  for (char& c : out)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      c = '?';
  return out;
}

InputError job_error(std::string_view file, int line, std::string_view text) {
  return InputError(fmt::format("{}:{}: {}", shown(file, 400), line, text));
}

} // namespace leastwall
