// How the parts of a job lie on their board and the bed, as plain data.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Numbers of meshes and jobs are rounded: what is beyond by no more is not.
inline constexpr double kPlaceRounding_mm = 0.01;

struct BoardRow {
  /// Whether every part lies within the board; absent where no one stated its corner and size.
  std::optional<bool> fits;
  /// How far the board reaches beyond the bed, on either side, and how far the parts do, mm; absent
  /// where no one stated the bed's size, that of the board also where its own was not.
  std::optional<double> board_off_bed_mm, parts_off_bed_mm;

  enum class GapTo { part, board_edge, flip_dowel };
  struct Gap {
    std::string part;
    GapTo to = GapTo::part;
    std::string other;       ///< the other part
    double mm = 0;           ///< seen from above; under 0: so far beyond
    bool to_middle = false;  ///< of a dowel whose hole's diameter is not stated
    std::uint32_t board = 0; ///< that it lies on: Part::board
  };
  /// From each part to the edge of the board; of jobs with several parts also to the others and to
  /// the dowels of the flip that are near.
  std::vector<Gap> gaps;
};

} // namespace leastwall
