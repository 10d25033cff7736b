// The setup sheet: paper for the machine, one page a side, then the thin places at full size. For a
// job with several set-ups or parts: a first page with the order of work, then one a set-up.
#pragma once

#include "parts/board_marks.h"
#include "report/check_report.h"
#include "report/pour/pour.h"
#include "report/section/section_picture.h"
#include "report/sheet/sheet_lines.h"
#include "report/sheet/sheet_paper.h"
#include "setup/setup.h"
#include "wall/sampling/wall_map.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

namespace leastwall {

/// One clamping of the board, in the order of work.
struct SheetStep {
  Side side = Side::a;
  std::uint32_t board = 0, boards = 1; ///< which board of how many
  std::size_t number = 1, of = 1;
  std::size_t of_board = 1; ///< which clamping of its board; 1: the board is not cut yet
  std::uint32_t set_up = 0; ///< of its side (CutId)
  std::string cuts;         ///< what is cut, of which parts
  std::string then;         ///< what is done before the next one; may be empty
};

struct SetupSheetInput {
  const CheckReport& report;
  const Setup& setup;
  bool flip_stated = true; ///< false: the flip of `setup` is a default and is said to be one
  /// Map of the skin and its worst-case wall, mm, one value a sample: the edges of the thin places
  /// on the overlay. Without them only the places are marked.
  const WallMap* skin = nullptr;
  std::span<const double> worst_mm = {};
  const SheetStep* step = nullptr;      ///< of a sheet of several steps
  std::span<const PartMark> parts = {}; ///< where there are several
  std::span<const HoleMark> holes = {};
  /// Resin that is poured when this is cut, side A: a page behind it for each of these rows.
  const Pour* pour = nullptr;
  std::span<const std::size_t> pour_rows = {};
  const SectionPictureInput* section = nullptr; ///< the thinnest place, for a page of its own
  double dowel_hole_mm = 0; ///< diameter of the holes of the flip's dowels; 0: not stated
  /// False: the board of `setup` is a rectangle round the parts, and is not drawn as a board.
  bool board_stated = true;
  const SheetLines* lines = nullptr; ///< of `skin`: a sheet makes them
};

struct SetupSheetOptions {
  PaperSize paper = PaperSize::a4;
  bool inch = false; ///< inches first, millimetres beside them
  SheetFile file = SheetFile::pdf;
};

/// The bytes of the file; the same input gives the same bytes. Side A, a page for each resin that
/// is poured then, side B, the thinnest place cut through, then an overlay of each side at 1:1, on
/// several pages where one is too small, smaller than 1:1 only where more than `kMaxOverlayPages`
/// would be needed (the page then says so). No overlay when no wall can end under the limit. Throws
/// RunError.
std::string setup_sheet(const SetupSheetInput& input, const SetupSheetOptions& options);

inline constexpr int kMaxOverlayPages = 6; ///< a side

/// The same for a job with several walls: page 1 shows the order of work, every board (of more than
/// three the first) with its parts, and all walls,
/// then each step has its page, and the thinnest place. No overlays. `steps`: in the order of work,
/// each with its `step`; the first page is of `all`, whose report is the job's and which has the
/// section.
std::string steps_sheet(const SetupSheetInput& all, std::span<const SetupSheetInput> steps,
                        const SetupSheetOptions& options);

} // namespace leastwall
