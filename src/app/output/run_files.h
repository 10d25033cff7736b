// The files of one run: what is written is neither read nor written twice.
#pragma once

#include <filesystem>
#include <string>
#include <sys/types.h>
#include <vector>

namespace leastwall {

/// What a run reads and writes, told one by one before anything is opened for writing. Files are
/// compared by what they are (device and inode), not by how they are spelled; those that are not
/// there yet by the path they will have. /dev/null may be written many times.
class RunFiles {
 public:
  /// Standard output takes `what` ("the text"). Throws InputError where it is a file of the run.
  void prints(const std::string& what);
  /// An output, by the option that names it. Throws InputError where it is taken already.
  void writes(const std::string& option, const std::filesystem::path& file);
  /// An input and the files that it names itself (side_files). Throws InputError where the run
  /// would write one of them.
  void reads(const std::filesystem::path& file);

 private:
  struct Identity {
    std::filesystem::path place; ///< where no such file is there yet
    bool there = false;
    dev_t device = 0;
    ino_t number = 0;
  };
  struct Output {
    std::string name; ///< as a message calls it
    std::string does; ///< "is written by --json"
    Identity file;
  };
  static Identity identify(const std::filesystem::path& file);
  static bool same(const Identity& a, const Identity& b);
  void take(Output output);
  void read_one(const std::filesystem::path& file);

  std::vector<Output> outputs_;
  std::vector<Identity> inputs_;
};

} // namespace leastwall
