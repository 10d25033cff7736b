#include "job/job.h"

namespace leastwall {

Setup setup_of(const Job& job, const Pocket& pocket, double top_z_mm) {
  Setup setup;
  setup.board = job.board;
  setup.side_a = pocket.side_a;
  setup.side_b = pocket.side_b;
  setup.bed = job.bed;
  if (job.flip) {
    setup.flip = *job.flip;
  } else {
    setup.flip.located_by = LocatedBy::edges; // no pins, and no error of the line
  }
  setup.top_z_mm = job.pocket_face_z_mm.value_or(top_z_mm);
  return setup;
}

} // namespace leastwall
