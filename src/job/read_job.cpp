#include "job/read_job.h"

#include "base/file/text_file.h"
#include "job/keys/check_keys.h"
#include "job/keys/job_unit.h"
#include "job/read_tables.h"
#include "job/toml/parse_toml.h"
#include "job/toml/stated_keys.h"

#include <set>
#include <string>

namespace leastwall {
namespace {

void require_parts(const TableReader& root) {
  const auto parts = root.tables("part");
  if (parts.empty())
    root.fail("part", "no part; add [[part]] with its skin and pocket");
  std::set<std::string> names;
  for (const TableReader& part : parts) {
    if (parts.size() == 1)
      continue;
    const std::string name = part.text("name").value_or("");
    if (name.empty())
      part.fail("", "a part without a name; where there are several, each has one: name = \"...\"");
    if (!names.insert(name).second)
      part.fail("name",
                fmt::format("a second part is called \"{}\"; give each a name of its own", name));
  }
}

/// Runs `body` and forgets the assumptions that reading adds a second time.
template <class Body> void without_notes(JobSource& source, const Body& body) {
  const std::vector<Assumption> kept = source.assumptions;
  body();
  source.assumptions = kept;
}

} // namespace

Job parse_job(std::string_view text, const JobTextOptions& options) {
  const JobNode tree = parse_toml(text, options.name);
  JobSource source{options.name,
                   options.folder,
                   unit_of_job(tree, options.name),
                   options.files_must_exist,
                   {},
                   {},
                   {}};
  check_keys(tree, source.unit, source.file);
  const TableReader root(&tree, "", "", 1, source);

  Job job;
  job.units = source.unit;
  root.word("units");
  job.title = root.text("title").value_or("");
  const std::optional<double> limit_mm = root.number("limit");
  job.accepted_chance = *root.number("accepted_chance");
  job.trials = static_cast<std::uint64_t>(*root.number("trials"));
  job.seed = root.has("seed")
                 ? static_cast<std::uint64_t>(std::get<std::int64_t>(root.node("seed")->value))
                 : static_cast<std::uint64_t>(*root.number("seed"));
  const TableReader board = root.table("board");
  job.board = read_board(board);
  job.pocket_face_z_mm = board.number("pocket_face_z");
  CommonToParts common;
  common.limit_mm = limit_mm;
  common.thickness_mm = *job.board.assumed_thickness_mm;
  common.pockets_needed = options.pockets == PocketMeshes::needed;
  common.wood_gains = job.board.moisture_change_percent != 0;
  read_side(root.table("side_a"), common.side_a);
  read_side(root.table("side_b"), common.side_b);
  job.bed = read_bed(root.table("bed"));
  const TableReader flip = root.table("flip");
  if (root.has("flip"))
    job.flip = read_flip(flip);
  const TableReader dowels = flip.table("dowels", true);
  for (const char* diameter : {"hole_diameter", "pin_diameter"})
    if (!job.flip_hole_mm && dowels.has(diameter))
      job.flip_hole_mm = dowels.number(diameter);
  if (root.has("pour"))
    job.pour = read_pour(root.table("pour"));
  without_notes(source, [&] { require_parts(root); });
  for (const TableReader& part : root.tables("part"))
    job.parts.push_back(read_part(part, common, job.parts));
  without_notes(source, [&] { check_places(root, job); });
  job.assumptions = std::move(source.assumptions);
  job.notices = std::move(source.notices);
  job.files = std::move(source.files);
  job.stated = stated_keys(tree);
  return job;
}

Job read_job(const std::filesystem::path& file, PocketMeshes pockets) {
  const std::string name = file.string();
  constexpr std::size_t kMax = (std::size_t{1} << 20) + 1; // one byte more is refused
  const std::string text =
      read_text_file(file, kMax,
                     {.missing = "name the job file, or write a sample with `leastwall start`",
                      .folder = "name the job file in it",
                      .other = "name a job file"});
  return parse_job(
      text,
      {.name = name, .folder = file.parent_path(), .files_must_exist = true, .pockets = pockets});
}

} // namespace leastwall
