#include "job/job.h"

namespace leastwall {

Setup setup_of(const Job& job, const Pocket& pocket, double top_z_mm) {
  Setup setup;
  setup.board = job.board;
  setup.inner = pocket.side_a;
  setup.outer = pocket.side_b;
  setup.bed = job.bed;
  setup.flip = job.flip.value_or(Flip{}); // without pins and without errors
  setup.top_z_mm = job.pocket_face_z_mm.value_or(top_z_mm);
  return setup;
}

} // namespace leastwall
