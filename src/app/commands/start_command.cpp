#include "app/commands/start_command.h"

#include "app/commands/output_option.h"
#include "app/output/outputs.h"
#include "base/errors.h"
#include "base/file/mapped_file.h"
#include "base/file/program_folder.h"
#include "job/start_job.h"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {
namespace {

namespace fs = std::filesystem;

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
  return start;
}

ExitStatus run_start(const StartOptions& options) {
  const fs::path folder = options.folder;
  const bool leaf = options.piece == "leaf";
  const std::vector<JobText> jobs =
      leaf ? std::vector<JobText>{{"leaf.toml", leaf_job()}}
           : std::vector<JobText>{{"gourd.toml", gourd_job()},
                                  {"gourd-whole.toml", whole_gourd_job()}};
  const std::vector<std::string> meshes =
      leaf ? std::vector<std::string>{"leaf_back.ply", "leaf_front.ply"}
           : std::vector<std::string>{"gourd_pocket.stl", "gourd_skin.stl", "gourd_ember.stl"};
  const fs::path from = demo_meshes();
  std::error_code error;
  std::vector<std::string> names = meshes;
  for (const JobText& job : jobs)
    names.push_back(job.name);
  Outputs outputs;
  outputs.prints("the next step");
  std::vector<Outputs::File> files;
  for (const std::string& name : names) {
    // A link whose file is not there is something too.
    if (fs::exists(fs::symlink_status(folder / name, error)))
      throw InputError(fmt::format("{}: exists already and is left as it is; name another folder",
                                   (folder / name).string()));
    files.push_back({name,
                     [&jobs, &from, name] {
                       const auto job = std::ranges::find(jobs, name, &JobText::name);
                       return job != jobs.end() ? job->text
                                                : std::string(MappedFile(from / name).text());
                     },
                     {}});
  }
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
