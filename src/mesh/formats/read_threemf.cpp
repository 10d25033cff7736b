#include "mesh/formats/read_threemf.h"

#include "base/file/refuse_file.h"
#include "mesh/formats/threemf_model.h"
#include "mesh/placed_meshes.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

class Build {
 public:
  Build(const MappedFile& file, const ThreemfModel& model, std::uint64_t max_bytes,
        const RunContext& run)
      : file_(file), model_(model), max_bytes_(max_bytes), run_(run),
        met_(model.objects.size(), false) {}

  PolygonSoup run() {
    for (const ThreemfPlacing& item : model_.items)
      place(item, {});
    for (const ThreemfPlacing& item : model_.not_printable)
      meet(item.object);
    return std::move(soup_);
  }

  void describe(std::vector<Notice>& notices) const {
    if (not_solid_ > 0)
      notices.push_back(
          {"not-solid", fmt::format("{} that 3MF states to be of type support, surface or other {} "
                                    "left out. Export as type model what is to be carved.",
                                    of(not_solid_, "placed object"), was(not_solid_))});
    if (const std::size_t n = model_.not_printable.size(); n > 0)
      notices.push_back({"not-printable", fmt::format("{} marked as not printable {} left out.",
                                                      of(n, "build item"), was(n))});
    std::size_t unplaced = 0;
    for (std::size_t i = 0; i < met_.size(); ++i)
      unplaced += !met_[i] && model_.objects[i].has_mesh ? 1 : 0;
    if (unplaced > 0)
      notices.push_back({"not-placed", fmt::format("{} of the meshes in the file are not placed in "
                                                   "its build and were left out.",
                                                   unplaced)});
  }

 private:
  static std::string of(std::size_t n, std::string_view what) {
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
  }
  static std::string_view was(std::size_t n) { return n == 1 ? "was" : "were"; }

  /// Remembers that the object and its parts are asked for, if only to be left out.
  void meet(std::size_t object) {
    if (met_[object])
      return;
    met_[object] = true;
    for (const ThreemfPlacing& part : model_.objects[object].components)
      meet(part.object);
  }

  void place(const ThreemfPlacing& placing, const Affine& outer) {
    constexpr std::size_t kMaxPlacings = 10'000'000;
    const ThreemfObject& object = model_.objects[placing.object];
    if (++placings_ > kMaxPlacings)
      refuse_file(file_.path(), "3MF places objects more than ten million times",
                  "export it as one mesh");
    if (!object.solid) {
      ++not_solid_;
      meet(placing.object);
      return;
    }
    met_[placing.object] = true;
    if (object.facets == 0)
      return meet(placing.object);
    run_.check();
    const Affine map = outer.after(placing.map);
    if (object.has_mesh)
      place_polygons(file_.path(), object.mesh, map, max_bytes_, soup_);
    for (const ThreemfPlacing& part : object.components)
      place(part, map);
  }

  const MappedFile& file_;
  const ThreemfModel& model_;
  std::uint64_t max_bytes_;
  const RunContext& run_;
  std::vector<bool> met_; ///< objects that an item asks for
  std::size_t not_solid_ = 0, placings_ = 0;
  PolygonSoup soup_;
};

} // namespace

FileMesh read_threemf(const MappedFile& file, std::uint64_t max_bytes, const RunContext& run) {
  FileMesh read;
  read.format = "3MF";
  ThreemfModel model = read_threemf_model(file, max_bytes, run);
  read.mm_per_unit = model.mm_per_unit;
  read.unit = model.unit;
  Build build(file, model, max_bytes, run);
  PolygonSoup soup = build.run();
  build.describe(read.notices);
  if (soup.sizes.empty())
    refuse_file(file.path(),
                read.notices.empty() ? "3MF places no mesh"
                                     : "3MF places no mesh: " + read.notices.front().text,
                "export the mesh again, best as binary STL or PLY");
  model = {};
  take_polygons(file.path(), std::move(soup), read);
  return read;
}

} // namespace leastwall
