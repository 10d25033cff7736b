#include "budget/advice/touch_alternatives.h"

#include "budget/advice/dowel_room.h"
#include "budget/advice/touch_search.h"
#include "budget/effects/cut_area.h"
#include "causes/model/cause_terms.h"
#include "setup/place.h"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

namespace leastwall {
namespace {

std::string zero_text(ZeroFrom zero) {
  return zero == ZeroFrom::top ? "on top of the board" : "on the bed";
}

class Builder {
 public:
  Builder(const Setup& setup, Point2 thinnest, std::span<const WallSample> samples,
          bool board_stated)
      : base_(setup), thinnest_(in_tenths(thinnest)), samples_(samples),
        board_stated_(board_stated), touch_(setup, samples, thinnest_, board_stated) {}

  std::vector<Alternative> build() {
    zero_pairs();
    touch_points();
    flip_line();
    touch_again();
    return std::move(all_);
  }

 private:
  void add(std::string change, Setup setup, std::vector<JobChange> set) {
    all_.push_back({std::move(change), Cost::free, std::move(setup), std::move(set), false});
  }

  std::string key(Side side, std::string_view name) const { return side_key(base_, side, name); }

  void touch_at(Setup& s, Side side, Point2 at, std::vector<JobChange>& set) const {
    side_of(s, side).touch_point = at;
    set.push_back({key(side, "touch_point"), std::vector<double>{at.x, at.y}});
  }

  /// On a bed that was not read the computing rests on what is known of it under the board.
  std::string bed_words(const Setup& s) const {
    if (s.bed.readings)
      return {};
    const double flat = s.bed.flatness_mm.value_or(0);
    return flat > 0 ? fmt::format(" (the bed there within {:.2f} mm of the rest)", flat)
                    : " (the bed there as high as under the board)";
  }

  /// Without a board that is stated no one knows where its land is; where the walls do not depend
  /// on the place, "outside the part" is enough.
  bool place_needed(const Setup& s, Side side) const {
    return board_stated_ || TouchSearch::matters(s, side);
  }

  std::string at_text(const Setup& s, Side side, std::optional<Point2> at) const {
    const bool bed = side_of(s, side).zero == ZeroFrom::bed;
    return fmt::format("touched {}{}", bed ? "beside the board" : "on uncut wood",
                       at    ? " at " + point_text(*at) + as_side_b_lies(s, side, *at)
                       : bed ? ""
                             : " outside the part");
  }

  /// The same point as the machine shows it when the board is turned over.
  static std::string as_side_b_lies(const Setup& s, Side side, Point2 at) {
    if (side == Side::a)
      return {};
    const Point2 turned = side_place(s.flip, side, at);
    return fmt::format(" (X {:.1f} Y {:.1f} with side B up)", turned.x, turned.y);
  }

  void zero_pairs() {
    for (const ZeroFrom a : {ZeroFrom::top, ZeroFrom::bed})
      for (const ZeroFrom b : {ZeroFrom::top, ZeroFrom::bed})
        zero_pair(a, b);
  }

  void zero_pair(ZeroFrom a, ZeroFrom b) {
    const bool da = a != base_.inner.zero, db = b != base_.outer.zero;
    if (!da && !db)
      return;
    Setup s = base_;
    s.inner.zero = a;
    s.outer.zero = b;
    std::vector<Side> sides;
    if (da)
      sides.push_back(Side::a);
    if (db)
      sides.push_back(Side::b);
    std::vector<JobChange> set;
    for (const Side side : sides)
      set.push_back(
          {key(side, "zero"), std::string(side_of(s, side).zero == ZeroFrom::top ? "top" : "bed")});
    std::optional<Point2> common;
    if (da && db && a == b)
      common = touch_.best_for_both(s);
    std::vector<std::string> at;
    for (const Side side : sides) {
      std::optional<Point2> place;
      if (place_needed(s, side)) {
        place = common ? common : touch_.best(s, side);
        if (!place)
          return; // nowhere to touch
        touch_at(s, side, *place, set);
      }
      at.push_back(at_text(s, side, place));
    }
    const bool on_bed = std::ranges::any_of(
        sides, [&](Side side) { return side_of(s, side).zero == ZeroFrom::bed; });
    std::string change;
    if (sides.size() == 1)
      change = fmt::format("Zero {} {}, {}", side_text(sides[0]),
                           zero_text(side_of(s, sides[0]).zero), at[0]);
    else if (a == b && (common || at[0] == at[1]))
      change = fmt::format("Zero both sides {}, {}", zero_text(a), at[1]);
    else
      change = fmt::format("Zero side A {}, {}, and side B {}, {}", zero_text(a), at[0],
                           zero_text(b), at[1]);
    if (on_bed)
      change += bed_words(s);
    add(std::move(change), std::move(s), std::move(set));
  }

