// Grids of the module as a file.
#include "field/fields_file.h"

#include "base/errors.h"
#include "base/parallel.h"
#include "field/module/openvdb_grid.h"

#include <openvdb/io/Stream.h>
#include <openvdb/tools/ChangeBackground.h>
#include <openvdb/tools/SignedFloodFill.h>
#include <sstream>
#include <vector>

namespace leastwall {
namespace {

/// The value that a field states where it states one; off elsewhere.
void put_values(const NamedField& field, openvdb::FloatGrid& grid, const RunContext& run) {
  std::vector<openvdb::FloatTree::LeafNodeType*> leaves;
  grid.tree().getNodes(leaves);
  for_blocks(leaves.size(), 4, run, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i)
      for (auto value = leaves[i]->beginValueOn(); value; ++value) {
        if (std::abs(static_cast<double>(*value)) > field.within_mm) {
          leaves[i]->setValueOff(value.getCoord(), 0.0F);
          continue;
        }
        const openvdb::Vec3d c = grid.indexToWorld(value.getCoord());
        value.setValue(static_cast<float>(field.value({c.x(), c.y(), c.z()})));
      }
  });
  grid.pruneGrid();
}

openvdb::FloatGrid::Ptr grid_of(const NamedField& field, const RunContext& run) {
  const OpenvdbGrid exact(field.grid, run);
  const double band = field.grid.band_voxels * field.grid.voxel_mm;
  auto grid = openvdb::FloatGrid::create(field.value ? 0.0F : static_cast<float>(band));
  grid->setTree(std::make_shared<openvdb::FloatTree>(exact.tree()));
  if (!field.value)
    openvdb::tools::changeBackground(grid->tree(), static_cast<float>(band));
  const auto transform = openvdb::math::Transform::createLinearTransform(field.grid.voxel_mm);
  transform->postTranslate({field.grid.origin.x, field.grid.origin.y, field.grid.origin.z});
  grid->setTransform(transform);
  if (field.value)
    put_values(field, *grid, run);
  if (field.closed && !field.value) {
    openvdb::tools::signedFloodFill(grid->tree());
    grid->setGridClass(openvdb::GRID_LEVEL_SET);
  }
  grid->setName(field.name);
  grid->insertMeta("unit", openvdb::StringMetadata("mm"));
  grid->insertMeta("voxel_mm", openvdb::DoubleMetadata(field.grid.voxel_mm));
  grid->insertMeta("what", openvdb::StringMetadata(field.what));
  return grid;
}

/// A file's own number is drawn at random; this one's is always the same, so that equal fields
/// give equal bytes. It stands behind magic number, three versions and one flag: io/Archive.cc of
/// OpenVDB 10.
void fix_number(std::string& bytes) {
  constexpr std::size_t kBegin = 8 + 3 * 4 + 1, kDigits = 36;
  if (bytes.size() < kBegin + kDigits || bytes[kBegin + 8] != '-' || bytes[kBegin + 23] != '-')
    throw RunError("fields: the file's head is not as expected; please report it as a fault of "
                   "leastwall");
  for (std::size_t i = 0; i < kDigits; ++i)
    if (bytes[kBegin + i] != '-')
      bytes[kBegin + i] = '0';
}

} // namespace
} // namespace leastwall

extern "C" void leastwall_write_fields(std::span<const leastwall::NamedField> fields,
                                       const leastwall::RunContext& run, std::string& out) {
  openvdb::initialize();
  openvdb::GridCPtrVec grids;
  for (const leastwall::NamedField& field : fields)
    grids.push_back(leastwall::grid_of(field, run));
  std::ostringstream stream;
  openvdb::io::Stream(stream).write(grids);
  out = std::move(stream).str();
  leastwall::fix_number(out);
}
