// Rows of the budget as reports show them.
#pragma once

#include "budget/advice/advice_row.h"
#include "budget/pad/pad_row.h"
#include "causes/model/cause_id.h"
#include "causes/model/distribution.h"

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

/// Chances from trials of the whole piece.
struct ChanceRow {
  double under_limit = 0, cut_through = 0;          ///< fractions 0..1
  double under_limit_low = 0, under_limit_high = 0; ///< 95 % interval on the fraction
  double cut_through_low = 0, cut_through_high = 0;
  std::uint64_t trials = 0;
};

} // namespace leastwall
