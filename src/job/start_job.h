// The commented sample jobs that `leastwall start` writes. Pure text: the program writes the files.
#pragma once

#include "setup/setup.h"

#include <string>

namespace leastwall {

/// Which keys a sample lists: every one that is known, or those that it states. The job is the
/// same.
enum class JobKeys { all, stated };

/// The numbers that decide the verdict of the gourd lantern: as written the thickness error of an
/// unmeasured board, zeroed on top on both sides, goes into the wall in full (at-risk); zeroing
/// side B on the bed instead cancels it (safe).
struct GourdNumbers {
  double limit_mm = 0.5;
  double board_mm = 45;
  double thickness_error_mm = 0.25; ///< limits
  double touch_off_mm = 0.05;       ///< limits, each side
  double flatness_mm = 0.1;
  double sanding_b_mm = 0.05;
  ZeroFrom zero_a = ZeroFrom::top, zero_b = ZeroFrom::top;
  Footprint board{{-120, -65}, {120, 65}}; ///< model x, y
  Point2 touch_point{-108, -56};           ///< both sides
  std::string skin = "gourd_skin.stl", pocket = "gourd_pocket.stl";
};
/// With `JobKeys::stated` what is poured is not stated either.
std::string gourd_job(const GourdNumbers& numbers = {}, JobKeys keys = JobKeys::all);

/// The whole gourd: two mirrored halves on one board, a candle room in wood and an ember room cut
/// into its cured resin. The board is measured and both sides hang from the bed.
struct WholeGourdNumbers {
  double limit_mm = 0.5;
  double resin_limit_mm = 2;
  double board_mm = 45;
  double thickness_error_mm = 0.05; ///< limits
  double touch_off_mm = 0.03;       ///< limits, each set-up
  double flatness_mm = 0.08;
  double sanding_b_mm = 0.05;
  Footprint board{{-120, -130}, {120, 130}}; ///< model x, y
  Point2 touch_a{-110, 0};                   ///< on the board, every set-up of side A
  Point2 touch_b{-130, 0};                   ///< on the bed, beside the board
  double apart_mm = 58;                      ///< of each half from the middle of the board
  std::string skin = "gourd_skin.stl", pocket = "gourd_pocket.stl", ember = "gourd_ember.stl";
};
std::string whole_gourd_job(const WholeGourdNumbers& numbers = {}, JobKeys keys = JobKeys::all);

/// The leaf light-panel: the touch plate is thinner than the thickness entered. That enters on both
/// sides with the same sign, more than the thinnest wall between the veins: cut through.
struct LeafNumbers {
  double limit_mm = 0.6;
  double board_mm = 8;
  double measured_mm = 8.03;
  double touch_off_mm = 0.03;   ///< standard uncertainty, each side
  double plate_error_mm = -0.6; ///< real minus entered
  double flatness_mm = 0.08;
  Footprint board{{-100, -70}, {100, 70}}; ///< model x, y
  Point2 touch_a{-90, -60};                ///< on the board
  Point2 touch_b{-110, -60};               ///< on the bed, beside the board
  std::string skin = "leaf_front.ply", pocket = "leaf_back.ply";
};
std::string leaf_job(const LeafNumbers& numbers = {}, JobKeys keys = JobKeys::all);

} // namespace leastwall
