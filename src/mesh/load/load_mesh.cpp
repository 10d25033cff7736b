#include "mesh/load/load_mesh.h"

#include "base/errors.h"
#include "base/file/mapped_file.h"
#include "base/file/refuse_file.h"
#include "base/sane_size.h"
#include "mesh/drop_facets.h"
#include "mesh/load/read_mesh_file.h"
#include "mesh/mesh_notices.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

void scale_to_mm(LoadedMesh& loaded, FileMesh& read, const LoadOptions& options) {
  double mm = read.mm_per_unit;
  loaded.unit = read.unit;
  loaded.unit_stated = mm > 0;
  if (!loaded.unit_stated) {
    const LengthUnit unit = options.unit_if_unstated.value_or(LengthUnit::mm);
    mm = millimetres_per(unit);
    loaded.unit = unit == LengthUnit::inch ? "inch" : "mm";
    if (!options.unit_if_unstated) {
      const Vec3 size = read.mesh.box().size();
      loaded.notices.push_back(
          {"unit-assumed", fmt::format("{} states no unit; its numbers are read as mm, so it is "
                                       "{:.1f} x {:.1f} x {:.1f} mm. If they are inches, {}.",
                                       read.format, size.x, size.y, size.z, options.say_inches)});
    }
  }
  if (mm != 1)
    for (Vec3& v : read.mesh.vertices)
      v = v * mm;
}

/// Far from any workpiece, sums and squares lose their digits, and single-precision files cannot
/// hold hundredths.
void check_reach(const std::filesystem::path& file, const FileMesh& read, LoadedMesh& loaded) {
  constexpr double kCoarse_mm = 0.002;
  double reach = 0;
  for (const Vec3& v : read.mesh.vertices)
    reach = std::max({reach, std::abs(v.x), std::abs(v.y), std::abs(v.z)});
  if (reach > kFarthestCoordinate_mm)
    refuse_file(file, fmt::format("coordinates reach {:.3g} mm", reach),
                "move the mesh to the origin, check the unit, and export it again");
  const double step = reach * 0x1p-23;
  if (read.single_numbers && step > kCoarse_mm)
    loaded.notices.push_back(
        {"coarse-numbers", fmt::format("Coordinates reach {:.4g} mm, where single precision has "
                                       "steps of {:.3f} mm. Move the model to the origin before "
                                       "exporting it.",
                                       reach, step)});
}

/// What a file says while it is being written or shortened is no finding about its mesh.
FileMesh read_whole(const MappedFile& bytes, const LoadOptions& options, const RunContext& run) {
  try {
    FileMesh read = read_mesh_file(bytes, options, run);
    bytes.check_unchanged();
    return read;
  } catch (const InputError&) {
    bytes.check_unchanged();
    throw;
  }
}

} // namespace

LoadedMesh load_mesh(const std::filesystem::path& file, const LoadOptions& options,
                     const RunContext& run) {
  LoadedMesh loaded;
  const MappedFile bytes(file);
  FileMesh read = read_whole(bytes, options, run);
  run.check();
  run.progress("checking", 0);
  loaded.format = read.format;
  scale_to_mm(loaded, read, options);
  check_reach(file, read, loaded);
  loaded.mesh = std::move(read.mesh);

  if (read.collapsed > 0) // a corner of theirs may be a place that no other facet has
    drop_unused_vertices(loaded.mesh);
  // Facets without area still join their neighbours: they are counted as edges are, then left out.
  loaded.findings = inspect_mesh(loaded.mesh);
  std::size_t doubled = 0;
  if (loaded.findings.has_doubled) {
    doubled = drop_doubled_facets(loaded.mesh);
    loaded.findings = inspect_mesh(loaded.mesh);
  }
  const std::size_t flat = drop_flat_facets(loaded.mesh);
  if (loaded.mesh.triangles.empty())
    refuse_file(file, "no facet in it has an area", "export the mesh again as triangles");
  if (flat > 0)
    drop_unused_vertices(loaded.mesh);
  loaded.findings.vertices = loaded.mesh.vertices.size();
  loaded.findings.triangles = loaded.mesh.triangles.size();
  loaded.findings.doubled_dropped = doubled;
  loaded.findings.degenerate_dropped = read.collapsed + flat;

  loaded.notices.insert(loaded.notices.end(), read.notices.begin(), read.notices.end());
  for (Notice& notice : mesh_notices(loaded.findings))
    loaded.notices.push_back(std::move(notice));
  run.check();
  return loaded;
}

} // namespace leastwall
