#include "check/piece_input.h"

#include "base/parallel.h"
#include "base/sane_size.h"
#include "budget/effects/reach.h"
#include "budget/trials/trial_memory.h"
#include "check/holes_in_part.h"
#include "check/job_parts.h"
#include "check/parts_on_board.h"
#include "job/mesh_numbers.h"
#include "job/place_mesh.h"
#include "job/read_job.h"
#include "job/toml/job_error.h"
#include "mesh/inspect_mesh.h"
#include "mesh/load/stated_triangles.h"
#include "parts/drilled_hole.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <fmt/format.h>
#include <limits>
#include <memory>
#include <span>
#include <utility>

namespace leastwall {
namespace {

/// When both are broken, the pocket is the one that is told, whichever was found first.
void load_at_once(MeshWanted& pocket, MeshWanted& skin, const RunContext& run) {
  std::exception_ptr pocket_failed, skin_failed;
  std::atomic<bool> in_vain = false; // the skin is, once the pocket has failed
  RunContext skin_run = run;
  skin_run.cancelled = [&] { return in_vain || (run.cancelled && run.cancelled()); };
  const auto load = [](MeshWanted& mesh, const RunContext& context, std::exception_ptr& failed) {
    try {
      mesh.loaded = load_mesh(mesh.file, mesh.load, context);
    } catch (...) {
      failed = std::current_exception();
    }
  };
  both_at_once(
      [&] {
        load(pocket, run, pocket_failed);
        in_vain = pocket_failed != nullptr;
      },
      [&] { load(skin, skin_run, skin_failed); });
  for (const std::exception_ptr& failed : {pocket_failed, skin_failed})
    if (failed)
      std::rethrow_exception(failed);
}

/// A mesh as placed must lie where a mesh may lie that is read.
void check_placed(const Box& box, const std::string& mesh_file, const MeshPlacing& placing,
                  const std::string& job_file) {
  double reach = 0;
  for (const Vec3& v : {box.low, box.high})
    reach = std::max({reach, std::abs(v.x), std::abs(v.y), std::abs(v.z)});
  if (!(reach <= kFarthestCoordinate_mm))
    throw job_error(
        job_file, placing.line,
        fmt::format("as placed, the coordinates of {} reach {:.3g} mm; move the mesh to "
                    "the origin, and check its unit and placing.shift",
                    shown(mesh_file, 200), reach));
}

/// What the files' own counts and the trials say before anything is read. `cells`: one for each
/// facet of the skins, unless they are cut further.
void require_stated_memory(std::span<const std::filesystem::path> files, std::uint64_t cells,
                           const CheckInput& input, const MemoryLimit& memory) {
  CheckSize size;
  // How large the piece is no one knows yet: any box serves to count the errors.
  size.trial_bytes = trial_memory_bytes(input.setup, {{0, 0, 0}, {1, 1, 1}}, input.budget.trials);
  size.cells = cells;
  for (const std::filesystem::path& file : files)
    size.triangles += stated_triangles(file).value_or(0);
  require_memory(size, memory);
}

} // namespace

void load_both(MeshWanted& pocket, MeshWanted& skin, CheckInput& input, const MemoryLimit& memory,
               const RunContext& run) {
  const std::filesystem::path files[] = {pocket.file, skin.file};
  require_stated_memory(files, stated_triangles(skin.file).value_or(0), input, memory);
  run.progress("reading meshes", 0);
  load_at_once(pocket, skin, run);
  std::error_code ignored;
  if (std::filesystem::equivalent(pocket.file, skin.file, ignored))
    input.warnings.push_back({"same-file",
                              "Pocket and skin are the same file; give the inner surface as "
                              "the pocket and the outer one as the skin.",
                              Severity::doubt});
}

namespace {

constexpr std::size_t kMostPairs = 5000;

/// A mesh of the job that is read, and where it is stated.
struct PlacedMesh {
  MeshWanted wanted;
  const MeshPlacing* placing = nullptr;
};

/// Meshes of the job that are read, in the order of MeshNumbers.
std::vector<PlacedMesh> meshes_to_read(const Job& job) {
  std::vector<PlacedMesh> out;
  const auto add = [&out](const std::filesystem::path& file, const MeshPlacing& placing,
                          const char* say_inches) {
    PlacedMesh mesh{{file, {}, {}}, &placing};
    mesh.wanted.load.unit_if_unstated = placing.units;
    mesh.wanted.load.say_inches = say_inches;
    out.push_back(std::move(mesh));
  };
  for (const Part& part : job.parts) {
    if (part.mirror_of)
      continue;
    add(part.skin, part.placing, "write placing.units = \"inch\" under [[part]]");
    for (const Pocket& pocket : part.pockets)
      add(pocket.mesh, pocket.placing, "write placing.units = \"inch\" under [[part.pocket]]");
  }
  return out;
}

/// The holes of all parts as bodies, in the order of MeshNumbers; `top_z_mm`: of the pocket face.
std::vector<LoadedMesh> drilled(const Job& job, double top_z_mm) {
  std::vector<LoadedMesh> out;
  for (const Part& part : job.parts)
    for (const Hole& hole : part.mirror_of ? std::vector<Hole>() : part.holes) {
      const bool above = hole.from == Hole::From::pocket_face;
      LoadedMesh body;
      body.mesh = drilled_hole({hole.at, hole.diameter_mm,
                                above ? top_z_mm : top_z_mm - *job.board.assumed_thickness_mm,
                                hole.depth_mm, above, hole.flat});
      body.findings = inspect_mesh(body.mesh);
      out.push_back(std::move(body));
    }
  return out;
}

/// What all walls of the job have in common.
CheckInput common_input(const Job& job) {
  CheckInput input;
  input.title = job.title.empty() ? job.parts.front().skin.stem().string() : job.title;
  input.budget.accepted_chance = job.accepted_chance;
  input.budget.trials = job.trials;
  input.budget.seed = job.seed;
  input.budget.units = job.units;
  input.top_z_mm = job.pocket_face_z_mm;
  input.flip_stated = job.flip.has_value();
  return input;
}

bool is_hole(const PartCut& cut) {
  return cut.kind == PartCut::Kind::hole;
}

PairKind pair_of(const JobWall& wall) {
  return wall.beside           ? PairKind::beside
         : wall.setup.of_fill  ? PairKind::fill
         : is_hole(wall.inner) ? PairKind::hole
                               : PairKind::own;
}

/// The pocket face as stated, else as high as the skin and the pockets reach.
double pocket_face_of(const Job& job, std::span<const LoadedMesh> meshes,
                      const std::string& job_file) {
  constexpr double kSame_mm = 1e-3;
  if (job.pocket_face_z_mm)
    return *job.pocket_face_z_mm;
  double top = -std::numeric_limits<double>::infinity(), lowest = -top;
  for (const LoadedMesh& mesh : meshes) {
    top = std::max(top, mesh.findings.box.high.z);
    lowest = std::min(lowest, mesh.findings.box.high.z);
  }
  for (const Part& part : job.parts)
    if (!part.holes.empty() && top - lowest > kSame_mm)
      throw job_error(job_file, part.holes.front().line,
                      "the meshes do not all end at the pocket face, so nothing says where this "
                      "hole begins; state board.pocket_face_z");
  return top;
}

std::string material_of(const Part& part, const JobWall& wall) {
  std::optional<std::size_t> in; // the pocket whose resin it is
  if (wall.outer.kind == PartCut::Kind::pocket)
    in = wall.beside ? part.pockets[wall.outer.number].inside : std::optional(wall.outer.number);
  return in ? part.pockets[*in].material : "wood";
}

} // namespace

namespace {

/// Land belongs to no pocket of a part more than to another: it is asked once for each limit and
/// each rim that the part's pockets state, so that the strictest holds.
void give_land(JobInput& job) {
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    CheckInput& own = job.walls[w].input;
    own.with_land =
        own.pair == PairKind::own &&
        std::none_of(job.walls.begin(), job.walls.begin() + static_cast<std::ptrdiff_t>(w),
                     [&](const WallInput& other) {
                       return other.part_number == job.walls[w].part_number &&
                              other.input.with_land &&
                              other.input.budget.limit_mm == own.budget.limit_mm &&
                              other.input.rim_depth_mm == own.rim_depth_mm;
                     });
  }
}

/// The walls of the job between meshes that were read and placed, in the order of MeshNumbers.
JobInput assembled(const Job& job, const std::string& job_file, const CheckInput& common,
                   std::span<const JobWall> walls, std::vector<LoadedMesh> read,
                   std::vector<std::string> files) {
  JobInput out;
  out.meshes = std::move(read);
  const MeshNumbers meshes(job);
  const double top_z_mm = pocket_face_of(job, out.meshes, job_file);
  for (std::size_t p = 0; p < job.parts.size(); ++p)
    require_holes_in_part(job, p, out.meshes[meshes.of(p, {})], top_z_mm, job_file);
  out.notices = hole_notices(job);
  for (std::size_t p = 0; p < job.parts.size(); ++p)
    for (Notice& notice : outline_notices(job, p, out.meshes[meshes.of(p, {})]))
      out.notices.push_back(std::move(notice));
  for (LoadedMesh& hole : drilled(job, top_z_mm)) {
    out.meshes.push_back(std::move(hole));
    files.emplace_back();
  }
  const bool several = walls.size() > 1;
  for (const JobWall& wall : walls) {
    const Part& part = job.parts[wall.part];
    WallInput input;
    input.part = part.name;
    input.inner = cut_name(part, wall.inner);
    input.outer = cut_name(part, wall.outer);
    input.material = material_of(part, wall);
    input.part_number = wall.part;
    input.drawn = !is_hole(wall.inner) && !is_hole(wall.outer);
    input.line = part.line;
    input.on_board = part.on_board;
    input.board = part.board;
    // The box of a mesh that is turned is not that of its turned box.
    const OnBoard on_board(part.on_board);
    input.pocket_on_board = on_board.box_of(out.meshes[meshes.of(wall.part, wall.inner)].mesh);
    input.skin_on_board = on_board.box_of(out.meshes[meshes.of(wall.part, wall.outer)].mesh);
    input.same_as = wall.same_as;
    input.pocket_mesh = meshes.of(wall.part, wall.inner);
    input.skin_mesh = meshes.of(wall.part, wall.outer);
    input.input = common;
    input.input.setup = wall.setup;
    input.input.pocket_file = files[input.pocket_mesh];
    input.input.skin_file = files[input.skin_mesh];
    input.input.pocket = without_mesh(out.meshes[input.pocket_mesh]);
    input.input.skin = without_mesh(out.meshes[input.skin_mesh]);
    input.input.budget.limit_mm = wall.limit_mm;
    if (wall.inner.kind == PartCut::Kind::pocket && !wall.beside)
      input.input.rim_depth_mm = part.pockets[wall.inner.number].rim_depth_mm.value_or(0);
    input.input.with_land = false; // resin, holes and what stands beside have none
    input.input.pair = pair_of(wall);
    if (input.input.pair == PairKind::hole || input.input.pair == PairKind::beside)
      input.input.top_z_mm = top_z_mm;
    if (several)
      input.input.assumptions.clear();
    else
      input.input.budget.pad.emplace();
    out.walls.push_back(std::move(input));
  }
  give_land(out);
  for (std::size_t p = 0; p < job.parts.size(); ++p)
    for (std::size_t h = 0; h < job.parts[p].holes.size(); ++h) {
      const Part& part = job.parts[p];
      const Hole& hole = part.holes[h];
      const Vec3 at = OnBoard(part.on_board).place(Vec3{hole.at.x, hole.at.y, 0});
      HoleMark mark;
      mark.name = cut_name(part, {PartCut::Kind::hole, h});
      mark.at = {at.x, at.y};
      mark.diameter_mm = hole.diameter_mm;
      mark.depth_mm = hole.depth_mm;
      mark.flat = hole.flat;
      mark.through = hole.through;
      mark.side = hole.from == Hole::From::pocket_face ? Side::a : Side::b;
      mark.set_up = set_up_of(walls, p, {PartCut::Kind::hole, h});
      out.holes.push_back({std::move(mark), p, part.board, hole.line});
    }
  for (Notice& notice : wood_under_holes(job, out, top_z_mm))
    out.notices.push_back(std::move(notice));
  out.flip_hole_radius_mm = job.flip_hole_mm.value_or(0) / 2;
  find_halves(job, walls, top_z_mm, out);
  out.assumptions = job.assumptions;
  for (Assumption& line : what_set_ups_share(job))
    out.assumptions.push_back(std::move(line));
  if (!several)
    out.walls.front().input.assumptions = job.assumptions;
  require_parts_apart(out, job_file);
  require_parts_on_board(out, job_file);
  require_parts_off_dowels(out, job_file);
  return out;
}

/// What all walls of the job have in common, before a mesh is read. The pocket face that the meshes
/// show replaces that of `setup` where the job states none.
CheckInput common_to_walls(const Job& job, std::span<const JobWall> walls,
                           const std::string& job_file) {
  if (walls.size() > kMostPairs)
    throw job_error(
        job_file, job.parts.back().line,
        fmt::format("{} pairs of pockets and holes; at most {} are looked at: write two "
                    "jobs",
                    walls.size(), kMostPairs));
  CheckInput common = common_input(job);
  common.setup = walls.front().setup;
  common.warnings = job.notices;
  return common;
}

/// Lays a mesh that was read as the job says.
LoadedMesh placed(PlacedMesh& mesh, const std::string& job_file) {
  LoadedMesh loaded = std::move(mesh.wanted.loaded);
  place_mesh(loaded.mesh, *mesh.placing);
  loaded.findings.box = loaded.mesh.box();
  check_placed(loaded.findings.box, mesh.wanted.file.string(), *mesh.placing, job_file);
  return loaded;
}

} // namespace

