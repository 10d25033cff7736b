// Everything that a run writes, as one: all of it or nothing.
#pragma once

#include "app/output/made_folder.h"
#include "app/output/output_file.h"
#include "app/output/run_files.h"
#include "base/run_context.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Told what is written first (`prints`, `add`), then what is read (`reads`): a file that is both,
/// or written twice, throws InputError before anything is opened. Then open(), the long part, and
/// commit(). Until commit() has printed, every file is as it was before and nothing is left behind,
/// however the run ends.
class Outputs {
 public:
  /// The bytes, asked for in commit(); makers of several files run at once.
  using Make = std::function<std::string()>;
  struct File {
    std::string name; ///< in the folder
    Make make;
    std::function<bool()> wanted; ///< asked in open(); unset: always
    OldFile old = OldFile::replaced;
  };

  Outputs() = default;
  Outputs(const Outputs&) = delete;
  Outputs& operator=(const Outputs&) = delete;

  /// Standard output takes `what` ("the text").
  void prints(const std::string& what) { files_.prints(what); }
  /// One file, named by `option`.
  void add(const std::string& option, const std::filesystem::path& target, Make make,
           OldFile old = OldFile::replaced);
  /// A folder of files, made where it is missing, with its parents if `with_parents`.
  void add_folder(const std::string& option, const std::filesystem::path& folder,
                  std::vector<File> files, bool with_parents);
  /// An input and what it names itself (RunFiles::reads).
  void reads(const std::filesystem::path& file) { files_.reads(file); }

  /// Opens every file that is wanted, so that one that cannot be written is known before the long
  /// part. Throws InputError.
  void open();
  /// Makes and writes all bytes, puts the files in their places and prints `text`. Throws RunError,
  /// or what a maker throws; Cancelled up to the moment when the first file goes to its place.
  void commit(const RunContext& run, const Make& text);

 private:
  struct Target {
    std::filesystem::path file;
    Make make;
    std::function<bool()> wanted;
    OldFile old = OldFile::replaced;
    std::string option = {}; ///< that names this one file; empty: it is one of a folder
  };
  struct Folder {
    std::filesystem::path path;
    bool with_parents;
  };

  RunFiles files_;
  std::vector<Target> targets_;
  std::vector<Folder> folders_;
  // Taken down in reverse: files, the folders they are in, then the hold on endings.
  std::unique_lock<std::mutex> held_;
  std::vector<std::unique_ptr<MadeFolder>> made_;
  std::vector<OutputFile> open_;
  std::vector<const Target*> opened_; ///< of each open file
};

} // namespace leastwall
