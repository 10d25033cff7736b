// The parts of a page of the setup sheet. Each is drawn below `top` and returns its lower edge, mm.
#pragma once

#include "report/maps/side_marks.h"
#include "report/sheet/setup_sheet.h"

#include <functional>
#include <vector>

namespace leastwall {

inline constexpr double kSheetMargin = 12; ///< mm
inline constexpr double kSheetHead = 26;   ///< height of the head, mm

/// How the box of notices is cut short where a page has no room for all of it.
struct NoticeRoom {
  bool brief = false;    ///< the first sentence of each
  std::size_t most = 99; ///< so many of them; how many more there are is said
};

struct SheetBlocks {
  SheetPaper& paper;
  const SetupSheetInput& input;
  bool inch = false;
  double left = kSheetMargin, width = 186;

  /// A letter to be seen from afar, the face that is up, title, verdict, page number.
  double head(const std::string& letter, const std::string& words, const std::string& page,
              double top);
  /// The steps, a paragraph each.
  double order(const std::vector<SheetStep>& steps, double top);
  /// All walls of the job, worst first.
  double walls(double top);
  /// Step at the seam of each pair of halves; nothing without any.
  double seams(double top);
  /// What the page warns of, boxed; nothing where there is nothing.
  double notices(const std::vector<Notice>& found, const NoticeRoom& room, double top);
  /// The change that would help most, boxed; nothing where the walls hold or none helps.
  double help(double top);
  /// Edge, flip, zero, touch point, program: a column of `width` at `left`.
  double facts(Side side, double top);
  double bits(Side side, double top);
  double checks(Side side, double top);
  double pad(Side side, double top);
  /// The first `rows` thin places.
  double places(Side side, std::size_t rows, double top);
  double cautions(double top);

 private:
  double heading(const std::string& words, double top);
  double touch_impossible(const SideMarks& marks, ZeroFrom zero, double top);
  double program(Side side, double top);
  double board(const SideMarks& marks, double top);
};

} // namespace leastwall