namespace {

/// All meshes of the job, with its files told and memory asked for before. `keep_loaded`: fills
/// `loaded`.
JobWithPocket read_whole(const std::string& job_file, bool keep_loaded, const TellRead& tell,
                         const MemoryLimit& memory, const RunContext& run) {
  JobWithPocket out;
  out.job_file = job_file;
  out.job = read_job(job_file);
  for (const std::filesystem::path& file : out.job.files)
    tell(file);
  out.walls = walls_of(out.job, 0);
  out.common = common_to_walls(out.job, out.walls, job_file);
  std::vector<PlacedMesh> wanted = meshes_to_read(out.job);
  std::vector<std::filesystem::path> all_files;
  for (const PlacedMesh& mesh : wanted)
    all_files.push_back(mesh.wanted.file);
  require_stated_memory(all_files, 0, out.common, memory);
  load_both(wanted[1].wanted, wanted[0].wanted, out.common, memory, run);
  for (std::size_t m = 2; m < wanted.size(); ++m)
    wanted[m].wanted.loaded = load_mesh(wanted[m].wanted.file, wanted[m].wanted.load, run);
  for (PlacedMesh& mesh : wanted) {
    if (keep_loaded)
      out.loaded.push_back(mesh.wanted.loaded.mesh.vertices);
    out.meshes.push_back(placed(mesh, job_file));
    out.files.push_back(mesh.wanted.file.string());
  }
  return out;
}

} // namespace

