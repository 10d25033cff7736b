#include "check/piece_input.h"

#include "base/parallel.h"
#include "base/sane_size.h"
#include "budget/effects/reach.h"
#include "budget/trials/trial_memory.h"
#include "job/place_mesh.h"
#include "job/read_job.h"
#include "job/toml/job_error.h"
#include "mesh/load/stated_triangles.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <fmt/format.h>
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

} // namespace

void load_both(MeshWanted& pocket, MeshWanted& skin, CheckInput& input, const MemoryLimit& memory,
               const RunContext& run) {
  run.progress("reading meshes", 0);
  CheckSize size;
  // How large the piece is no one knows yet: any box serves to count the errors.
  size.trial_bytes = trial_memory_bytes(input.setup, {{0, 0, 0}, {1, 1, 1}}, input.budget.trials);
  size.cells = stated_triangles(skin.file).value_or(0); // one each, unless they are cut further
  size.triangles = stated_triangles(pocket.file).value_or(0) + size.cells;
  require_memory(size, memory);
  load_at_once(pocket, skin, run);
  std::error_code ignored;
  if (std::filesystem::equivalent(pocket.file, skin.file, ignored))
    input.warnings.push_back({"same-file",
                              "Pocket and skin are the same file; give the inner surface as "
                              "the pocket and the outer one as the skin.",
                              Severity::doubt});
}

CheckInput read_job_input(const std::string& job_file, const TellRead& tell,
                          const MemoryLimit& memory, const RunContext& run) {
  Job job = read_job(job_file);
  for (const std::filesystem::path& file : job.files)
    tell(file);
  const Part& part = job.parts.at(0);
  const Pocket& cavity = part.pockets.at(0);
  CheckInput input;
  input.pocket_file = cavity.mesh.string();
  input.skin_file = part.skin.string();
  input.title = job.title.empty() ? part.skin.stem().string() : job.title;
  input.warnings = job.notices;
  MeshWanted pocket{cavity.mesh, {}, {}}, skin{part.skin, {}, {}};
  pocket.load.unit_if_unstated = cavity.placing.units;
  skin.load.unit_if_unstated = part.placing.units;
  pocket.load.say_inches = "write placing.units = \"inch\" under [[part.pocket]]";
  skin.load.say_inches = "write placing.units = \"inch\" under [[part]]";
  // The pocket face that the meshes show replaces this one where the job states none.
  input.setup = setup_of(job, cavity, 0);
  input.rim_depth_mm = cavity.rim_depth_mm.value_or(0);
  input.budget.limit_mm = cavity.limit_mm;
  input.budget.accepted_chance = job.accepted_chance;
  input.budget.trials = job.trials;
  input.budget.seed = job.seed;
  input.budget.units = job.units;
  load_both(pocket, skin, input, memory, run);
  const std::pair<MeshWanted*, const MeshPlacing*> both[] = {{&pocket, &cavity.placing},
                                                             {&skin, &part.placing}};
  for (const auto& [wanted, placing] : both) {
    LoadedMesh& loaded = wanted->loaded;
    place_mesh(loaded.mesh, *placing);
    loaded.findings.box = loaded.mesh.box();
    check_placed(loaded.findings.box, wanted->file.string(), *placing, job_file);
  }
  input.pocket = std::move(pocket.loaded);
  input.skin = std::move(skin.loaded);
  input.top_z_mm = job.pocket_face_z_mm;
  input.assumptions = job.assumptions;
  input.flip_stated = job.flip.has_value();
  input.budget.pad.emplace();
  return input;
}

void fill_reach(CheckInput& input) {
  Box box = input.pocket.findings.box;
  box.add(input.skin.findings.box);
  input.reach = reach_of(input.setup, box);
  input.trial_bytes = trial_memory_bytes(input.setup, box, input.budget.trials);
}

} // namespace leastwall
