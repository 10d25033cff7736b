#include "app/output/written_place.h"

#include "base/errors.h"

#include <fmt/format.h>
#include <system_error>

namespace leastwall {

namespace fs = std::filesystem;

fs::path written_place(const fs::path& file) {
  constexpr int kMaxLinks = 40; // as the system has it
  std::error_code error;
  fs::path at = fs::absolute(file, error);
  if (error)
    at = file;
  if (fs::exists(at, error)) {
    const fs::path real = fs::canonical(at, error);
    return error ? at : real;
  }
  for (int links = 0; links < kMaxLinks; ++links) {
    if (fs::symlink_status(at, error).type() != fs::file_type::symlink) {
      const fs::path real = fs::weakly_canonical(at, error);
      return error ? at : real;
    }
    const fs::path next = fs::read_symlink(at, error);
    if (error)
      return at;
    at = next.is_absolute() ? next : at.parent_path() / next;
  }
  throw InputError(
      fmt::format("{}: is a link that leads in a circle; give the name of a file", file.string()));
}

} // namespace leastwall