JobWithPocket read_job_to_pour(const std::string& job_file, const TellRead& tell,
                               const MemoryLimit& memory, const RunContext& run) {
  return read_whole(job_file, false, tell, memory, run);
}

JobInput read_job_input(const std::string& job_file, const TellRead& tell,
                        const MemoryLimit& memory, const RunContext& run) {
  JobWithPocket all = read_whole(job_file, false, tell, memory, run);
  JobInput input = assembled(all.job, job_file, all.common, all.walls, std::move(all.meshes),
                             std::move(all.files));
  input.job = std::make_shared<const Job>(std::move(all.job));
  return input;
}

JobWithPocket read_job_to_hollow(const std::string& job_file, const TellRead& tell,
                                 const MemoryLimit& memory, const RunContext& run) {
  JobWithPocket out;
  out.job_file = job_file;
  out.job = read_job(job_file, PocketMeshes::to_be_made);
  const Job& job = out.job;
  const Part& part = job.parts.front();
  if (job.parts.size() > 1 || part.pockets.size() > 1)
    throw job_error(job_file, job.parts.size() > 1 ? job.parts[1].line : part.pockets[1].line,
                    "hollow makes the pocket of a job with one part and one pocket; write a job of "
                    "its own for this one");
  for (const std::filesystem::path& file : job.files)
    tell(file);
  out.walls = walls_of(job, 0);
  out.common = common_to_walls(job, out.walls, job_file);
  PlacedMesh skin = meshes_to_read(job).front();
  const std::filesystem::path files[] = {skin.wanted.file};
  require_stated_memory(files, 0, out.common, memory);
  skin.wanted.loaded = load_mesh(skin.wanted.file, skin.wanted.load, run);
  out.meshes.push_back(placed(skin, job_file));
  out.meshes.emplace_back();
  out.files = {skin.wanted.file.string(), ""};
  out.mesh = 1;
  return out;
}

