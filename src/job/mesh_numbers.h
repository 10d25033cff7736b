// Where the mesh of each cut stands among the meshes of a job.
#pragma once

#include "job/job_walls.h"

#include <cstddef>
#include <vector>

namespace leastwall {

/// Each mesh once: of every part that mirrors none its skin, then its pockets, part by part; the
/// bodies of holes come behind all that are read. A part that mirrors another one has its meshes.
class MeshNumbers {
 public:
  explicit MeshNumbers(const Job& job);
  std::size_t of(std::size_t part, const PartCut& cut) const;

 private:
  std::vector<std::size_t> first_, first_hole_; // by part
};

} // namespace leastwall
