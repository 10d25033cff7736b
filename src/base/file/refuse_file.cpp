#include "base/file/refuse_file.h"

#include "base/errors.h"
#include "base/text/plain_line.h"

namespace leastwall {

std::string one_line(std::string_view text, std::size_t most) {
  return plain_line(text, most);
}

void refuse_file(const std::filesystem::path& file, std::string_view what, std::string_view todo) {
  throw InputError(one_line(file.native(), 4096) + ": " + one_line(what) + "; " + one_line(todo));
}

} // namespace leastwall
