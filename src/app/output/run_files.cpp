#include "app/output/run_files.h"

#include "app/output/written_place.h"
#include "base/errors.h"
#include "mesh/load/side_files.h"

#include <fmt/format.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>
#include <utility>

namespace leastwall {
namespace {

/// /dev/null keeps nothing: nothing is lost in it.
bool keeps_nothing(const struct stat& facts) {
  return S_ISCHR(facts.st_mode) && facts.st_rdev == makedev(1, 3);
}

} // namespace

RunFiles::Identity RunFiles::identify(const std::filesystem::path& file) {
  Identity out;
  struct stat facts {};
  // A way through a folder that is not there and back may lead to a file that is.
  const std::filesystem::path place = written_place(file);
  if (::stat(file.c_str(), &facts) == 0 || ::stat(place.c_str(), &facts) == 0) {
    if (keeps_nothing(facts))
      return out;
    out.there = true;
    out.device = facts.st_dev;
    out.number = facts.st_ino;
  } else {
    out.place = place;
  }
  return out;
}

bool RunFiles::same(const Identity& a, const Identity& b) {
  if (a.there != b.there)
    return false;
  return a.there ? a.device == b.device && a.number == b.number
                 : !a.place.empty() && a.place == b.place;
}

void RunFiles::take(Output output) {
  for (const Identity& input : inputs_)
    if (same(input, output.file))
      throw InputError(fmt::format("{}: that file is read by this run; name another", output.name));
  for (const Output& other : outputs_)
    if (same(other.file, output.file))
      throw InputError(fmt::format("{}: that file {}; name another", output.name, other.does));
  outputs_.push_back(std::move(output));
}

void RunFiles::prints(const std::string& what) {
  struct stat facts {};
  if (::fstat(STDOUT_FILENO, &facts) != 0 || keeps_nothing(facts))
    return;
  Identity file;
  file.there = true;
  file.device = facts.st_dev;
  file.number = facts.st_ino;
  take({fmt::format("standard output, which takes {}", what),
        fmt::format("is standard output, which takes {}", what), std::move(file)});
}

void RunFiles::writes(const std::string& option, const std::filesystem::path& file) {
  take({fmt::format("{} {}", option, file.string()), "is written by " + option, identify(file)});
}

void RunFiles::read_one(const std::filesystem::path& file) {
  Identity input = identify(file);
  for (const Output& output : outputs_)
    if (same(input, output.file))
      throw InputError(fmt::format("{}: that file is read by this run; name another", output.name));
  inputs_.push_back(std::move(input));
}

void RunFiles::reads(const std::filesystem::path& file) {
  read_one(file);
  for (const std::filesystem::path& beside : side_files(file))
    read_one(beside);
}

} // namespace leastwall
