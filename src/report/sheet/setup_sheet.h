// The setup sheet: paper for the machine, one page a side, then the thin places at full size.
#pragma once

#include "report/check_report.h"
#include "report/sheet/sheet_paper.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <span>
#include <string>

namespace leastwall {

struct SetupSheetInput {
  const CheckReport& report;
  const Setup& setup;
  bool flip_stated = true; ///< false: the flip of `setup` is a default and is said to be one
  /// Map of the skin and its worst-case wall, mm, one value a sample: the edges of the thin places
  /// on the overlay. Without them only the places are marked.
  const WallMap* skin = nullptr;
  std::span<const double> worst_mm;
};

struct SetupSheetOptions {
  PaperSize paper = PaperSize::a4;
  bool inch = false; ///< inches first, millimetres beside them
};

/// The bytes of a PDF; the same input gives the same bytes. Page 1 is side A, page 2 side B, then
/// an overlay of each side at 1:1, on several pages where one is too small, smaller than 1:1 only
/// where more than `kMaxOverlayPages` would be needed (the page then says so). No overlay when no
/// wall can end under the limit. Throws RunError.
std::string setup_sheet(const SetupSheetInput& input, const SetupSheetOptions& options);

inline constexpr int kMaxOverlayPages = 6; ///< a side

} // namespace leastwall
