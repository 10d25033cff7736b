// How mesh files are read.
#pragma once

#include "base/units.h"

#include <cstdint>
#include <optional>
#include <string>

namespace leastwall {

struct LoadOptions {
  /// Unit of files that state none (STL, PLY, OBJ). Unset: millimetres, and a notice says so.
  std::optional<LengthUnit> unit_if_unstated;
  /// Limits for the import process (other formats than STL and PLY).
  double import_timeout_s = 120;
  std::uint64_t import_memory_bytes = std::uint64_t{6} << 30;
  /// What the user does to have such a file read in inches, as a part of a sentence.
  std::string say_inches = "say --units inch";
};

} // namespace leastwall
