// What `pour` found, as plain data: resin, lifts, times.
#pragma once

#include "base/notice.h"
#include "pour/clock_time.h"
#include "pour/components.h"
#include "pour/resin.h"
#include "pour/thin_floor.h"
#include "pour/tilted_pour.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

struct PourLift {
  double thickness_mm = 0;
  double under_face_mm = 0;        ///< fill to this under the pocket face; 0: to the face
  double volume_mm3 = 0;           ///< of the pocket
  double mix_mm3 = 0;              ///< with what is mixed over it
  Amounts amounts;                 ///< of the mix
  std::size_t pools = 1;           ///< separate ones, each filled to the level
  std::optional<std::size_t> cups; ///< absent: no cup was stated
  std::optional<double> after_h;   ///< hours after the first lift of the job
};

/// What a pocket holds up to its face.
struct PourVolume {
  double mm3 = 0;
  double less_mm3 = 0, more_mm3 = 0; ///< it may be so much less or more: the mesh is open
  /// What later pockets take out again, and whether that is exact; 0 where there is none.
  double later_mm3 = 0;
  bool later_exact = true;
  /// At even steps of depth from the deepest point, the last one at the face: depth under the face,
  /// and volume below.
  struct Level {
    double under_face_mm = 0, mm3 = 0;
  };
  std::vector<Level> by_depth;
};

struct PourName {
  std::string pocket;             ///< "pocket 2" where it has no name
  std::string inside;             ///< the pocket whose resin it is cut into; empty: wood
  std::string material;           ///< "resin" where none was stated
  std::vector<std::string> parts; ///< that have such a pocket each; one without a name is ""
};

/// One pocket, and those alike in parts that mirror its part.
struct PourRow {
  PourName name;
  std::uint32_t set_up = 0;         ///< of side A that it is cut in (CutId)
  std::size_t stage = 0;            ///< pockets of one stage are poured together
  Resin resin;                      ///< as stated
  double depth_mm = 0;              ///< of its deepest point under the face
  double area_mm2 = 0;              ///< that resin wets
  std::optional<PourVolume> volume; ///< absent: the mesh does not tell (a notice says why)
  double mix_mm3 = 0;               ///< of each, with what is mixed over it; 0: no volume
  Amounts amounts;                  ///< of the mix of each
  std::vector<PourLift> lifts;      ///< empty: no volume, or no deepest lift was stated
  std::optional<TiltedPour> tilted;
  std::optional<ThinFloor> thin; ///< without its pieces; in the part's own frame
  /// Of each of name.parts: its board, and where the place of `thin` lies there with side A up.
  struct OnBoard {
    std::uint32_t board = 0;
    Vec3 thin_at;
  };
  std::vector<OnBoard> on_board;
  std::optional<double> seal_g;                 ///< of each
  std::optional<double> starts_h, may_be_cut_h; ///< hours after the first lift of the job
  std::vector<std::string> asked; ///< keys of [part.pocket.resin] that would tell more

  std::size_t count() const { return name.parts.size(); }
};

/// All of one resin, for the whole job.
struct PourTotal {
  std::string material;
  double mix_mm3 = 0;
  Amounts amounts;
};

struct PourWarning {
  std::size_t row = 0; ///< that it is about
  Notice notice;
};

struct PourReport {
  std::string title;
  std::vector<PourRow> rows; ///< in the order of work
  std::vector<PourTotal> totals;
  std::optional<ClockTime> start;
  std::optional<Tilt> tilt;
  std::optional<double> side_b_h; ///< hours after the first lift; absent: not known
  std::vector<PourWarning> warnings;

  bool all_told() const {
    for (const PourRow& row : rows)
      if (!row.volume)
        return false;
    return true;
  }
};

} // namespace leastwall
