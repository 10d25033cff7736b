#include "app/output/outputs.h"

#include "app/os/crash_handler.h"
#include "app/os/standard_streams.h"
#include "app/os/terminal.h"
#include "app/output/own_files.h"
#include "base/parallel.h"

#include <utility>

namespace leastwall {

void Outputs::add(const std::string& option, const std::filesystem::path& target, Make make,
                  OldFile old) {
  files_.writes(option, target);
  targets_.push_back({target, std::move(make), {}, old, option});
}

void Outputs::add_folder(const std::string& option, const std::filesystem::path& folder,
                         std::vector<File> files, bool with_parents) {
  for (File& file : files) {
    files_.writes(option, folder / file.name);
    targets_.push_back(
        {folder / file.name, std::move(file.make), std::move(file.wanted), file.old, {}});
  }
  folders_.push_back({folder, with_parents});
}

void Outputs::open() {
  for (const Folder& folder : folders_)
    made_.push_back(std::make_unique<MadeFolder>(folder.path, folder.with_parents));
  open_.reserve(targets_.size());
  for (const Target& target : targets_) {
    if (target.wanted && !target.wanted())
      continue;
    if (!target.option.empty() && target.old == OldFile::replaced)
      require_no_source(target.option, target.file);
    open_.emplace_back(target.file, target.old);
    opened_.push_back(&target);
  }
}

void Outputs::commit(const RunContext& run, const Make& text) {
  std::mutex telling;
  std::size_t done = 0;
  const auto write = [&](std::size_t i) {
    open_[i].write(opened_[i]->make());
    const std::lock_guard lock(telling);
    run.progress("writing", static_cast<double>(++done) / static_cast<double>(open_.size()));
  };
  each_by_itself(open_.size(), run, [&](std::size_t i) {
    if (!open_[i].written_directly())
      write(i);
  });
  // A signal ends the wait for a slow reader on this thread only.
  for (std::size_t i = 0; i < open_.size(); ++i) {
    run.check();
    if (open_[i].written_directly())
      write(i);
  }
  for (OutputFile& file : open_)
    file.flush();
  const std::string printed = text();
  held_ = hold_ending(); // none else puts the files back meanwhile
  run.check();
  for (OutputFile& file : open_)
    file.place();
  clear_progress();
  print_out(printed);
  for (OutputFile& file : open_)
    file.keep();
  for (const std::unique_ptr<MadeFolder>& folder : made_)
    folder->keep();
  held_.unlock();
  outcome_stands();
}

} // namespace leastwall
