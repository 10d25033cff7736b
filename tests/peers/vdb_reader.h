// Files of fields read back with OpenVDB's own tools, which share no code with the project.
#pragma once

#include "space/vec3.h"

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace leastwall::peers {

class VdbReader {
 public:
  /// Throws where OpenVDB cannot read the bytes.
  explicit VdbReader(const std::string& bytes);
  ~VdbReader();
  VdbReader(const VdbReader&) = delete;
  VdbReader& operator=(const VdbReader&) = delete;

  std::vector<std::string> names() const;
  std::string metadata(const std::string& grid, const std::string& key) const;
  bool level_set(const std::string& grid) const;
  double voxel_mm(const std::string& grid) const;
  double background(const std::string& grid) const;
  /// Value of the voxel that holds `p`, mm, and the middle of that voxel; absent where it is off.
  struct At {
    double value = 0;
    Vec3 middle;
  };
  std::optional<At> at(const std::string& grid, Vec3 p) const;
  /// Value there whether on or off.
  double value(const std::string& grid, Vec3 p) const;
  /// Every voxel that is on.
  std::vector<At> all(const std::string& grid) const;
  /// Of the closed surface: openvdb::tools::levelSetVolume and levelSetArea.
  double volume_mm3(const std::string& grid) const;
  double area_mm2(const std::string& grid) const;

 private:
  struct Grids;
  std::unique_ptr<Grids> grids_;
};

} // namespace leastwall::peers
