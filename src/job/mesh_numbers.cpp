#include "job/mesh_numbers.h"

namespace leastwall {

MeshNumbers::MeshNumbers(const Job& job) {
  std::size_t next = 0;
  for (const Part& part : job.parts) {
    first_.push_back(part.mirror_of ? first_[*part.mirror_of] : next);
    next += part.mirror_of ? 0 : 1 + part.pockets.size();
  }
  for (const Part& part : job.parts) {
    first_hole_.push_back(part.mirror_of ? first_hole_[*part.mirror_of] : next);
    next += part.mirror_of ? 0 : part.holes.size();
  }
}

std::size_t MeshNumbers::of(std::size_t part, const PartCut& cut) const {
  switch (cut.kind) {
  case PartCut::Kind::pocket:
    return first_[part] + 1 + cut.number;
  case PartCut::Kind::hole:
    return first_hole_[part] + cut.number;
  case PartCut::Kind::skin:
    break;
  }
  return first_[part];
}

} // namespace leastwall
