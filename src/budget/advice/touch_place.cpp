#include "budget/advice/touch_place.h"

#include "budget/effects/cut_area.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <cstddef>
#include <fmt/format.h>
#include <numeric>
#include <optional>

namespace leastwall {
namespace {

constexpr double kNear_mm = 3; // half a usual bit, common practice

bool on_board(const Footprint& f, Point2 p) {
  return p.x > f.low.x && p.x < f.high.x && p.y > f.low.y && p.y < f.high.y;
}

bool off_board(const Footprint& f, Point2 p) {
  return p.x < f.low.x || p.x > f.high.x || p.y < f.low.y || p.y > f.high.y;
}

/// Where wood must be: the stated board, else where the part is.
std::optional<Footprint> wood_of(const Setup& setup, std::span<const WallSample> samples) {
  if (setup.board.footprint || samples.empty())
    return setup.board.footprint;
  Footprint part{{samples[0].at.x, samples[0].at.y}, {samples[0].at.x, samples[0].at.y}};
  for (const WallSample& s : samples)
    part.add({s.at.x, s.at.y});
  return part;
}

bool on_dowel(const Setup& setup, Point2 at, const std::optional<Footprint>& wood) {
  const Flip& flip = setup.flip;
  if (flip.located_by != LocatedBy::dowels || !flip.dowels || (!flip.dowels->middle && !wood))
    return false;
  const Point2 middle = wood ? wood->middle() : *flip.dowels->middle;
  return dowel_distance(flip, middle, at) < kTouchFromDowel_mm;
}

/// Of several parts each is asked for itself: between them wood stands.
bool cut_by_a_part(std::span<const WallSample> samples, std::span<const std::size_t> of_parts,
                   Point2 at) {
  if (std::accumulate(of_parts.begin(), of_parts.end(), std::size_t{0}) != samples.size())
    return cut_there(samples, at, kNear_mm);
  for (const std::size_t count : of_parts) {
    if (cut_there(samples.first(count), at, kNear_mm))
      return true;
    samples = samples.subspan(count);
  }
  return false;
}

} // namespace

TouchPlace touch_place(const Setup& setup, Side side, Point2 at,
                       std::span<const WallSample> samples, std::span<const std::size_t> of_parts) {
  const SideSetup& s = side_of(setup, side);
  const bool one_part = setup.board.footprint || of_parts.size() < 2;
  const std::optional<Footprint> wood = wood_of(setup, samples);
  if (s.zero == ZeroFrom::bed && wood && on_board(*wood, at))
    return TouchPlace::under_board;
  if (s.zero == ZeroFrom::top && setup.board.footprint && off_board(*setup.board.footprint, at))
    return TouchPlace::off_board;
  if (on_dowel(setup, at, one_part ? wood : std::nullopt))
    return TouchPlace::on_dowel;
  if (s.zero == ZeroFrom::bed)
    return TouchPlace::good;
  // With a tool setter one bit touches the datum, before this side is cut.
  if (s.bit.zero == BitZero::retouched && cut_by_a_part(samples, of_parts, at))
    return TouchPlace::cut_away;
  return TouchPlace::good;
}

std::string touch_trouble(TouchPlace place) {
  switch (place) {
  case TouchPlace::under_board:
    return "The board lies on the bed there: the bit cannot reach it";
  case TouchPlace::off_board:
    return "The board does not reach so far: there is nothing to touch";
  case TouchPlace::on_dowel:
    return "A dowel or its hole is there: the bit would touch that, not the datum";
  case TouchPlace::cut_away:
    return "The piece is cut there: the face is gone after roughing, when the next bit touches it";
  case TouchPlace::good:
    break;
  }
  return {};
}

std::vector<Notice> touch_notices(const Setup& setup, std::span<const WallSample> samples,
                                  std::span<const std::size_t> of_parts) {
  std::vector<Notice> out;
  for (const Side side : {Side::a, Side::b}) {
    const auto& at = side_of(setup, side).touch_point;
    if (!at)
      continue;
    const std::string where = fmt::format("x {:.1f} y {:.1f}", at->x, at->y);
    const char* name = side == Side::a ? "Side A" : "Side B";
    switch (touch_place(setup, side, *at, samples, of_parts)) {
    case TouchPlace::good:
      break;
    case TouchPlace::under_board:
      out.push_back({"touch-under-board",
                     fmt::format("{}: Z zero is touched on the bed, but the board lies on {}; "
                                 "state a touch point beside the board.",
                                 name, where)});
      break;
    case TouchPlace::off_board:
      out.push_back(
          {"touch-off-board",
           fmt::format("{}: Z zero is touched on top of the board, but the board does not "
                       "reach {}; state a touch point on it, or correct the board's "
                       "corner and size.",
                       name, where)});
      break;
    case TouchPlace::on_dowel:
      out.push_back(
          {"touch-on-dowel",
           fmt::format("{}: Z zero is touched at {}, where a dowel or its hole is: the "
                       "bit would touch that, not the {}. State a touch point {:g} mm or "
                       "more from the dowel's middle.",
                       name, where, side_of(setup, side).zero == ZeroFrom::bed ? "bed" : "board",
                       kTouchFromDowel_mm)});
      break;
    case TouchPlace::cut_away:
      out.push_back({"touch-cut-away",
                     fmt::format("{}: every bit touches Z zero again at {}, but the part is cut "
                                 "there and the face is gone after roughing; touch outside the "
                                 "part, or take the lengths from a tool setter.",
                                 name, where)});
      break;
    }
    if (!out.empty() && out.back().about == NoticeAbout::piece)
      out.back().about = side == Side::a ? NoticeAbout::side_a : NoticeAbout::side_b;
  }
  return out;
}

} // namespace leastwall