  void touch_points() {
    const bool matters =
        TouchSearch::matters(base_, Side::a) || TouchSearch::matters(base_, Side::b);
    if (!matters && base_.board.variation_mm == 0)
      return;
    const Point2 middle = base_.board.footprint->middle();
    const Point2 a = base_.inner.touch_point.value_or(middle);
    const Point2 b = base_.outer.touch_point.value_or(middle);
    const auto good = [&](Side side, Point2 at) { return touch_.can_touch(base_, side, at); };
    std::vector<Point2> done{};
    const auto both = [&](std::string_view words, Point2 at) {
      if ((a == at && b == at) || !good(Side::a, at) || !good(Side::b, at) ||
          std::find(done.begin(), done.end(), at) != done.end())
        return;
      done.push_back(at);
      Setup s = base_;
      std::vector<JobChange> set;
      touch_at(s, Side::a, at, set);
      touch_at(s, Side::b, at, set);
      add(fmt::format("Touch off both sides at {}{}", words, point_text(at)), std::move(s),
          std::move(set));
    };
    const auto one = [&](Side side, std::string_view words, Point2 at) {
      if ((side == Side::a ? a : b) == at || !good(side, at))
        return;
      Setup s = base_;
      std::vector<JobChange> set;
      touch_at(s, side, at, set);
      add(fmt::format("Touch off {} at {}{}", side_text(side), words, point_text(at)), std::move(s),
          std::move(set));
    };
    both("the thinnest place, ", thinnest_);
    both("the middle of the part, ", in_tenths(middle));
    if (base_.inner.zero == base_.outer.zero)
      if (const auto best = touch_.best_for_both(base_))
        both("", *best);
    if (!(a == b)) {
      one(Side::b, "the same point of the part as side A, ", a);
      one(Side::a, "the same point of the part as side B, ", b);
    }
    for (const Side side : {Side::a, Side::b})
      if (const auto best = touch_.best(base_, side); best && !(*best == (side == Side::a ? b : a)))
        one(side, "", *best);
  }

  /// Two pins on the new line that stand on the board outside the part.
  bool place_dowels(Setup& s, std::vector<JobChange>& set) const {
    if (!s.flip.dowels || s.flip.located_by != LocatedBy::dowels)
      return true;
    const Footprint& f = *s.board.footprint;
    Dowels& d = *s.flip.dowels;
    d.middle = in_tenths(f.middle());
    const bool along_x = (s.flip.line == FlipLine::along_x) == d.along_flip_line;
    const double room = (along_x ? f.high.x - f.low.x : f.high.y - f.low.y) - 2 * kDowelRoom_mm;
    const double stated = d.spacing_mm;
    for (const double spacing : {stated, in_tenths({room, 0}).x}) {
      if (spacing < 1 || spacing > room)
        continue;
      d.spacing_mm = spacing;
      if (std::ranges::any_of(dowel_places(s.flip, *d.middle),
                              [&](Point2 pin) { return cut_there(samples_, pin, kDowelRoom_mm); }))
        continue;
      set.push_back({"flip.dowels.middle", std::vector<double>{d.middle->x, d.middle->y}});
      if (spacing != stated)
        set.push_back({"flip.dowels.spacing", spacing});
      return true;
    }
    return false;
  }

