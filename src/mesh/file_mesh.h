// What a reader hands on: the facets of one file, in the file's own numbers.
#pragma once

#include "base/notice.h"
#include "mesh/mesh.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct FileMesh {
  TriMesh mesh;                ///< exactly welded (weld_mesh.h); in the file's unit and axes
  std::size_t collapsed = 0;   ///< facets left out: fewer than three different corners
  std::string format;          ///< "binary STL", "ASCII PLY", ...
  double mm_per_unit = 0;      ///< millimetres in one number of the file; 0: the file states none
  std::string unit;            ///< the stated unit in words; empty when none
  bool single_numbers = false; ///< coordinates were stored in single precision
  std::vector<Notice> notices;
};

} // namespace leastwall
