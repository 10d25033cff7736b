// What the parts of a job come to together, apart from their walls.
#pragma once

#include "parts/board_row.h"
#include "parts/seam_row.h"

#include <vector>

namespace leastwall {

struct PartsReport {
  BoardRow board;
  std::vector<SeamRow> seams;
};

} // namespace leastwall