  void flip_line() {
    Setup s = base_;
    const bool along_y = base_.flip.line == FlipLine::along_y;
    const Point2 middle = in_tenths(s.board.footprint->middle());
    s.flip.line = along_y ? FlipLine::along_x : FlipLine::along_y;
    s.flip.at_mm = along_y ? middle.y : middle.x;
    std::vector<JobChange> set{{"flip.line", std::string(along_y ? "along x" : "along y")},
                               {"flip.at", s.flip.at_mm}};
    if (!base_.flip.dowels && base_.flip.located_by == LocatedBy::dowels) { // nothing was stated
      s.flip.located_by = LocatedBy::edges;
      set.push_back({"flip.located_by", std::string("edges")});
      set.push_back({"flip.line_error", 0.0});
    }
    if (s.flip.dowels && !board_stated_)
      return;
    if (!place_dowels(s, set))
      return;
    std::string change =
        fmt::format("Flip about a line along {} instead of {}, at {} {:.1f}", along_y ? "x" : "y",
                    along_y ? "y" : "x", along_y ? "y" : "x", s.flip.at_mm);
    if (s.flip.dowels && s.flip.dowels->spacing_mm != base_.flip.dowels->spacing_mm)
      change += fmt::format(", dowels {:.1f} mm apart", s.flip.dowels->spacing_mm);
    // Side B lies elsewhere on the bed, and pins stand elsewhere.
    for (const Side side : {Side::a, Side::b}) {
      std::optional<Point2> at;
      if (!keep_touchable(s, side, at, set))
        return;
      if (at)
        change += fmt::format(", {} {}", side_text(side), at_text(s, side, at));
    }
    add(std::move(change), std::move(s), std::move(set));
  }

  /// Moves the touch point where the present one can no longer be touched; `moved_to` says where
  /// to, if it had to. False when there is no place left.
  bool keep_touchable(Setup& s, Side side, std::optional<Point2>& moved_to,
                      std::vector<JobChange>& set) const {
    const std::optional<Point2>& now = side_of(s, side).touch_point;
    if (now ? touch_.can_touch(s, side, *now) : !TouchSearch::matters(s, side))
      return true;
    moved_to = touch_.best(s, side);
    if (!moved_to)
      return false;
    touch_at(s, side, *moved_to, set);
    return true;
  }

  void touch_again() {
    Setup s = base_;
    std::vector<JobChange> set;
    std::string where;
    for (const Side side : {Side::a, Side::b}) {
      if (side_of(base_, side).bit.zero != BitZero::tool_setter)
        continue;
      side_of(s, side).bit.zero = BitZero::retouched;
      set.push_back({key(side, "bit.length_from"), std::string("datum")});
      set.push_back({key(side, "bit.setter_error"), JobChange::Remove{}});
      // Then the roughing bit touches the datum on its own, too, as well as the other one does.
      if (SideSetup& changed = side_of(s, side); changed.roughing && !changed.roughing->touch_off) {
        changed.roughing->touch_off = changed.touch_off;
        set.push_back(error_change(key(side, "roughing.touch_off"), changed.touch_off));
      }
      // The last bit touches after roughing: the face must still be there.
      std::optional<Point2> at;
      if (!keep_touchable(s, side, at, set))
        return;
      if (at)
        where += fmt::format(", {} at {}", side_text(side), point_text(*at));
    }
    if (!set.empty())
      add("Touch every bit on the datum again instead of using the tool setter" + where,
          std::move(s), std::move(set));
  }

  const Setup& base_;
  Point2 thinnest_;
  std::span<const WallSample> samples_;
  bool board_stated_;
  TouchSearch touch_;
  std::vector<Alternative> all_;
};

} // namespace

std::vector<Alternative> touch_alternatives(const Setup& setup, Point2 thinnest,
                                            std::span<const WallSample> samples,
                                            bool board_stated) {
  return Builder(setup, thinnest, samples, board_stated).build();
}

} // namespace leastwall
