#include "job/toml/job_error.h"

#include "base/text/plain_line.h"

namespace leastwall {

std::string shown(std::string_view text, std::size_t most) {
  return plain_line(text, most);
}

InputError job_error(std::string_view file, int line, std::string_view text) {
  return InputError(fmt::format("{}:{}: {}", shown(file, 400), line, text));
}

} // namespace leastwall
