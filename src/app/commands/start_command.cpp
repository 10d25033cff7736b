#include "app/commands/start_command.h"

#include "app/commands/ask_job.h"
#include "app/commands/output_option.h"
#include "app/output/outputs.h"
#include "base/errors.h"
#include "base/file/mapped_file.h"
#include "base/file/program_folder.h"
#include "job/start_job.h"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

constexpr const char* kAskedName = "piece.toml";

/// Folder of the demo meshes: installed beside the program, or the source tree it was built from.
fs::path demo_meshes() {
  std::error_code ignored;
  const fs::path here = program_folder();
  for (const fs::path& folder :
       {here / ".." / "share" / "leastwall" / "meshes", here / ".." / ".." / "meshes"})
    if (fs::exists(folder / "gourd_skin.stl", ignored))
      return folder;
  throw RunError("the demo meshes were not found beside the program; install leastwall whole");
}

/// The name as one word of a shell.
std::string shell_word(const std::string& name) {
  constexpr std::string_view kPlain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
      "_-./+:,@%";
  if (name.find_first_not_of(kPlain) == name.npos)
    return name;
  std::string out = "'";
  for (const char c : name)
    out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

/// A job file to write.
struct JobText {
  std::string name, text;
};

} // namespace

CLI::App* add_start_command(CLI::App& app, StartOptions& options) {
  CLI::App* start =
      app.add_subcommand("start", "Write a commented job file with demo meshes to start from.");
  add_output(start, "folder", options.folder, OutputKind::folder, "where to write; made if needed")
      ->type_name("FOLDER")
      ->required();
  start->add_option("--piece", options.piece, "which demo piece: gourd lantern or leaf light-panel")
      ->type_name("PIECE")
      ->transform(CLI::IsMember({"gourd", "leaf"}, CLI::ignore_case));
  start->add_flag("--all", options.all, "write every key of a job, not only those that matter");
  start->add_flag("--ask", options.ask,
                  "ask for your own meshes and what matters first, and write a job for them");
  start->add_option("--pocket", options.pocket, "with --ask: mesh of the inner pocket (side A)")
      ->type_name("FILE");
  start->add_option("--skin", options.skin, "with --ask: mesh of the outer skin (side B)")
      ->type_name("FILE");
  return start;
}

namespace {

/// What would be written must not be there; a link whose file is not there is something too.
void require_new(const fs::path& file) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(file, error)))
    throw InputError(
        fmt::format("{}: exists already and is left as it is; name another folder", file.string()));
}

ExitStatus start_by_questions(const StartOptions& options) {
  if (options.all || !options.piece.empty())
    throw InputError("start --ask writes a job for your own meshes with what you answer; leave out "
                     "--all and --piece");
  const fs::path folder = options.folder;
  require_new(folder / kAskedName);
  std::optional<AskedJob> asked;
  Outputs outputs;
  outputs.prints("the questions");
  outputs.add_folder("start", folder,
                     {{kAskedName, [&asked] { return asked->text; }, {}, OldFile::kept}}, true);
  asked = ask_job(folder, options.pocket, options.skin);
  outputs.reads(asked->pocket);
  outputs.reads(asked->skin);
  outputs.open();
  outputs.commit({}, [&] {
    const std::string name = (folder / kAskedName).string();
    return fmt::format("Wrote {}. Next:\n  leastwall check {}\n", name, shell_word(name));
  });
  return kHolds;
}

} // namespace

ExitStatus run_start(const StartOptions& options) {
  if (options.ask)
    return start_by_questions(options);
  if (!options.pocket.empty() || !options.skin.empty())
    throw InputError("start writes a demo with meshes of its own; with --ask it writes a job for "
                     "your --pocket and --skin");
  const fs::path folder = options.folder;
  const bool leaf = options.piece == "leaf";
  const JobKeys keys = options.all ? JobKeys::all : JobKeys::stated;
  const std::vector<JobText> jobs =
      leaf ? std::vector<JobText>{{"leaf.toml", leaf_job({}, keys)}}
           : std::vector<JobText>{{"gourd.toml", gourd_job({}, keys)},
                                  {"gourd-whole.toml", whole_gourd_job({}, keys)}};
  const std::vector<std::string> meshes =
      leaf ? std::vector<std::string>{"leaf_back.ply", "leaf_front.ply"}
           : std::vector<std::string>{"gourd_pocket.stl", "gourd_skin.stl", "gourd_ember.stl"};
  const fs::path from = demo_meshes();
  std::vector<std::string> names = meshes;
  for (const JobText& job : jobs)
    names.push_back(job.name);
  Outputs outputs;
  outputs.prints("the next step");
  std::vector<Outputs::File> files;
  for (const std::string& name : names) {
    require_new(folder / name);
    files.push_back({name,
                     [&jobs, &from, name] {
                       const auto job = std::ranges::find(jobs, name, &JobText::name);
                       return job != jobs.end() ? job->text
                                                : std::string(MappedFile(from / name).text());
                     },
                     {}});
  }
  for (Outputs::File& file : files)
    file.old = OldFile::kept; // it may be somebody's work
  outputs.add_folder("start", folder, std::move(files), true);
  for (const std::string& name : meshes)
    outputs.reads(from / name);
  outputs.open();
  outputs.commit({}, [&] {
    std::string next;
    for (const JobText& job : jobs)
      next += fmt::format("  leastwall check {}\n", shell_word((folder / job.name).string()));
    return fmt::format("Wrote {} and {} meshes. Next:\n{}", (folder / jobs[0].name).string(),
                       jobs.size() > 1 ? fmt::format("{} with their", jobs[1].name) : "its", next);
  });
  return kHolds;
}

} // namespace leastwall