JobWithPocket read_job_to_mend(const std::string& job_file, const std::string& name,
                               const TellRead& tell, const MemoryLimit& memory,
                               const RunContext& run) {
  JobWithPocket out = read_whole(job_file, true, tell, memory, run);
  std::vector<std::string> names; // of all pockets with a mesh of their own
  std::size_t found = 0;
  for (std::size_t p = 0; p < out.job.parts.size(); ++p) {
    const Part& part = out.job.parts[p];
    for (std::size_t k = 0; k < (part.mirror_of ? 0 : part.pockets.size()); ++k) {
      names.push_back(shown(part.pockets[k].name, 60));
      if (!name.empty() && part.pockets[k].name != name)
        continue;
      ++found;
      out.part = p;
      out.number = k;
    }
  }
  if (found != 1)
    throw InputError(fmt::format(
        "{}: {} say which pocket with --pocket: {}", job_file,
        found == 0 ? fmt::format("no pocket is called \"{}\";", shown(name, 60))
        : name.empty()
            ? std::string("the job has several pockets;")
            : fmt::format("several pockets are called \"{}\"; give them names of their own, and",
                          shown(name, 60)),
        fmt::join(names, ", ")));
  out.mesh = MeshNumbers(out.job).of(out.part, {PartCut::Kind::pocket, out.number});
  return out;
}

