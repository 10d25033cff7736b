// The input of a quick look: two meshes and a handful of values.
#pragma once

#include "base/units.h"
#include "check/piece_input.h"

#include <optional>
#include <string>

namespace leastwall {

/// As the options of `leastwall check` state it; what is absent was not stated.
struct QuickLook {
  std::string pocket, skin; ///< files
  std::optional<double> limit_mm, z_zero_mm, bed_flatness_mm, top_z_mm;
  std::optional<LengthUnit> units; ///< of files that state none
};

/// Reads both meshes. `tell` is told of each file before it is read. Throws InputError, naming the
/// option, where a value is missing or wrong; else as load_both().
CheckInput read_quick_input(const QuickLook& look, const TellRead& tell, const MemoryLimit& memory,
                            const RunContext& run);

} // namespace leastwall
