// Rows of the budget as reports show them.
#pragma once

#include "budget/job_change.h"
#include "budget/verdict.h"
#include "setup/cause_id.h"
#include "setup/distribution.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// One line of the budget table, at the thinnest place.
struct CauseRow {
  CauseId id;
  Distribution distribution = {};
  double size = 0;       ///< what is known: of the distribution, in `unit` (Cause::size)
  std::string unit = {}; ///< Cause::unit
  std::optional<double> allowance_mm = {}; ///< of a roughing bit that may overcut: what it leaves
  double at_thinnest_mm = 0; ///< known shifts: signed change; others: half-width there
  double share = 0;          ///< of the variance there, 0..1
  /// The largest value of its key, for all rows of that key together, that keeps `safe`, all others
  /// as stated, in `unit`, rounded towards 0 to kAllowedStep; without a key that of
  /// the row itself. Absent: not by this alone.
  std::optional<double> largest_allowed_mm = {};
  bool allowed_at_least = false; ///< it may be larger: walls are not measured well enough to tell
  /// The key of the job that states its size (Cause::setting); rows of one key share it. Empty: a
  /// shape, or what two keys differ by (the board against what the programs were made for).
  std::string key = {};

  /// A known shift: it moves the wall, has no spread and so no share.
  bool is_shift() const { return distribution == Distribution::shift && !allowance_mm; }
};

struct AdviceRow {
  std::string change;              ///< one sentence in shop words
  double gain_mm = 0;              ///< gain of the wall that holds with the accepted chance
  Verdict verdict = Verdict::safe; ///< with this change
  std::string cost;                ///< "free", "work" or "model"
  /// What to write into the job so that it is made, in the units of the job; empty for the model.
  std::vector<JobChange> set = {};
};

/// Chances from trials of the whole piece.
struct ChanceRow {
  double under_limit = 0, cut_through = 0;          ///< fractions 0..1
  double under_limit_low = 0, under_limit_high = 0; ///< 95 % interval on the fraction
  double cut_through_low = 0, cut_through_high = 0;
  std::uint64_t trials = 0;
};

enum class PadUse {
  cut,           ///< it can be cut and measured
  tells_nothing, ///< these programs may cut through it as well
  no_room        ///< nowhere on the board: its place and its numbers hold nowhere
};

/// A pad cut in the waste by both programs: what it should read and what to do with a reading.
struct PadRow {
  double x_mm = 0, y_mm = 0;      ///< where, model space
  double size_mm = 0;             ///< the pad is a square of this width
  double design_mm = 0;           ///< thickness as drawn
  double floor_z_mm = 0;          ///< of its pocket floor as drawn, model z
  double skin_z_mm = 0;           ///< of its skin as drawn, model z
  double expected_mm = 0;         ///< what it should read
  double low_mm = 0, high_mm = 0; ///< a reading outside says that something else is wrong
  PadUse use = PadUse::cut;       ///< any other: nobody should cut it there
  std::optional<double> reading_mm;
  std::optional<double> shift_mm;  ///< Z shift before side B is finished; positive raises the bit
  Verdict verdict = Verdict::safe; ///< with the shift typed in
};

} // namespace leastwall
