#include "peers/vdb_reader.h"

#include <openvdb/io/Stream.h>
#include <openvdb/openvdb.h>
#include <openvdb/tools/LevelSetMeasure.h>
#include <sstream>
#include <stdexcept>

namespace leastwall::peers {

struct VdbReader::Grids {
  openvdb::GridPtrVecPtr all;

  openvdb::FloatGrid::Ptr find(const std::string& name) const {
    for (const openvdb::GridBase::Ptr& grid : *all)
      if (grid->getName() == name)
        return openvdb::gridPtrCast<openvdb::FloatGrid>(grid);
    throw std::runtime_error("no grid " + name);
  }
};

VdbReader::VdbReader(const std::string& bytes) : grids_(std::make_unique<Grids>()) {
  openvdb::initialize();
  std::istringstream in(bytes);
  openvdb::io::Stream stream(in);
  grids_->all = stream.getGrids();
}

VdbReader::~VdbReader() = default;

std::vector<std::string> VdbReader::names() const {
  std::vector<std::string> out;
  for (const openvdb::GridBase::Ptr& grid : *grids_->all)
    out.push_back(grid->getName());
  return out;
}

std::string VdbReader::metadata(const std::string& grid, const std::string& key) const {
  return grids_->find(grid)->metaValue<std::string>(key);
}

bool VdbReader::level_set(const std::string& grid) const {
  return grids_->find(grid)->getGridClass() == openvdb::GRID_LEVEL_SET;
}

double VdbReader::voxel_mm(const std::string& grid) const {
  return grids_->find(grid)->voxelSize().x();
}

double VdbReader::background(const std::string& grid) const {
  return static_cast<double>(grids_->find(grid)->background());
}

std::optional<VdbReader::At> VdbReader::at(const std::string& grid, Vec3 p) const {
  const auto found = grids_->find(grid);
  const openvdb::Coord c = found->transform().worldToIndexNodeCentered({p.x, p.y, p.z});
  float value = 0;
  if (!found->tree().probeValue(c, value))
    return std::nullopt;
  const openvdb::Vec3d middle = found->indexToWorld(c);
  return At{static_cast<double>(value), {middle.x(), middle.y(), middle.z()}};
}

double VdbReader::value(const std::string& grid, Vec3 p) const {
  const auto found = grids_->find(grid);
  return static_cast<double>(
      found->tree().getValue(found->transform().worldToIndexNodeCentered({p.x, p.y, p.z})));
}

std::vector<VdbReader::At> VdbReader::all(const std::string& grid) const {
  const auto found = grids_->find(grid);
  std::vector<At> out;
  for (auto v = found->cbeginValueOn(); v; ++v) {
    const openvdb::Vec3d middle = found->indexToWorld(v.getCoord());
    out.push_back({static_cast<double>(*v), {middle.x(), middle.y(), middle.z()}});
  }
  return out;
}

double VdbReader::volume_mm3(const std::string& grid) const {
  return openvdb::tools::levelSetVolume(*grids_->find(grid));
}

double VdbReader::area_mm2(const std::string& grid) const {
  return openvdb::tools::levelSetArea(*grids_->find(grid));
}

} // namespace leastwall::peers
