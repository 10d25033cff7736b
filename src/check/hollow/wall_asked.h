// How much wall a pocket must leave at each place, so that the job's errors may take their part.
#pragma once

#include "budget/effects/spread.h"
#include "causes/model/cause.h"
#include "check/check_job.h"
#include "check/piece_input.h"
#include "parts/on_board.h"
#include "space/box.h"

#include <cstdint>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

namespace leastwall {

/// What one wall asks for: limit + `part` of the half-width of all errors - known shift, which
/// depends on the place and on the direction of the wall; and more where a try has left less than
/// it was meant to.
class WallAsked {
 public:
  /// `wall`: its pair of cuts in the job; `outer`: what the wall is measured from, placed;
  /// `face_z_mm`: of the pocket face; `even_wall_mm` is asked everywhere instead, where stated.
  WallAsked(const JobWithPocket& job, std::size_t wall, const LoadedMesh& outer, double face_z_mm,
            std::optional<double> even_wall_mm);
  WallAsked(const WallAsked&) = delete;
  WallAsked& operator=(const WallAsked&) = delete;

  /// Wall at a place of the outer surface, in the part's own frame, mm, > 0; n: unit, from the
  /// pocket towards it; `part` of the half-width, 0..1.
  double at(Vec3 at, Vec3 n, double part) const;
  /// No more is asked anywhere on `outer`.
  double most(const TriMesh& outer, double part) const;
  /// A sample of a check, which lies on the board, in the part's own frame.
  WallSample in_part(const WallSample& s) const;
  /// Asks for more where one of `samples`, as they lie on the board, is less than was asked for.
  /// Returns whether one is.
  bool learn(std::span<const WallSample> samples, double part);

  double limit_mm() const { return limit_; }
  /// How far all errors together move a mouth up or down at most, and 0.5 mm.
  double upright_mm() const { return upright_mm_; }

 private:
  /// What is asked for besides: an edge of the pocket is nearest there, and the errors act along
  /// another direction than that of the ball.
  class Extra {
   public:
    void raise(Vec3 at, double mm);
    double at(Vec3 p) const;

   private:
    std::unordered_map<std::uint64_t, double> by_cube_;
  };

  /// What a surface that leans at the pocket face may lose there besides (check/mouth_slopes.h);
  /// the check does not prove such a wall otherwise.
  double widening(Vec3 at) const;

  std::optional<double> even_wall_mm_;
  OnBoard on_board_;
  double face_, limit_;
  double upright_mm_ = 0, mouth_slope_ = 0;
  std::vector<Cause> causes_;
  std::optional<Limits> limits_;
  Extra extra_;
};

} // namespace leastwall
