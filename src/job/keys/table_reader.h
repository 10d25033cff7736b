// Typed access to one table of a job file that check_keys() has passed. What is not stated and
// matters goes to the assumptions, with the value used.
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "base/units.h"
#include "job/keys/known_keys.h"
#include "job/toml/job_error.h"
#include "job/toml/job_node.h"
#include "setup/setup.h"

#include <cstdint>
#include <filesystem>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwall {

/// What all tables of one file share.
struct JobSource {
  std::string file;                 ///< name for messages
  std::filesystem::path folder;     ///< of the job file; relative paths start here
  LengthUnit unit = LengthUnit::mm; ///< of bare numbers
  bool files_must_exist = true;
  std::vector<Assumption> assumptions;
  std::vector<Notice> notices;
  std::vector<std::filesystem::path> files; ///< each that was named, as it was asked for
};

class TableReader {
 public:
  /// `table` may be null: then nothing is stated. `line` is where messages about missing keys
  /// point. With `inherits`, what is not stated comes from elsewhere: no fallback, no assumption.
  TableReader(const JobNode* table, std::string_view schema, std::string path, int line,
              JobSource& source, bool inherits = false);

  bool has(std::string_view name) const { return node(name) != nullptr; }
  const JobNode* node(std::string_view name) const;
  int line(std::string_view name) const; ///< of the key, else of the table
  std::string path_of(std::string_view name) const;
  std::string_view schema() const { return schema_; }
  JobSource& source() const { return source_; }

  // Each returns what is stated, else the key's fallback (which is then an assumption), else
  // nothing; a required key that is missing throws InputError.
  std::optional<double> number(std::string_view name) const; ///< number, length (mm), chance, whole
  std::optional<Uncertain> uncertain(std::string_view name) const;
  std::optional<std::string> text(std::string_view name) const;
  std::optional<std::string_view> word(std::string_view name) const; ///< one of the key's choices
  /// The value that belongs to the word: choice<Seating>("seating", {{"rigid", Seating::rigid}}).
  template <class T>
  std::optional<T> choice(std::string_view name,
                          std::initializer_list<std::pair<std::string_view, T>> values) const {
    const auto found = word(name);
    if (!found)
      return std::nullopt;
    for (const auto& [choice, value] : values)
      if (choice == *found)
        return value;
    no_such_word(name, *found);
  }
  std::optional<Point2> point2(std::string_view name) const;
  std::optional<Vec3> point3(std::string_view name) const;
  std::optional<std::vector<double>> lengths(std::string_view name) const;
  /// A file, joined to the folder of the job. Throws InputError when it must exist and does not.
  std::optional<std::filesystem::path> file(std::string_view name) const;
  /// The same for one that may be missing or not be there.
  std::optional<std::filesystem::path> file_if_any(std::string_view name) const;

  /// A choice of the key that its reader forgot. Throws RunError.
  [[noreturn]] void no_such_word(std::string_view name, std::string_view word) const;

  TableReader table(std::string_view name, bool inherits = false) const;
  std::vector<TableReader> tables(std::string_view name) const;

  /// Throws InputError "FILE:LINE: text" at the key (else at the table).
  [[noreturn]] void fail(std::string_view name, std::string_view text) const;
  /// Throws when both keys are stated; `why` says what to do.
  void not_both(std::string_view first, std::string_view second, std::string_view why) const;
  /// Throws when `name` is stated without `needed`.
  void needs(std::string_view name, std::string_view needed) const;

 private:
  const KnownKey& key(std::string_view name) const;
  std::optional<std::filesystem::path> named_file(std::string_view name) const;
  /// The node of a stated key; null when absent. Throws when it is required.
  const JobNode* stated(const KnownKey& key) const;
  [[noreturn]] void missing(const KnownKey& key) const;
  void assume(const KnownKey& key) const;

  const JobNode* table_;
  std::string schema_, path_;
  int line_;
  JobSource& source_;
  bool inherits_;
};

} // namespace leastwall
