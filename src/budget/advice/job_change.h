// What to write into the job file so that a change is made.
#pragma once

#include "base/units.h"
#include "setup/setup.h"

#include <string>
#include <variant>
#include <vector>

namespace leastwall {

/// One key of the job and its new value.
struct JobChange {
  struct Remove {}; ///< the key goes, where it is stated
  std::string key;  ///< with its tables, e.g. "side_b.touch_point"
  /// A word; a length; lengths; an error that is normal. Every number is a length.
  std::variant<Remove, std::string, double, std::vector<double>, Uncertain> value;
};

/// An error as the job states it: a number for limits, {standard = ...} for a normal one. mm.
JobChange error_change(std::string key, const Uncertain& error);

/// The same change with its lengths in `unit` instead of mm.
JobChange in_unit(JobChange change, LengthUnit unit);

} // namespace leastwall