JobInput JobWithPocket::with_pocket(LoadedMesh pocket) const {
  std::vector<LoadedMesh> read = meshes;
  read[mesh] = std::move(pocket);
  std::vector<std::string> named = files;
  named[mesh] = "the pocket that is made";
  return assembled(job, job_file, common, walls, std::move(read), std::move(named));
}

namespace {

/// Walls beside one another up to this over what they must be are listed, mm.
constexpr double kLeastBeside_mm = 5;

/// Farther apart than the limit and all errors together come to: the boxes show that it holds.
bool far_apart(const WallInput& wall) {
  constexpr double kRounding_mm = 1e-3;
  return wall.input.pair == PairKind::beside &&
         wall.input.pocket.findings.box.plan_gap(wall.input.skin.findings.box) >
             wall.input.budget.limit_mm + 2 * wall.input.reach.thinner_mm + kLeastBeside_mm +
                 kRounding_mm;
}

/// Of walls that mirror one another all or none are left out.
void leave_out_far(JobInput& job) {
  std::vector<unsigned char> needed(job.walls.size(), 0);
  for (std::size_t w = 0; w < job.walls.size(); ++w)
    if (!far_apart(job.walls[w]))
      needed[job.walls[w].same_as.value_or(w)] = 1;
  std::vector<WallInput> kept;
  std::vector<std::size_t> place(job.walls.size());
  for (std::size_t w = 0; w < job.walls.size(); ++w) {
    WallInput& wall = job.walls[w];
    if (!needed[wall.same_as.value_or(w)])
      continue;
    if (wall.same_as)
      wall.same_as = place[*wall.same_as];
    place[w] = kept.size();
    kept.push_back(std::move(wall));
  }
  job.walls = std::move(kept);
}

} // namespace

void fill_reach(JobInput& job) {
  for (WallInput& wall : job.walls) {
    CheckInput& input = wall.input;
    Box box = wall.pocket_on_board;
    box.add(wall.skin_on_board);
    input.reach = reach_of(input.setup, box);
    input.trial_bytes = trial_memory_bytes(input.setup, box, input.budget.trials);
  }
  leave_out_far(job);
  if (job.walls.size() > kMaxWalls)
    throw InputError(
        fmt::format("this job has {} walls that could count; at most {} are checked at "
                    "once: write two jobs",
                    job.walls.size(), kMaxWalls));
}

} // namespace leastwall
