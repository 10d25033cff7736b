// `check --out DIR`: one folder with everything, every file whole or not at all.
#pragma once

#include "app/output/made_folder.h"
#include "app/output/output_file.h"
#include "check/check_piece.h"
#include "report/sheet/sheet_paper.h"
#include "setup/setup.h"

#include <filesystem>
#include <vector>

namespace leastwall {

/// What the files of the folder are made from.
struct OutFolderInput {
  const CheckResult& result;
  const BudgetOptions& budget_options;
  bool inches = false;
  PaperSize paper = PaperSize::a4;
};

/// Which files belong to the folder besides those that always do.
struct OutFolderFiles {
  bool sheet = false;   ///< it shows a whole set-up, which quick flags do not state
  bool bed_map = false; ///< it needs readings of the bed
};

/// Every file that such a folder may hold.
std::vector<std::filesystem::path> files_in_out_folder(const std::filesystem::path& folder);

class OutFolder {
 public:
  /// Makes the folder when it is missing (its parent must exist) and opens every file, so that a
  /// folder that cannot be written is known before the long part. Throws InputError.
  OutFolder(const std::filesystem::path& folder, const OutFolderFiles& which);
  OutFolder(const OutFolder&) = delete;
  OutFolder& operator=(const OutFolder&) = delete;

  void write(const OutFolderInput& input, const RunContext& run);
  /// The steps of OutputFile, for every file. Without keep() nothing is left behind and files of an
  /// earlier run stay as they were.
  void flush();
  void place();
  void keep() noexcept;

 private:
  std::filesystem::path folder_;
  OutFolderFiles which_;
  MadeFolder made_;
  std::vector<OutputFile> files_; ///< after the folder: they go before it
};

} // namespace leastwall
